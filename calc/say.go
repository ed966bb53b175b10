package calc

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"linetender/calc/unit"
)

// How figures are written in texts: in both systems, loads and needs rounded
// up, ratings and room rounded down, so that a rounding never flatters.

// said is a figure as a text will have it, written only when it is read, with
// so many figures.
type said struct {
	v     float64
	write func(v float64, figures int) string
}

const (
	figures     = 3
	mostFigures = 9 // past which two figures differ by noise alone
)

func (s said) String() string { return s.write(s.v, figures) }

// apart writes two figures that are not the same so that they do not read the
// same: what is said to be over a limit must be seen to be over it.
func apart(a, b said) (string, string) {
	for n := figures; ; n++ {
		x, y := a.write(a.v, n), b.write(b.v, n)
		if !alike(x, y) || a.v == b.v || n == mostFigures {
			return x, y
		}
	}
}

// alike reports whether two figures read the same in either system.
func alike(x, y string) bool {
	x1, x2, both := strings.Cut(x, " (")
	y1, y2, _ := strings.Cut(y, " (")
	return x1 == y1 || both && x2 == y2
}

// within reports whether got is no more than limit. A part in a thousand
// million is noise of the sums: without it 24 and 1 deg would be over 25 deg.
func within[Q ~float64](got, limit Q) bool { return got <= limit+max(limit, -limit)*noise }

const noise = 1e-9

func needed(f unit.Force) said {
	return said{f.Newtons(), func(v float64, n int) string { return force(unit.Newtons(v), n, math.Ceil) }}
}

func allowed(f unit.Force) said {
	return said{f.Newtons(), func(v float64, n int) string {
		if v == 0 {
			return "nothing"
		}
		return force(unit.Newtons(v), n, math.Floor)
	}}
}

func force(f unit.Force, n int, to func(float64) float64) string {
	return fmt.Sprintf("%s kN (%s lbf)", figure(f.Kilonewtons(), n, to), figure(f.PoundsForce(), n, to))
}

func heavy(m unit.Mass) said {
	return said{m.Kilograms(), func(kg float64, n int) string {
		m := unit.Kilograms(kg)
		return fmt.Sprintf("%s t (%s lb)", figure(m.Tonnes(), n, math.Ceil), figure(m.PoundsMass(), n, math.Ceil))
	}}
}

// light and flat are weights and slopes that something is brought down to.
func light(m unit.Mass) said {
	return said{m.Kilograms(), func(kg float64, n int) string {
		m := unit.Kilograms(kg)
		return fmt.Sprintf("%s t (%s lb)", figure(m.Tonnes(), n, math.Floor), figure(m.PoundsMass(), n, math.Floor))
	}}
}

func flat(a unit.Angle) said {
	return said{a.Radians(), func(r float64, n int) string {
		tenth := math.Pow(10, float64(n-figures+1))
		return fmt.Sprintf("%.*f deg", n-figures+1, math.Floor(unit.Radians(r).Degrees()*tenth+1e-6)/tenth)
	}}
}

func long(l unit.Length) said {
	return said{l.Metres(), func(m float64, n int) string { return length(unit.Metres(m), n, math.Ceil) }}
}

func short(l unit.Length) said {
	return said{l.Metres(), func(m float64, n int) string { return length(unit.Metres(m), n, math.Floor) }}
}

func length(l unit.Length, n int, to func(float64) float64) string {
	if l < unit.Metres(1) {
		return fmt.Sprintf("%s cm (%s in)", figure(l.Centimetres(), n, to), figure(l.Inches(), n, to))
	}
	return fmt.Sprintf("%s m (%s ft)", figure(l.Metres(), n, to), figure(l.Feet(), n, to))
}

// degrees writes an angle to a tenth, finer where it must be told from another.
func degrees(a unit.Angle) said {
	return said{a.Radians(), func(r float64, n int) string {
		tenth := math.Pow(10, float64(n-figures+1))
		return fmt.Sprintf("%s deg", strconv.FormatFloat(math.Ceil(unit.Radians(r).Degrees()*tenth-1e-6)/tenth+0, 'f', -1, 64)) // + 0: never "-0"
	}}
}

func percent(r float64) said {
	return said{r, func(r float64, _ int) string { return fmt.Sprintf("%.0f %%", math.Ceil(max(0, r*100-1e-9))) }}
}

// figure writes v with so many figures, rounded by to.
func figure(v float64, n int, to func(float64) float64) string {
	return unit.Thousands(unit.Figures(v, n, to))
}
