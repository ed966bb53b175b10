package handbook

import (
	"linetender/calc/bound"
	"linetender/calc/unit"
)

const (
	tablePeople = "people"
	tableCrew   = "crew"
)

// PersonPull returns the steady level pull of one person on a rope.
func PersonPull() (bound.Of[unit.Force], Row) {
	r := must(tablePeople, "steady pull")
	return r.Force(), r
}

// PersonMost returns the most that one person may put on a rope.
func PersonMost() (unit.Force, Row) { return exactForce(tablePeople, "most") }

// PersonMass returns the mass of one person on a rope, whose weight is what
// presses their feet to the ground.
func PersonMass() (bound.Of[unit.Mass], Row) {
	r := must(tablePeople, "mass")
	return r.Mass(), r
}

// CrewFor returns the least crew for a kind of job: "any" job with a machine,
// "holding line", "road", "split signals" (the driver cannot see the leader),
// "simple pull" (short, nearly level, nothing to hold) or "hand winch".
func CrewFor(job string) (int, Row, bool) {
	r, ok := Find(tableCrew, job)
	if !ok {
		return 0, Row{}, false
	}
	return r.Count(), r, true
}
