package handbook

import (
	"linetender/calc/bound"
	"linetender/calc/unit"
)

const tableLikely = "likely"

// LikelyMass returns what a thing usually weighs, by its words: "a stuck
// vehicle". Outside the ends a figure is a slip, as a rule.
func LikelyMass(what string) (bound.Of[unit.Mass], Row, bool) { return likely(what, masses) }

// LikelyForce is LikelyMass for what is stamped on a thing: "the rating of a
// winch".
func LikelyForce(what string) (bound.Of[unit.Force], Row, bool) { return likely(what, forces) }

// LikelyLength is LikelyMass for a length or a thickness: "the radius of a
// wheel".
func LikelyLength(what string) (bound.Of[unit.Length], Row, bool) { return likely(what, lengths) }

// likely finds a row of one kind of quantity; what has another kind has none.
func likely[Q bound.Quantity](what string, known map[string]func(float64) Q) (bound.Of[Q], Row, bool) {
	r, ok := Find(tableLikely, what)
	if _, fits := known[r.Unit]; !ok || !fits {
		return bound.Of[Q]{}, Row{}, false
	}
	return spread(r, known), r, true
}
