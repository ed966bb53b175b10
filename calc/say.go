package calc

import (
	"fmt"
	"math"
	"strconv"

	"linetender/calc/unit"
)

// How figures are written in texts: in both systems, loads and needs rounded
// up, ratings and room rounded down, so that a rounding never flatters.

// said is a figure as a text will have it, written only when it is read.
type said struct {
	v     float64
	write func(float64) string
}

func (s said) String() string { return s.write(s.v) }

func needed(f unit.Force) said {
	return said{f.Newtons(), func(n float64) string { return force(unit.Newtons(n), math.Ceil) }}
}

func allowed(f unit.Force) said {
	return said{f.Newtons(), func(n float64) string { return force(unit.Newtons(n), math.Floor) }}
}

func force(f unit.Force, to func(float64) float64) string {
	return fmt.Sprintf("%s kN (%s lbf)", figure(f.Kilonewtons(), to), figure(f.PoundsForce(), to))
}

func heavy(m unit.Mass) said {
	return said{m.Kilograms(), func(kg float64) string {
		m := unit.Kilograms(kg)
		return fmt.Sprintf("%s t (%s lb)", figure(m.Tonnes(), math.Ceil), figure(m.PoundsMass(), math.Ceil))
	}}
}

func long(l unit.Length) said {
	return said{l.Metres(), func(m float64) string { return length(unit.Metres(m), math.Ceil) }}
}

func short(l unit.Length) said {
	return said{l.Metres(), func(m float64) string { return length(unit.Metres(m), math.Floor) }}
}

func length(l unit.Length, to func(float64) float64) string {
	if l < unit.Metres(1) {
		return fmt.Sprintf("%s cm (%s in)", figure(l.Centimetres(), to), figure(l.Inches(), to))
	}
	return fmt.Sprintf("%s m (%s ft)", figure(l.Metres(), to), figure(l.Feet(), to))
}

func degrees(a unit.Angle) said {
	return said{a.Radians(), func(r float64) string {
		return fmt.Sprintf("%s deg", strconv.FormatFloat(math.Ceil(unit.Radians(r).Degrees()*10-1e-6)/10, 'f', -1, 64))
	}}
}

func percent(r float64) said {
	return said{r, func(r float64) string { return fmt.Sprintf("%.0f %%", math.Ceil(r*100-1e-9)) }}
}

// figure writes v with three figures, rounded by to.
func figure(v float64, to func(float64) float64) string {
	return unit.Thousands(unit.Figures(v, 3, to))
}
