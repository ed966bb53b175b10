package hear

import (
	"slices"
	"strings"
)

// How a stop drill went is told in a yes, a no, or in what was seen of it. What was late
// or was not seen is a drill that failed, whatever else of it was good: one too many
// costs a minute, one too few is a driver who pulls on.

// drill are the word lists.
var drill = loadForms("drill")

// A DrillWent is what words say of a stop drill.
type DrillWent int

const (
	DrillUntold DrillWent = iota // nothing that is surely the one or the other
	DrillStood                   // it was stopped at once and all stood
	DrillFailed
)

// Drilled reads how a stop drill went. names are the crew's.
func Drilled(text string, names []string) DrillWent {
	r := dangerReading{names: names}
	low := r.mark(Lowered(strings.TrimSpace(text)))
	rest := drill["fine"].ReplaceAllString(low, " ")
	switch {
	case strings.HasSuffix(low, "?"):
		return DrillUntold
	case drill.in("late", rest), drill.in("notso", rest), drill.in("nofirst", rest):
		return DrillFailed
	case !drill.in("stoodcore", rest):
		return DrillUntold
	}
	if !onlyOf("stood", rest) {
		return DrillUntold
	}
	return DrillStood
}

// onlyOf reports whether every one of some words stands in a list.
func onlyOf(list, words string) bool {
	return !slices.ContainsFunc(strings.FieldsFunc(words, func(r rune) bool { return strings.ContainsRune(" ,;:!+&/()-\n\t", r) }), func(w string) bool {
		w = strings.TrimRight(w, ".")
		return w != "" && !drill.in(list, w)
	})
}

// HasStopped reports whether words tell that what moved has stopped, how far it came and
// at what, and nothing else. names are the crew's.
func HasStopped(text string, names []string) bool {
	r := dangerReading{names: names}
	low := r.mark(Lowered(strings.TrimSpace(text)))
	return !strings.HasSuffix(low, "?") && drill.in("stoppedword", low) && onlyOf("came", low)
}
