package flow

import (
	"slices"
	"strings"

	"linetender/calc/job"
)

// A hazard told while another one is open comes beside it: of the two that differ
// one is then all that was told, and to have none of it somebody else looks.

// kinds are the hazards in a value of the sheet.
func kinds(value string) []string {
	return strings.FieldsFunc(value, func(r rune) bool { return r == ',' || r == ' ' })
}

// adds reports whether a value has a hazard that another has not.
func adds(was, value string) bool {
	had := kinds(was)
	return slices.ContainsFunc(kinds(value), func(k string) bool { return k != "none" && !slices.Contains(had, k) })
}

// allOf is what two values have of hazards; a plain none stays what it is.
func allOf(was, value string) string {
	if value == "none" {
		return value
	}
	both := kinds(was + "," + value)
	return strings.Join(slices.DeleteFunc(slices.Clone(job.HazardKinds), func(k string) bool { return !slices.Contains(both, k) }), ", ")
}
