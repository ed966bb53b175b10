package hear

import "strings"

// usedAs returns the piece of a list that is told by its number and then by what it is
// for, which makes it no other piece: "rope 1 is the haul rope".
func (m *message) usedAs(it *item, kind, more string) *head {
	if !strings.HasPrefix(more, "use=") {
		return nil
	}
	at := it.from - 1
	if w := m.word(at); w == "the" || w == "our" || w == "my" {
		at--
	}
	if !lists.has(m.word(at), "isused") {
		return nil
	}
	for _, mt := range m.mentions {
		if mt.it.clause == it.clause && mt.head.path != "" && mt.head.kind == kind && mt.it.to <= at {
			return mt.head
		}
	}
	return nil
}
