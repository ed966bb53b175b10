package hear

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// What is counted when the gear comes off tells how many pieces lie there, and nothing
// else: a count is no rating and no new piece.

// A Counted is what a message says of how many pieces of a kind there are.
type Counted struct {
	Kind    string // of gear
	Use     string // where the name tells it: of the holding line
	Number  int    // how many lie there; with Missing how many do not
	All     bool   // as many as there are to be; Number is 0
	Missing bool
}

var (
	// missing1 are words that a piece is not there.
	missing1 = regexp.MustCompile(`\b(?:missing|misplaced|lost|lose|gone|short|nowhere|left behind|not (?:here|there|found)|isn'?t (?:here|there)|aren'?t (?:here|there)|(?:can'?t|cannot|can not|couldn'?t|didn'?t|don'?t) (?:find|see|locate))\b`)

	// ofAll1 is a number of those that there are to be: "2 of 3", "two out of the three".
	ofAll1 = regexp.MustCompile(`(?i)\b(\d+|one|two|three|four|five|six|seven|eight) (?:out )?of (?:the |our |my |all )?(\d+|two|three|four|five|six|seven|eight|nine)\b`)

	// allThere stands before pieces that are all there.
	allThere = regexp.MustCompile(`\b(?:all|both|every|each)(?: (?:of|the|our|my|them|\d+|two|three|four|five|six))*\s*$`)
)

// Tally reads how many pieces of each kind a message counts, in its order.
func Tally(text string) []Counted {
	text = ofAll1.ReplaceAllString(Straight(text), "$1") // those that are there are counted
	tokens := tokenize(text)
	if len(tokens) == 0 {
		return nil
	}
	m := newMessage(text, tokens, TopicNone)
	var out []Counted
	var taken []*item // figures
	for _, it := range m.items {
		if !it.has("gear") {
			continue
		}
		kind, more, _ := strings.Cut(it.means["gear"], " ")
		c := Counted{Kind: kind}
		if use, ok := strings.CutPrefix(more, "use="); ok {
			c.Use = use
		}
		var words []string
		for i := it.clause.from; i < it.clause.to; i++ {
			words = append(words, m.tokens[i].text)
		}
		said := strings.Join(words, " ")
		before := strings.Join(words[:it.from-it.clause.from], " ")
		c.Missing = missing1.MatchString(said) || missing1.MatchString(strings.ReplaceAll(said, "cant", "can't"))
		n := m.counted(it)
		if n == nil || slices.Contains(taken, n) {
			n = m.countBehind(it, len(taken) > 0)
		}
		taken = append(taken, n)
		switch {
		case n != nil:
			if number, ok := n.q.count(); ok {
				c.Number, _ = strconv.Atoi(number)
			}
		case allThere.MatchString(before):
			c.All = true
		case c.Missing && !strings.HasSuffix(it.name, "s"):
			c.Number = 1
		}
		if !c.All && c.Number == 0 && !c.Missing || slices.Contains(out, c) {
			continue // a piece that is only named
		}
		out = append(out, c)
	}
	return out
}

// countBehind is the number by itself behind the name of several, or of one more in such a
// row: "shackles 3 block 1".
func (m *message) countBehind(it *item, row bool) *item {
	if next := m.itemAt(it.to); (row || strings.HasSuffix(it.name, "s")) && next != nil && next.clause == it.clause && next.q != nil && next.q.bare() {
		if _, ok := next.q.count(); ok {
			return next
		}
	}
	return nil
}
