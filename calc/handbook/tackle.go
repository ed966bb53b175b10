package handbook

import (
	"strconv"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

const (
	tableSheave = "sheave"
	tableTackle = "tackle"
	tableDrum   = "drum layer"
	tableWinch  = "winch"
	tablePost   = "post friction"
)

// SheaveEfficiency returns the share of its tension that a rope keeps over a
// sheave of kind "plain" or "roller".
func SheaveEfficiency(kind string) (bound.Of[bound.Ratio], Row, bool) {
	return ratio(tableSheave, kind)
}

// ManualRulePerSheave returns the share of the load that the manuals add for
// the friction of each sheave.
func ManualRulePerSheave() (bound.Ratio, Row) { return exact(tableTackle, "load added per sheave") }

// DrumLayer returns the share of a winch's rating left on the nth layer of rope,
// 1 being the bare drum. Past the last layer of the table there is no figure.
func DrumLayer(n int) (bound.Of[bound.Ratio], Row, bool) { return ratio(tableDrum, strconv.Itoa(n)) }

// LastLayer returns the layer a winch counts as on when nobody said.
func LastLayer() (int, Row) { return exactCount(tableWinch, "last layer") }

// StallOverRating returns how many times its rating a winch pulls on the bare
// drum before it stalls, where the maker does not say.
func StallOverRating() (bound.Ratio, Row) { return exact(tableWinch, "stall over rating") }

// WrapsLeft returns the wraps that stay on the drum for rope of a material.
func WrapsLeft(material string) (int, Row, bool) {
	kind := "fibre"
	if material == Wire {
		kind = Wire
	}
	if !isMaterial(material) {
		return 0, Row{}, false
	}
	r := must(tableWinch, "wraps left "+kind)
	return r.Count(), r, true
}

// DrumAcross returns how thick a winch's drum is over its first layer of rope
// where nobody measured it, a hand winch's where hand is true.
func DrumAcross(hand bool) (unit.Length, Row) {
	if hand {
		return exactLength(tableWinch, "hand drum across")
	}
	return exactLength(tableWinch, "drum across")
}

// DrumOverRope returns how many times its rope's thickness the thinnest drum that is built
// is over its first layer of rope.
func DrumOverRope() (bound.Ratio, Row) { return exact(tableWinch, "drum over rope thinnest") }

// PostFriction returns the friction of a line turned round a fixed round
// thing: "rope on post", "slick rope on post" or "steel cable in stump notch".
func PostFriction(what string) (bound.Of[bound.Ratio], Row, bool) { return ratio(tablePost, what) }

// exact returns a figure whose row has no spread.
func exact(table, key string) (bound.Ratio, Row) {
	r := must(table, key)
	return r.Ratio().Best, r
}

func exactLength(table, key string) (unit.Length, Row) {
	r := must(table, key)
	return r.Length().Best, r
}

func exactForce(table, key string) (unit.Force, Row) {
	r := must(table, key)
	return r.Force().Best, r
}

func exactMass(table, key string) (unit.Mass, Row) {
	r := must(table, key)
	return r.Mass().Best, r
}

func exactAngle(table, key string) (unit.Angle, Row) {
	r := must(table, key)
	return r.Angle().Best, r
}

func exactDuration(table, key string) (unit.Duration, Row) {
	r := must(table, key)
	return r.Duration().Best, r
}

func exactCount(table, key string) (int, Row) {
	r := must(table, key)
	return r.Count(), r
}
