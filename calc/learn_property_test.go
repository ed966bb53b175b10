package calc

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/job"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

// drawnSeen is one thing seen on some rig of a drawn job.
func drawnSeen(t *rapid.T, s job.Sheet, whats ...string) job.SeenSheet {
	w := job.SeenSheet{
		What: rapid.SampledFrom(whats).Draw(t, "what"), Parts: ptr(rapid.IntRange(1, 4).Draw(t, "with parts")),
		HaulFrom: rapid.SampledFrom(job.HaulFroms).Draw(t, "from"),
	}
	if w.What == "reading" || rapid.IntRange(0, 3).Draw(t, "a cell too") == 0 {
		most := max(1, reckonNeed(read(t, s), view{}).force.High.Newtons())
		w.Force = fmt.Sprintf("%.4f N", most*rapid.Float64Range(0.02, 1.6).Draw(t, "share"))
		w.At = rapid.SampledFrom(job.SeenAts).Draw(t, "at")
	}
	if w.What == "reading" && rapid.Bool().Draw(t, "under way") {
		w.Moved = "30 cm"
	}
	w.Alike = rapid.SampledFrom([]*bool{nil, ptr(false), ptr(true)}).Draw(t, "alike")
	w.Reloaded = rapid.SampledFrom([]*bool{nil, ptr(false), ptr(true)}).Draw(t, "reloaded")
	return w
}

// withSeen is a drawn job in which some things were seen already.
func withSeen(t *rapid.T) job.Sheet {
	s := drawn(t)
	for range rapid.IntRange(0, 3).Draw(t, "seen already") {
		s.Seen = append(s.Seen, drawnSeen(t, s, job.SeenWhats...))
	}
	return s
}

// byRig are the decisions for each way to rope the job with each puller.
func byRig(t *rapid.T, s job.Sheet) map[string]weighed {
	out := map[string]weighed{}
	for _, o := range newSearch(read(t, s), view{}).run() {
		out[fmt.Sprint(o.rig, o.power.path)] = o
	}
	return out
}

// notBetterAnywhere fails when one more thing seen made a rig a go, raised
// what a puller gives or lessened what the load needs.
func notBetterAnywhere(t *rapid.T, before, after job.Sheet) {
	b := byRig(t, before)
	for k, a := range byRig(t, after) {
		o, ok := b[k]
		if !ok {
			continue // a compound, weighed because no simple tackle does it any more
		}
		if a.v.decision == Go && o.v.decision != Go {
			t.Fatalf("%s: %s became a go by %+v", k, o.v.decision, after.Seen)
		}
	}
	cb, ca := read(t, before), read(t, after)
	lb, _ := learn(cb)
	la, _ := learn(ca)
	if lessened(la.Need, lb.Need) || la.Left[0] > lb.Left[0]+1e-12 {
		t.Fatalf("need %v became %v, left %v became %v", lb.Need, la.Need, lb.Left, la.Left)
	}
}

func TestASlipIsNeverBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := withSeen(t)
		after := copied(t, s)
		after.Seen = append(after.Seen, drawnSeen(t, s, "slip", "stuck"))
		notBetterAnywhere(t, s, after)
	})
}

// A reading whose own figure lies outside what was predicted improves nothing.
func TestAReadingOutsideIsNeverBetter(t *testing.T) {
	outside := 0
	checkMeeting(t, func() bool { return outside > 0 }, func(t *rapid.T) {
		s := withSeen(t)
		after := copied(t, s)
		w := drawnSeen(t, s, "reading")
		after.Seen = append(after.Seen, w)
		c := pinned(read(t, after))
		told := reckonNeed(c, view{}).force
		seen := c.Seen[len(c.Seen)-1]
		if f := onLoad(seen, momentOf(c, seen).gain(seen)).Best; told.Low <= f && f <= told.High {
			return
		}
		outside++
		notBetterAnywhere(t, s, after)
	})
}

func TestAMoveNeverRaisesTheNeed(t *testing.T) {
	fell := 0
	checkMeeting(t, func() bool { return fell > 0 }, func(t *rapid.T) {
		s := withSeen(t)
		after := copied(t, s)
		w := drawnSeen(t, s, "move")
		w.Force, w.At, w.Alike, w.Reloaded = "", "", ptr(true), nil
		after.Seen = append(after.Seen, w)
		before, _ := learn(read(t, s))
		learnt, _ := learn(read(t, after))
		told := learnt.Told
		if over(learnt.Need, before.Need) || learnt.Left[0] > before.Left[0] {
			t.Fatalf("need %v became %v, left %v became %v", before.Need, learnt.Need, before.Left, learnt.Left)
		}
		if learnt.Need.High < before.Need.High {
			fell++
			if learnt.Need.High < told.Best {
				t.Fatalf("a move alone puts the need at %v, under the best figure of %v", learnt.Need, told)
			}
		}
	})
}

func lessened(a, b Force) bool {
	return a.High < b.High-1e-9 || a.Best < b.Best-1e-9 || a.Low < b.Low-1e-9
}
func over(a, b Force) bool { return a.High > b.High+1e-9 || a.Best > b.Best+1e-9 }

