package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// toPullersSlope is a job in which the slope under the puller is asked.
var toPullersSlope = []string{"none", "bakkie, 2.4 t weighed", "1 in 6", "wet grass, not sunk, all turn", "uphill",
	"our 4x4 tractor 3.1 t on gravel, rope to the drawbar, tow eye on the bakkie", "nothing", "straight"}

// known is what a job knows.
func known(c *chair) string {
	text, _, _ := strings.Cut(textOf(c.say("so far")), "?")
	return text
}

// TestCorrections: what is named wins over what is asked, the load's answers
// and the puller's are never mixed, and what was put right stands no more.
func TestCorrections(t *testing.T) {
	flow.Lone(t)
	for _, tc := range []struct {
		before []string
		say    string
		known  []string
		gone   []string
	}{
		{toPullersSlope, "actually the slope is more like 1 in 5", []string{"\nslope 1 in 6", "Which do you mean: puller's slope or slope 1 in 6"}, []string{"1 in 5"}}, // it may be of either
		{toPullersSlope, "i meant the bakkie is on 1 in 5", []string{"\nslope 1 in 5"}, []string{"1 in 6", "puller's slope"}},
		{toPullersSlope, "the bakkie is on 1 in 5", []string{"\nslope 1 in 5"}, []string{"1 in 6", "puller's slope"}},
		{toPullersSlope, "slope is 1 in 5 not 1 in 6", []string{"\nslope 1 in 5"}, []string{"1 in 6", "puller's slope"}},
		{toPullersSlope, "1 in 5 not 1 in 6", []string{"\nslope 1 in 5"}, []string{"1 in 6", "puller's slope"}},
		{toPullersSlope, "sorry, the weight is 2.6 t", []string{"weight 2.6 t"}, []string{"2.4 t"}},
		{toPullersSlope, "the weight is wrong, it's 2.6 t", []string{"weight 2.6 t"}, []string{"2.4 t"}},
		{toPullersSlope, "correction: ground is gravel", []string{"\nground gravel"}, []string{"wet grass"}},
		{toPullersSlope, "wrong, mud not wet grass", []string{"\nground mud"}, []string{"wet grass"}},
		{toPullersSlope, "no wait the tractor weighs 3.4 t", []string{"puller weight 3.4 t", "\nweight 2.4 t"}, []string{"3.1 t"}},
		{toPullersSlope, "the tractor weighs 3.4 t instead of 3.1 t", []string{"puller weight 3.4 t", "\nweight 2.4 t"}, []string{"3.1 t"}},
		{toPullersSlope, "puller's weight should be 2.9 t", []string{"puller weight 2.9 t", "\nweight 2.4 t"}, []string{"3.1 t"}},
		{toPullersSlope, "the puller is on 1 in 20", []string{"puller's slope 1 in 20", "\nslope 1 in 6"}, nil},
		{toPullersSlope, "the slope is 1 in 20", []string{"puller's slope 1 in 20", "\nslope 1 in 6"}, nil},
		{toPullersSlope, "tow point rating 6 t working", []string{"tow point rating 6 t", "tow point towing eye"}, nil},
		{basics, "scratch that, level", []string{"pulled level"}, []string{"uphill"}},
		{basics, "sorry wheels are all locked", []string{"wheels all are locked"}, []string{"all turn"}},
		{basics, "my mistake, 5,000 lb", []string{"weight 5,000 lb"}, []string{"2.4 t"}},
		{withGear, "sorry the block is WLL 5 t not 3 t", []string{"block (5 t"}, []string{"block (3 t"}},
		{withGear, "rope is 50 m not 60 m", []string{"rope (50 m"}, []string{"60 m"}},
		{withGear, "not the oak but a stump", []string{"stump"}, []string{"50 cm", "oak"}},
		{withGear, "we pull downhill not uphill", []string{"pulled downhill"}, []string{"uphill"}},
		{withGear, "instead of uphill we pull downhill", []string{"pulled downhill"}, []string{"uphill"}},
		{toPullersSlope, "actually no, the puller's ground is mud", []string{"puller's ground mud", "\nground wet grass"}, []string{"gravel"}},
		{toPullersSlope, "ground is mud under the puller", []string{"puller's ground mud", "\nground wet grass"}, []string{"gravel"}},
		{withGear, "correction, the tree is a stump", []string{"stump"}, []string{"50 cm", "oak"}},
	} {
		c := after(t, tc.before...)
		c.say(tc.say)
		got := known(c)
		for _, k := range tc.known {
			if !strings.Contains(got, k) {
				t.Errorf("after %q it is known\n%s\nwithout %q", tc.say, got, k)
			}
		}
		for _, g := range tc.gone {
			if strings.Contains(got, g) {
				t.Errorf("after %q it is known\n%s\nstill with %q", tc.say, got, g)
			}
		}
	}
}

