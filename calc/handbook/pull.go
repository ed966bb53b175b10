package handbook

import (
	"linetender/calc/bound"
	"linetender/calc/unit"
)

const tablePull = "pull"

// LightLoad returns the share of the need that the rig is first tried with.
func LightLoad() (bound.Of[bound.Ratio], Row) {
	r := must(tablePull, "light load")
	return r.Ratio(), r
}

// LightLoadHeld returns how long the light load is held while the rig is
// looked over from outside.
func LightLoadHeld() (unit.Duration, Row) { return exactDuration(tablePull, "light load held") }

// FirstMove returns how far the load moves before the first look.
func FirstMove() (unit.Length, Row) { return exactLength(tablePull, "first move") }

// EffortStop returns the effort over the planned one at which an unmoved load
// stops the pull.
func EffortStop() (bound.Ratio, Row) { return exact(tablePull, "effort stop") }

// AnchorMark returns the movement of an anchor's mark that stops the pull.
func AnchorMark() (unit.Length, Row) { return exactLength(tablePull, "anchor mark") }

// ChockHeight returns the height of a chock over that of the wheel.
func ChockHeight() (bound.Ratio, Row) { return exact(tablePull, "chock height") }

// HandsOff returns the distance hands keep from a drum, post or block.
func HandsOff() (unit.Length, Row) { return exactLength(tablePull, "hands off") }

// SnubTurns returns the round turns a holding line takes on its post.
func SnubTurns() (bound.Of[bound.Ratio], Row) {
	r := must(tablePull, "snub turns")
	return r.Ratio(), r
}

// BatteryClear returns how far the key of an electric vehicle is kept from it.
func BatteryClear() (unit.Length, Row) { return exactLength(tablePull, "battery key") }

// WheelUnasked returns the radius that a wheel which nobody measured counts as
// where chocks follow it.
func WheelUnasked() (unit.Length, Row) { return exactLength(tablePull, "wheel unasked") }

// ChockTurn returns the share of a wheel's turn after which chocks follow.
func ChockTurn() (bound.Ratio, Row) { return exact(tablePull, "chock turn") }

// ChockSlope returns the slope from which chocks follow every bite.
func ChockSlope() (unit.Angle, Row) { return exactAngle(tablePull, "chock slope") }

// StartOverMoving returns what it takes to start a load over what keeps it
// moving.
func StartOverMoving() (bound.Ratio, Row) { return exact(tablePull, "start over moving") }

// BlocksApart returns the distance that two blocks of a tackle are kept apart.
func BlocksApart() (unit.Length, Row) { return exactLength(tablePull, "blocks apart") }

// StaleAfter returns after how long answers are asked again.
func StaleAfter() (unit.Duration, Row) { return exactDuration(tablePull, "stale after") }
