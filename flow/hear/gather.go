package hear

import (
	"slices"
	"strings"
)

// order is how facts come out: as the sheet is read.
var order = []string{
	"hazards", "crew", "load.", "distance", "reach", "holding_reach", "lead", "puller.", "tackle.", "site.", "anchors", "gear",
}

var fieldOrder = []string{
	"kind", "name", "mass", "mass_from", "slope", "slope_from", "pull", "ground", "locked", "sunk", "belly", "lip", "lip.height",
	"lip.wheel_radius", "off_line", "off_line_from", "side_slope", "side_slope_from", "driven", "use", "count", "material", "diameter", "length", "depth", "sheaves", "alive", "lean",
	"tied_back", "strap_held", "chocked", "braked", "in_line", "pattern", "soil", "rating", "rating_kind", "hitch", "hitch_rating", "hitch_rating_kind", "hitch_height", "people", "capstan", "winch_layer", "drum", "run", "rollover_frame",
	"equalised", "knots", "sling_hitch", "condition", "improvised",
}

// turnedOn reports whether a clause goes before one that turns against it.
func (m *message) turnedOn(c *clause) bool {
	i := slices.Index(m.clauses, c)
	return i+1 < len(m.clauses) && turning(m.word(m.clauses[i+1].from))
}

// gather turns the heads into facts.
func (m *message) gather() []Fact {
	if m.asked != nil && len(m.asked.slots) > 0 && !slices.Contains(m.heads, m.asked) {
		m.heads = append(m.heads, m.asked)
	}
	m.shareOut()
	m.heading()
	m.ofEach()
	m.merge()
	m.tellApart()
	// A step that is told of is there, whatever else was said; without one the
	// wheel's radius says nothing.
	if slots := m.load.slots; slots["lip.height"] != nil {
		delete(slots, "lip")
	} else if slots["lip"] != nil {
		delete(slots, "lip.wheel_radius")
	}
	if c := m.load.where["mass_from"]; c != nil && m.load.slots["mass"] == nil && slices.ContainsFunc(c.items, func(it *item) bool { return it.q != nil && it.q.bare() }) {
		delete(m.load.slots, "mass_from") // "plate says 3500" of what?
	}
	if c := m.load.where["slope_from"]; c != nil && m.load.slots["slope"] == nil && m.turnedOn(c) {
		delete(m.load.slots, "slope_from") // "my phone says 7" of what?
	}
	next := map[string]int{}
	for _, h := range append([]*head{m.load, m.puller, m.job}, m.heads...) {
		paths, each := []string{h.path}, ""
		if h.path == "" && h.class != "job" {
			list := map[string]string{"gear": "gear", "anchor": "anchors"}[h.class]
			if list == "" || h.kind == "" {
				continue
			}
			paths = nil
			copies := 1
			if h.class == "anchor" {
				copies = min(max(1, h.count), 4)
			}
			each = h.rowField()
			if each != "" {
				copies, h.count = len(h.row.texts), 1
			}
			for range copies {
				next[list]++
				paths = append(paths, list+"[+"+itoa(next[list])+"].")
			}
		}
		for i, path := range paths {
			if each != "" {
				h.slots[each].Value = h.row.texts[i]
			}
			m.emit(h, path)
		}
		h.slots, h.kind, h.more, h.count = nil, "", nil, 0
	}
	rank := func(f Fact) (int, string, int) {
		at := slices.IndexFunc(order, func(p string) bool { return strings.HasPrefix(f.Field, p) })
		dot := strings.LastIndex(f.Field, "]")
		item, field := "", f.Field
		if dot >= 0 {
			item, field = f.Field[:dot], f.Field[dot+2:]
		} else if _, tail, ok := strings.Cut(f.Field, "."); ok {
			field = tail
		}
		in := slices.Index(fieldOrder, field)
		if in < 0 {
			in = len(fieldOrder)
		}
		return at, item, in
	}
	slices.SortStableFunc(m.facts, func(a, b Fact) int {
		aAt, aItem, aField := rank(a)
		bAt, bItem, bField := rank(b)
		switch {
		case aAt != bAt:
			return aAt - bAt
		case len(aItem) != len(bItem):
			return len(aItem) - len(bItem)
		case aItem != bItem:
			return strings.Compare(aItem, bItem)
		case aField != bField:
			return aField - bField
		}
		return strings.Compare(a.Field, b.Field)
	})
	return m.facts
}

