package calc

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/job"
)

// anySheet is a job that comes near a go, with answers of all kinds in it, and
// at times several pullers.
func anySheet(t *rapid.T) job.Sheet {
	s, fields := drawn(t), slices.Sorted(maps.Keys(answers()))
	for range rapid.IntRange(0, 5).Draw(t, "changes") {
		field := rapid.SampledFrom(fields).Draw(t, "field")
		answer := rapid.SampledFrom(answers()[field]).Draw(t, "answer")
		field = strings.Replace(field, "*", rapid.SampledFrom([]string{"0", "1"}).Draw(t, "place"), 1)
		if err := s.Set(field, answer); err != nil {
			t.Fatalf("%s = %q: %v", field, answer, err)
		}
	}
	if s.Puller != nil && rapid.Bool().Draw(t, "several pullers") {
		other := *s.Puller
		other.Name, other.Mass, other.Ground = "the other", "9 t", "mud"
		s.Pullers, s.Puller = []job.PullerSheet{*s.Puller, other}, nil
	}
	return s
}

// What a search does to be quick changes nothing: a glance comes to what
// weighing comes to, a decision alone is the plan's, a remedy that is let go
// early would not have done it, and a case looked at another way comes out as
// it does when it is searched from nothing, and as at its best where nothing
// of a table was wanted for what is looked at.
func TestShortcutsChangeNothing(t *testing.T) {
	lone(t)
	compared, moved, spared := 0, 0, 0
	checkMeeting(t, func() bool { return compared >= 100 && moved >= 100 && spared >= 100 }, func(t *rapid.T) {
		c, err := anySheet(t).Case()
		if err != nil {
			return
		}
		s := newSearch(c, view{})
		for _, g := range s.all() {
			w := s.weigh(g.rig, g.power)
			if g.v.decision != w.v.decision || g.v.blocks != w.v.blocks || g.v.unknowns != w.v.unknowns || len(g.v.signOffs) != len(w.v.signOffs) ||
				g.worst != w.worst || g.lacks != w.lacks || g.weak != w.weak || g.known != w.known {
				t.Fatalf("%v: a glance gives %+v and weighing %+v", g.rig, g.v, w.v)
			}
			compared++
		}
		full := s.run()[0]
		if d := Decide(c); d != full.v.decision {
			t.Fatalf("the decision alone is %s, the plan's is %s", d, full.v.decision)
		}
		if d := decide(s.c, new(room)); d != full.v.decision && !(d == NoGo && full.v.decision == Refer) {
			t.Fatalf("a remedy's decision is %s, the plan's is %s", d, full.v.decision)
		}
		asked := map[string]bool{}
		best := s.seen(s.c, view{best: true, asked: asked})
		base := outcomeOf(best.best())
		for _, field := range uncertain(s.c) {
			for _, high := range []bool{false, true} {
				w := view{best: true, only: field, high: high}
				anew := newSearch(w.of(s.c), w).run()[0]
				if got := outcomeOf(&anew); ofTables[field] && !asked[field] {
					if got != base {
						t.Fatalf("%s: nothing was wanted of it, and looked at another way it comes to %+v instead of %+v", field, got, base)
					}
					spared++
				}
				if got, want := outcomeOf(best.seen(s.c, w).best()), outcomeOf(&anew); got != want {
					t.Fatalf("%s: looked at another way it comes to %+v, from nothing to %+v", field, got, want)
				}
				moved++
			}
		}
	})
}
