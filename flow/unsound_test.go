package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestUnsoundStays: what was told to be damaged, put together, dead or leaning is
// made good by no word of whoever told it, but by somebody else who looked and is
// named, or by another in its place, of which nothing is known then.
func TestUnsoundStays(t *testing.T) {
	flow.Lone(t)
	for _, tc := range []struct {
		bad, good []string
		stays     string // in what is known
		gone      string
	}{
		{[]string{"change rope condition damaged"}, []string{"change rope condition good"}, "damaged", ", good"},
		{[]string{"change rope condition damaged"}, []string{"the rope is good"}, "damaged", ", good"},
		{[]string{"change rope condition damaged"}, []string{"i checked the rope, it is good"}, "damaged", ", good"},
		{[]string{"change rope condition damaged"}, []string{"change rope condition good, not checked by gary"}, "damaged", ", good"},
		{[]string{"change rope condition damaged"}, []string{"change rope condition", "skip"}, "damaged", "not looked over"},
		{[]string{"change rope condition damaged"}, []string{"change rope condition good, gary checked it"}, "good", "damaged"},
		{[]string{"change rope condition damaged"}, []string{"new rope, 80 m, wll 4 t"}, "rope (80 m", "damaged"},
		{[]string{"the oak is dead"}, []string{"the oak is alive"}, "not sound", "(50 cm = 19.7 in, alive and sound"},
		{[]string{"the oak leans"}, []string{"the oak is upright"}, "leaning", "upright"},
		{[]string{"the oak is dead"}, []string{"a forester looked at the oak, Ida checked it, the oak is alive and sound"}, "alive and sound", "not sound"},
	} {
		c := after(t, withGear...)
		for _, l := range append(tc.bad, tc.good...) {
			c.say(l)
		}
		got := known(c)
		if !strings.Contains(got, tc.stays) || strings.Contains(got, tc.gone) {
			t.Errorf("%q, then %q:\n%s\nwant %q, not %q", tc.bad, tc.good, got, tc.stays, tc.gone)
		}
	}
}

// TestAnotherPieceIsUnknown: nothing that was seen of a piece is true of another in
// its place, and what is still to be got is none.
func TestAnotherPieceIsUnknown(t *testing.T) {
	flow.Lone(t)
	for _, tc := range []struct {
		say        string
		known, not []string
	}{
		{"new rope off the neighbour, tag says WLL 6.5 ton", []string{"rope (6.5 ton"}, []string{"polyester", "60 m", "no knots", "2.2 t"}},
		{"other rope then, 40 m wll 8 t", []string{"rope (40 m"}, []string{"polyester", "no knots", "2.2 t"}},
		{"ok get a rope wll 8t", []string{"rope (60 m"}, []string{"8t"}},
		{"we could get a new rope wll 8 t", []string{"rope (60 m"}, []string{"8 t"}},
		{"gary will buy a rope, 90 m wll 8 t", []string{"rope (60 m"}, []string{"8 t", "90 m"}},
	} {
		c := after(t, withGear...)
		said := textOf(c.say(tc.say))
		got := known(c)
		for _, k := range tc.known {
			if !strings.Contains(got, k) {
				t.Errorf("%q: not known: %q\n%s\n%s", tc.say, k, said, got)
			}
		}
		for _, k := range tc.not {
			if strings.Contains(got, k) {
				t.Errorf("%q: still known: %q\n%s\n%s", tc.say, k, said, got)
			}
		}
	}
}

// TestWhoseItIs: a tree bears no stamp and gets no rating, what somebody says is
// none, both means those that are there, another tree is another anchor, and the
// stuck vehicle is none.
func TestWhoseItIs(t *testing.T) {
	flow.Lone(t)
	toAnchor := append(append([]string{}, basics...), "4x4 tractor 3.1 t on gravel, level, rope to the drawbar")
	oaks := append(append([]string{}, toAnchor...), "theres an oak 70cm, and another oak 90 cm")
	for _, tc := range []struct {
		before     []string
		say        []string
		known, not []string
	}{
		{oaks, []string{"both oaks r alive and sound, green leaves", "stamped 12t wll on the eye"}, []string{"oak 70cm (70cm = 27.6 in, alive and sound)", "oak 90 cm (90 cm = 35.4 in, alive and sound)", "tow point rating 12t"}, []string{"oaks", "working limit)"}},
		{oaks, []string{"the 70cm oak is dead", "found another tree, ash 80cm across, alive and sound"}, []string{"ash (80cm", "not sound"}, []string{"\ntree"}},
		{toAnchor, []string{"the van has an eye screwed into front bumper"}, nil, []string{"a vehicle", "\nvan"}},
		{toAnchor, []string{"the van itself"}, nil, []string{"a vehicle", "\nvan"}},
		{withGear, []string{"change rope rating 9 t wll, dave says"}, []string{"2.2 t"}, []string{"9 t"}},
		{withGear, []string{"change rope rating 9 t wll, the tag says"}, []string{"9 t"}, []string{"2.2 t"}},
		{withGear, []string{"gary says the tow eye is 5 t wll"}, nil, []string{"tow point rating"}},
		{withGear, []string{"change tow point: tow eye, stamped 5 t wll"}, []string{"tow point rating 5 t", "hitch rating 3 t"}, nil},
		{withGear, []string{"change tow point: towing jaw on the lorry front, stamped 12 t"}, []string{"hitch rating 3 t"}, []string{"hitch rating 12 t"}},
		{withGear, []string{"change tow point: bolted eye, stamped 5t wll"}, []string{"tow point towing eye", "tow point rating 5t"}, nil},
		{withGear, []string{"gary is getting his tractor, 4.5 t, only back wheels drive, on the drawbar, stamped 9 t"}, []string{"puller weight 3.1 t"}, []string{"4.5 t", "rear wheels", "9 t"}},
	} {
		c := after(t, tc.before...)
		said := ""
		for _, l := range tc.say {
			said = textOf(c.say(l))
		}
		got := known(c)
		for _, k := range tc.known {
			if !strings.Contains(got, k) {
				t.Errorf("%q: not known: %q\n%s\n%s", tc.say, k, said, got)
			}
		}
		for _, k := range tc.not {
			if strings.Contains(got, k) {
				t.Errorf("%q: known: %q\n%s\n%s", tc.say, k, said, got)
			}
		}
	}
}
