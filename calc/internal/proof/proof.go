// Package proof is what the tests of the topics share: figures of a source held against
// ours within its printed digits, and ranges held against points drawn from them.
package proof

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

// Near fails unless got is within tolerance of what a source printed.
func Near(t testing.TB, source, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %s: got %.6g, want %g ± %g", source, what, got, want, tolerance)
	}
}

// Same reports whether two figures agree to a share of the greater.
func Same(a, b, share float64) bool {
	return math.Abs(a-b) <= share*max(math.Abs(a), math.Abs(b), 1e-300)
}

// Refused fails unless err names a value out of range.
func Refused(t testing.TB, what string, err error) {
	t.Helper()
	var e *unit.RangeError
	if !errors.As(err, &e) {
		t.Errorf("%s: got error %v, want one of range", what, err)
	}
}

// Some draws a range from low to high, its best anywhere in it.
func Some[Q bound.Quantity](t *rapid.T, name string, low, high float64) bound.Of[Q] {
	a := rapid.Float64Range(low, high).Draw(t, name+" low")
	b := rapid.Float64Range(a, high).Draw(t, name+" high")
	return bound.Of[Q]{Low: Q(a), Best: Q(rapid.Float64Range(a, b).Draw(t, name+" best")), High: Q(b)}
}

// Point draws a figure that a range holds, often one of its ends.
func Point[Q bound.Quantity](t *rapid.T, name string, of bound.Of[Q]) Q {
	switch rapid.IntRange(0, 3).Draw(t, name+" where") {
	case 0:
		return of.Low
	case 1:
		return of.High
	}
	return Q(rapid.Float64Range(float64(of.Low), float64(of.High)).Draw(t, name))
}

// Holds fails unless a figure worked out from a point lies in the range worked out
// from the ranges, but for a hair of rounding.
func Holds[Q bound.Quantity](t *rapid.T, what string, of bound.Of[Q], got Q) {
	t.Helper()
	if !of.Ordered() {
		t.Fatalf("%s: %v is out of order", what, of)
	}
	hair := 1e-9*max(math.Abs(float64(of.Low)), math.Abs(float64(of.High))) + 1e-9
	if !(float64(of.Low)-hair <= float64(got) && float64(got) <= float64(of.High)+hair) {
		t.Fatalf("%s: %v lies outside %v", what, got, of)
	}
}
