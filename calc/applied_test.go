package calc

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// A change that is offered, made in the case, leads to what is said of it: the
// decision, and what is to be signed for.
func TestAChangeLeadsToWhatIsSaid(t *testing.T) {
	lone(t)
	found := 0
	checkMeeting(t, func() bool { return found > 60 }, func(t *rapid.T) {
		s := drawn(t)
		if rapid.Bool().Draw(t, "weak") {
			s.Puller.Mass = rapid.SampledFrom([]string{"300 kg", "900 kg", "1.5 t"}).Draw(t, "puller")
		}
		if rapid.Bool().Draw(t, "doubted") {
			s.Sure = nil
		}
		c := read(t, s)
		q := newSearch(c, view{})
		all := q.run()
		if all[0].v.decision != NoGo {
			return
		}
		for _, w := range mendings(c, &q, all[0], q.almost(all)) {
			found++
			if p := Reckon(w.after); p.Decision != w.Then || !slices.Equal(p.SignOffs, append([]string{}, w.SignOffs...)) {
				t.Fatalf("%q: %s signed for %q, and it is %s signed for %q: %v", w.Do, w.Then, w.SignOffs, p.Decision, p.SignOffs, p.Why)
			}
		}
	})
}
