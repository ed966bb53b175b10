package handbook

import (
	"linetender/calc/bound"
)

// Ground is a surface as a person on site names it.
type Ground string

// The grounds of the tables, hardest first.
const (
	Asphalt    Ground = "asphalt"
	WetAsphalt Ground = "wet asphalt"
	Gravel     Ground = "gravel"
	FirmSoil   Ground = "firm soil"
	Grass      Ground = "grass"
	WetGrass   Ground = "wet grass"
	LooseSoil  Ground = "loose soil"
	Sand       Ground = "sand"
	Mud        Ground = "mud"
	Snow       Ground = "snow"
	Ice        Ground = "ice"
)

const (
	tableRolling     = "rolling"
	tableSliding     = "sliding"
	tableGrip        = "grip"
	tableGripTracked = "grip tracked"
	tableMire        = "mire"
	tableBelly       = "belly"
)

// Grounds returns every ground, hardest first.
func Grounds() []Ground {
	return []Ground{Asphalt, WetAsphalt, Gravel, FirmSoil, Grass, WetGrass, LooseSoil, Sand, Mud, Snow, Ice}
}

// Rolling returns the rolling resistance of free wheels as a share of the
// force between wheels and ground. A load is judged at its high end.
func Rolling(g Ground) (bound.Of[bound.Ratio], Row, bool) { return ratio(tableRolling, string(g)) }

// Sliding returns the drag of wheels that do not turn, as a share of the force
// between wheels and ground. A load is judged at its high end.
func Sliding(g Ground) (bound.Of[bound.Ratio], Row, bool) { return ratio(tableSliding, string(g)) }

// Grip returns the share of the weight on driven tyres that turns into pull:
// the low end is what may be counted on, the high end what may meet the gear
// when the load snags.
func Grip(g Ground) (bound.Of[bound.Ratio], Row, bool) { return ratio(tableGrip, string(g)) }

// GripTracked is Grip for rubber or steel tracks. Its low end is nowhere above
// that of tyres, because nobody on site says which kind of track it is.
func GripTracked(g Ground) (bound.Of[bound.Ratio], Row, bool) {
	return ratio(tableGripTracked, string(g))
}

// Mire returns how many times its weight a vehicle sunk to depth ("none",
// "hub", "fender" or "cab") takes to move.
func Mire(depth string) (bound.Of[bound.Ratio], Row, bool) { return ratio(tableMire, depth) }

// BellyDrag returns the share of the force between load and ground that drags,
// not rolls, when the vehicle hangs on its frame.
func BellyDrag() (bound.Of[bound.Ratio], Row) {
	r := must(tableBelly, "share that drags")
	return r.Ratio(), r
}

func ratio(table, key string) (bound.Of[bound.Ratio], Row, bool) {
	r, ok := Find(table, key)
	if !ok {
		return bound.Of[bound.Ratio]{}, Row{}, false
	}
	return r.Ratio(), r, true
}
