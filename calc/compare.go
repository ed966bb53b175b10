package calc

import (
	"cmp"
	"slices"

	"linetender/calc/unit"
)

// Where a reading lies against what was predicted.
const (
	ReadBelow   = "below"
	ReadWithin  = "within"
	ReadAbove   = "above"
	ReadUnknown = "not known" // there is nothing predicted to hold it against
)

// The places where a load cell may hang.
const (
	AtHaul = "haul" // in the haul line at the puller
	AtLoad = "load" // between the moving block and the load
)

// Compared is a load-cell reading held against a plan.
type Compared struct {
	Predicted Force     // at the same place
	Verdict   string    // of the reading's own figure
	Touches   bool      // it may still be within, for its spread
	Over      []Carried // members that would then be over their working limit, worst first
	Unknown   []Carried // members whose limit is not known
}

// Compare holds a reading, taken at the haul line or at the load, against what
// plan p predicted there, and every member of the load path against what it
// carries at the reading's high end. Members of the holding line are left out:
// the haul does not load them.
//
// What a member carries for a unit of haul is the greater of the plan's own
// two figures, at the need's high end and at the puller's most.
func Compare(p Plan, at string, reading Force) Compared {
	out := Compared{Verdict: ReadUnknown}
	if p.Decision == Refer || p.Tackle == nil || p.Force == nil || !(reading.Ordered() && reading.Low >= 0) {
		return out
	}
	switch at {
	case AtHaul:
		out.Predicted = p.Tackle.Haul
	case AtLoad:
		out.Predicted = Force{Low: max(0, p.Force.Low), Best: max(0, p.Force.Best), High: max(0, p.Force.High)}
	default:
		return out
	}
	switch {
	case reading.Best < out.Predicted.Low:
		out.Verdict, out.Touches = ReadBelow, reading.High >= out.Predicted.Low
	case reading.Best > out.Predicted.High:
		out.Verdict, out.Touches = ReadAbove, reading.Low <= out.Predicted.High
	default:
		out.Verdict, out.Touches = ReadWithin, true
	}
	// More than the tackle is ever taken to need is never less than the figure
	// that the members were reckoned with.
	for _, m := range p.carried(at, reading, out.Predicted.High) {
		switch m.Within {
		case Fail:
			out.Over = append(out.Over, m)
		case Unknown:
			out.Unknown = append(out.Unknown, m)
		}
	}
	return out
}

// readAt is what each member of the load path of a plan carries at a reading; none
// where the plan has no tackle.
func readAt(p Plan, e Event) []Carried {
	if p.Tackle == nil || p.Force == nil {
		return nil
	}
	whole := p.Tackle.Haul.High
	if e.At == AtLoad {
		whole = max(0, p.Force.High)
	}
	return p.carried(e.At, e.Reading, whole)
}

// carried is what each member of the load path carries at a reading, most used
// first.
func (p Plan) carried(at string, reading Force, whole unit.Force) []Carried {
	var out []Carried
	add := func(kind, name, use string, tension unit.Force, peak, working *unit.Force) {
		if use == "holding" || use == "holding-point" {
			return
		}
		c := Carried{Kind: kind, Name: name, Use: use, Working: working}
		per, known := 0.0, whole > 0
		if known {
			per = float64(tension) / float64(whole)
		}
		if at == AtHaul {
			if peak != nil && p.Puller != nil && p.Puller.Most != nil && *p.Puller.Most > 0 {
				per, known = max(per, float64(*peak)/float64(*p.Puller.Most)), true
			} else { // smooth sheaves pass on more of the same haul
				per *= float64(p.Tackle.Advantage.High / p.Tackle.Advantage.Low)
			}
		}
		if c.Force = reading.High.Scale(per); !known {
			c.Force, c.Working = reading.High, nil
		}
		c.rate()
		out = append(out, c)
	}
	for _, g := range p.Gear {
		add(g.Kind, g.Name, g.Use, g.Tension, g.Peak, g.Working)
	}
	for _, a := range p.Anchors {
		add(a.Kind, a.Name, a.Use, a.Force, a.Peak, a.Capacity)
	}
	slices.SortStableFunc(out, func(a, b Carried) int { return cmp.Compare(b.strain(), a.strain()) })
	return out
}
