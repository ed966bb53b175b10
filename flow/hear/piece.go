package hear

import (
	"slices"
	"strings"

	"linetender/calc/job"
)

// pieces reads what is told of gear and anchors.
func (m *message) pieces(it *item) {
	denied := m.denied(it)
	is := func(class string) func(*mention) bool {
		return func(mt *mention) bool { return mt.head.class == class }
	}
	of := func(class string) *head {
		h, _ := m.owner(it, is(class))
		if h == nil && m.asked != nil && m.asked.class == class && !slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool { return !mt.ties() }) {
			h = m.asked
		}
		return h
	}
	switch {
	case it.has("tree"):
		h := of("anchor")
		if next := m.describedBy(it); next != nil {
			h = next
		}
		if it.means["tree"] == "alive=sound" && !m.treeOf(it, h) {
			h = nil
		}
		if h != nil {
			field, value, _ := strings.Cut(it.means["tree"], "=")
			if denied {
				if field == "alive" && value == "false" && m.topic.field() != "alive" {
					it.used = true // no rot is none, and does not make it sound: that is asked
				}
				if field != "alive" || value == "false" {
					return
				}
				value = "false"
			}
			if value == "lives" { // a hollow oak is in leaf as well
				m.lives, it.used = true, true
				return
			}
			if value == "sound" {
				value = "true"
			}
			// One bad sign settles it.
			if old := h.slots[field]; field == "alive" && old != nil && old.Value != value {
				h.slots[field] = &Fact{Value: "false", Said: m.said(it)}
				it.used = true
				return
			}
			m.put(h, field, value, nil, it)
			return
		}
	}
	if it.has("unmarked") {
		if it.from > 0 && slices.Contains([]string{"isnt", "arent", "aint", "not"}, m.word(it.from-1)) {
			it.used = true // "the stamp isn't worn off"
			return
		}
		if h := m.markedOf(it, of); h != nil && h.path != "puller." {
			delete(h.slots, "rating_kind")
			m.put(h, "rating_kind", "unmarked", nil, it)
		}
		return
	}
	if it.has("made") {
		h := of("gear")
		switch {
		case h == nil:
		case denied && it.means["made"] == "true": // "not welded" leaves open what else it is
			it.used = true
		case denied || it.means["made"] == "true":
			// One bad sign settles it.
			h.slots["improvised"] = &Fact{Value: "true", Said: m.said(it)}
			it.used = true
		case h.slots["improvised"] == nil:
			m.put(h, "improvised", it.means["made"], nil, it)
		}
		return
	}
	if denied {
		if it.means["cond"] == "damaged" && of("gear") != nil {
			it.used = true // "no cuts" says nothing of a bend
		}
		return
	}
	switch {
	case it.has("rkind") && it.q == nil && it.used && m.leadsOn(it):
		// it was told of a figure that is not kept
	case it.has("rkind") && m.hitchRated(it.clause) != nil:
		if h := m.hitchRated(it.clause); h.slots["hitch_rating_kind"] == nil {
			m.put(h, "hitch_rating_kind", it.means["rkind"], nil, it)
		}
	case it.has("rkind") && m.topic == TopicHitchStamp:
		m.put(m.puller, "hitch_rating_kind", it.means["rkind"], nil, it)
	case it.has("rkind") && m.topic == TopicPullerStamp:
		m.put(m.puller, "rating_kind", it.means["rkind"], nil, it)
	case it.has("plain") && m.topic.field() == "condition" && m.asked != nil:
		h, doubt := m.owner(it, is("gear"))
		if h == nil {
			h = m.asked // "shackles are fine" is no word on the rope that was asked about
		}
		if !doubt {
			m.put(h, "condition", it.means["plain"], nil, it)
		}
	case it.has("plain") && m.byItself(it) && of("gear") != nil && len(of("gear").slots) > 0:
		m.put(of("gear"), "condition", it.means["plain"], nil, it) // "70 m, WLL 6 t, good"
	case it.has("rkind") && it.q == nil && m.asked != nil && m.asked.class == "anchor" && slices.Contains([]string{"tree", "stump", "picket", "deadman", "rock"}, m.asked.kind):
		// none of these bears a stamp
	case it.has("rkind") && it.q == nil && m.ofStrayPoint(it): // it says what a point bears that is no vehicle's
	case it.has("rkind") && it.q == nil:
		if h := m.markedOf(it, of); h != nil && h.open("rating_kind") && h.path != "puller." && (h.slots["rating"] != nil || h == m.asked) && m.alone(it) {
			m.put(h, "rating_kind", it.means["rkind"], nil, it)
		}
	case it.has("material"):
		if h := of("gear"); h != nil {
			m.put(h, "material", it.means["material"], nil, it)
		}
	case strings.HasSuffix(string(m.topic), ".knots") && it.has("nothing") && m.asked != nil && len(m.items) == 1:
		m.put(m.asked, "knots", "none", nil, it)
	case it.has("knot"):
		if h := of("gear"); h != nil {
			m.knot(h, it)
		}
	case it.has("laid"):
		if h := of("gear"); h != nil && (h.kind == "" && (h.path == "" || m.topic.field() == "sling_hitch") || job.Slung(h.kind)) {
			m.put(h, "sling_hitch", it.means["laid"], nil, it)
		}
	case it.has("pattern"):
		if h := of("anchor"); h != nil && h.kind == "picket" || h != nil && h.path != "" {
			m.put(h, "pattern", it.means["pattern"], nil, it)
		}
	case it.has("unequal"):
		if h := of("gear"); h != nil {
			m.put(h, "equalised", it.means["unequal"], nil, it)
		}
	case it.has("cond"):
		if h := of("gear"); h != nil {
			m.put(h, "condition", it.means["cond"], nil, it)
		} else if m.topic == TopicTowCondition {
			m.put(m.asked, "condition", it.means["cond"], nil, it)
		} else if h, _ := m.owner(it, is("end")); h != nil && h.path == "load.tow_point." {
			m.put(h, "condition", it.means["cond"], nil, it)
		}
	case it.has("soil") && (m.saysOf(it, "anchor") || m.topic.anchoring()):
		if h := of("anchor"); h != nil && (h.kind == "picket" || h.kind == "deadman" || h.path != "") {
			m.put(h, "soil", it.means["soil"], nil, it)
		}
	}
}

