package bound

import "math"

// Corners returns the least and the greatest value of f over every combination
// of one candidate from each input, the worst and best corners of a box.
//
// The corners bound f over the whole box only where f is monotone in each input
// while the others stay put. Where it is not, the caller adds the inner critical
// points as further candidates: sin a + µ cos a turns at tan a = 1/µ.
//
// The answer never looks better than it is known: if an input has no candidate,
// a candidate is not finite or f is not finite anywhere, the result is minus
// and plus infinity, which fails any limit on either side. f must not keep x.
func Corners(f func(x []float64) float64, inputs ...[]float64) (low, high float64) {
	for _, candidates := range inputs {
		if len(candidates) == 0 {
			return math.Inf(-1), math.Inf(1)
		}
		for _, c := range candidates {
			if !finite(c) {
				return math.Inf(-1), math.Inf(1)
			}
		}
	}
	low, high = math.Inf(1), math.Inf(-1)
	at := make([]int, len(inputs)) // an odometer: which candidate of each input
	x := make([]float64, len(inputs))
	for {
		for i, candidates := range inputs {
			x[i] = candidates[at[i]]
		}
		y := f(x)
		if !finite(y) {
			return math.Inf(-1), math.Inf(1)
		}
		low, high = min(low, y), max(high, y)

		i := 0
		for i < len(at) {
			at[i]++
			if at[i] < len(inputs[i]) {
				break
			}
			at[i] = 0
			i++
		}
		if i == len(at) {
			return low, high
		}
	}
}

func finite(x float64) bool { return -math.MaxFloat64 <= x && x <= math.MaxFloat64 }
