package bound

import (
	"fmt"
	"unicode/utf8"
)

// ReadError says why a text was not read and what would have been. Its parts
// make up one sentence, which a person may be shown as it is:
//
//	"heavy" is no weight; write a number and a unit, such as 2400 kg or 5200 lb
type ReadError struct {
	Text    string // what was written, shortened if long
	Wants   string // what should have been written: "a number and a unit"
	Example string // one or two that would be read
	Problem string // what is wrong with Text, as its predicate: "has no unit"
}

// Error returns the sentence.
func (e *ReadError) Error() string {
	return fmt.Sprintf("%q %s; write %s, such as %s", e.Text, e.Problem, e.Wants, e.Example)
}

// fault is a problem on its way to becoming a ReadError. Several readings of a
// text may fail, each for a reason of its own; the greatest rank is told.
type fault struct {
	rank    int
	problem string
	wants   string // empty for what the kind of quantity wants by default
	example string // likewise
}

// Ranks, from "no idea what this is" to "understood, and impossible".
const (
	rankNone = iota
	rankOther
	rankUnit
	rankExtra
	rankSpread
	rankValue
)

// worse returns the fault that tells the person more.
func worse(a, b *fault) *fault {
	if a == nil || b != nil && b.rank > a.rank {
		return b
	}
	return a
}

// shown is how much of a refused text an error repeats, in bytes.
const shown = 60

// shorten cuts text between characters.
func shorten(text string) string {
	if len(text) <= shown {
		return text
	}
	cut := shown
	for cut > 0 && !utf8.RuneStart(text[cut]) {
		cut--
	}
	return text[:cut] + "…"
}
