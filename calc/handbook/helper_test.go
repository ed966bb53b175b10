package handbook

import (
	"math"
	"testing"

	"linetender/calc/bound"
)

// ranged is the shape most tables answer in.
type ranged = bound.Of[bound.Ratio]

// ratios are the accessors of a single pure number.
var ratios = []func() (bound.Ratio, Row){
	CellSpread, CellLeast, PacedSpread, TapeSpread, ChockTurn, StartOverMoving,
	ManualRulePerSheave, StallOverRating, DrumOverRope, NylonWet, DamagedFrom, BlockShell, ProofTest, BreaksOverWorking, BreaksOverWorkingAtMost, BlockStrop,
	StumpWraps, VehicleAnchorShare, MachineMassSpread, MarginWorst, MarginBest, UseMost, UseAdvised, PeakSigned,
	PeakBlocked, ClearSpans, HoldingOverStatic, LipFree, LipBlocked, AxleShareUnasked, EffortStop, ChockHeight,
	RampedMost, HairOver,
}

// near fails unless got is within half a unit of the last printed digit.
func near(t *testing.T, source, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %s = %v, printed %v (within %v)", source, what, got, want, tolerance)
	}
}
