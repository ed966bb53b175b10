package unit

import (
	"math"
	"strconv"
	"strings"
)

// Figures writes an accessor's number with n significant figures, the last of
// them rounded by to: math.Ceil for a load, math.Floor for a rating. A hair is
// forgiven, so that 12 is not written 12.1 after a conversion. Zeros at the
// end stay, because they are figures too.
func Figures(v float64, n int, to func(float64) float64) string {
	if v == 0 {
		return "0"
	}
	step := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-float64(n-1))
	k := v / step
	if r := math.Round(k); math.Abs(k-r) < 1e-6 {
		k = r
	} else {
		k = to(k)
	}
	return strconv.FormatFloat(k*step, 'f', max(0, -int(math.Round(math.Log10(step)))), 64)
}

// Short takes the zeros off the end of a written decimal.
func Short(text string) string {
	if !strings.Contains(text, ".") {
		return text
	}
	return strings.TrimRight(strings.TrimRight(text, "0"), ".")
}

// Thousands sets commas between the thousands of a written number.
func Thousands(text string) string {
	whole, decimals, point := strings.Cut(text, ".")
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if point {
		whole += "." + decimals
	}
	return sign + whole
}
