package calc

import (
	"slices"
	"strings"

	"linetender/calc/job"
)

const (
	mostSingles = 6
	mostPairs   = 3
	mostMended  = 3 // things to bring at once; more is another job
	steps       = 7 // halvings when the least of a scaled remedy is sought
)

// mending is a change with the case that it makes.
type mending struct {
	Change
	after job.Case
}

// changes lists the least changes that would turn a no-go round: single ones,
// and pairs where no single one does. Each has been planned with. What reduces
// the force comes before what adds more. What would mend a rig that the puller is
// strong enough for is tried as well.
func changes(c job.Case, s *search, o weighed, near *weighed) []Change {
	out := []Change{}
	for _, w := range mendings(c, s, o, near) {
		out = append(out, w.Change)
	}
	return out
}

// mendings are [changes] with the cases that they make.
func mendings(c job.Case, s *search, o weighed, near *weighed) []mending {
	rs := remedies(c, s, o)
	if near != nil {
		for _, t := range near.path.seats {
			own := slices.ContainsFunc(o.path.seats, func(u seat) bool { return u.path == t.path })
			if r, ok := replace(c, *near, t); ok && !own {
				r.group = "near"
				rs = append(rs, r)
			}
		}
		if r, ok := mended(c, *near); ok {
			r.group = "near"
			rs = append(rs, r)
		}
	}
	two := pairing{c: c, rs: rs, room: s.room, tried: map[[2]int]*mending{}}
	out := []mending{}
	found := map[string]bool{}
	for _, r := range rs {
		if len(out) == mostSingles || r.group != "" && found[r.group] {
			continue
		}
		if k, d := least(c, r, s.room); d != NoGo {
			do := r.do(c, k)
			if isIn(out, do) {
				continue
			}
			out = append(out, mendingOf(do, d, r.on(c, k), s.room))
			found[r.group] = true
		}
	}
	// A puller many times as strong would do alone, and nobody has one: sunk
	// wheels are dug free first, whatever else it then takes.
	if free := freed(rs); free >= 0 && !found["depth"] && len(out) > 0 {
		out = append(two.with(free, nil), out...)
		out = out[:min(len(out), mostSingles)]
	}
	single := len(out) > 0
	for i := 0; i < len(rs) && len(out) == 0; i++ {
		out = append(out, two.with(i, nil)...)
	}
	if single || len(out) == 0 {
		return out
	}
	// Two things that fail are put right together, whatever else would do it.
	mends := func(r remedy) bool { return r.mends }
	for i := 0; i < len(rs) && len(out) < mostSingles; i++ {
		if !rs[i].mends {
			continue
		}
		for _, ch := range two.with(i, mends) {
			if !isIn(out, ch.Do) && len(out) < mostSingles {
				out = append(out, ch)
			}
		}
	}
	return out
}

// mended puts right all that keeps a rig from being pulled that the puller is
// strong enough for: the blocks that it lacks, and what fails in it.
func mended(c job.Case, near weighed) (remedy, bool) {
	var do []string
	var all []remedy
	add := func(r remedy) { all, do = append(all, r), append(do, r.do(c, 1)) }
	if !canRig(c, near.rig) {
		add(rigAs(c, near.rig.first))
	}
	for _, t := range near.path.seats {
		if r, ok := replace(c, near, t); ok && !slices.Contains(do, r.do(c, 1)) {
			add(r)
		}
	}
	if len(all) < 2 || len(all) > mostMended {
		return remedy{}, false // one alone is tried by itself
	}
	return plain(strings.Join(do, " And: "), func(c *job.Case) {
		for _, r := range all {
			r.set(c, 1)
		}
	}), true
}

// freed returns which remedy digs the most, or -1.
func freed(rs []remedy) int {
	for i, r := range slices.Backward(rs) {
		if r.group == "depth" {
			return i
		}
	}
	return -1
}

// pairing tries remedies by twos, each two of them once.
type pairing struct {
	c     job.Case
	rs    []remedy
	room  *room
	tried map[[2]int]*mending // nil: they leave it a no-go
}

// with tries remedy i with each later one that is of those asked for; the first
// that work are enough.
func (p *pairing) with(i int, of func(remedy) bool) []mending {
	var out []mending
	for j := i + 1; j < len(p.rs) && len(out) < mostPairs; j++ {
		if of != nil && !of(p.rs[j]) {
			continue
		}
		at := [2]int{i, j}
		ch, tried := p.tried[at]
		if !tried {
			ch = p.try(p.rs[i], p.rs[j])
			p.tried[at] = ch
		}
		if ch != nil {
			out = append(out, *ch)
		}
	}
	return out
}

func (p *pairing) try(first, second remedy) *mending {
	done := first.on(p.c, 1)
	k, d := least(done, second, p.room)
	if d == NoGo {
		return nil
	}
	k1 := 1.0
	if first.scaled {
		both := remedy{set: func(c *job.Case, by float64) { first.set(c, by); second.set(c, k) }, scaled: true}
		k1, d = least(p.c, both, p.room)
	}
	return new(mendingOf(first.do(p.c, k1)+" And: "+second.do(p.c, k), d, second.on(first.on(p.c, k1), k), p.room))
}

// isIn reports whether a change is among those found.
func isIn(found []mending, do string) bool {
	return slices.ContainsFunc(found, func(f mending) bool { return f.Do == do })
}

// mendingOf is a change with what the best plan of the case that it makes has to be
// signed for and is not.
func mendingOf(do string, then Decision, after job.Case, m *room) mending {
	s := &search{c: learnt(after), shelf: stock(after), room: m}
	s.reckon(true)
	best := s.first()
	best = new(s.weigh(best.rig, best.power)) // in the order of the checks
	return mending{Change{Do: do, Then: then, SignOffs: best.v.unsigned}, after}
}

// least returns the least extent of r that turns the no-go round, and what the
// plan then says; NoGo if it does not at all.
func least(c job.Case, r remedy, m *room) (float64, Decision) {
	try := func(k float64) Decision {
		d := decide(learnt(r.on(c, k)), m)
		if d == Refer {
			return NoGo
		}
		return d
	}
	d := try(1)
	if d == NoGo || !r.scaled {
		return 1, d
	}
	lo, hi := 0.0, 1.0
	for range steps {
		mid := (lo + hi) / 2
		if t := try(mid); t != NoGo {
			hi, d = mid, t
		} else {
			lo = mid
		}
	}
	return hi, d
}

// on is the case with a remedy applied as far as k. What was seen is learnt from
// anew, as it will be once the change is told.
func (r remedy) on(c job.Case, k float64) job.Case {
	t := clone(c)
	r.set(&t, k)
	t.Learnt, t.Odd = nil, stillOdd(c, t)
	return t
}

// clone copies what remedies write to.
func clone(c job.Case) job.Case {
	c.Gear, c.Anchors, c.Pullers = slices.Clone(c.Gear), slices.Clone(c.Anchors), slices.Clone(c.Pullers)
	return c
}
