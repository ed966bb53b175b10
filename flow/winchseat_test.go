package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestFrameInPassing: a frame that is named without a word of a line, of a point or of
// the stuck vehicle is no new tow point; one that a point is on is no second point.
func TestFrameInPassing(t *testing.T) {
	flow.Lone(t)
	for _, row := range []struct{ at, was, text, want string }{
		{"crew", "rated-eye", "bolted on the frame, solid as a rock", "rated-eye"},
		{"crew", "rated-eye", "now its hooked on the frame", "frame"},
		{"crew", "rated-eye", "its on the bumper", "bumper"},
		{"crew", "frame", "change tow point: rated recovery point, on the chassis", "rated-eye"},
		{"crew", "frame", "change tow point: towing eye on the frame of the van", "rated-eye"},
		{"gear[0].material", "", "hilux on the frame, bull bar winch mount bolted to the frame rails", ""},
		{"gear[0].material", "", "the winch sits on the frame of the truck", ""},
		{"tow_point", "", "recovery point on the chassis", "rated-eye"},
	} {
		c := newChair(t)
		c.say("/start")
		told := append([][2]string{}, winchJob...)
		for i, kv := range told {
			if kv[0] == "load.tow_point.kind" {
				told[i][1] = row.was
			}
		}
		if row.was == "" {
			kept := told[:0]
			for _, kv := range told {
				if len(kv[0]) < 14 || kv[0][:14] != "load.tow_point" {
					kept = append(kept, kv)
				}
			}
			told = kept
		}
		c.stand(row.at, told, 0)
		sent := c.say(row.text)
		if got := flat(t, c.session().Sheet)["load.tow_point.kind"]; got != row.want {
			t.Errorf("%q makes the tow point %q, want %q:\n%s", row.text, got, row.want, textOf(sent))
		}
	}
}
