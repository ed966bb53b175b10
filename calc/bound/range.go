package bound

import "math"

// Quantity is any of package unit's types, or a Ratio.
type Quantity interface{ ~float64 }

// Ratio is a pure number with a range of its own: an efficiency, a coefficient,
// a share.
type Ratio float64

// Of is a quantity that is not known exactly: nothing below Low or above High
// is believed possible, and Best is the one figure to show. It is a statement
// of bounds, not of probability.
//
// The zero value is exactly zero, which is a value and not "unknown".
type Of[Q Quantity] struct {
	Low  Q `json:"low"`
	Best Q `json:"best"`
	High Q `json:"high"`
}

// Exactly returns the range that is q alone.
func Exactly[Q Quantity](q Q) Of[Q] { return Of[Q]{Low: q, Best: q, High: q} }

// Between returns the range from one end to the other, its best in the middle.
// The ends may come in either order: a swapped pair must not turn into a demand
// judged at its low end.
func Between[Q Quantity](low, high Q) Of[Q] {
	if high < low {
		low, high = high, low
	}
	return Of[Q]{Low: low, Best: middle(low, high), High: high}
}

// Spread returns q give or take a share of itself, 0.1 for 10 %. The sign of
// the share does not matter.
func Spread[Q Quantity](q Q, share float64) Of[Q] {
	return Plus(q, Q(float64(q)*share))
}

// Plus returns q give or take d. The sign of d does not matter.
func Plus[Q Quantity](q, d Q) Of[Q] {
	d = Q(math.Abs(float64(d)))
	return Of[Q]{Low: q - d, Best: q, High: q + d}
}

// Ordered reports whether all three figures are finite and Low <= Best <= High.
// Only then may a range be calculated with.
func (o Of[Q]) Ordered() bool {
	return o.Low >= -math.MaxFloat64 && o.Low <= o.Best && o.Best <= o.High && o.High <= math.MaxFloat64
}

// Scale returns the range multiplied by the pure number k. With a negative k
// the ends change places, so that Low stays the least.
func (o Of[Q]) Scale(k float64) Of[Q] {
	s := Of[Q]{Low: Q(float64(o.Low) * k), Best: Q(float64(o.Best) * k), High: Q(float64(o.High) * k)}
	if k < 0 {
		s.Low, s.High = s.High, s.Low
	}
	return s
}

// Span returns the least range that holds both o and other. Its best is the
// middle of the two bests.
func (o Of[Q]) Span(other Of[Q]) Of[Q] {
	return Of[Q]{
		Low:  min(o.Low, other.Low),
		Best: middle(o.Best, other.Best),
		High: max(o.High, other.High),
	}
}

// Ends returns Low and High as plain SI figures, ready to be candidates for Corners.
func (o Of[Q]) Ends() []float64 { return []float64{float64(o.Low), float64(o.High)} }

// middle halves before it adds, so that two large figures do not overflow, but
// keeps two equal figures as they are to the last bit.
func middle[Q Quantity](a, b Q) Q {
	if a == b {
		return a
	}
	return min(max(Q(float64(a)/2+float64(b)/2), min(a, b)), max(a, b))
}
