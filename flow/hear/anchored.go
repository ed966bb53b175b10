package hear

import (
	"slices"
	"strings"
)

// machineHolds reads how a machine stands that is to be an anchor: chocked,
// braked, in line, on what ground. Its brakes and its ground are its own and
// never the stuck vehicle's. It reports whether that was what an item says.
func (m *message) machineHolds(it *item) bool {
	h := m.machineAnchor(it)
	if h == nil {
		return false
	}
	denied := m.denied(it)
	switch {
	case it.has("stand"):
		field, value, _ := strings.Cut(it.means["stand"], "=")
		if denied {
			if value != "true" {
				return false
			}
			value = "false"
		}
		if old := h.slots[field]; old != nil && old.Value != value {
			// One bad sign settles it.
			h.slots[field] = &Fact{Value: "false", Said: m.said(it)}
			it.used = true
			return true
		}
		return m.put(h, field, value, nil, it)
	case denied:
	case it.has("ground"):
		return m.put(h, "ground", it.means["ground"], nil, it)
	case m.flatPlace(it) && h.open("slope"):
		return m.put(h, "slope", evenSlope, nil, it)
	}
	return false
}

// machineAnchor returns the machine that is an anchor and that an item is said
// of: the one named beside it, or the piece that is asked about.
func (m *message) machineAnchor(it *item) *head {
	named := false
	for _, mt := range m.mentionsIn(it.clause) {
		if mt.head.class == "vehicle" {
			return nil
		}
		named = true
	}
	h, doubt := m.owner(it, func(mt *mention) bool { return mt.head.class == "anchor" })
	switch {
	case doubt:
		return nil
	case h != nil && h.kind == "vehicle":
		return h
	case h == nil && !named && m.asked != nil && m.asked.class == "anchor":
		switch m.topic.field() {
		case "mass", "chocked", "braked", "in_line", "ground", "slope":
			return m.asked
		}
	}
	return nil
}

// anchorAway returns which of the job's lengths a figure is that tells how far the anchor
// is from the load, by that word: "the holding anchor is 14 m away from the truck". From
// anything that pulls it is another length, and of a tree by its name nobody says which
// line it is for.
func (m *message) anchorAway(it *item) string {
	c := it.clause
	if m.word(it.to) == "to" {
		at := it.to + 1
		for lists.has(m.word(at), "article") {
			at++
		}
		if m.anchorWord(at) == 0 {
			return ""
		}
	} else if !lists.has(m.word(it.to), "awayfrom") || it.to >= c.to {
		return ""
	}
	for i := c.from; i < c.to; i++ {
		n := m.anchorWord(i)
		switch {
		case n == 0:
			continue
		case slices.ContainsFunc(c.items, func(o *item) bool { return o != it && o.q != nil || o.has("winch") || o.has("gear") || o.has("anchor") }):
			return ""
		case slices.ContainsFunc(m.mentionsIn(c), func(mt *mention) bool { return mt.head == m.puller || mt.head.path == "" }):
			return ""
		case n == 2:
			return string(TopicHoldReach)
		}
		return string(TopicReach)
	}
	return ""
}

// anchorWord returns how many words name the anchor at a token: "anchor", or "holding
// anchor".
func (m *message) anchorWord(i int) int {
	switch {
	case m.word(i) == "anchor":
		return 1
	case m.word(i) == "holding" && m.word(i+1) == "anchor":
		return 2
	}
	return 0
}
