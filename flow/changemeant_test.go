package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAnotherThicknessIsAnotherRope: what was told of how a rope is stays with a thickness
// that is put right by a millimetre, and goes with a rope that is a size further.
func TestAnotherThicknessIsAnotherRope(t *testing.T) {
	flow.Lone(t)
	for _, tc := range []struct {
		thick string
		stays bool
	}{{"25 mm", true}, {"28 mm", false}, {"20 mm", false}} {
		c := newChair(t)
		c.say("/start")
		c.standOn("crew", [2]string{"gear[0].knots", "none"}, [2]string{"gear[0].improvised", "false"}, [2]string{"gear[0].condition", "good"})
		c.say("change rope: 60 m polyester " + tc.thick + " working limit 2.2 t")
		got := flat(t, c.session().Sheet)
		if got["gear[0].diameter"] != tc.thick || (got["gear[0].knots"] == "none") != tc.stays || (got["gear[0].condition"] == "good") != tc.stays {
			t.Errorf("%s: %v, condition %q, knots %q", tc.thick, got["gear[0].diameter"], got["gear[0].condition"], got["gear[0].knots"])
		}
	}
}

// TestSkipOfWhatWasNotRead: who knows nothing more of the words that were not read is asked
// the question again, and has said nothing of what it asks.
func TestSkipOfWhatWasNotRead(t *testing.T) {
	flow.Lone(t)
	c := newChair(t)
	c.say("/start")
	c.standOn("puller.rollover_frame")
	c.say("there is something blorb on it")
	if text := textOf(c.say("yes")); !strings.Contains(text, "blorb") {
		t.Fatalf("what was not read is not put back: %s", text)
	}
	text := textOf(c.say("skip"))
	if got := flat(t, c.session().Sheet)["puller.rollover_frame"]; got != "" || !strings.Contains(text, "rollover frame") {
		t.Errorf("skip made the frame %q: %s", got, text)
	}
}

// TestARopeByItsNumberIsForSomething: what a rope that is named by its number is for makes
// it no other rope.
func TestARopeByItsNumberIsForSomething(t *testing.T) {
	flow.Lone(t)
	c := newChair(t)
	c.say("/start")
	c.standOn("crew", [2]string{"gear[3].kind", "rope"}, [2]string{"gear[3].length", "80 m"})
	c.say("rope 1 is the haul rope")
	c.say("rope 2 is the holding rope")
	if got := flat(t, c.session().Sheet); got["gear[0].use"] != "haul" || got["gear[3].use"] != "holding" || got["gear[4].kind"] != "" {
		t.Errorf("they are for %q and %q, and there is one more: %q", got["gear[0].use"], got["gear[3].use"], got["gear[4].kind"])
	}
}

// TestDeniedIsNotUnread: a denial that leaves nothing open is not said to be unread.
func TestDeniedIsNotUnread(t *testing.T) {
	flow.Lone(t)
	for _, tc := range [][2]string{
		{"first", "No storm coming, van stuck 2.4 t"}, {"anchor", "oak 60 cm, no rot, no mushrooms"}, {"first", "van stuck near a pond, no water over the hubs"},
		{"people", "near a pond but no water over the hubs"},
	} {
		c := newChair(t)
		if tc[0] != "first" {
			c.say("/start")
			c.standAt(texted{topic: tc[0]})
		}
		if text := textOf(c.say(tc[1])); strings.Contains(text, "could not read") {
			t.Errorf("%q: %s", tc[1], text)
		}
	}
}

// TestWhatWentWithTheWayIsSaid: what was told of the old way is taken back in words where
// its anchor goes or the way out is another.
func TestWhatWentWithTheWayIsSaid(t *testing.T) {
	flow.Lone(t)
	for _, change := range []string{"remove the oak", "change anchor: ash 60 cm", "change pulled downhill"} {
		c := newChair(t)
		c.say("/start")
		c.standOn("crew", [2]string{"load.off_line", "5 deg"})
		text := textOf(c.say(change))
		if got := flat(t, c.session().Sheet)["load.off_line"]; got != "" || !strings.Contains(text, "angle of the line 5 deg") || !strings.Contains(text, "way to the puller 15 m") {
			t.Errorf("%s: the angle is %q, and they are told %s", change, got, text)
		}
	}
}

// TestATreeBySizeIsTheOneChanged: a tree that goes by its thickness is the one that a
// change names by it.
func TestATreeBySizeIsTheOneChanged(t *testing.T) {
	flow.Lone(t)
	for _, tc := range []struct{ change, path, value string }{
		{"change oak 60 cm: 120 cm thick", "anchors[0].diameter", "120 cm"},
		{"change oak 70 cm to 130 cm thick", "anchors[1].diameter", "130 cm"},
		{"change oak 70 cm: sound, upright", "anchors[1].alive", "true"},
	} {
		c := newChair(t)
		c.say("/start")
		c.standAt(texted{topic: "anchor"})
		c.say("oak 60 cm and oak 70 cm")
		text := textOf(c.say(tc.change))
		if got := flat(t, c.session().Sheet); got[tc.path] != tc.value || got["anchors[2].kind"] != "" {
			t.Errorf("%s: %s is %q: %s", tc.change, tc.path, got[tc.path], text)
		}
	}
}
