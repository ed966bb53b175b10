package calc

import (
	"slices"

	"linetender/calc/unit"
)

// A straight line may be several lengths end to end, and something joins each to
// the next: a shackle, a link or a hook in the line, or a knot or splice that
// holds two together. What it is must be named like any other piece.

// joints is how many of a straight haul line's joints nothing makes: one fewer
// than its lengths, less the links set down in the line and the knots told of.
// Each length that was set down counts, and of several alike as many as the way
// takes.
//
// A knot may have been told of both its ropes, so two told count for one joint
// at least: judgment, and errs to asking.
func (p *path) joints() int {
	lengths, knots := 0, 0
	var reach, need unit.Length
	for i, r := range p.ropes {
		if !p.lines[i].whole {
			return 0 // over sheaves each rope is one whole
		}
		lengths++
		need = max(need, p.lines[i].takes(r))
		reach += toldLow(r.g.Length)
		for _, k := range r.g.Knots {
			if k != eyeSplice {
				knots += r.g.Count
			}
		}
	}
	for _, r := range slices.Backward(p.ropes) {
		for n := 1; n < r.g.Count && r.g.Length != nil && !reaches(reach, need); n++ {
			lengths, reach = lengths+1, reach+r.g.Length.Low
		}
	}
	links := 0
	for i := range p.seats {
		if t := &p.seats[i]; t.use == "haul" && t.piece != nil && slices.Contains(linkKinds, t.kind) {
			links += t.piece.g.Count
		}
	}
	return max(0, lengths-1-links-(knots+1)/2)
}

// linkKinds are the kinds of gear that join two lengths.
var linkKinds = []string{"shackle", "link", "hook"}

// eyeSplice makes an eye, which something else must join.
const eyeSplice = "eye splice"

// join gives the joints of a straight line what lies there and suits.
func (s *shelf) join(p *path, most *unit.Force) {
	n := p.joints()
	if n == 0 {
		return
	}
	line := p.lines[0]
	open := make([]place, n)
	for i := range open {
		open[i] = place{use: "haul", kinds: linkKinds, tension: line.tension, perHaul: line.perHaul, joint: true}
	}
	s.seatFree(p, open, most, 0)
}
