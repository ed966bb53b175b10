package bound

import "math"

// ReadRatio reads a pure number or a share, in figures, in words or in per cent:
// 0.6, 60 %, two thirds, 0.5 to 0.7. A share in per cent comes out below one, and
// Unit is "%" then, empty otherwise.
//
// Errors: *ReadError.
func ReadRatio(text string) (Reading[Ratio], error) { return read[Ratio](ratioText, text) }

// mostCount is far above any number of people, parts or pieces in the trade.
const mostCount = 9999

// ReadCount reads a whole number of things, in figures or in words, up to 9999:
// 4, twelve, a couple, a dozen.
//
// Errors: *ReadError.
func ReadCount(text string) (int, error) {
	d := &dimension{wants: "a whole number", example: "4"}
	tokens, f := tokenize(text)
	if f != nil {
		return 0, d.refuse(text, f)
	}
	s := &scan{tokens: tokens}
	n, ok := s.number()
	switch {
	case len(tokens) == 0:
		return 0, d.refuse(text, &fault{problem: "is empty"})
	case !ok && s.try(func() bool { s.take("a"); return s.take("dozen") }):
		n = figure{value: 12}
	case !ok:
		return 0, d.refuse(text, &fault{problem: "is no number"})
	}
	switch {
	case !s.done():
		return 0, d.refuse(text, &fault{problem: "says more than one number"})
	case n.value != math.Trunc(n.value):
		return 0, d.refuse(text, &fault{problem: "is no whole number"})
	case !(n.value <= mostCount):
		return 0, d.refuse(text, &fault{problem: "is too many"})
	}
	return int(n.value), nil
}
