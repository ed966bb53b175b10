package hear

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/job"
)

// A figure that stands in an "if" or a "would" tells nothing by itself. Beside
// one that was taken it says that the other may not be all: "3 t, 5 t if the tank
// is full". Whether it is full nobody has looked, so the worse of the two counts.
// How the first was found says nothing of the second.

// ends lists by field which of two figures is the worse: of a demand the higher,
// of what bears it the lower.
var ends = map[string]int{
	"load.mass": +1, "load.slope": +1, "load.side_slope": +1, "load.off_line": +1, "load.lip.height": +1, "distance": +1, "reach": +1, "lead": +1,
	"puller.slope": +1, "puller.side_slope": +1, "puller.mass": -1, "puller.run": -1, "puller.hitch_rating": -1, "rating": -1, "length": -1,
	"anchor.diameter": -1, "puller.winch_layer": +1, "puller.drum": -1,
}

// WorseEnd tells which of two figures of a field of the sheet is the worse: more
// (+1), less (-1), or neither by itself (0).
func WorseEnd(path string) int {
	at, field, _ := strings.Cut(path, ".")
	list, _, _ := strings.Cut(at, "[")
	of := map[string]string{"pullers": "puller", "anchors": "anchor"}
	return cmp.Or(ends[cmp.Or(of[list], list)+"."+field], ends[path], ends[path[strings.LastIndexByte(path, '.')+1:]])
}

// either lets a figure that was left open count in the place of the better one
// that was taken, and a depth likewise.
func (m *message) either() {
	for i, it := range m.items {
		if it.used || !m.leftOpen(it) || m.denied(it) && !m.ifNot(it) {
			continue
		}
		sunk := m.load.slots["sunk"]
		switch {
		case it.has("depth") && m.onlyOf(it, m.load):
			m.deeper(it)
		case it.q == nil || it.q.dims == 0:
		case sunk != nil && it.q.is(length) && m.sinking(it):
			delete(m.load.slots, "sunk") // told in figures: how deep is asked anew
			m.unuse(sunk.Said)
		default:
			m.worse(i)
		}
	}
}

// leftOpen reports whether an item stands in words that leave open whether it is
// so. A question does not, unless it goes on from what was told: "3 t, or is it 5?"
// Nor does what would have been, and a force that it would take is no weight.
func (m *message) leftOpen(it *item) bool {
	if it.clause.ask && m.word(it.clause.from) != "or" || !it.silent() {
		return false
	}
	for i := it.clause.from; i < it.clause.to; i++ {
		w := m.word(i)
		if w == "have" && m.word(i+1) == "been" || w == "wouldve" || w == "what" && m.word(i+1) == "if" ||
			slices.Contains([]string{"pull", "force", "takes", "take", "need", "needs", "needed"}, w) {
			return false
		}
	}
	return true
}

// ifNot reports whether a clause goes on from what was told: "if not the guards".
func (m *message) ifNot(it *item) bool {
	return m.word(it.clause.from) == "if" && m.word(it.clause.from+1) == "not"
}

// onlyOf reports whether a clause names no other head than h.
func (m *message) onlyOf(it *item, h *head) bool {
	return !slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool { return mt.head != h })
}

// deeper sets how deep the wheels sit to what was left open, where that is more.
func (m *message) deeper(it *item) {
	old, to := m.load.slots["sunk"], it.means["depth"]
	if old != nil && slices.Index(job.Depths, to) > slices.Index(job.Depths, old.Value) {
		m.load.slots["sunk"] = &Fact{Value: to, Said: m.said(it), Guess: true}
		it.used = true
	}
}

// worse sets the field that the figure before item i went into, or the next one
// behind it, to this figure, where that is the worse.
func (m *message) worse(i int) {
	it := m.items[i]
	h, field := m.alongside(i)
	if h == nil {
		return
	}
	end, ok := ends[h.path+field]
	if !ok {
		end = cmp.Or(ends[h.class+"."+field], ends[field])
	}
	was, old := h.from[field], h.slots[field]
	if (h.class == "gear" || h.class == "anchor") && h.where[field] == it.clause {
		return // "80 m and 20 m we could knot on" is another piece
	}
	angle := field == "off_line" && h == m.load
	if end == 0 || was != nil && float64(end)*(it.q.si-was.si) <= 0 || !m.onlyOf(it, h) && !angle {
		return
	}
	value := it.q.text
	if h == m.puller && field == "mass" { // its most still comes of the heavier
		if both := fmt.Sprintf("%s to %s", it.q.text, was.text); readable(both) {
			value = both
		}
	}
	if !settable(h, field, value) {
		return
	}
	h.slots[field] = &Fact{Value: value, Said: m.said(it), Vague: it.q.vague, Guess: old.Guess || it.q.rough}
	if from := h.slots[field+"_from"]; from != nil && h.where[field+"_from"] != it.clause {
		delete(h.slots, field+"_from")
	}
	h.from[field], h.where[field] = it.q, it.clause
	it.used = true
}

func readable(mass string) bool { _, err := bound.ReadMass(mass); return err == nil }

// alongside returns the field that took the nearest figure of the kind of item i
// before it, or else the next behind it in its sentence. Words that say what a
// figure is of decide between two angles.
func (m *message) alongside(i int) (*head, string) {
	it := m.items[i]
	if it.q.is(angle) && m.load.slots["off_line"] != nil && (m.topic == TopicOffLine || m.toldAs(it, angle, "offline") != nil) {
		return m.load, "off_line"
	}
	side := it.q.is(slope) && m.toldAs(it, slope, "side") != nil
	fits := func(field string) bool { return !side || field == "side_slope" }
	for j := i - 1; j >= 0; j-- {
		if h, field := m.took(m.items[j], it.q.dims); h != nil && fits(field) {
			return h, field
		}
	}
	for _, next := range m.items[i+1:] {
		if h, field := m.took(next, it.q.dims); h != nil && fits(field) && next.clause.sentence == it.clause.sentence {
			return h, field
		}
	}
	return nil, ""
}

// took returns the field that an item's figure went into, if it is of a kind.
func (m *message) took(it *item, d dim) (*head, string) {
	if it.q == nil || it.q.dims&d == 0 || !it.used {
		return nil, ""
	}
	for _, h := range append([]*head{m.load, m.puller, m.job, m.asked}, m.heads...) {
		if h == nil {
			continue
		}
		for field, q := range h.from {
			if q == it.q && h.slots[field] != nil {
				return h, field
			}
		}
	}
	return nil, ""
}
