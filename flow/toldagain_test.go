package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
	"linetender/flow/hear"
)

// TestOneTreeToldTwice: a tree that is told again where anchors are asked for is
// the one that is there, or it is asked; only words that add make two of it.
func TestOneTreeToldTwice(t *testing.T) {
	for _, tc := range []struct {
		again string
		trees int
		asks  bool
	}{
		{"beech 18in alive and sound upright", 1, true},
		{"beech 22in alive and sound upright", 1, false},
		{"the other beech 22in alive and sound", 1, true},
		{"a second beech 18in alive and sound upright", 2, false},
		{"oak 18in alive and sound upright", 2, false},
	} {
		c := after(t, append(basics[:len(basics):len(basics)], "4x4 tractor 3.1 t on gravel, rope to the drawbar", "beech 22in alive and sound n upright", "change holding line")...)
		got := textOf(c.say(tc.again))
		if asks := strings.Contains(got, "Which do you mean"); asks != tc.asks {
			t.Errorf("%q is answered\n%s", tc.again, got)
		}
		if n := len(c.session().Sheet.Anchors); n != tc.trees {
			t.Errorf("after %q there are %d trees, want %d", tc.again, n, tc.trees)
		}
		if !tc.asks {
			continue
		}
		if c.say("one more"); len(c.session().Sheet.Anchors) != 2 {
			t.Errorf("%q, one more: %d trees", tc.again, len(c.session().Sheet.Anchors))
		}
	}
}

// TestThinnerIsWorse: of two thicknesses of a tree the thinner counts.
func TestThinnerIsWorse(t *testing.T) {
	for _, said := range []string{"beech 22 in or 18 in, alive and sound", "beech 18 in or 22 in, alive and sound", "beech 18 in, might be 22 in, alive and sound", "beech 22 in, might be 18 in, alive and sound"} {
		for _, f := range hear.Listen(said, hear.TopicNone).Facts {
			if strings.HasSuffix(f.Field, ".diameter") && !strings.HasPrefix(f.Value, "18") {
				t.Errorf("%q: %s", said, f.Value)
			}
		}
	}
	for path, want := range map[string]int{"anchors[0].diameter": -1, "gear[1].diameter": 0, "gear[0].rating": -1, "load.mass": 1, "pullers[0].mass": -1, "load.ground": 0} {
		if got := hear.WorseEnd(path); got != want {
			t.Errorf("%s: %d, want %d", path, got, want)
		}
	}
	for _, r := range []struct {
		path, value, was string
		worse            bool
	}{
		{"anchors[0].diameter", "18 in", "22 in", true}, {"anchors[0].diameter", "22in", "18 in", false},
		{"gear[0].rating", "2 t", "3 t", true}, {"load.slope", "1 in 4", "1 in 5", true}, {"load.mass", "2 t", "3 t", false},
	} {
		if got := flow.WorseEnd(r.path, r.value, r.was); got != r.worse {
			t.Errorf("%s: %s is worse than %s: %v", r.path, r.value, r.was, got)
		}
	}
}

// TestLeaveOutIsNoWorse: that a piece be left out is advised only where nothing
// is then missing that is there with it: the one holding line stays.
func TestLeaveOutIsNoWorse(t *testing.T) {
	c := after(t, append(basics[:len(basics):len(basics)], "4x4 tractor 9 t on level gravel, rope to the drawbar", "change tow point: rated lug, 12 t", "change hitch rating 12 t working", "change hitch height 45 cm",
		"oak 80 cm, alive and sound, stands straight", "rope 60 m 24 mm polyester WLL 9 t, block 9 t WLL, two shackles 9 t WLL", "another rope 40 m 24 mm polyester unmarked")...)
	for _, l := range []string{"change weight 1.2 t weighed", "change holding line", "rope 2 to a second oak 80 cm alive and sound", "plan"} {
		got := textOf(c.say(l))
		if strings.Contains(got, "Leave out rope 2") {
			t.Errorf("%q is answered\n%s", l, got)
		}
	}
}
