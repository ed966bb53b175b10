package flow

import (
	"cmp"
	"slices"

	"linetender/calc"
	"linetender/calc/job"
)

// Who has told a weight or a slope that no crew may pull by itself, however it was
// found, is not asked four things more before they read so.

// beyond returns a plan that refers the job for what the load weighs or stands on
// alone, and nil where that does not settle it. What is not told counts at its most
// harmless, and a figure as if it had been measured: a guess may still come down.
func (t *turn) beyond() *calc.Plan {
	load := t.sheet().Load
	if load.Mass == "" && load.Slope == "" {
		return nil
	}
	if said := t.s.Held[heldTon+"load.mass"]; said != "" {
		load.Mass = cmp.Or(withTon(said, "short ton"), load.Mass)
	}
	if load.MassFrom == "" {
		load.MassFrom = "weighed"
	}
	if load.SlopeFrom == "" {
		load.SlopeFrom = "level"
	}
	probe := job.Sheet{Load: job.LoadSheet{
		Mass: cmp.Or(load.Mass, "1 t"), MassFrom: load.MassFrom, Slope: cmp.Or(load.Slope, "0 deg"), SlopeFrom: load.SlopeFrom,
		Pull: "level", Ground: "asphalt", Sunk: "none",
	}}
	p, ok := t.e.reckon(probe)
	if !ok || p.plan.Decision != calc.Refer || !slices.ContainsFunc(p.plan.Checks, tooMuch) {
		return nil
	}
	alone := *p.plan
	alone.Handover = nil // it has what was taken for this
	return &alone
}

// tooMuch reports whether a check refers the job for what the load weighs or how steep
// it stands.
func tooMuch(c calc.Check) bool {
	return c.Result == calc.Fail && c.Severity != calc.SignOff && (c.ID == "L10" || c.ID == "L4")
}
