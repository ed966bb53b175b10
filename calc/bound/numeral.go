package bound

import (
	"strconv"
	"strings"
)

// form says how figures were written, where that leaves doubt.
type form int

const (
	formDecimal form = iota // a decimal mark, or marks that settle each other
	formWhole               // digits and nothing else: may be part of a fraction
	formComma3              // one comma before three digits: 5,200
	formPoint3              // one point before three digits: 2.400
	formGrouped             // several groups of three: 12 000, 1,234,567
)

// parseNumeral reads figures with their thousands and decimal marks:
//
//	2400  2.4  2,4  5,200  1,234,567.8  1.234.567,8  12 000  12 000,5
//
// It refuses 1,23,4 and 05,200 and whatever else does not come out one way.
func parseNumeral(s string) (value float64, f form, ok bool) {
	if whole, tail, found := cutLast(s, ' '); found {
		// Spaces mark the thousands, so a mark in the last group is decimal.
		// Three digits after a comma would be a second kind of thousands mark.
		group, decimals, marked := cutMark(tail)
		if marked && len(decimals) == 3 && strings.Contains(tail, ",") {
			return 0, 0, false
		}
		return number(strings.ReplaceAll(whole, " ", "")+group, decimals, formGrouped)
	}
	commas, points := strings.Count(s, ","), strings.Count(s, ".")
	switch {
	case commas == 0 && points == 0:
		return number(s, "", formWhole)
	case commas > 0 && points > 0:
		thousands, decimal := ",", "."
		if strings.LastIndex(s, ",") > strings.LastIndex(s, ".") {
			thousands, decimal = ".", ","
		}
		head, decimals, _ := strings.Cut(s, decimal)
		if strings.Contains(decimals, decimal) || strings.Contains(decimals, thousands) || !grouped(head, thousands) {
			return 0, 0, false
		}
		return number(strings.ReplaceAll(head, thousands, ""), decimals, formDecimal)
	case commas > 1 || points > 1:
		mark := ","
		if points > 1 {
			mark = "."
		}
		if !grouped(s, mark) {
			return 0, 0, false
		}
		return number(strings.ReplaceAll(s, mark, ""), "", formGrouped)
	}
	head, tail, _ := cutMark(s)
	switch {
	case points == 1 && grouped(s, "."):
		return number(head, tail, formPoint3)
	case points == 1:
		return number(head, tail, formDecimal)
	case grouped(s, ","):
		return number(head+tail, "", formComma3)
	case len(head) > 1 && head[0] == '0':
		return 0, 0, false
	}
	return number(head, tail, formDecimal)
}

// grouped reports whether s is a group of one to three digits that does not
// start with zero, and then groups of three.
func grouped(s, mark string) bool {
	groups := strings.Split(s, mark)
	if n := len(groups[0]); n < 1 || n > 3 || groups[0][0] == '0' {
		return false
	}
	for _, g := range groups[1:] {
		if len(g) != 3 {
			return false
		}
	}
	return true
}

func cutMark(s string) (head, tail string, found bool) {
	if i := strings.IndexAny(s, ".,"); i >= 0 {
		return s[:i], s[i+1:], true
	}
	return s, "", false
}

func cutLast(s string, mark byte) (head, tail string, found bool) {
	if i := strings.LastIndexByte(s, mark); i >= 0 {
		return s[:i], s[i+1:], true
	}
	return s, "", false
}

func number(whole, decimals string, f form) (float64, form, bool) {
	v, err := strconv.ParseFloat(whole+"."+decimals, 64)
	if err != nil {
		return 0, 0, false
	}
	return v, f, true
}
