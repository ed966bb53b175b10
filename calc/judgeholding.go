package calc

import (
	"math"
	"slices"
	"strings"

	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/motion"
	"linetender/calc/unit"
)

func (s *search) judgeHolding(fs *findings, o weighed) {
	if !s.n.holds {
		return
	}
	var ask []string
	if !o.path.hold.checked {
		ask = append(ask, o.path.hold.missing...)
	}
	failed := false
	for _, t := range o.path.seats {
		if !t.hold {
			continue
		}
		r, known := t.ratio()
		switch {
		case !known && !t.caught: // what else is not known of it the arrest asks for
			ask = append(ask, t.path)
		case !known:
		case r > 1:
			fs.add("T1/load", Fail, needed(t.tension), allowed(*t.working), t.label)
			failed = true
		}
	}
	switch h := s.c.Load.HoldingPoint; {
	case h == nil:
		fs.ask("T4", []string{"load.holding_point.kind"})
	case h.Shared:
		fs.add("T4", Fail)
	default:
		fs.add("T4", Pass)
		if why := towPointRefused(s.c.Load.HoldingPoint.Kind); why != "" {
			fs.add("L9/kind", Fail, spoken(s.c.Load.HoldingPoint.Kind), why)
		} else if s.c.Load.HoldingPoint.Kind == "" {
			fs.ask("L9/kind", []string{"load.holding_point.kind"})
		}
		if !looked(h.Condition) {
			fs.ask("L9/damaged", []string{"load.holding_point.condition"})
		}
	}
	// While a line to hold with may still be named, or no gear is, it is asked for;
	// after that the list is all there is, and it has none.
	none := s.c.Gear != nil && !s.c.GearMore && !s.c.HoldingMore && slices.ContainsFunc(o.path.missing, func(l lack) bool { return l.what == holdingRope })
	fs.judge("T1/none", !none)
	for _, l := range o.path.missing {
		if strings.Contains(l.what, "holding") && !(none && l.what == holdingRope) {
			ask = append(ask, l.field)
		}
	}
	ask = append(ask, s.judgeHoldingLength(fs, o)...)
	slices.Sort(ask)
	if ask = slices.Compact(ask); len(ask) > 0 {
		fs.ask("T1/load", ask)
	} else if !failed {
		fs.add("T1/load", Pass)
	}
}

// judgeHoldingLength holds the holding rope against the reach, since nobody
// tells how far its own anchor is, with the allowance and tail of any rope.
// Uphill it is taken in, and is longest at the start. Any other way it may be
// paid out behind the load, so it must be there for the whole distance as
// well, turns round the post among it. It returns the lengths still to be told.
//
// Source: derived, the line is as long as load and anchor are apart; that its
// anchor stands as far behind as the tackle's ahead is judgment, and errs long.
func (s *search) judgeHoldingLength(fs *findings, o weighed) (ask []string) {
	need, ok := holdingNeeds(s.c, o.path)
	if !ok {
		return nil // the arrest asks for what is not known
	}
	for _, t := range o.path.seats {
		switch {
		case !t.hold || t.piece == nil || t.kind != "rope":
		case t.piece.g.Length == nil:
			ask = append(ask, t.piece.path+".length")
		default:
			fs.judge("T3/holding", reaches(t.piece.g.Length.Low, need), long(need), short(t.piece.g.Length.Low))
		}
	}
	return ask
}

// holdingLength is the rope that the holding line takes but for the turns on
// its post; ok is false while the way is not known.
func holdingLength(c job.Case) (need unit.Length, ok bool) {
	var out Length
	switch {
	case c.Reach == nil, c.Load.Pull != "uphill" && c.Distance == nil:
		return 0, false
	case c.Load.Pull != "uphill":
		out = *c.Distance
	}
	more, tail, _ := handbook.RopeAllowance()
	return must(motion.Rope(1, *c.Reach, out, more, tail)).High, true
}

// holdingNeeds is holdingLength with the turns on its post, which lie on it as
// well where the line is paid out.
func holdingNeeds(c job.Case, p path) (unit.Length, bool) {
	need, ok := holdingLength(c)
	if ok && c.Load.Pull != "uphill" {
		need += postTurns(p)
	}
	return need, ok
}

// postTurns is the rope that lies round what the holding line is snubbed on,
// where that has a diameter. The tail covers the turns of a thin one.
func postTurns(p path) unit.Length {
	turns, _ := handbook.SnubTurns()
	for _, t := range p.seats {
		if t.hold && t.fixed != nil && t.fixed.a.Diameter != nil {
			return t.fixed.a.Diameter.High.Scale(math.Pi * float64(turns.High))
		}
	}
	return 0
}
