package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

// besideAYes are what people wrote behind a yes to an item of which nothing was read.
var besideAYes = []string{"yes and the strap looks kind of furry", "yes, two big cracks in the bumper", "yep it hums funny", "yes. wheel came loose", "yes, the hook is bent"}

// TestMoreBehindAYes: what stands behind a yes to an item and could not be read is put
// back before the yes counts, on one phone and on several; nothing wrong lets it count,
// and that it was looked at is no more than a yes.
func TestMoreBehindAYes(t *testing.T) {
	flow.Lone(t)
	for _, words := range besideAYes {
		c := toItem(t, "Nobody is under")
		c.say(words)
		if s := c.session(); s.Settled["site.under"] != "" || !strings.Contains(c.last.Text(), words) {
			t.Errorf("on one phone %q counts, and is answered %q", words, c.last.Text())
		}
		if c.say("nothing wrong"); c.session().Settled["site.under"] == "" {
			t.Errorf("on one phone nothing wrong with %q does not count: %s", words, c.last.Text())
		}
		for _, who := range []string{"Ada", "Cy"} {
			p := briefed(t, "Bo", "Cy", "Eve")
			if out := text(p.say(who, words)["test/"+who]); len(p.job().Marks) > 0 || !strings.Contains(out, words) {
				t.Errorf("of %s %q counts, and is answered %q", who, words, out)
				continue
			}
			if p.say(who, "nothing wrong"); len(p.job().Marks) != 1 {
				t.Errorf("of %s nothing wrong with %q does not count", who, words)
			}
		}
	}
	for _, words := range []string{"yes i walked round it", "yes nobody there", "yes, nobody is under it", "yes, Bo checked it too", "yes all clear both sides", "yes all checked"} {
		c := toItem(t, "Nobody is under")
		if c.say(words); c.session().Settled["site.under"] == "" {
			t.Errorf("on one phone %q is answered %q", words, c.last.Text())
		}
	}
}

// TestWhereSomebodyStands: a yes with where somebody stands is put back where that may be in
// the way, and counts at the item that asks for it.
func TestWhereSomebodyStands(t *testing.T) {
	flow.Lone(t)
	c := toItem(t, "Nobody is under")
	if c.say("yes im standing in front of the truck"); c.session().Settled["site.under"] != "" {
		t.Errorf("who stands in front counts as nobody there: %q", c.last.Text())
	}
}

// TestWhoseYes: at an item that somebody without a phone is asked aloud, the lead hands their
// yes on; what else they say, or somebody else does, is none. A no with all well behind it
// is asked about.
func TestWhoseYes(t *testing.T) {
	flow.Lone(t)
	for words, counts := range map[string]bool{"Cy says yes": true, "cy says yes all clear": true, "he says yes": true, "Bo says yes": false, "Cy says he thinks yes": false, "Cy says yes but the dog is there": false} {
		p := briefed(t, "Bo", "Eve")
		for n := 0; n < 30 && !(strings.Contains(p.asked("Ada"), "Ask Cy") && !strings.Contains(p.asked("Ada"), "all of these")); n++ {
			p.say("Ada", "yes")
		}
		n := len(p.job().Marks)
		if p.say("Ada", words); (len(p.job().Marks) > n) != counts {
			t.Errorf("%q counts: %v, and is answered %q", words, !counts, p.last["test/Ada"].Text())
		}
	}
	p := briefed(t, "Bo", "Cy", "Eve")
	if got := told(p.say("Cy", "no its fine, nobody there")["test/Cy"]); !strings.HasPrefix(got, "item.no_or_fine") || len(p.job().Marks) > 0 || p.job().Settled["site.under"] != "" {
		t.Errorf("a no that is fine is answered %s", got)
	}
}

// TestAFactBehindAYes: a danger or a figure behind a yes to an item is taken first, from
// the lead as from anybody, and the item is asked again.
func TestAFactBehindAYes(t *testing.T) {
	flow.Lone(t)
	for _, words := range []string{"yes, smells of diesel", "yes, the load is 9 t"} {
		c := toItem(t, "Nobody is under")
		c.say(words)
		p := briefed(t, "Bo", "Cy", "Eve")
		p.say("Ada", words)
		for on, s := range map[string]*flow.Session{"one phone": c.session(), "the lead's phone": p.job()} {
			fuel := s.Sheet.Hazards != nil && slices.Contains(*s.Sheet.Hazards, "fuel")
			if s.Settled["site.under"] != "" || len(s.Marks) > 0 || strings.Contains(words, "diesel") != fuel || strings.Contains(words, "9 t") != (s.Sheet.Load.Mass == "9 t") {
				t.Errorf("on %s %q leaves hazards %v, %s, settled %q", on, words, s.Sheet.Hazards, s.Sheet.Load.Mass, s.Settled["site.under"])
			}
		}
	}
}

// TestOnePhoneAnswersWhatIsAsked: on one phone too a yes that tells of another item is
// none to the one that is asked.
func TestOnePhoneAnswersWhatIsAsked(t *testing.T) {
	flow.Lone(t)
	for _, words := range []string{"yes the ambulance knows where", "yes, handbrake is on", "yes, brake is soft"} {
		c := toItem(t, "Nobody is under")
		if c.say(words); c.session().Settled["site.under"] != "" || !strings.Contains(c.last.Text(), "counts for neither") {
			t.Errorf("%q counts, and is answered %q", words, c.last.Text())
		}
		c.say("yes")
		if soft := strings.Contains(words, "soft"); soft != strings.Contains(c.last.Text(), words) || soft == (c.session().Settled["site.under"] != "") {
			t.Errorf("after %q a yes by itself is answered %q", words, c.last.Text())
		}
	}
}
