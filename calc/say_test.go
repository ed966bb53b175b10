package calc

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/unit"
)

// What is over a limit by noise of the sums alone is not over it, and what is
// over it by more is said with two figures that differ.
func TestAFailingComparisonShowsTwoFigures(t *testing.T) {
	for _, row := range []struct {
		with, id string
		want     Result
		says     string
	}{
		{"load.slope=24 deg; load.slope_from=level", "L4", Pass, ""}, // 24 and the degree of a level
		{"load.slope=24.0004 deg; load.slope_from=level", "L4", Fail, "25.1 deg, over 25 deg"},
		{"gear[0].length=58 m", "T3", Pass, ""},
		{"gear[0].length=57.999 m", "T3", Fail, "58.0 m (191 ft) is needed and 57.9 m (190 ft) is there"},
		{"puller.hitch_height=60 cm", "U2", Pass, ""},
		{"puller.hitch_height=600.1 mm", "U2", Fail, "at 60.1 cm (23.7 in) is above the axle at 60.0 cm"},
		{"load.mass=9.70873 t; load.mass_from=weighed", "L10", Pass, ""},
		{"load.mass=9.70874757 t; load.mass_from=weighed", "L10", Fail, "10.00001 t (22,046.25 lb), over 10.00000 t"},
		{"distance=19 m", "T5", Pass, ""},
	} {
		fails := ""
		for _, c := range Reckon(read(t, changed(t, row.with))).Checks {
			if c.ID == row.id && c.Result == Fail {
				fails += c.Text
			}
		}
		if (fails == "") != (row.want == Pass) || !strings.Contains(fails, row.says) {
			t.Errorf("%s: %s says %q, want %q", row.with, row.id, fails, row.says)
		}
	}
}

// However close two figures are, a load over a rating never reads like it, a
// load is never said to be less than it is nor a rating more.
func TestLoadsReadOverWhatTheyAreOver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		may := unit.Newtons(rapid.Float64Range(1, 1e6).Draw(t, "rating"))
		over := may.Scale(1 + rapid.SampledFrom([]float64{5e-9, 2e-8, 1e-6, 1e-4, 1e-3, 0.1}).Draw(t, "over"))
		var fs findings
		args := fs.add("L9/rating", Fail, needed(over), allowed(may), "eye").args
		if args[0] == args[1] {
			t.Fatalf("%v over %v reads %q", over, may, args)
		}
		var need, have float64
		if _, err := fmt.Sscanf(strings.ReplaceAll(args[0]+" "+args[1], ",", ""), "%f kN (%f lbf) %f", &need, new(float64), &have); err != nil {
			t.Fatalf("%q: %v", args, err)
		}
		if need < over.Kilonewtons()*(1-1e-8) || have > may.Kilonewtons()*(1+1e-8) || need < have {
			t.Fatalf("%v over %v reads %q", over, may, args)
		}
	})
}

func TestNoiseIsNoLack(t *testing.T) {
	if !within(unit.Degrees(24)+unit.Degrees(1), unit.Degrees(25)) || !within(-1+1e-12, -1.0) || within(1+1e-8, 1.0) || !within(0.0, 0.0) {
		t.Error("noise decides")
	}
}
