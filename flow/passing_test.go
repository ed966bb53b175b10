package flow_test

import (
	"strings"
	"testing"
)

// TestSaidInPassing: what is told at another question is kept for its own,
// which is then not asked; and what was measured is not lost to a guess.
func TestSaidInPassing(t *testing.T) {
	for _, tc := range []struct {
		name, talk string // lines, parted by a stroke
		want       string // what the last answer says, parted by a stroke
		never      string
	}{
		{"weight and slope at the hazards", "none. 2.4 t weighed on a 10 degree slope", "ask.ground", "ask.mass"},
		{"weight at a part of the hazards", "no wires. van is 2.4 t|none of the rest", "ask.slope", "ask.mass"},
		{"why beside an answer", "no wires. why do you ask", "read.cleared|why.people|ask.people_rest", ""},
		{"a question back", "no people in it, is that what you mean?", "read.cleared|how.people|ask.people_rest", ""},
		{"slope at which ton", "none|3 ton|metric. slope is 10 degrees", "read.slope|read.mass|ask.ground", "ask.slope"},
		{"which ton before it is asked", "none|3 ton|metric", "read.mass|ask.slope", "refuse.miss"},
		{"another figure at which ton", "none|3 ton|no, 2.7 tonnes", "read.mass|ask.slope", "refuse.miss"},
		{"a ton is asked once", "none|2 ton plus half a ton of feed|metric|10 degrees", "ask.ground", "ask.ton"},
		{"a guess leaves what was weighed", "none|2.4 t weighed|10 degrees by phone, about 2 t", "refuse.told_before|read.slope|ask.ground", "read.mass"},
		{"a worse guess counts", "none|2.4 t weighed|10 degrees by phone, about 3 t", "read.mass_was|read.slope|ask.ground", "refuse.told_before"},
		{"a guess leaves what was measured", "none|2.4 t|level 48 in, gap 9 in|mud, its maybe 5 degrees", "refuse.told_before", "read.slope"},
		{"a change puts a guess in its place", "none|2.4 t weighed|10 degrees|change weight about 3 t", "read.mass_was", "refuse.told_before"},
		{"where the people are is no ground", "none, its on a farm track|2.4 t|10 degrees", "ask.ground", "ask.pull"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			c := newChair(t)
			c.say("/start")
			var keys []string
			for _, line := range strings.Split(tc.talk, "|") {
				keys = nil
				for _, m := range c.say(line) {
					for _, p := range m.Parts {
						keys = append(keys, p.Key)
					}
				}
			}
			got := strings.Join(keys, " ")
			for _, want := range strings.Split(tc.want, "|") {
				if !strings.Contains(got, want) {
					t.Errorf("%s says %s, want %s", tc.talk, got, want)
				}
			}
			if tc.never != "" && strings.Contains(got, tc.never) {
				t.Errorf("%s says %s", tc.talk, got)
			}
		})
	}
}
