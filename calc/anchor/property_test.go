package anchor

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/bound"
	"linetender/calc/internal/proof"
	"linetender/calc/unit"
)

func logs(t *rapid.T) Log {
	return Log{
		Face: unit.Metres(rapid.Float64Range(0.1, 1).Draw(t, "face")), Length: unit.Metres(rapid.Float64Range(0.1, 10).Draw(t, "length")),
		Trench: unit.Metres(rapid.Float64Range(0, 1).Draw(t, "trench")), Pressure: unit.Pascals(rapid.Float64Range(1e4, 5e5).Draw(t, "pressure")),
		Soil: bound.Ratio(rapid.Float64Range(0.5, 5).Draw(t, "soil")),
	}
}

// TestLogBothWays: a log of the length that a force asks for holds that force, and a
// better soil, a deeper face or a longer log never holds less.
func TestLogBothWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, hold := logs(t), unit.Newtons(rapid.Float64Range(1, 1e6).Draw(t, "hold"))
		long, err := DeadmanLength(l, hold)
		if err != nil {
			t.Fatal(err)
		}
		l.Length = long
		back, err := Deadman(l, 1)
		if err != nil {
			t.Fatal(err)
		}
		if !proof.Same(back.Newtons(), hold.Newtons(), 1e-6) {
			t.Fatalf("%v asks for %v, which holds %v", hold, long, back)
		}
		better := l
		better.Soil *= bound.Ratio(rapid.Float64Range(0.2, 1).Draw(t, "poorer"))
		if better.Soil > 0 {
			if less, err := Deadman(better, 1); err != nil || less > back {
				t.Fatalf("poorer soil holds %v, %v", less, err)
			}
		}
		if longer, err := DeadmanLength(l, hold.Scale(1.5)); err != nil || longer < long {
			t.Fatalf("more to hold asks for %v, %v", longer, err)
		}
	})
}

// TestNothingHoldsInItsTrench: a log no longer than its trench bears nothing.
func TestNothingHoldsInItsTrench(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := logs(t)
		l.Trench = l.Length + unit.Metres(rapid.Float64Range(0, 1).Draw(t, "more"))
		if f, err := Deadman(l, 2); err != nil || f != 0 {
			t.Fatalf("%v, %v", f, err)
		}
	})
}

// TestSharedNeverAdds: however many there are, two at most count, each as the weakest.
func TestSharedNeverAdds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var holds []unit.Force
		sum, weakest := 0.0, math.Inf(1)
		for _, x := range rapid.SliceOfN(rapid.Float64Range(0, 1e5), 1, 6).Draw(t, "holds") {
			holds, sum, weakest = append(holds, unit.Newtons(x)), sum+x, min(weakest, x)
		}
		one, err := Shared(holds, false)
		if err != nil || one.Newtons() != weakest {
			t.Fatalf("%v of %v, %v", one, holds, err)
		}
		even, err := Shared(holds, true)
		if err != nil || even < one || even.Newtons() > 2*weakest || even.Newtons() > sum*(1+1e-12) {
			t.Fatalf("%v of %v, %v", even, holds, err)
		}
	})
}

// TestShares: pickets and machines hold in proportion to their soil, grip and mass.
func TestShares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		loam, soil := unit.Newtons(rapid.Float64Range(0, 1e5).Draw(t, "loam")), bound.Ratio(rapid.Float64Range(0, 1).Draw(t, "soil"))
		factor := bound.Ratio(rapid.Float64Range(1, 5).Draw(t, "factor"))
		f, err := Picket(loam, soil, factor)
		if err != nil || f > loam || !proof.Same(f.Newtons()*float64(factor), loam.Newtons()*float64(soil), 1e-9) {
			t.Fatalf("%v, %v", f, err)
		}
		m := unit.Kilograms(rapid.Float64Range(1, 5e4).Draw(t, "mass"))
		v, err := Vehicle(m, 0, bound.Ratio(0.5), soil)
		if err != nil || v > unit.Weight(m).Scale(0.5) {
			t.Fatalf("%v, %v", v, err)
		}
	})
}

func TestRefused(t *testing.T) {
	for _, c := range []struct{ loam, soil, factor float64 }{{-1, 1, 2}, {math.Inf(1), 1, 2}, {1, 1.1, 2}, {1, -0.1, 2}, {1, math.NaN(), 2}, {1, 1, 0.9}, {1, 1, 0}, {1, 1, math.NaN()}} {
		_, err := Picket(unit.Newtons(c.loam), bound.Ratio(c.soil), bound.Ratio(c.factor))
		proof.Refused(t, "picket", err)
	}
	good := Log{Face: 0.3, Length: 3, Trench: 0.3, Pressure: 1e5, Soil: 1}
	for what, spoil := range map[string]func(*Log){
		"no face":          func(l *Log) { l.Face = 0 },
		"negative trench":  func(l *Log) { l.Trench = -1 },
		"endless face":     func(l *Log) { l.Face = unit.Metres(math.Inf(1)) },
		"no pressure":      func(l *Log) { l.Pressure = 0 },
		"no soil":          func(l *Log) { l.Soil = 0 },
		"soil past reason": func(l *Log) { l.Soil = 6 },
	} {
		l := good
		spoil(&l)
		_, err := Deadman(l, 2)
		proof.Refused(t, what, err)
		_, err = DeadmanLength(l, 1000)
		proof.Refused(t, what, err)
	}
	short := good
	short.Length = 0
	_, err := Deadman(short, 2)
	proof.Refused(t, "no length", err)
	_, err = Deadman(good, 0.5)
	proof.Refused(t, "factor", err)
	for _, x := range []float64{-1, math.Inf(1), math.NaN()} {
		_, err = DeadmanLength(good, unit.Newtons(x))
		proof.Refused(t, "hold", err)
		_, err = Vehicle(unit.Kilograms(x), 0, 0.5, 0.5)
		proof.Refused(t, "mass", err)
		_, err = Vehicle(unit.Kilograms(1), 0, bound.Ratio(x), 0.5)
		proof.Refused(t, "grip", err)
		_, err = Vehicle(unit.Kilograms(1), 0, 0.5, bound.Ratio(x))
		proof.Refused(t, "share", err)
	}
	_, err = Shared(nil, true)
	proof.Refused(t, "no anchors", err)
}
