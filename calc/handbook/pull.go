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

// LightLoadSeconds returns how long the light load is held while the rig is
// looked over from outside.
func LightLoadSeconds() (float64, Row) {
	r := must(tablePull, "light load held")
	return r.Best, r
}

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
