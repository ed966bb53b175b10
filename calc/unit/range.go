package unit

import (
	"fmt"
	"math"
	"strings"
)

// RangeError reports a value outside the domain of a calculation. Got, Low and
// High are all in Unit; both ends are allowed values unless the calculation
// says otherwise. An end that is infinite, or the greatest finite number, is open.
type RangeError struct {
	Name      string  // what was out of range, in trade words
	Got       float64 // what it was
	Low, High float64 // what it may be
	Unit      string  // short name of the unit, empty for a pure number
}

// Error names the value, what it was and what it may be.
func (e *RangeError) Error() string {
	var want string
	switch open := math.Abs(e.High) >= math.MaxFloat64; {
	case math.Abs(e.Low) >= math.MaxFloat64 && open:
		want = "want a finite value"
	case open:
		want = "want at least " + e.figure(e.Low)
	case math.Abs(e.Low) >= math.MaxFloat64:
		want = "want at most " + e.figure(e.High)
	default:
		want = fmt.Sprintf("want %g to %s", e.Low, e.figure(e.High))
	}
	return fmt.Sprintf("%s %s is out of range: %s", e.Name, e.figure(e.Got), want)
}

func (e *RangeError) figure(x float64) string {
	return strings.TrimSpace(fmt.Sprintf("%.6g %s", x, e.Unit))
}

// System is a family of units a person thinks in.
type System int

// The two families. Metric is the zero value.
const (
	Metric    System = iota // kilograms, tonnes, kilonewtons, metres
	Customary               // pounds, tons, feet and inches
)

// String returns "metric" or "customary".
func (s System) String() string {
	switch s {
	case Metric:
		return "metric"
	case Customary:
		return "customary"
	default:
		return fmt.Sprintf("System(%d)", int(s))
	}
}
