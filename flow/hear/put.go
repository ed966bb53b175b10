package hear

import (
	"cmp"
	"slices"
	"strings"

	"linetender/calc/job"
)

// put writes one field of a head from some items. It reports whether the
// field was free to take it. A field told in two ways is told in neither.
func (m *message) put(h *head, field, value string, q *quantity, its ...*item) bool {
	if h == nil || h.class == "vehicle" && h.path == "" || h.bad[field] {
		return false
	}
	if field == "strap_held" && h.kind != "" && h.kind != "tree" && h.kind != "stump" {
		return false // it rides up nothing else
	}
	var c *clause
	for _, it := range its {
		if it != nil {
			c = it.clause
		}
	}
	if c == nil || slices.ContainsFunc(its, func(it *item) bool { return it != nil && it.silent() }) || c.unsure && Hopeful(field, value) {
		return false
	}
	if q != nil && q.other != nil && h.path == "puller." && field == "mass" {
		low, high := q, q.other // the least grips, and the most is what it can tear
		if high.si < low.si {
			low, high = high, low
		}
		q, value = low, low.text+" to "+high.text
	} else if q != nil && q.other != nil {
		if least := slices.Contains(bears, field); least == (q.other.si < q.si) {
			q, value = q.other, q.other.text
		}
	}
	guess := c.unsure
	if (q != nil || strings.HasSuffix(field, "rating_kind")) && m.notOfAsked(h, field, firstOf(its)) {
		return false
	}
	if q != nil {
		ok := true
		if guess, ok = m.hedged(h.path+field, its...); !ok {
			return false
		}
		guess = guess || q.rough || c.unsure
		if !settable(h, field, value) {
			return false
		}
	}
	if old := h.slots[field]; old != nil {
		switch {
		case old.Value == value || same(q, h.from[field]):
			use(its)
			return true
		case c.undone:
		case h == m.load && field == "sunk" && slices.Contains(job.Depths, value):
			// Wheels that sit unlike each other: the deepest counts.
			if slices.Index(job.Depths, value) < slices.Index(job.Depths, old.Value) {
				use(its)
				return true
			}
		case h == m.load && field == "locked":
			// They turn, but the handbrake is on: the more locked counts.
			if value < old.Value {
				use(its)
				return true
			}
		case field == "ground" && (h == m.load || h == m.puller) && slices.Contains(hardest, value) && slices.Contains(hardest, old.Value):
			// Wet grass with mud under it: what it costs or holds at its worst.
			order := slippiest
			if h == m.load {
				order = hardest
			}
			if slices.Index(order, value) < slices.Index(order, old.Value) {
				use(its)
				return true
			}
		default:
			h.bad[field] = true
			delete(h.slots, field)
			delete(h.slots, field+"_from")
			m.unuse(old.Said)
			return false
		}
	}
	h.slots[field] = &Fact{Value: value, Said: m.said(its...), Vague: q != nil && q.vague, Guess: guess}
	h.from[field], h.where[field], h.stood[field] = q, c, firstOf(its)
	use(its)
	return true
}

// The grounds by how hard a load rolls on them and by how little a puller
// grips, the worst last: as the tables of package handbook have them.
var (
	hardest   = []string{"asphalt", "wet asphalt", "ice", "gravel", "firm soil", "grass", "wet grass", "snow", "loose soil", "sand", "mud"}
	slippiest = []string{"asphalt", "wet asphalt", "gravel", "firm soil", "grass", "loose soil", "sand", "wet grass", "mud", "snow", "ice"}
)

// settable reports whether the sheet would take a figure: no weight of nothing
// and none of 300 t.
func settable(h *head, field, value string) bool {
	path := h.path
	if path == "" || strings.Contains(path, "[") {
		path = map[string]string{"gear": "gear[0].", "anchor": "anchors[0].", "job": ""}[h.class]
	}
	var s job.Sheet
	switch {
	case strings.HasPrefix(path, "gear"):
		kind := map[string]string{"sling_angle": "sling", "side_angle": "shackle"}[field] // only of these
		s.Gear = []job.GearSheet{{Kind: cmp.Or(kind, "rope")}}
	case strings.HasPrefix(path, "anchors"):
		s.Anchors = []job.AnchorSheet{{Kind: "tree"}}
	case strings.HasPrefix(field, "lip."):
		s.Load.Lip = job.LipSheet{Height: "1 cm", WheelRadius: "40 cm"}
	}
	if err := s.Set(path+field, value); err != nil {
		return false
	}
	return s.CheckPartly() == nil
}

// firstOf returns the first of some items that is there.
func firstOf(its []*item) *item {
	return its[slices.IndexFunc(its, func(it *item) bool { return it != nil })]
}

func use(its []*item) {
	for _, it := range its {
		if it != nil {
			it.used = true
		}
	}
}

// unuse gives back the figures of a field that was told in two ways, so that
// both are left over.
func (m *message) unuse(said string) {
	for _, it := range m.items {
		if it.q != nil && strings.Contains(said, m.said(it)) {
			it.used = false
		}
	}
}
