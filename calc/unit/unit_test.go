package unit

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestAngleThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		deg := rapid.Float64Range(-360, 360).Draw(t, "degrees")
		if got := Degrees(deg).Degrees(); !near(got, deg) {
			t.Fatalf("%v° came back as %v°", deg, got)
		}
		if got := Radians(deg).Radians(); got != deg {
			t.Fatalf("%v rad came back as %v", deg, got)
		}
		// The tangent magnifies what the arc tangent rounded: tenfold at 600 %.
		grade := rapid.Float64Range(-1000, 1000).Draw(t, "grade")
		if got := Percent(grade).Percent(); math.Abs(got-grade) > 1e-12*(1+math.Abs(grade)*10) {
			t.Fatalf("%v %% came back as %v %%", grade, got)
		}
	})
}

// TestKnownAngles uses triangles whose sides are known without a calculator.
func TestKnownAngles(t *testing.T) {
	incline := func(rise, board float64) Angle {
		a, err := Incline(Metres(rise), Metres(board))
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	for _, tc := range []struct {
		name     string
		got      Angle
		degrees  float64
		printed  float64 // half a unit in the last printed digit
		reckoned string
	}{
		{"100 %", Percent(100), 45, 1e-12, "equal legs"},
		{"board twice its rise", incline(1, 2), 30, 1e-12, "half an equilateral triangle"},
		{"3 in 10 on the level", Rise(Metres(3), Metres(10)), 16.7, 0.05, "arc tangent 0.3"},
		{"3 in 10 on the board", incline(3, 10), 17.5, 0.05, "arc sine 0.3"},
		{"3 up, 4 along", Rise(Metres(3), Metres(4)), 36.87, 0.005, "the 3-4-5 triangle"},
		{"3 up on a board of 5", incline(3, 5), 36.87, 0.005, "the 3-4-5 triangle"},
		{"an upright board", incline(1, 1), 90, 1e-12, "rise is the board"},
		{"downhill", incline(-1, 2), -30, 1e-12, "half an equilateral triangle"},
		{"14° in radians", Radians(0.2443), 14, 0.005, "14 π / 180"},
	} {
		if got := tc.got.Degrees(); !(math.Abs(got-tc.degrees) <= tc.printed) {
			t.Errorf("%s: got %v°, want %v° (%s)", tc.name, got, tc.degrees, tc.reckoned)
		}
	}
}

// TestBoardAndLevelAgree measures one triangle both ways.
func TestBoardAndLevelAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rise := rapid.Float64Range(0.01, 10).Draw(t, "rise")
		run := rapid.Float64Range(0.01, 10).Draw(t, "run")
		a := Rise(Metres(rise), Metres(run))
		b, err := Incline(Metres(rise), Metres(math.Hypot(rise, run)))
		if err != nil {
			t.Fatal(err)
		}
		// The arc sine is ill conditioned near 90°, where its slope is 1/cos.
		if math.Abs(float64(a-b)) > 1e-14/a.Cos() {
			t.Fatalf("level says %v°, board says %v°", a.Degrees(), b.Degrees())
		}
		if got := math.Hypot(a.Sin(), a.Cos()); math.Abs(got-1) > 1e-15 {
			t.Fatalf("sine and cosine of %v span %v, want 1", a, got)
		}
		if got := a.Tan(); math.Abs(got-rise/run) > 1e-11*rise/run/a.Cos() {
			t.Fatalf("tangent: got %v, want %v", got, rise/run)
		}
	})
}

func TestInclineRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, tc := range []struct{ rise, board float64 }{
		{2, 1}, {-2, 1}, {0, 0}, {1, 0}, {1, -2}, {nan, 1}, {1, nan}, {inf, 1}, {1, inf}, {inf, inf},
	} {
		a, err := Incline(Metres(tc.rise), Metres(tc.board))
		var out *RangeError
		if !errors.As(err, &out) || a != 0 {
			t.Errorf("rise %v, board %v: got %v, %v; want 0 and a RangeError", tc.rise, tc.board, a, err)
		}
	}
}

func TestUndefinedRiseFailsEveryCheck(t *testing.T) {
	if a := Rise(0, 0); a <= Degrees(90) || a >= Degrees(-90) {
		t.Errorf("no rise in no run: got %v, which passes for a slope", a)
	}
}

func TestScale(t *testing.T) {
	for name, got := range map[string][2]float64{
		"force":    {Newtons(3).Scale(2.5).Newtons(), 7.5},
		"mass":     {Kilograms(3).Scale(2.5).Kilograms(), 7.5},
		"length":   {Metres(3).Scale(2.5).Metres(), 7.5},
		"angle":    {Radians(3).Scale(-2.5).Radians(), -7.5},
		"energy":   {Joules(3).Scale(2.5).Joules(), 7.5},
		"pressure": {Pascals(3).Scale(2.5).Pascals(), 7.5},
	} {
		if got[0] != got[1] {
			t.Errorf("%s: got %v, want %v", name, got[0], got[1])
		}
	}
}

// TestWeightIsTheOneDoor compares the way through newtons with the unit that is
// defined as the weight of the mass.
func TestWeightIsTheOneDoor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(0, 1e6).Draw(t, "figure")
		for name, pair := range map[string][2]Force{
			"kilograms": {Weight(Kilograms(x)), KilogramsForce(x)},
			"pounds":    {Weight(PoundsMass(x)), PoundsForce(x)},
			"tonnes":    {Weight(Tonnes(x)), TonnesForce(x)},
		} {
			if !near(float64(pair[0]), float64(pair[1])) {
				t.Fatalf("%v %s: weight %v, force %v", x, name, pair[0], pair[1])
			}
		}
	})
}

func TestRangeErrorSays(t *testing.T) {
	for _, tc := range []struct {
		err  RangeError
		want string
	}{
		{RangeError{"grade", 50, 0, 45, "deg"}, "grade 50 deg is out of range: want 0 to 45 deg"},
		{RangeError{"mass", -2, 0, math.Inf(1), "kg"}, "mass -2 kg is out of range: want at least 0 kg"},
		{RangeError{"mass", -2, 0, math.MaxFloat64, "kg"}, "mass -2 kg is out of range: want at least 0 kg"},
		{RangeError{"share", 1.5, math.Inf(-1), 1, ""}, "share 1.5 is out of range: want at most 1"},
		{RangeError{"force", math.NaN(), math.Inf(-1), math.Inf(1), "N"}, "force NaN N is out of range: want a finite value"},
	} {
		if got := tc.err.Error(); got != tc.want {
			t.Errorf("got %q, want %q", got, tc.want)
		}
	}
}

func TestSystemNames(t *testing.T) {
	for s, want := range map[System]string{Metric: "metric", Customary: "customary", 7: "System(7)"} {
		if got := s.String(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
