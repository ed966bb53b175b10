package motion

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/bound"
	"linetender/calc/internal/proof"
	"linetender/calc/unit"
)

func lines(t *rapid.T) Line {
	return Line{Stiffness: proof.Some[unit.Force](t, "EA", 1e3, 1e7), Length: proof.Some[unit.Length](t, "length", 0.5, 200)}
}

func within(t *rapid.T, l Line) Line {
	return Line{Stiffness: bound.Exactly(proof.Point(t, "an EA", l.Stiffness)), Length: bound.Exactly(proof.Point(t, "a length", l.Length))}
}

// TestPointsStayInside: nothing inside the ranges leaves the results.
func TestPointsStayInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, f := lines(t), proof.Some[unit.Force](t, "force", 0, 1e6)
		one, g := within(t, l), bound.Exactly(proof.Point(t, "a force", f))
		j, s, err := Stored(f, l)
		if err != nil {
			t.Fatal(err)
		}
		aj, as, _ := Stored(g, one)
		proof.Holds(t, "energy", j, aj.Best)
		proof.Holds(t, "stretch", s, as.Best)
		slack := unit.Metres(rapid.Float64Range(0, 2).Draw(t, "slack"))
		peak, err := Arrest(f, slack, l)
		if err != nil {
			t.Fatal(err)
		}
		ap, _ := Arrest(g, slack, one)
		proof.Holds(t, "arrest", peak, ap.Best)
		b, e := proof.Some[unit.Force](t, "breaking", 1, 1e6), proof.Some[bound.Ratio](t, "strain", 0.01, 0.5)
		ea, err := Stiffness(b, e)
		if err != nil {
			t.Fatal(err)
		}
		aea, _ := Stiffness(bound.Exactly(proof.Point(t, "a breaking", b)), bound.Exactly(proof.Point(t, "a strain", e)))
		proof.Holds(t, "stiffness", ea, aea.Best)
		reach, lead := proof.Some[unit.Length](t, "reach", 0, 100), proof.Some[unit.Length](t, "lead", 0, 100)
		rope, err := Rope(3, reach, lead, 1.1, 3)
		if err != nil {
			t.Fatal(err)
		}
		arope, _ := Rope(3, bound.Exactly(proof.Point(t, "a reach", reach)), bound.Exactly(proof.Point(t, "a lead", lead)), 1.1, 3)
		proof.Holds(t, "rope", rope, arope.Best)
	})
}

// TestArrestAgainstWork steps the load down slack and stretch and adds up the work of
// its weight against what the line takes up: at the peak they are equal.
func TestArrestAgainstWork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := within(t, lines(t))
		static := rapid.Float64Range(1, 1e5).Draw(t, "static")
		slack := rapid.Float64Range(0, 2).Draw(t, "slack")
		peak, err := Arrest(newtons(static), unit.Metres(slack), l)
		if err != nil {
			t.Fatal(err)
		}
		j, stretch, err := Stored(peak, l)
		if err != nil {
			t.Fatal(err)
		}
		if in := static * (slack + stretch.Best.Metres()); !proof.Same(in, j.Best.Joules(), 1e-6) {
			t.Fatalf("work in %v J, stored %v J", in, j.Best.Joules())
		}
		if peak.Best.Newtons() < 2*static*(1-1e-12) {
			t.Fatalf("caught with %v, held at rest with %v", peak.Best, static)
		}
	})
}

// TestEnergyIsTheAreaUnderThePull adds it up in strips.
func TestEnergyIsTheAreaUnderThePull(t *testing.T) {
	l := Line{Stiffness: newtons(250e3), Length: metres(17)}
	j, s, err := Stored(newtons(9e3), l)
	if err != nil {
		t.Fatal(err)
	}
	const strips = 10_000
	sum := 0.0
	for i := range strips {
		x := s.Best.Metres() * (float64(i) + 0.5) / strips
		sum += 250e3 * x / 17 * s.Best.Metres() / strips
	}
	proof.Near(t, "derived, area under the pull", "J", j.Best.Joules(), sum, 1e-6*sum)
}

