package hear

import (
	"slices"
	"strings"
	"unicode"
)

// What was not read is said back: the part that was not, and no more of it than
// tells which. Words that tell nothing are not said back (words/idle.txt), nor a
// story that names a vehicle and nothing that decides: but a figure, a hazard,
// a piece of gear, a denial, a doubt and any word that is not known are.

// idle are the words that tell nothing.
var idle = func() map[string]bool {
	text, err := files.ReadFile("words/idle.txt")
	if err != nil {
		panic("hear: " + err.Error())
	}
	_, list, _ := strings.Cut(string(text), "\n\n")
	return wordSet(list)
}()

// Unread is what was not read, as short as it can be said.
func (h Heard) Unread() string {
	var out []string
	for _, c := range strings.Split(h.Rest, "; ") {
		if part, ok := h.parts[c]; ok {
			c = part
		}
		if c != "" {
			out = append(out, c)
		}
	}
	return strings.Join(out, "; ")
}

// rest returns the clauses of which something was left over, and of each the
// part that was.
func (m *message) rest() (string, map[string]string) {
	var out []string
	parts := map[string]string{}
	for _, c := range m.clauses {
		if m.leftOver(c) {
			whole := words(m.text, m.tokens[c.from:c.to])
			out = append(out, whole)
			parts[whole] = m.unreadOf(c, whole)
		}
	}
	return strings.Join(out, "; "), parts
}

// unreadOf returns what of a clause was not read: all of it, if nothing was.
func (m *message) unreadOf(c *clause, whole string) string {
	if !slices.ContainsFunc(c.items, func(it *item) bool { return it.used && !it.has("filler") && !it.has("cue") }) {
		if m.story(c) || m.idleTalk(c) {
			return ""
		}
		return whole
	}
	var out []string
	from, to, read, only := -1, -1, c.from, true
	flush := func(end int) {
		if from >= 0 && only { // a number by itself: with the words that it counts
			if to = end; end == c.to {
				from = read
			}
		}
		if from >= 0 {
			out = append(out, words(m.text, m.tokens[from:to]))
		}
		from, only = -1, true
	}
	for _, it := range c.items {
		switch {
		case it.used:
			flush(it.from)
			read = it.to
		case m.carries(it) || m.strange(it) || m.whoever(it) || it.has("neg") || it.has("turn") || it.means["hedge"] == "unsure":
			if from < 0 {
				from = it.from
			}
			to = it.to
			only = only && it.q != nil && it.q.bare()
		}
	}
	flush(c.to)
	if len(out) == 0 {
		return whole
	}
	return strings.Join(out, ", ")
}

// carries reports whether an item that was not read tells of something.
func (m *message) carries(it *item) bool {
	if it.used || m.word(it.from) == "one" && slices.Contains([]string{"side", "end", "way"}, m.word(it.to)) {
		return false // the one side: no count
	}
	for _, class := range []string{"vehicle", "winch", "gear", "anchor", "end", "hazard"} {
		if it.has(class) {
			return true
		}
	}
	return it.q != nil || it.sum || !it.has("filler") && slices.ContainsFunc(tellsOf, it.has)
}

// whoever reports whether an item is somebody who is told to be with a vehicle, where it is
// asked who is hurt or inside: "it slid in with my brother".
func (m *message) whoever(it *item) bool {
	if m.topic != TopicNone && m.topic != TopicPeople || it.used || !it.has("person") || !lists.has(m.word(it.from), "somebody") {
		return false
	}
	at := it.from - 1
	for describes(m.word(at)) || slices.Contains([]string{"my", "his", "her", "their", "your"}, m.word(at)) {
		at--
	}
	return slices.Contains([]string{"with", "under", "inside", "in", "on", "beside"}, m.word(at))
}

// strange reports whether an item is a word that is not known, and no name.
func (m *message) strange(it *item) bool {
	if it.means != nil || it.q != nil || it.used || !m.topic.namesGround() {
		return false
	}
	if m.topic == TopicPuller && slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.from > it.from && o.has("drive") }) {
		return false // what a machine is called whose wheels are told
	}
	// What a tow eye or a hitch is on is a vehicle.
	if own := slices.Contains([]string{"the", "our", "my", "his", "her", "their"}, m.word(it.from-1)); own && slices.Contains([]string{"on", "of"}, m.word(it.from-2)) &&
		slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.has("end") && o.to == it.from-2 }) {
		return false
	}
	t := m.tokens[it.from]
	first := []rune(m.text[t.from:])[0]
	return len(t.text) > 2 && unicode.IsLetter(first) && !(unicode.IsUpper(first) && it.from > 0) && !idle[t.text] && !known[t.text]
}

// namesGround reports whether an answer may name a ground, a hazard or what is
// wrong with an anchor, for which there are more words than any list has.
func (t Topic) namesGround() bool {
	switch t {
	case TopicNone, TopicPeople, TopicGround, TopicSunk, TopicWheels, TopicBelly, TopicPullerGround, TopicPuller, TopicAnchor:
		return true
	}
	return strings.HasPrefix(string(t), "anchors[")
}

// story reports whether a clause of the first words only says what happened to
// what: it names a vehicle and tells nothing.
func (m *message) story(c *clause) bool {
	if m.topic != TopicNone && m.topic != TopicPeople || c.unsure || c.ask || c.undone {
		return false
	}
	named := false
	for _, it := range c.items {
		switch {
		case slices.Contains(m.passedOver, it):
			return false
		case it.has("vehicle") && !it.has("drive"):
			named = true
		case m.carries(it), m.strange(it), it.has("neg"), it.has("hedge"), it.has("undo"), it.has("turn"), it.has("person"), it.has("someone"):
			return false
		}
	}
	return named
}

// idleTalk reports whether every word of a clause is one that tells nothing.
func (m *message) idleTalk(c *clause) bool {
	return !slices.ContainsFunc(c.items, func(it *item) bool {
		return !it.has("filler") && !it.has("glue") && !(it.means == nil && it.q == nil && idle[m.word(it.from)])
	})
}
