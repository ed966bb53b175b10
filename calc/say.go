package calc

import (
	"fmt"
	"math"
	"strconv"

	"linetender/calc/unit"
)

// How figures are written in texts: in both systems, loads and needs rounded
// up, ratings and room rounded down, so that a rounding never flatters.

func needed(f unit.Force) string  { return force(f, math.Ceil) }
func allowed(f unit.Force) string { return force(f, math.Floor) }

func force(f unit.Force, to func(float64) float64) string {
	return fmt.Sprintf("%s kN (%s lbf)", figure(f.Kilonewtons(), to), figure(f.PoundsForce(), to))
}

func heavy(m unit.Mass) string {
	return fmt.Sprintf("%s t (%s lb)", figure(m.Tonnes(), math.Ceil), figure(m.PoundsMass(), math.Ceil))
}

func long(l unit.Length) string  { return length(l, math.Ceil) }
func short(l unit.Length) string { return length(l, math.Floor) }

func length(l unit.Length, to func(float64) float64) string {
	if l < unit.Metres(1) {
		return fmt.Sprintf("%s cm (%s in)", figure(l.Centimetres(), to), figure(l.Inches(), to))
	}
	return fmt.Sprintf("%s m (%s ft)", figure(l.Metres(), to), figure(l.Feet(), to))
}

func degrees(a unit.Angle) string {
	return fmt.Sprintf("%s deg", strconv.FormatFloat(math.Ceil(a.Degrees()*10-1e-6)/10, 'f', -1, 64))
}

func percent(r float64) string { return fmt.Sprintf("%.0f %%", math.Ceil(r*100-1e-9)) }

// figure writes v with three figures, rounded by to; a hair is forgiven, so
// that 12 kN is not written 12.1.
func figure(v float64, to func(float64) float64) string {
	if v == 0 {
		return "0"
	}
	unitOf := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-2)
	n := v / unitOf
	if r := math.Round(n); math.Abs(n-r) < 1e-6 {
		n = r
	} else {
		n = to(n)
	}
	v = n * unitOf
	places := max(0, -int(math.Round(math.Log10(unitOf))))
	return group(strconv.FormatFloat(v, 'f', places, 64))
}

// group sets commas between the thousands of a written number.
func group(s string) string {
	end := len(s)
	for i, c := range s {
		if c == '.' {
			end = i
			break
		}
	}
	start := 0
	if s[0] == '-' {
		start = 1
	}
	for i := end - 3; i > start; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}
