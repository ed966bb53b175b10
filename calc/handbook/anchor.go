package handbook

import (
	"fmt"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

const (
	tablePicket      = "picket"
	tablePicketSteel = "picket steel"
	tablePicketSoil  = "picket soil"
	tableDeadman     = "deadman"
	tablePressure    = "deadman pressure"
	tableDepth       = "deadman depth"
	tableDeadmanSoil = "deadman soil"
	tableTree        = "tree"
	tableStump       = "stump"
	tableStumpWraps  = "stump wraps"
	tableVehicle     = "vehicle anchor"
)

// PicketHold returns what a holdfast of wooden pickets stands in firm loam, by
// its pattern: "1", "1-1-1" or "3-2-1". No factor is taken off.
func PicketHold(pattern string) (unit.Force, Row, bool) {
	r, ok := Find(tablePicket, pattern)
	if !ok {
		return 0, Row{}, false
	}
	return r.Force().Low, r, true
}

// PicketPatterns returns the patterns of wooden pickets that have a figure.
func PicketPatterns() []string { return Keys(tablePicket) }

// Soils returns the soils that pickets and buried logs are judged in.
func Soils() []string { return Keys(tablePicketSoil) }

// SteelPicketHold returns the safe hold of each steel picket in good ground,
// and the most that pickets together suit.
func SteelPicketHold() (each, most unit.Force, r Row) {
	most, _ = exactForce(tablePicketSteel, "at most")
	each, r = exactForce(tablePicketSteel, "each")
	return each, most, r
}

// PicketSoil returns the share of the loam figure that pickets hold in a soil:
// "loam", "clay-gravel", "river-sand", "rock" or "wet".
func PicketSoil(soil string) (bound.Of[bound.Ratio], Row, bool) { return ratio(tablePicketSoil, soil) }

// DeadmanSoil is PicketSoil for a buried log.
func DeadmanSoil(soil string) (bound.Of[bound.Ratio], Row, bool) {
	return ratio(tableDeadmanSoil, soil)
}

// DeadmanPressure returns the bearing pressure of loam on a buried log's face,
// by the depth of the log's centre, rounded down to the printed depth, and the slope of the
// pull "1:1" to "1:4" ("" counts as 1:1). Shallower than the first printed
// depth there is no figure; deeper than the last counts as the last.
func DeadmanPressure(depth unit.Length, slope string) (unit.Pressure, Row, bool) {
	if slope == "" {
		slope = "1:1"
	}
	var row string
	for _, key := range Keys(tableDepth) {
		if from, _ := exactLength(tableDepth, key); depth >= from.Scale(1-rounding) {
			row = key
		}
	}
	r, ok := Find(tablePressure, fmt.Sprintf("%s %s", row, slope))
	if !ok {
		return 0, Row{}, false
	}
	return r.Pressure().Low, r, true
}

// DeadmanShallowest returns the depth above which a buried log has no figure.
func DeadmanShallowest() unit.Length {
	least, _ := exactLength(tableDepth, Keys(tableDepth)[0])
	return least
}

// DeadmanTrench returns the length of a buried log that the rope's trench takes
// out of use: of two published figures the one that makes the longer log.
func DeadmanTrench() (unit.Length, Row) {
	r := must(tableDeadman, "trench")
	return r.Length().High, r
}

// DeadmanSlender returns the greatest length of a buried timber over its face,
// or of a round log over its diameter.
func DeadmanSlender(round bool) (bound.Ratio, Row) {
	if round {
		return exact(tableDeadman, "log length over diameter")
	}
	return exact(tableDeadman, "timber length over face")
}

// TreeHold returns the force that may be put on a live sound tree of a diameter
// at its base; the factor of two is already in it. A thinner one holds nothing.
func TreeHold(diameter unit.Length) (unit.Force, Row, bool) { return byDiameter(tableTree, diameter) }

// StumpHold is TreeHold for a fresh, well-rooted stump.
func StumpHold(diameter unit.Length) (unit.Force, Row, bool) { return byDiameter(tableStump, diameter) }

// StumpWraps returns the least wraps round a stump.
func StumpWraps() (bound.Ratio, Row) { return exact(tableStumpWraps, "least") }

// VehicleAnchorShare returns the share of a braked, chocked machine's grip that
// may be counted when it serves as an anchor; the factor of two is already in it.
func VehicleAnchorShare() (bound.Ratio, Row) { return exact(tableVehicle, "share of braked grip") }

func byDiameter(table string, d unit.Length) (hold unit.Force, r Row, ok bool) {
	for _, key := range Keys(table) {
		step, begins := strings.CutSuffix(key, " from")
		if !begins {
			continue
		}
		if from, _ := exactLength(table, key); d >= from.Scale(1-rounding) {
			hold, r = exactForce(table, step)
			ok = true
		}
	}
	return hold, r, ok
}

// TreeLeast returns the diameter at the base below which a tree holds nothing.
func TreeLeast() unit.Length { l, _ := exactLength(tableTree, "small from"); return l }
