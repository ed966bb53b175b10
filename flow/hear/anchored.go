package hear

import "strings"

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
