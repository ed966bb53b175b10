package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestARefusedPartIsNotWavedAway: what no line may be made fast to, once told, stands
// until the good part in its place was asked back about and has its plain yes.
func TestARefusedPartIsNotWavedAway(t *testing.T) {
	flow.Lone(t)
	for _, c := range []struct {
		topic, told, path, bad string
		better, yes            string
		good                   string
		more                   map[string]string
	}{
		{"tow_point", "tow ball", "load.tow_point.kind", "hitch-ball", "no i meant a rated eye not the ball, stamped 3t wll", "yes", "rated-eye",
			map[string]string{"load.tow_point.rating": "3 t", "load.tow_point.rating_kind": "working"}},
		{"tow_point", "the rear bumper", "load.tow_point.kind", "bumper", "sorry meant the chassis eye", "yes, the frame", "frame", nil},
		{"tow_point", "lashing eye", "load.tow_point.kind", "tie-down", "change tow point frame", "yep", "frame", nil},
		{"puller.hitch", "top link", "puller.hitch", "top-link", "actually the drawbar", "aye", "drawbar", nil},
	} {
		at := newChair(t)
		at.say("/start")
		at.standAt(texted{base: "job", topic: c.topic})
		at.say(c.told)
		got := func(path string) string { return flat(t, at.session().Sheet)[path] }
		for _, text := range []string{c.better, "is it ok?", "dunno"} {
			said := textOf(at.say(text))
			if got(c.path) != c.bad {
				t.Errorf("%q, then %q: it is %s", c.told, text, got(c.path))
			}
			if !strings.Contains(said, "nothing at all made fast") {
				t.Errorf("%q, then %q is not asked back:\n%s", c.told, text, said)
			}
		}
		if at.say("no"); got(c.path) != c.bad {
			t.Errorf("%q, then no: it is %s", c.told, got(c.path))
		}
		at.say(c.better)
		said := textOf(at.say(c.yes))
		if got(c.path) != c.good || !strings.Contains(said, "is not to be used") {
			t.Errorf("%q, then %q and %q: it is %s\n%s", c.told, c.better, c.yes, got(c.path), said)
		}
		for path, want := range c.more {
			if !alike(got(path), want) {
				t.Errorf("%q, then %q: %s is %q", c.told, c.better, path, got(path))
			}
		}
	}
}
