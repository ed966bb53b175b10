package flow

import (
	"slices"

	"linetender/flow/hear"
)

// What a message says of danger is read once, in package hear. Here it is only
// judged: whether it is a stop, a no to the list or a person without a post.

// told returns every danger that a message tells of.
func (t *turn) told(text string) []hear.Danger {
	var names []string
	if t.s != nil {
		names = append(t.crewNames(), t.unfitNames()...)
	}
	if !t.read.done || t.read.text != text || !slices.Equal(t.read.names, names) {
		t.read = dangersRead{done: true, text: text, names: names, found: hear.Dangers(text, names)}
	}
	return t.read.found
}

// dangersRead is what a message told of danger when it was read last, mostly
// nothing, and what that hangs on.
type dangersRead struct {
	done  bool
	text  string
	names []string // of the crew
	found []hear.Danger
}

// tellsOf returns the first danger of the kinds that is so now; false for none.
func (t *turn) tellsOf(text string, kinds ...hear.Kind) (hear.Danger, bool) {
	found := t.told(text)
	if i := slices.IndexFunc(found, func(d hear.Danger) bool { return d.Is(kinds...) }); i >= 0 {
		return found[i], true
	}
	return hear.Danger{}, false
}

// sight returns what a message says was seen, by whoever of the crew it names.
func (t *turn) sight(text string) (sight, bool) { return sightOf(string(hear.SeenIn(t.told(text)))) }

// sightIn is the same of words that are nobody's message. A question is no report.
func sightIn(words string) (sight, bool) {
	return sightOf(string(hear.SeenIn(hear.Dangers(words, nil))))
}
