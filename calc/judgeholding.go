package calc

import (
	"slices"
	"strings"

	"linetender/calc/handbook"
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
		case r > 1 && s.anchorDecides(o): // which is asked
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
	length, settled := s.judgeHoldingLength(fs, o)
	ask = append(ask, length...)
	switch at := s.c.HoldReach; {
	case at != nil && s.c.Distance != nil:
		room, _ := handbook.HoldingShortest()
		fs.judge("T1/apart", s.c.Load.Pull != "uphill" || reaches(at.Low, s.c.Distance.High+room), short(at.Low), long(s.c.Distance.High), long(room))
	case at == nil && o.path.hold.checked && !failed && !settled:
		fs.ask("T1/apart", []string{holdReachField})
	}
	slices.Sort(ask)
	if ask = slices.Compact(ask); len(ask) > 0 {
		fs.ask("T1/load", ask)
	} else if !failed {
		fs.add("T1/load", Pass)
	}
}

// judgeHoldingLength holds the holding rope against what its way takes. Where
// nobody said how far its anchor is, and a nearer one would do, that is asked. It
// returns the lengths still to be told, and whether it asked for that or no anchor would do.
func (s *search) judgeHoldingLength(fs *findings, o weighed) (ask []string, settled bool) {
	need, ok := holdingNeeds(s.c, o.path)
	if !ok {
		return nil, false // the arrest asks for what is not known
	}
	for _, t := range o.path.seats {
		switch {
		case !t.hold || t.piece == nil || t.kind != "rope":
		case t.piece.g.Length == nil:
			ask = append(ask, t.piece.path+".length")
		case !reaches(t.piece.g.Length.Low, need) && s.anchorDecides(o):
			fs.ask("T3/holding", []string{holdReachField}, long(need), short(t.piece.g.Length.Low))
			settled = true
		default:
			enough := reaches(t.piece.g.Length.Low, need)
			fs.judge("T3/holding", enough, long(need), short(t.piece.g.Length.Low))
			settled = settled || !enough
		}
	}
	return ask, settled
}
