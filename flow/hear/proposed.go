package hear

// What somebody only thinks of is not there: "or could we use the chain hoist, it says
// 3 t". Nothing that such a sentence tells of it, to its end, may be read as done or as
// known.

// proposed silences sentences from the words with which something is proposed.
func (m *message) proposed() {
	for n, c := range m.clauses {
		for _, it := range c.items {
			if it.means["question"] != "propose" || !m.leadsIn(c.from, it.from) || m.saysYes(n) {
				continue
			}
			for _, on := range m.clauses[n:] {
				if on.sentence == c.sentence {
					on.iffy = min(on.iffy, max(on.from, it.from))
				}
			}
		}
	}
}

// leadsIn reports whether tokens from a to b only lead over to what comes after them.
func (m *message) leadsIn(a, b int) bool {
	for i := a; i < b; i++ {
		if !lists.has(m.word(i), "leadin") {
			return false
		}
	}
	return true
}

// saysYes reports whether whoever asks in clause n says yes to it themselves next.
func (m *message) saysYes(n int) bool {
	return n+1 < len(m.clauses) && lists.has(m.word(m.clauses[n+1].from), "saysyes")
}