// Where the puller slipped or the load stuck, as few parts are never a go.
func TestAsFewPartsAreNeverAGo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := withSeen(t)
		w := drawnSeen(t, s, "slip", "stuck")
		s.Seen = append(s.Seen, w)
		from := tackle.Moving
		if w.HaulFrom == "standing" {
			from = tackle.Standing
		}
		eta, _ := sheaves(job.Tackle{}, view{})
		stood := rig{first: tackle.Reeving{Parts: *w.Parts, From: from}}.gain(eta).Best
		for k, o := range byRig(t, s) {
			if o.v.decision == Go && o.rig.gain(eta).Best <= stood {
				t.Fatalf("%s goes where %d parts from the %s stood", k, *w.Parts, w.HaulFrom)
			}
		}
	})
}

// What truly happens, with a need and a pull somewhere in what was told, fits
// it, and the true figures are never reckoned away: the need stays at least
// the true one and the puller at most.
func TestTheTruthIsNeverLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		c := read(t, s)
		in := func(name string, v Force) unit.Force {
			return v.Low + (v.High - v.Low).Scale(rapid.Float64Range(0, 1).Draw(t, name))
		}
		n := reckonNeed(c, view{})
		bare, ok := ptr(reckonPower(c, 0, view{})).bare()
		if !ok || n.force.Low <= 0 {
			return
		}
		need, pull := in("need", n.force), in("pull", bare)
		m := &moment{}
		m.eta, _ = sheaves(c.Tackle, view{})
		for range rapid.IntRange(1, 5).Draw(t, "tries") {
			w := drawnSeen(t, s, "move")
			w.Force, w.At = "", ""
			g := m.gain(job.Seen{Parts: *w.Parts, HaulFrom: w.HaulFrom})
			gain := float64(g.Low) + float64(g.High-g.Low)*rapid.Float64Range(0, 1).Draw(t, "gain")
			if pull.Scale(gain) < need {
				w.What = "slip"
			} else if rapid.Bool().Draw(t, "a cell") {
				w.What, w.At, w.Moved = "reading", "haul", "30 cm"
				w.Force = fmt.Sprintf("%.6f N", need.Newtons()/gain*rapid.Float64Range(0.953, 1.047).Draw(t, "cell"))
			}
			s.Seen = append(s.Seen, w)
		}
		learnt, _ := learn(read(t, s))
		if len(learnt.Misfits) > 0 {
			t.Fatalf("need %v of %v, pull %v of %v: %+v does not fit", need, n.force, pull, bare, s.Seen)
		}
		if learnt.Need.High < need.Scale(1-1e-9) || learnt.Need.Low > need.Scale(1+1e-9) || bare.Low.Scale(float64(learnt.Left[0])) > pull.Scale(1+1e-9) {
			t.Fatalf("need %v of %v became %v, pull %v of %v, left %v by %+v", need, n.force, learnt.Need, pull, bare, learnt.Left, s.Seen)
		}
	})
}

// Words and figures hold whatever is seen, in whatever order.
func TestWhateverIsSeenIsOrdered(t *testing.T) {
	did := map[string]bool{}
	checkMeeting(t, func() bool { return len(did) >= 5 }, func(t *rapid.T) {
		s := withSeen(t)
		l, said := learn(read(t, s))
		if !l.Need.Ordered() || l.Need.Low < l.Told.Low || slices.ContainsFunc(said, func(w Saw) bool { return w.Text == "" || w.Did == "" }) {
			t.Fatalf("%v became %v: %+v", l.Told, l.Need, said)
		}
		for _, w := range said {
			did[w.Did] = true
		}
	})
}

// What was seen at one place says nothing of another: unless the rest of the
// way was said to be alike, nothing seen lessens the most that the load needs,
// its best figure or what any piece carries, and with a step ahead not even then.
func TestNoEvidenceLessensAWayThatWasNotPassed(t *testing.T) {
	lone(t)
	would := 0
	checkMeeting(t, func() bool { return would > 0 }, func(t *rapid.T) {
		s := drawn(t)
		step := rapid.Bool().Draw(t, "a step ahead")
		if step {
			s.Load.Lip = job.LipSheet{Height: "5 cm", WheelRadius: "40 cm"}
		}
		after := copied(t, s)
		for range rapid.IntRange(1, 4).Draw(t, "seen") {
			w := drawnSeen(t, s, "move", "reading", "slip", "stuck")
			if !step {
				w.Alike = rapid.SampledFrom([]*bool{nil, ptr(false)}).Draw(t, "not alike")
			}
			after.Seen = append(after.Seen, w)
		}
		l, _ := learn(read(t, after))
		if lessened(l.Need, l.Told) {
			t.Fatalf("need %v became %v by %+v", l.Told, l.Need, after.Seen)
		}
		b := byRig(t, s)
		for k, a := range byRig(t, after) {
			o, ok := b[k]
			if !ok {
				continue
			}
			if a.v.decision == Go && o.v.decision != Go || a.s.haul.High < o.s.haul.High-1e-9 {
				t.Fatalf("%s: %s by %v became %s by %v", k, o.v.decision, o.s.haul, a.v.decision, a.s.haul)
			}
		}
		alike := copied(t, after)
		alike.Load.Lip = job.LipSheet{None: true}
		for i := range alike.Seen {
			alike.Seen[i].Alike = ptr(true)
		}
		if l, _ := learn(read(t, alike)); lessened(l.Need, l.Told) {
			would++
		}
	})
}
