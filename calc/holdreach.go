package calc

import (
	"fmt"
	"math"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/motion"
	"linetender/calc/unit"
)

// How far the holding line's own anchor is from the load decides twice: the
// shorter the line, the harder it catches; the longer, the more rope it takes, and
// one ahead that the load passes holds nothing. Where nobody said it, each is
// reckoned at its own careful end. Some distance is always too near and some too
// far, so with such a line no plan is a go before it is told; it is no go where no
// distance would make it one.

const holdReachField = "holding_reach"

// holdingSpan is how long the line that holds the load is while the load moves.
// Uphill it is taken in towards an anchor ahead and is shortest at the end of the
// way: what is left of it there, with no floor under it but [handbook.HoldingShortest],
// which T1/apart asks for and without which nothing is a go. Any other way it is paid
// out from one behind and is shortest at the start. Nobody having said how far that
// anchor is, it is as near as it may be at all, and as far as that of the tackle. One
// of the two must be known, and the distance.
//
// Source: derived, the line is as long as load and anchor are apart; how near an
// anchor is that nobody told of is judgment, and errs short.
func holdingSpan(c job.Case) Length {
	least, _ := handbook.HoldingShortest()
	if c.HoldReach == nil {
		return Length{Low: least, Best: max(least, c.Reach.Best), High: max(least, c.Reach.High)}
	}
	l := *c.HoldReach
	if c.Load.Pull != "uphill" {
		l.High += c.Distance.High
		return l
	}
	l.Low = shortened(l.Low, c.Distance.High)
	return l
}

// shortened is a holding line that so much was taken in of. It is no shorter than
// the room that must be left of it, unless it was so from the start: less is no go,
// whatever it would catch with.
func shortened(l, by unit.Length) unit.Length {
	least, _ := handbook.HoldingShortest()
	return max(l-by, min(least, l))
}

// holdingLength is the rope that the holding line takes but for the turns on
// its post; ok is false while the way is not known. It has the allowance and the
// tail of any rope. Uphill it is longest at the start; any other way it must be
// there for the whole distance as well.
//
// Source: derived, as [holdingSpan]; that an anchor nobody told of stands as far
// behind as the tackle's ahead is judgment, and errs long.
func holdingLength(c job.Case) (need unit.Length, ok bool) {
	apart := c.HoldReach
	if apart == nil {
		apart = c.Reach
	}
	var out Length
	switch {
	case apart == nil, c.Load.Pull != "uphill" && c.Distance == nil:
		return 0, false
	case c.Load.Pull != "uphill":
		out = *c.Distance
	}
	more, tail, _ := handbook.RopeAllowance()
	return must(motion.Rope(1, *apart, out, more, tail)).High, true
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

// anchorDecides reports whether nobody said how far the holding line's anchor is
// while at some distance both its rope would reach and all that the line is made
// of would bear the catch. The further it is the softer it catches, so the one
// that is tried is the furthest that the rope allows; without a known length, so
// far that catching adds nothing.
func (s *search) anchorDecides(o weighed) bool {
	c, h := s.c, o.path.hold
	if c.HoldReach != nil || !h.checked {
		return false
	}
	least, far := s.holdAnchors(o)
	if !reaches(far, least) {
		return false
	}
	c.HoldReach = new(bound.Exactly(far))
	line := motion.Line{Stiffness: h.line.Stiffness, Length: holdingSpan(c)}
	over, _ := handbook.HoldingOverStatic()
	carries := max(s.n.static.High.Scale(float64(over)), must(motion.Arrest(s.n.static, h.slack, line)).High)
	for _, t := range o.path.seats {
		if t.hold && t.working != nil && carries > *t.working {
			return false
		}
	}
	return true
}

// holdAnchors is how near the holding line's anchor may be, so that there is room
// left for the line at the end of the way, and how far, so that the rope reaches. The distance must be known.
func (s *search) holdAnchors(o weighed) (least, far unit.Length) {
	least, _ = handbook.HoldingShortest()
	if s.c.Load.Pull == "uphill" {
		least += s.c.Distance.High
	}
	far, _ = handbook.LongestRope()
	for _, t := range o.path.seats {
		if t.hold && t.piece != nil && t.kind == "rope" && t.piece.g.Length != nil {
			far = min(far, s.farthest(o, t.piece.g.Length.Low))
		}
	}
	return least, far
}

// setHold sets the holding line's anchor elsewhere, where it was told and the load
// passes it, the line catches too hard or its rope does not reach: the least that
// is far enough, or the most that the rope allows. Each is what is said, to a tenth
// of a metre.
func (s *search) setHold(o weighed) []remedy {
	at := s.c.HoldReach
	if at == nil || !o.path.hold.checked || !o.fails("T1/apart") && !o.fails("T1/load") && !o.fails("T3/holding") {
		return nil
	}
	least, far := s.holdAnchors(o)
	tenth := func(l unit.Length, to func(float64) float64) unit.Length { return unit.Metres(to(l.Metres()*10) / 10) }
	far = tenth(far, math.Floor)
	if !reaches(far, least) {
		return nil
	}
	var out []remedy
	if at.High > far {
		out = append(out, plain(fmt.Sprintf("Set the anchor of the holding line %s from where the load stands now, and no farther: its rope reaches no more.", long(far)),
			func(c *job.Case) { c.HoldReach = new(bound.Exactly(far)) }))
	}
	if from := max(at.Low, least); from < far {
		to := func(k float64) unit.Length { return min(far, tenth(from+(far-from).Scale(k), math.Ceil)) }
		out = append(out, remedy{scaled: true,
			set: func(c *job.Case, k float64) { c.HoldReach = new(bound.Exactly(to(k))) },
			do: func(_ job.Case, k float64) string {
				return fmt.Sprintf("Set the anchor of the holding line farther off, at least %s from where the load stands now.", long(to(k)))
			}})
	}
	return out
}

// farthest is how far the holding line's anchor may be for a rope of that length.
func (s *search) farthest(o weighed, rope unit.Length) unit.Length {
	more, tail, _ := handbook.RopeAllowance()
	out := unit.Length(0)
	if s.c.Load.Pull != "uphill" {
		tail, out = tail+postTurns(o.path), s.c.Distance.High
	}
	return (rope - tail).Scale(1/float64(more)) - out
}
