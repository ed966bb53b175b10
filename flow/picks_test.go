package flow_test

import (
	"testing"

	"linetender/flow"
)

// Choices are numbered only where no number could be an answer to what is asked, and
// never under what is told of people or of danger.
func TestPicksByNumber(t *testing.T) {
	flow.Lone(t)
	for topic, want := range map[string]bool{
		"pull": true, "belly": true, "tow_point.condition": true, "anchors[0].alive": true, "gear[0].material": true, "puller.rollover_frame": true,
		"people": false, "mass_from": false, "slope_from": false, "off_line": false, "side_slope": false, "crew": false, "wheels": false, "sunk": false,
		"tow_point.rating_kind": false, "gear[0].rating_kind": false, "gear_sound": false, "puller.driven": false, "anchors[0].pattern": false,
		"anchors[0].chocked": false, "ton": false, "puller.kind": false, "tow_point": false, "puller.hitch": false, "lip": false, "gear[2].side_angle": false,
	} {
		c := newChair(t)
		c.say("/start")
		c.standAt(texted{base: "job", topic: topic})
		sent := c.say("hm let me see")
		last := sent[len(sent)-1]
		if len(last.Choices) == 0 || last.Numbered != want {
			t.Errorf("at %s the choices %v are numbered: %t", topic, last.Choices, last.Numbered)
		}
	}
}
