package hear

import (
	"slices"
	"strconv"
	"strings"
)

// wheels reads which wheels turn. A bare "free" counts only by itself.
func (m *message) wheels(it *item) {
	if m.said(it) == "free" && len(it.clause.items) > 1 && m.topic != TopicWheels {
		return
	}
	for _, c := range m.clauses {
		// "All turn but one" is not all of them.
		if c.sentence != it.clause.sentence {
			continue
		}
		for i := c.from; i < c.to; i++ {
			if w := m.word(i); (w == "except" || w == "apart") || w == "but" && slices.Contains([]string{"one", "two", "1", "2", "the"}, m.word(i+1)) {
				return
			}
		}
	}
	if h, _ := m.owner(it, vehicles); h == m.puller && h != nil || m.topic.anchoring() || m.saysOf(it, "anchor") {
		return // a parked vehicle is meant to hold
	}
	share := it.means["locked"]
	if some, ok := m.someWheels(it); ok {
		share = some
	}
	m.put(m.load, "locked", share, nil, it)
	if f := m.load.slots["locked"]; f != nil && f.Value != "0" && strings.Contains(strings.ToLower(f.Said), "brake") {
		f.Guess = true // which wheels it holds differs between vehicles
	}
}

// someWheels returns the share of the weight on locked wheels where so many of so
// many are said to turn or to be locked. Up to half of them are half of it, more
// are all: those that are locked may bear more than their part.
func (m *message) someWheels(it *item) (share string, ok bool) {
	count := func(i int) int {
		v, spelled := talk.value(m.word(i), "number")
		if !spelled {
			v = m.word(i)
		}
		n, err := strconv.Atoi(v)
		if err != nil {
			return 0
		}
		return n
	}
	i := it.from - 1
	for slices.Contains([]string{"wheels", "are", "do", "still", "can"}, m.word(i)) {
		i--
	}
	of := count(i)
	if i--; slices.Contains([]string{"the", "its", "her", "his"}, m.word(i)) {
		i--
	}
	some := 0
	if m.word(i) == "of" {
		some = count(i - 1)
	}
	if some < 1 || of <= some {
		return "", false
	}
	if it.means["locked"] == "0" {
		some = of - some
	}
	for _, n := range m.items {
		if n.from >= i-1 && n.to <= it.from {
			n.used = true
		}
	}
	if 2*some <= of {
		return "0.5", true
	}
	return "1", true
}
