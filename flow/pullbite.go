package flow

import (
	"linetender/calc"
	"linetender/calc/bound"
	"linetender/calc/job"
	"linetender/calc/unit"
	"linetender/flow/wording"
)

// bitten is how many bites are done, the first move among them.
func (s *Session) bitten() int {
	n := 0
	for _, b := range s.Bites {
		if b.To != "" {
			n++
		}
	}
	return n
}

// gone is how far the load has come: what was told of each bite, and for one
// that nothing was told of anything up to what it was to be.
func (s *Session) gone() calc.Length {
	var out calc.Length
	for _, b := range s.Bites {
		l, ok := readLength(b.Moved)
		if !ok {
			most, _ := readLength(b.Most)
			l = calc.Length{Low: 0, Best: most.Best.Scale(0.5), High: most.High}
		}
		out = calc.Length{Low: out.Low + l.Low, Best: out.Best + l.Best, High: out.High + l.High}
	}
	return out
}

// bite reckons the next bite from where the load is now.
func (t *turn) bite(p *calc.Plan) (calc.BiteLength, bool) {
	c, err := t.e.caseOf(t.s.Sheet)
	if err != nil {
		return calc.BiteLength{}, false
	}
	return calc.Bite(t.here(c), *p), true
}

// noTravel reports whether the load has come as far as it may by this rig.
func (t *turn) noTravel() bool {
	p := t.plan()
	if p == nil {
		return false
	}
	b, ok := t.bite(p)
	return ok && b.Load != nil && *b.Load <= 0
}

// noTravelKey is what is said of that: it is there, or the rig is at its end.
func (t *turn) noTravelKey(b calc.BiteLength) wording.Key {
	if b.By == calc.ByDistance {
		return wording.PullThere
	}
	return wording.PullNoTravel
}

// here is the case with the load where it is now. After the rope was laid out
// anew the reach was told for where it stood then.
func (t *turn) here(c job.Case) job.Case {
	all := t.s.gone()
	reach := c.Reach
	c = calc.Moved(c, all)
	if t.s.Rerigs == 0 || reach == nil {
		return c
	}
	since := *t.s
	since.Bites = nil
	for _, b := range t.s.Bites {
		if b.Rerigs == t.s.Rerigs {
			since.Bites = append(since.Bites, b)
		}
	}
	left := calc.Moved(job.Case{Reach: reach}, since.gone())
	c.Reach = left.Reach
	return c
}

// atMost is a length that must not be exceeded, as it is shown: rounded down.
func atMost(l unit.Length) calc.Length {
	out, _ := readLength(metres(l))
	return out
}

// firstTravel is the most that a load goes at first, and while nobody can say
// how far a bite may go.
var firstTravel = unit.Metres(0.3)

func readLength(text string) (calc.Length, bool) {
	if text == "" {
		return calc.Length{}, false
	}
	r, err := bound.ReadLength(text)
	if err != nil {
		return calc.Length{}, false
	}
	return r.Value, true
}
