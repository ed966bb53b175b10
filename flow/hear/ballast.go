package hear

import "strings"

// ballasted reports whether a weight is told as one with the ballast of a machine on it:
// with front weights 6 t.
func (m *message) ballasted(it *item) bool {
	return ballast(m.tokens[it.clause.from:it.clause.to])
}

// Ballasted reports whether a text tells of the ballast of a machine.
func Ballasted(text string) bool { return ballast(tokenize(text)) }

func ballast(tokens []token) bool {
	for i, t := range tokens {
		if strings.HasPrefix(t.text, "ballast") || i > 0 && t.text == "weights" && lists.has(tokens[i-1].text, "bearsballast") {
			return true
		}
	}
	return false
}

// hoists reports whether a winch is spoken of and no vehicle that bears it:
// what a figure beside that means is not told.
func (m *message) hoists() bool {
	winch := false
	for _, mt := range m.mentions {
		if mt.head == m.puller {
			if !mt.it.has("winch") {
				return false
			}
			winch = true
		}
	}
	return winch
}
