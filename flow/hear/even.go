package hear

import (
	"slices"
	"strings"
)

// even reads that the puller stands on no slope. It is taken only where the
// words are said of a place to stand on and the place is the puller's: named
// beside it, or asked about. "Flat" is also a tyre, a battery and a run-out,
// "level" also a tool and a height, and the stuck vehicle's slope is asked by
// itself, since it decides the force.
func (m *message) even() {
	for _, it := range m.items {
		if !m.flatPlace(it) || it.silent() || m.denied(it) {
			continue
		}
		h, doubt := m.owner(it, vehicles)
		if h == nil && !doubt && m.topic.ofStand() && !m.saysOf(it, "anchor") && !m.saysOf(it, "gear") {
			h = m.puller
		}
		if h != m.puller || m.notAllAlong(it) {
			continue
		}
		if pull := h.slots["pull"]; h.bad["pull"] || pull != nil && pull.Value != "level" {
			continue // level ground that it drives up
		}
		if m.put(h, "slope", evenSlope, nil, it) {
			m.put(h, "pull", "level", nil, it)
		}
	}
}

// notAllAlong reports whether a place is said to be flat only to begin with or for a
// part: "level at first then uphill".
func (m *message) notAllAlong(it *item) bool {
	for i := it.from; i < it.clause.to; i++ {
		if goesOver[m.word(i)] {
			return true
		}
	}
	i := slices.Index(m.clauses, it.clause) + 1
	return i < len(m.clauses) && m.clauses[i].sentence == it.clause.sentence && (goesOver[m.word(m.clauses[i].from)] || turning(m.word(m.clauses[i].from)) && m.leftOver(m.clauses[i]))
}

// goesOver are words by which what was said holds only for a part of the way.
var goesOver = wordSet("then first begin begins start starts initially until till later mostly partly")

// nearly reports whether a flat place is not quite one.
func (m *message) nearly(it *item) bool {
	near := []string{"nearly", "almost", "pretty", "fairly", "mostly", "roughly", "reasonably", "quite", "more", "less", "about", "kinda", "sorta", "bit"}
	return slices.Contains(near, m.word(it.from-1)) || m.word(it.to) == "ish" || strings.HasPrefix(m.word(it.to), "ish")
}

// evenSlope is what passes for level by eye: judgment, on the steep side.
const evenSlope = "0 to 2 deg"

// inLine is what passes for straight by eye: judgment.
const inLine = "0 to 5 deg"

// ofStand reports whether t asks about how the puller stands.
func (t Topic) ofStand() bool {
	return slices.Contains([]Topic{TopicPuller, TopicPullerGround, TopicPullerSlope, TopicPullerPull}, t)
}

// flatPlace reports whether an item says of a place that it is flat.
func (m *message) flatPlace(it *item) bool {
	words := strings.ToLower(m.said(it))
	switch words {
	case "on the flat", "on the level", "on level ground", "on flat ground":
		return true
	}
	if !it.has("flat") || it.means["flat"] != "0" {
		return false
	}
	before := it.from == it.clause.from || slices.Contains([]string{"on", "is", "its", "are", "thats", "stands", "stand", "standing", "sits", "sitting",
		"stood", "parked", "completely", "totally", "perfectly", "all", "and"}, m.word(it.from-1))
	if !before && !slices.ContainsFunc(it.clause.items, func(o *item) bool {
		return o.to == it.from && (o.has("vehicle") || o.has("ground") && it.to == it.clause.to)
	}) {
		return false
	}
	if it.to == it.clause.to {
		return true
	}
	for _, next := range it.clause.items {
		if next.from == it.to && next.has("ground") {
			return true
		}
	}
	return slices.Contains([]string{"ground", "bit", "patch", "surface", "yard", "here", "there", "where", "under", "underneath", "lane", "road", "track",
		"field", "section", "spot", "area", "and", "with", "for", "at", "drive"}, m.word(it.to))
}
