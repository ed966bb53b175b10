package handbook

import (
	"linetender/calc/bound"
	"linetender/calc/unit"
)

const tableLimit = "limit"

// The mass, slope and force of a load past which a job needs a coordinator's
// signature, and past which it is for a professional.

// MassSigned returns the mass past which a coordinator signs.
func MassSigned() (unit.Mass, Row) { return exactMass(tableLimit, "mass signed") }

// MassReferred returns the mass past which the job is for a professional.
func MassReferred() (unit.Mass, Row) { return exactMass(tableLimit, "mass referred") }

// SlopeSigned returns the slope along the pull past which a coordinator signs.
func SlopeSigned() (unit.Angle, Row) { return exactAngle(tableLimit, "slope signed") }

// SlopeReferred returns the slope past which the job is for a professional.
func SlopeReferred() (unit.Angle, Row) { return exactAngle(tableLimit, "slope referred") }

// ForceSigned returns the force past which a coordinator signs.
func ForceSigned() (unit.Force, Row) { return exactForce(tableLimit, "force signed") }

// ForceReferred returns the force past which the job is for a professional.
func ForceReferred() (unit.Force, Row) { return exactForce(tableLimit, "force referred") }

// MassRefused returns the mass past which a case is not read at all.
func MassRefused() (unit.Mass, Row) { return exactMass(tableLimit, "mass refused") }

// SideSlopeFree returns the side slope under a load up to which nobody signs.
func SideSlopeFree() (unit.Angle, Row) { return exactAngle(tableLimit, "side slope free") }

// SideSlopeBlocked returns the side slope past which the pull is blocked.
func SideSlopeBlocked() (unit.Angle, Row) { return exactAngle(tableLimit, "side slope blocked") }

// OffLineFree returns the angle between line and travel up to which nobody
// signs; it is also the span of an angle nobody measured.
func OffLineFree() (unit.Angle, Row) { return exactAngle(tableLimit, "off line free") }

// OffLineBlocked returns the angle off the line past which the pull is blocked.
func OffLineBlocked() (unit.Angle, Row) { return exactAngle(tableLimit, "off line blocked") }

// OffLineRefused returns the angle off the line at which a case is not read.
func OffLineRefused() (unit.Angle, Row) { return exactAngle(tableLimit, "off line refused") }

// PullerSlopeAlong returns the slope along its pull a puller may stand on unsigned.
func PullerSlopeAlong() (unit.Angle, Row) { return exactAngle(tableLimit, "puller slope along") }

// PullerSlopeAcross returns the slope across its pull a puller may stand on unsigned.
func PullerSlopeAcross() (unit.Angle, Row) { return exactAngle(tableLimit, "puller slope across") }

// PullerSlopeAlongBlocked returns the slope along its pull past which no signature lets a puller work.
func PullerSlopeAlongBlocked() (unit.Angle, Row) {
	return exactAngle(tableLimit, "puller slope along blocked")
}

// PullerSlopeAcrossBlocked returns the slope across its pull past which no signature lets a puller work.
func PullerSlopeAcrossBlocked() (unit.Angle, Row) {
	return exactAngle(tableLimit, "puller slope across blocked")
}

// MarginWorst returns what the puller's least must reach over the need's most.
func MarginWorst() (bound.Ratio, Row) { return exact(tableLimit, "margin worst") }

// MarginBest returns what the puller must reach over the need, best against best.
func MarginBest() (bound.Ratio, Row) { return exact(tableLimit, "margin best") }

// UseMost returns the use ratio past which a piece is blocked.
func UseMost() (bound.Ratio, Row) { return exact(tableLimit, "use most") }

// UseAdvised returns the use ratio past which a stronger piece is advised.
func UseAdvised() (bound.Ratio, Row) { return exact(tableLimit, "use advised") }

// PeakSigned returns the share of a piece's breaking strength past which the
// puller's most needs a signature and a throttle rule.
func PeakSigned() (bound.Ratio, Row) { return exact(tableLimit, "peak signed") }

// PeakBlocked returns the share of breaking past which the puller's most blocks.
func PeakBlocked() (bound.Ratio, Row) { return exact(tableLimit, "peak blocked") }

