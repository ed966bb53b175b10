package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// secondRope and secondShackle make the known job one of two ropes, and of two sorts of shackle.
var (
	secondRope    = [][2]string{{"gear[3].kind", "rope"}, {"gear[3].length", "50 m"}, {"gear[3].diameter", "22 mm"}, {"gear[3].material", "nylon"}}
	secondShackle = [][2]string{{"gear[3].kind", "shackle"}, {"gear[3].rating", "4.75 t"}, {"gear[3].rating_kind", "working"}}
)

// TestOnlyWhatIsInDoubtWaits: an answer to which piece is meant gives a place to what was
// in doubt and to nothing else of the message; no piece becomes another thing by it, none
// is added, and what was plain stands at once.
func TestOnlyWhatIsInDoubtWaits(t *testing.T) {
	flow.Lone(t)
	for _, c := range []struct {
		also     [][2]string
		message  string
		answers  []string
		at       map[string]string // afterwards
		pieces   int
		ofAnswer string // has the last answer
	}{
		{secondRope, "the rope has a kink and some broken strands, the shackles are made for it", []string{"the second one"},
			map[string]string{"gear[3].condition": "damaged", "gear[0].condition": "", "gear[2].improvised": "false"}, 4, ""},
		{secondRope, "the rope has a cut, shackles made for it", []string{"first"}, map[string]string{"gear[0].condition": "damaged", "gear[0].length": "60 m", "gear[3].condition": ""}, 4, ""},
		{secondRope, "the rope has a cut, shackles made for it", []string{"both"}, map[string]string{"gear[0].condition": "damaged", "gear[3].condition": "damaged"}, 4, ""},
		{secondRope, "the rope has a cut, shackles made for it", []string{"rope 1 and rope 2"}, map[string]string{"gear[0].condition": "damaged", "gear[3].condition": "damaged"}, 4, ""},
		{secondRope, "the rope has a cut, shackles made for it", []string{"one more"}, map[string]string{"gear[0].condition": "", "gear[3].condition": "", "gear[4].kind": "rope", "gear[4].condition": "damaged"}, 5, ""},
		{secondRope, "the rope has a cut, shackles made for it", []string{"back"}, map[string]string{"gear[0].condition": "", "gear[3].condition": "", "gear[2].improvised": "false"}, 4, ""},
		{secondRope, "ropes made for it, shackles made for it, no knots in the ropes", nil, map[string]string{"gear[0].improvised": "false", "gear[3].improvised": "false", "gear[2].improvised": "false"}, 4, ""},
		{secondShackle, "both shackles are bent", nil, map[string]string{"gear[2].condition": "damaged", "gear[3].condition": "damaged"}, 4, ""},
		{secondShackle, "every shackle is bent", nil, map[string]string{"gear[2].condition": "damaged", "gear[3].condition": "damaged"}, 4, ""},
		{append(append([][2]string{}, secondRope...), [2]string{"gear[4].kind", "shackle"}, [2]string{"gear[4].rating", "4.75 t"}), "the rope has a cut and a shackle is bent", []string{"rope 2", "the first one"},
			map[string]string{"gear[3].condition": "damaged", "gear[0].condition": "", "gear[2].condition": "damaged", "gear[4].condition": ""}, 5, ""},
		{append(append([][2]string{}, secondRope...), [2]string{"gear[4].kind", "shackle"}, [2]string{"gear[4].rating", "4.75 t"}), "the rope has a cut and a shackle is bent", []string{"back"},
			map[string]string{"gear[3].condition": "", "gear[0].condition": ""}, 5, "you say of one shackle: condition damaged"},
	} {
		ch := newChair(t)
		ch.say("/start")
		ch.standOn("gear_sound", c.also...)
		out := strings.ToLower(textOf(ch.say(c.message)))
		if (len(c.answers) > 0) != strings.Contains(out, "which do you mean") {
			t.Errorf("%q: %s", c.message, out)
		}
		for _, a := range c.answers {
			out = strings.ToLower(textOf(ch.say(a)))
		}
		got := flat(t, ch.session().Sheet)
		for path, want := range c.at {
			if got[path] != want {
				t.Errorf("%q, %q: %s is %q, not %q", c.message, c.answers, path, got[path], want)
			}
		}
		if n := len(ch.session().Sheet.Gear); n != c.pieces {
			t.Errorf("%q, %q: there are %d pieces, not %d", c.message, c.answers, n, c.pieces)
		}
		for i, kind := range []string{"rope", "block", "shackle", c.also[0][1]} {
			if is := ch.session().Sheet.Gear[i].Kind; is != kind {
				t.Errorf("%q, %q: the %s has become a %s", c.message, c.answers, kind, is)
			}
		}
		if !strings.Contains(out, c.ofAnswer) {
			t.Errorf("%q, %q: %s", c.message, c.answers, out)
		}
	}
}

// TestWhatIsInDoubtIsAskedAgain: a message that tells more in place of which piece is
// meant is heard, and what was in doubt is not lost over it.
func TestWhatIsInDoubtIsAskedAgain(t *testing.T) {
	flow.Lone(t)
	c := newChair(t)
	c.say("/start")
	c.standOn("gear_sound", secondRope...)
	c.say("the rope has a cut")
	out := strings.ToLower(textOf(c.say("the tractor weighs 2.9 t")))
	if got := flat(t, c.session().Sheet); got["puller.mass"] != "2.9 t" || !strings.Contains(out, "which do you mean") || !strings.Contains(out, "condition damaged") {
		t.Fatalf("it weighs %q: %s", got["puller.mass"], out)
	}
	c.say("rope 2")
	if got := flat(t, c.session().Sheet); got["gear[3].condition"] != "damaged" || got["gear[0].condition"] != "" {
		t.Errorf("rope 1 %q, rope 2 %q", got["gear[0].condition"], got["gear[3].condition"])
	}
}