// byItself reports whether nothing else stands in an item's clause.
func (m *message) byItself(it *item) bool {
	return !slices.ContainsFunc(it.clause.items, func(o *item) bool { return o != it && !o.has("filler") })
}

// alone reports whether no other meaning of a stamp stands in the clause.
func (m *message) alone(it *item) bool {
	for _, other := range it.clause.items {
		if other.has("rkind") && other.means["rkind"] != it.means["rkind"] {
			return false
		}
	}
	return true
}

// markedOf returns the piece or end that a remark on its stamp is about.
func (m *message) markedOf(it *item, of func(string) *head) *head {
	if h := of("gear"); h != nil {
		return h
	}
	if h := of("end"); h != nil {
		return h
	}
	return m.asked
}

// hitchRated returns what a hitch's rating was told of in a clause, nil where none was.
func (m *message) hitchRated(c *clause) *head {
	for _, h := range append(slices.Clone(m.heads), m.asked, m.puller) {
		if h != nil && h.slots["hitch_rating"] != nil && h.where["hitch_rating"] == c {
			return h
		}
	}
	return nil
}

// knot adds a knot to a rope's list. One that is said of a piece that has none is
// left over, to be asked about.
func (m *message) knot(h *head, it *item) {
	name := it.means["knot"]
	if h.kind != "" && h.kind != "rope" && !job.Slung(h.kind) && name != "none" {
		return
	}
	old := h.slots["knots"]
	if old == nil {
		m.put(h, "knots", name, nil, it)
		return
	}
	switch {
	case slices.Contains(strings.Split(old.Value, ", "), name), name == "knot":
	case old.Value == "knot":
		old.Value = name
	case old.Value == "none" || name == "none":
		h.bad["knots"] = true
		delete(h.slots, "knots")
		return
	default:
		old.Value += ", " + name
	}
	it.used = true
}

// describedBy returns the anchor that a word on its state stands right before, as in "an
// oak and a dead elm stump"; nil where it stands behind what it is of, "the oak is dead".
func (m *message) describedBy(it *item) *head {
	before := it.from - 1
	for before >= it.clause.from && sizes[m.word(before)] {
		before--
	}
	if before >= it.clause.from && !slices.Contains([]string{"a", "an", "the", "and", "one", "another", "plus", "or", "with"}, m.word(before)) {
		return nil
	}
	to := it.to
	for to < it.clause.to && sizes[m.word(to)] {
		to++
	}
	for _, mt := range m.mentions {
		if mt.it.from == to && mt.head.class == "anchor" {
			return mt.head
		}
	}
	return nil
}

// treeOf reports whether a word that is said of trees and of gear alike is said of an
// anchor: of none where gear stands nearer.
func (m *message) treeOf(it *item, h *head) bool {
	near, _ := m.owner(it, func(mt *mention) bool { return true })
	return h != nil && (near == h || near == nil && h == m.asked) && (h.kind == "tree" || h.kind == "stump")
}

// sizes are words on the size or the age of a tree.
var sizes = wordSet("big small large huge old young tall thick thin little short great")