// ClearLeast returns the least distance everybody keeps from a tight line.
func ClearLeast() (unit.Length, Row) { return exactLength(tableLimit, "clear least") }

// Beside returns the mass that an energy is set beside, falling: a round figure
// that people have lifted.
func Beside() (unit.Mass, Row) { return exactMass(tableLimit, "beside") }

// ClearSpans returns the clear distance over the longest tensioned span.
func ClearSpans() (bound.Ratio, Row) { return exact(tableLimit, "clear spans") }

// HoldingOverStatic returns the strength of a holding line over the static
// pull of the slope.
func HoldingOverStatic() (bound.Ratio, Row) { return exact(tableLimit, "holding over static") }

// Slacks returns the slacks an arrest is worked out for, least first.
func Slacks() []unit.Length {
	var slacks []unit.Length
	for _, key := range []string{"slack none", "slack some", "slack much"} {
		s, _ := exactLength(tableLimit, key)
		slacks = append(slacks, s)
	}
	return slacks
}

// SlackChecked returns the slack that a holding line is judged with.
func SlackChecked() (unit.Length, Row) { return exactLength(tableLimit, "slack some") }

// SlackLeast returns the slack that a holding line counts as having however little was told.
func SlackLeast() (unit.Length, Row) { return exactLength(tableLimit, "slack least") }

// RopeAllowance returns what the rope needed is multiplied by, and what is then
// added for the tail.
func RopeAllowance() (share bound.Ratio, tail unit.Length, r Row) {
	tail, _ = exactLength(tableLimit, "rope tail")
	share, r = exact(tableLimit, "rope share")
	return share, tail, r
}

// LipFree returns the height of a step over the wheel's radius up to which it
// is pulled over, not dug down.
func LipFree() (bound.Ratio, Row) { return exact(tableLimit, "lip free") }

// LipBlocked returns the height of a step over the wheel's radius from which no
// wheel rolls over it.
func LipBlocked() (bound.Ratio, Row) { return exact(tableLimit, "lip blocked") }

// LipSlides returns how far from upright a locked wheel may bear on the edge of a step
// that it is slid up: from there on it jams, or nearly.
func LipSlides() (unit.Angle, Row) { return exactAngle(tableLimit, "lip slides") }

// StopDistance returns the straight run a puller keeps free beyond its travel.
func StopDistance() (unit.Length, Row) { return exactLength(tableLimit, "stop distance") }

// OverridesMost returns how many failed checks may be signed at once; one more
// turns the job over to a professional.
func OverridesMost() (int, Row) { return exactCount(tableLimit, "overrides most") }

// TriesMost returns how many pulls may have failed before one more is for a
// professional.
func TriesMost() (int, Row) { return exactCount(tableLimit, "tries most") }

// ChocksLeast returns the least number of wheels that are chocked.
func ChocksLeast() (int, Row) { return exactCount(tableLimit, "chocks least") }

// SlingAngleMost returns the angle from the line of pull at which a sling leg fails.
func SlingAngleMost() (unit.Angle, Row) { return exactAngle(tableLimit, "sling angle most") }

// AxleShareUnasked returns the share of the load on the axle that meets a step
// when nobody said.
func AxleShareUnasked() (bound.Ratio, Row) { return exact(tableLimit, "axle share unasked") }

// OverheadClear returns the distance kept from an overhead line when planning.
func OverheadClear() (unit.Length, Row) { return exactLength(tableLimit, "overhead clear") }

// SimplePullSlope returns the slope up to which a crew of two may work.
func SimplePullSlope() (unit.Angle, Row) { return exactAngle(tableLimit, "simple pull slope") }

// PartsOfUse returns the line parts past which plain sheaves gain hardly anything.
func PartsOfUse() (int, Row) { return exactCount(tableLimit, "parts of use") }

// LineThinnest returns the thickness under which a rope is a cord and a chain no
// more than a string of links, that nobody takes for a haul line.
func LineThinnest() (unit.Length, Row) { return exactLength(tableLimit, "line thinnest") }

// HoldingShortest returns the shortest holding line that may be left at the end of
// the way: the shorter the line, the harder the catch.
func HoldingShortest() (unit.Length, Row) { return exactLength(tableLimit, "holding shortest") }