// TestWhoseIsAsked: where it can't be told whose slope is meant, it is asked
// once, nothing is changed before, and the value is not lost.
func TestWhoseIsAsked(t *testing.T) {
	for _, tc := range []struct{ say, answer, slope, puller string }{
		{"the hauler is on 1 in 5", "slope", "\nslope 1 in 5", ""},
		{"the hauler is on 1 in 5", "the puller's", "\nslope 1 in 6", "puller's slope 1 in 5"},
		{"i meant the hauler is on 1 in 5", "1", "", ""},
		{"sorry, 1 in 5", "puller's slope", "\nslope 1 in 6", "puller's slope 1 in 5"},
		{"wait no, 1 in 5", "slope 1 in 6", "\nslope 1 in 5", ""},
		{"the hauler is on 1 in 5", "the stuck one", "\nslope 1 in 5", ""},
		{"the hauler is on 1 in 5", "bakkie", "\nslope 1 in 5", ""},
		{"the hauler is on 1 in 5", "our tractor", "\nslope 1 in 6", "puller's slope 1 in 5"},
		{"no wait 1 in 5", "the slope of the load", "\nslope 1 in 5", ""},
	} {
		c := after(t, toPullersSlope...)
		before := known(c)
		if got := textOf(c.say(tc.say)); !strings.Contains(got, "Which do you mean: ") {
			t.Errorf("%q is answered\n%s", tc.say, got)
			continue
		}
		if now := known(c); now != before && !strings.HasPrefix(now, before[:strings.LastIndex(before, "\n")]) {
			t.Errorf("%q changed\n%s\ninto\n%s", tc.say, before, now)
		}
		c.say(tc.answer)
		if tc.answer == "1" { // a number is none of the two names; what was told waits on
			c.say("slope")
		}
		got := known(c)
		if tc.answer != "1" && (!strings.Contains(got, tc.slope) || tc.puller == "" && strings.Contains(got, "puller's slope") || !strings.Contains(got, tc.puller)) {
			t.Errorf("%q and %q lead to\n%s", tc.say, tc.answer, got)
		}
		if !strings.Contains(got, "1 in 5") {
			t.Errorf("%q and %q lose the value\n%s", tc.say, tc.answer, got)
		}
	}
}

// TestFirstAnswersAreNoCorrections: words of correction in a first answer
// change nothing but the question that stands.
func TestFirstAnswersAreNoCorrections(t *testing.T) {
	c := after(t, "none")
	for _, l := range []struct{ say, known string }{
		{"sorry for the wait, 2.4 t weighed", "weight 2.4 t"},
		{"actually 1 in 6", "slope 1 in 6"},
		{"it's gravel not mud, not sunk, wheels all turn", "ground gravel"},
		{"uphill, sorry", "pulled uphill"},
		{"the hauler is 3 t and stands on gravel", "puller weight 3 t"},
	} {
		c.say(l.say)
		if got := known(c); !strings.Contains(got, l.known) {
			t.Errorf("after %q it is known\n%s\nwithout %q", l.say, got, l.known)
		}
	}
}

// TestDugOut: a depth that was dug away is changed wherever the job stands.
func TestDugOut(t *testing.T) {
	for _, before := range [][]string{basics[:4], basics, withGear, append(append([]string{}, withGear...), "straight", "checks")} {
		c := after(t, before...)
		got := textOf(c.say("dug the wheels free"))
		if !strings.Contains(got, "depth not sunk instead of to the hubs") {
			t.Errorf("after %q, dug free is answered\n%s", before[len(before)-1], got)
		}
		if k := known(c); !strings.Contains(k, "depth not sunk") || strings.Contains(k, "to the hubs") || !strings.Contains(k, "wheels all turn") {
			t.Errorf("after %q and dug free it is known\n%s", before[len(before)-1], k)
		}
	}
	c := after(t, basics...)
	for _, no := range []string{"not dug out yet", "we will dig it out", "dug out?"} {
		c.say(no)
		if k := known(c); !strings.Contains(k, "depth to the hubs") {
			t.Errorf("%q changes the depth:\n%s", no, k)
		}
	}
	if got := textOf(c.say("dug out one wheel")); !strings.Contains(got, "How deep do the wheels sit") {
		t.Errorf("one wheel dug out is answered\n%s", got)
	}
}

// TestTurnedIsSaid: an answer that turns the decision or the parts is followed
// by a line that says so, and one that turns neither by none.
func TestTurnedIsSaid(t *testing.T) {
	c := after(t, "none", "2.4 t weighed", "level 1 m, gap 6 cm", "loose soil, down to the axles, wheels all turn", "uphill",
		"6 t tracked digger on firm soil, level, drawbar, tow eye on the truck", "nothing")
	const line = "With that the plan is another: "
	for _, tc := range []struct{ say, turned string }{
		{"change weight 2.39 t weighed", ""},
		{"dug the wheels free", line + "line parts 1 instead of 4."},
		{"change tow point to the tow ball", line + "no-go instead of open."},
		{"sorry, tow point is the frame", ""},
		{"yes", line + "open instead of no-go."},
	} {
		got := textOf(c.say(tc.say))
		if tc.turned == "" && strings.Contains(got, line) || strings.Count(got, line) > 1 || !strings.Contains(got, tc.turned) {
			t.Errorf("%q is answered\n%s", tc.say, got)
		}
	}
}

// TestAGentlerFigureIsMeasuredAgain: whoever tells a no-go away is told that only
// their figure is another; whoever did something on the spot is not.
func TestAGentlerFigureIsMeasuredAgain(t *testing.T) {
	const line = "Only what you told me is another now: "
	c := after(t, "none", "2.4 t weighed", "level 1 m, gap 6 cm", "loose soil, down to the axles, wheels all turn", "uphill",
		"6 t tracked digger on firm soil, level, drawbar, tow eye on the truck", "nothing")
	c.say("change weight 9 t weighed")
	for _, tc := range []struct {
		say  string
		told bool
	}{
		{"change weight 2.4 t weighed", true},
		{"change weight 9 t weighed", false},
		{"we unloaded it, change weight 2.4 t weighed", false},
	} {
		if got := textOf(c.say(tc.say)); strings.Contains(got, line) != tc.told {
			t.Errorf("%q is answered\n%s", tc.say, got)
		}
	}
}
