package flow

import (
	"slices"
	"strings"

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
	return t.dangersIn(text, names)
}

// dangersIn reads a text for danger, once in a turn. Of the names those count that
// stand in it.
func (t *turn) dangersIn(text string, names []string) []hear.Danger {
	low := hear.Lowered(text)
	names = slices.DeleteFunc(names, func(name string) bool {
		first, _, _ := strings.Cut(strings.ToLower(name), " ")
		return !strings.Contains(low, first)
	})
	for _, r := range t.read {
		if r.low == low && slices.Equal(r.names, names) {
			return r.found
		}
	}
	found := hear.Dangers(low, names)
	t.read = append(t.read, dangersRead{low, names, found})
	return found
}

// dangersRead is what a text told of danger, mostly nothing, and what that hangs on.
type dangersRead struct {
	low   string
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
func (t *turn) sight(text string) (sight, bool) {
	s, ok := sightOf(string(hear.SeenIn(t.told(text))))
	if left, denied := hear.StormDenied(hear.Lowered(text)); ok && s.kind == "weather" && denied {
		return sightIn(left) // what is denied is not seen
	}
	return s, ok
}

// sightIn is the same of words that are nobody's message. A question is no report.
func sightIn(words string) (sight, bool) {
	return sightOf(string(hear.SeenIn(hear.Dangers(words, nil))))
}
