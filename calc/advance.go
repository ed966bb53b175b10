package calc

import (
	"linetender/calc/bound"
	"linetender/calc/handbook"
)

// What a counted advance tells.
const (
	AdvanceSame    = "same"               // rope and load went as the parts say
	AdvanceGives   = "slips or stretches" // more rope came in than the load's way takes
	AdvanceCannot  = "cannot be"          // less rope came in: with a tight line that can't be
	AdvanceUnknown = "not known"          // nothing was counted, or there is no tackle to hold it against
)

// Advanced is a counted advance held against the parts.
type Advanced struct {
	Ratio   Ratio // rope taken in over the load's way
	Parts   int
	Verdict string
}

// Advance returns how much rope came in for each length that the load moved,
// and holds it against the parts of plan p. A length told exactly gets the
// spread of a tape or of paint marks on rough ground, 5 % either way.
//
// A tight rope that does not stretch comes in by the parts times the load's
// way, no more and no less. More rope than that is stretch, a rope that slips,
// a strop that settles or an anchor that creeps. Less can't be: the load ran
// ahead of its line, there are fewer parts than planned, or the marks were
// misread. Count from a line that is already tight, because the first pull
// takes the stretch out.
//
// Source: derived, each part shortens by the load's way; the spread is judgment.
func Advance(p Plan, tookIn, moved Length) Advanced {
	if p.Tackle == nil || !(tookIn.Ordered() && moved.Ordered() && tookIn.Low > 0 && moved.Low > 0) {
		return Advanced{Verdict: AdvanceUnknown}
	}
	return advanced(parts(p), tookIn, moved)
}

func advanced(parts int, tookIn, moved Length) Advanced {
	tookIn, moved = taped(tookIn), taped(moved)
	out := Advanced{Parts: parts, Verdict: AdvanceSame, Ratio: Ratio{
		Low:  bound.Ratio(tookIn.Low / moved.High),
		Best: bound.Ratio(tookIn.Best / moved.Best),
		High: bound.Ratio(tookIn.High / moved.Low),
	}}
	switch n := bound.Ratio(parts); {
	case out.Ratio.Low > n:
		out.Verdict = AdvanceGives
	case out.Ratio.High < n:
		out.Verdict = AdvanceCannot
	}
	return out
}

// taped lays the spread of a tape about a length that was told exactly.
func taped(l Length) Length {
	if l.Low != l.High {
		return l
	}
	share, _ := handbook.TapeSpread()
	return bound.Spread(l.Best, float64(share))
}