// emit writes the facts of one head under a path.
func (m *message) emit(h *head, path string) {
	said := ""
	for _, mt := range m.mentions {
		if mt.head == h {
			said = m.said(mt.it)
			break
		}
	}
	for _, field := range fieldOrder {
		if f := h.slots[field]; f != nil && said == "" {
			said = f.Said
		}
	}
	own := func(field, value string) {
		if value != "" && h.slots[field] == nil {
			m.facts = append(m.facts, Fact{Field: path + field, Value: value, Said: said})
		}
	}
	if h.class == "gear" || h.class == "anchor" {
		if h.path == "" {
			own("kind", h.kind)
			f := &m.facts[len(m.facts)-1]
			f.Part, f.Only = h.part, h.only && h.class == "anchor"
			f.New, f.Same, f.Other, f.All, f.Count, f.Had = h.adds, h.same, h.other, h.every && h.count == 0, h.count > 0 && !h.only, h.had
		}
		for k, v := range h.more {
			own(k, v)
		}
		if h.class == "gear" && h.count > 0 && (h.path == "" || h.parted) {
			own("count", itoa(h.count))
			m.facts[len(m.facts)-1].Only = h.only
		}
	}
	for field, f := range h.slots {
		f.Field = path + field
		if h.class == "vehicle" {
			f.Tie = m.tie(h, field)
		} else if h.class == "end" {
			f.Tie = m.tiePoint(h, field)
		}
		m.facts = append(m.facts, *f)
	}
}

// merge takes a second mention of a piece for the first one, where it adds to
// it and does not gainsay it: "rope 60 m ... the rope is polyester".
func (m *message) merge() {
	for i := 0; i < len(m.heads); i++ {
		later := m.heads[i]
		if later.class != "gear" && later.class != "anchor" || later.fresh || later.path != "" || later.more["improvised"] != "" {
			continue
		}
		var into *head
		for _, h := range m.heads[:i] {
			if h.class == later.class && h.kind == later.kind && h.path == "" && h.more["improvised"] == "" &&
				(later.more["name"] == "" || strings.EqualFold(h.more["name"], later.more["name"]) || h.more["name"] == "" && len(h.slots) == 0 && m.nextNamed(h, later)) {
				if into != nil {
					into = nil
					break
				}
				into = h
			}
		}
		if into == nil || !into.takes(later) {
			continue
		}
		for k, f := range later.slots {
			into.slots[k] = f
		}
		for k, v := range later.more {
			into.more[k] = v
		}
		into.adds, into.same, into.other, into.had = into.adds || later.adds, into.same || later.same, into.other || later.other, into.had || later.had
		for _, mt := range m.mentions {
			if mt.head == later {
				mt.head = into
			}
		}
		m.heads = slices.Delete(m.heads, i, i+1)
		i--
	}
}

// nextNamed reports whether a thing is named by what it is right behind the word for
// all of its kind: "another tree, ash 80 cm".
func (m *message) nextNamed(h, later *head) bool {
	for i, mt := range m.mentions {
		if mt.head == h && i+1 < len(m.mentions) {
			next := m.mentions[i+1]
			return next.head == later && next.it.from == mt.it.to && h.class == "anchor"
		}
	}
	return false
}

func (h *head) takes(other *head) bool {
	for k, f := range other.slots {
		if old := h.slots[k]; old != nil && old.Value != f.Value || h.bad[k] {
			return false
		}
	}
	for k, v := range other.more {
		if old := h.more[k]; old != "" && old != v {
			return false
		}
	}
	return len(other.bad) == 0
}