// TestWorse: a stiffer or shorter line catches harder, a softer or longer one stores
// more, and more slack never catches softer.
func TestWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, k := within(t, lines(t)), rapid.Float64Range(1, 5).Draw(t, "k")
		static := newtons(rapid.Float64Range(0, 1e5).Draw(t, "static"))
		slack := unit.Metres(rapid.Float64Range(0, 2).Draw(t, "slack"))
		at := func(l Line, slack unit.Length) unit.Force {
			f, err := Arrest(static, slack, l)
			if err != nil {
				t.Fatal(err)
			}
			return f.Best
		}
		before := at(l, slack)
		stiff := Line{Stiffness: l.Stiffness.Scale(k), Length: l.Length}
		short := Line{Stiffness: l.Stiffness, Length: l.Length.Scale(1 / k)}
		if at(stiff, slack) < before || at(short, slack) < before || at(l, slack.Scale(k)) < before {
			t.Fatalf("%v: stiffer %v, shorter %v, more slack %v", before, at(stiff, slack), at(short, slack), at(l, slack.Scale(k)))
		}
		j, _, _ := Stored(static, l)
		less, _, _ := Stored(static, stiff)
		if less.Best > j.Best {
			t.Fatalf("%v, stiffer %v", j.Best, less.Best)
		}
	})
}

// TestBitesCover: so many goes cover the travel and one fewer would not.
func TestBitesCover(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		travel, run := rapid.Float64Range(0, 500).Draw(t, "travel"), rapid.Float64Range(0.1, 100).Draw(t, "run")
		n, err := Bites(unit.Metres(travel), unit.Metres(run))
		if err != nil {
			t.Fatal(err)
		}
		if float64(n)*run < travel-1e-6 || n > 1 && float64(n-1)*run >= travel {
			t.Fatalf("%d bites of %v for %v", n, run, travel)
		}
	})
}

func TestRefused(t *testing.T) {
	good := Line{Stiffness: newtons(1e5), Length: metres(10)}
	for what, spoil := range map[string]func(*Line){
		"no stiffness":      func(l *Line) { l.Stiffness = newtons(0) },
		"stiffness unknown": func(l *Line) { l.Stiffness.Best = unit.Newtons(math.NaN()) },
		"no length":         func(l *Line) { l.Length = metres(0) },
		"endless length":    func(l *Line) { l.Length.High = unit.Metres(math.Inf(1)) },
	} {
		l := good
		spoil(&l)
		_, _, err := Stored(newtons(1), l)
		proof.Refused(t, what, err)
		_, err = Arrest(newtons(1), 0, l)
		proof.Refused(t, what, err)
	}
	for _, x := range []float64{-1, math.Inf(1), math.NaN()} {
		_, err := Travel(metres(x), 2)
		proof.Refused(t, "distance", err)
		_, _, err = Stored(newtons(x), good)
		proof.Refused(t, "tension", err)
		_, err = Arrest(newtons(x), 0, good)
		proof.Refused(t, "static", err)
		_, err = Arrest(newtons(1), unit.Metres(x), good)
		proof.Refused(t, "slack", err)
		_, err = Stiffness(newtons(x), bound.Exactly(bound.Ratio(0.1)))
		proof.Refused(t, "breaking", err)
		_, err = Rope(2, metres(x), metres(1), 1.1, 3)
		proof.Refused(t, "reach", err)
		_, err = Rope(2, metres(1), metres(x), 1.1, 3)
		proof.Refused(t, "lead", err)
		_, err = Rope(2, metres(1), metres(1), 1.1, unit.Metres(x))
		proof.Refused(t, "tail", err)
	}
	for _, e := range []bound.Ratio{0, -1, bound.Ratio(math.NaN())} {
		_, err := Stiffness(newtons(1), bound.Exactly(e))
		proof.Refused(t, "strain", err)
	}
	_, err := Travel(metres(1), 0)
	proof.Refused(t, "parts", err)
	_, err = Rope(0, metres(1), metres(1), 1.1, 3)
	proof.Refused(t, "parts", err)
	_, err = Rope(1, metres(1), metres(1), 0.9, 3)
	proof.Refused(t, "share", err)
	for _, c := range [][2]float64{{10, 0}, {10, -1}, {10, math.NaN()}, {-1, 5}, {math.NaN(), 5}, {1e9, 1e-3}} {
		_, err := Bites(unit.Metres(c[0]), unit.Metres(c[1]))
		proof.Refused(t, "bites", err)
	}
}
