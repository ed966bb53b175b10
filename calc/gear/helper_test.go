package gear

import (
	"errors"
	"math"
	"testing"

	"linetender/calc/unit"
)

// near fails unless got is within tolerance of what a source printed.
func near(t *testing.T, source, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %s: got %.6g, want %g ± %g", source, what, got, want, tolerance)
	}
}

// same reports whether two figures agree to a share of the greater.
func same(a, b, share float64) bool {
	return math.Abs(a-b) <= share*max(math.Abs(a), math.Abs(b), 1e-300)
}

// refused fails unless err names a value out of range.
func refused(t *testing.T, what string, err error) {
	t.Helper()
	var e *unit.RangeError
	if !errors.As(err, &e) {
		t.Errorf("%s: got error %v, want one of range", what, err)
	}
}
