package handbook

import (
	"linetender/calc/bound"
	"linetender/calc/unit"
)

const (
	tableMassSpread  = "mass spread"
	tableSlopeSpread = "slope spread"
	tableLength      = "length spread"
	tableOffLine     = "off line spread"
	tableReading     = "reading spread"
)

// MassSpread returns the share either way of a mass "weighed", read from a
// "plate" or a "guess".
func MassSpread(from string) (bound.Ratio, Row, bool) {
	of, r, ok := ratio(tableMassSpread, from)
	return of.High, r, ok
}

// MachineMassSpread returns the share either way of the mass of a puller or of a
// machine that is an anchor. It is known no better than a load that was read
// from its plate: ballast, fuel and driver are added by guess.
func MachineMassSpread() (bound.Ratio, Row) { return exact(tableMassSpread, "machine") }

// SlopeSpread returns the angle either way of a slope by "level", "phone" or "eye".
func SlopeSpread(from string) (unit.Angle, Row, bool) {
	r, ok := Find(tableSlopeSpread, from)
	if !ok {
		return 0, Row{}, false
	}
	return r.Angle().High, r, true
}

// OffLineSpread returns the angle either way of a line off the way the load will
// move, "measured" or by "eye".
func OffLineSpread(from string) (unit.Angle, Row, bool) {
	r, ok := Find(tableOffLine, from)
	if !ok {
		return 0, Row{}, false
	}
	return r.Angle().High, r, true
}

// Pace returns how long a step is by which somebody counts a length off.
func Pace() (bound.Of[unit.Length], Row) {
	r, _ := Find(tableLength, "pace")
	return spread(r, lengths), r
}

// PacedSpread returns the share either way of a length in metres that was paced.
func PacedSpread() (bound.Ratio, Row) { return exact(tableLength, "paced") }

// CellSpread returns the share either way of what a load cell shows when
// nobody told.
func CellSpread() (bound.Ratio, Row) { return exact(tableReading, "load cell") }

// CellLeast returns the share either way that a load cell has at the least,
// whatever was told of it.
func CellLeast() (bound.Ratio, Row) { return exact(tableReading, "load cell told") }

// StepSpread returns the length either way of how high a step is by a rule and a straight
// edge.
func StepSpread() (unit.Length, Row) { return exactLength(tableReading, "step") }

// TapeSpread returns the share either way of a length of rope or of the way a
// load went, taped or marked while it is pulled.
func TapeSpread() (bound.Ratio, Row) { return exact(tableReading, "tape") }
