package hear

import (
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
	var c *clause
	for _, it := range its {
		if it != nil {
			c = it.clause
		}
	}
	if c == nil || slices.ContainsFunc(its, func(it *item) bool { return it != nil && it.silent() }) || c.unsure && hopeful(field, value) {
		return false
	}
	if q != nil && q.other != nil {
		if least := h.path == "puller." && field == "mass" || slices.Contains(bears, field); least == (q.other.si < q.si) {
			q, value = q.other, q.other.text
		}
	}
	guess := c.unsure
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
	h.from[field], h.where[field] = q, c
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
	s := job.Sheet{Load: job.LoadSheet{Mass: "1 t", Slope: "1 deg", Pull: "level", Ground: "gravel"}}
	switch {
	case strings.HasPrefix(path, "gear"):
		s.Gear = []job.GearSheet{{Kind: "rope"}}
	case strings.HasPrefix(path, "anchors"):
		s.Anchors = []job.AnchorSheet{{Kind: "tree"}}
	case strings.HasPrefix(field, "lip."):
		s.Load.Lip = job.LipSheet{Height: "1 cm", WheelRadius: "40 cm"}
	}
	if err := s.Set(path+field, value); err != nil {
		return false
	}
	_, err := s.Case()
	return err == nil
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

// hopeful reports whether a value makes things look better, so that "I think"
// is not enough for it.
func hopeful(field, value string) bool {
	switch field {
	case "locked":
		return value == "0"
	case "belly", "lean":
		return value == "false"
	case "alive", "tied_back", "equalised", "rollover_frame", "chocked", "braked", "in_line":
		return value == "true"
	case "condition":
		return value == "good"
	case "sunk", "lip", "knots":
		return value == "none"
	case "slope":
		return value == evenSlope
	case "rating_kind":
		return value == "working"
	}
	return false
}

// doubted takes back what makes things look better where a "but" that was not
// read stands behind it: "good except one cut", "20 % but 30 at the top".
func (m *message) doubted() {
	for i, c := range m.clauses {
		if i == 0 || !turning(m.word(c.from)) || !m.leftOver(c) {
			continue
		}
		figure := slices.ContainsFunc(c.items, func(it *item) bool { return it.q != nil && !it.used })
		for _, h := range append(slices.Clone(m.heads), m.load, m.puller, m.asked) {
			if h == nil {
				continue
			}
			for field, f := range h.slots {
				if h.where[field] != m.clauses[i-1] {
					continue
				}
				if hopeful(field, f.Value) || field == "driven" && f.Value == "1" || figure && h == m.load && (field == "mass" || field == "slope") {
					delete(h.slots, field)
					delete(h.slots, field+"_from")
					m.unuse(f.Said)
				}
			}
		}
	}
}

// Fields of which only the high end matters, and of which only the low one:
// "up to 3 t" is a weight to reckon with, "at least 2 t" a rating.
var (
	demands = []string{"load.mass", "load.sunk", "load.slope", "load.side_slope", "load.off_line", "distance", "reach", "lead", "height"}
	bears   = []string{"rating", "diameter", "run", "length", "hitch_rating", "wheel_radius", "depth"}
)

// hedged looks at the words beside a figure. ok is false where they leave open
// the end that matters.
func (m *message) hedged(field string, its ...*item) (guess, ok bool) {
	for _, it := range its {
		if it == nil || it.q == nil {
			continue
		}
		if m.orMore(it) && !slices.Contains(bears, field[strings.LastIndex(field, ".")+1:]) {
			return false, false
		}
		if m.orUnit(it) {
			return false, false
		}
		for _, other := range it.clause.items {
			near := other.to <= it.from && it.from-other.to <= 2 || other.from >= it.to && other.from-it.to <= 1
			if !near || !other.has("hedge") || m.figureBetween(other, it) {
				continue
			}
			last := field[strings.LastIndex(field, ".")+1:]
			switch other.means["hedge"] {
			case "guess", "unsure":
				guess = true
			case "over":
				if other.from > it.from {
					continue
				}
				if !slices.Contains(bears, last) {
					return false, false
				}
				guess = true
			case "under":
				if other.from > it.from {
					continue
				}
				if !slices.Contains(demands, field) && !slices.Contains(demands, last) {
					return false, false
				}
				guess = true
			case "upto":
				if !slices.Contains(demands, field) && !slices.Contains(demands, last) && last != "rating" {
					return false, false
				}
			}
			other.used = true
		}
	}
	return guess, true
}

// orMore reports whether a sign says that a figure is only the least: 3t+, >3t.
func (m *message) orMore(it *item) bool {
	before := strings.TrimRight(m.text[:m.tokens[it.from].from], " ")
	if strings.HasSuffix(before, ">") || strings.HasSuffix(before, "≥") || strings.HasSuffix(before, ">=") {
		return true
	}
	after := m.text[m.tokens[it.to-1].to:]
	if !strings.HasPrefix(after, "+") {
		return false
	}
	after = strings.TrimLeft(after[1:], " ")
	return after == "" || !digitAt(after, 0)
}

// orUnit reports whether a figure is followed by another unit that it may be in:
// 12 percent or degrees. Which it is, is nobody's to guess. What has a figure of
// its own is the other end of a range, or another thing.
func (m *message) orUnit(it *item) bool {
	i := it.to
	if m.word(i) != "or" {
		return false
	}
	for i++; slices.Contains([]string{"maybe", "perhaps", "possibly", "was", "is", "it", "in", "rather"}, m.word(i)); i++ {
	}
	return talk.is(m.word(i), "measure")
}

func (m *message) figureBetween(a, b *item) bool {
	lo, hi := min(a.to, b.to), max(a.from, b.from)
	for _, it := range m.items {
		if it.q != nil && it.from >= lo && it.to <= hi {
			return true
		}
	}
	return false
}

// order is how facts come out: as the sheet is read.
var order = []string{
	"hazards", "crew", "load.", "distance", "reach", "lead", "puller.", "tackle.", "site.", "anchors", "gear",
}

var fieldOrder = []string{
	"kind", "name", "mass", "mass_from", "slope", "slope_from", "pull", "ground", "locked", "sunk", "belly", "lip", "lip.height",
	"lip.wheel_radius", "off_line", "side_slope", "side_slope_from", "driven", "use", "count", "material", "diameter", "length", "depth", "sheaves", "alive", "lean",
	"tied_back", "chocked", "braked", "in_line", "pattern", "soil", "rating", "rating_kind", "hitch", "hitch_rating", "hitch_height", "people", "winch_layer", "run", "rollover_frame",
	"equalised", "knots", "condition", "improvised",
}

// gather turns the heads into facts.
func (m *message) gather() []Fact {
	if m.asked != nil && len(m.asked.slots) > 0 && !slices.Contains(m.heads, m.asked) {
		m.heads = append(m.heads, m.asked)
	}
	m.merge()
	// A step that is told of is there, whatever else was said; without one the
	// wheel's radius says nothing.
	if slots := m.load.slots; slots["lip.height"] != nil {
		delete(slots, "lip")
	} else if slots["lip"] != nil {
		delete(slots, "lip.wheel_radius")
	}
	next := map[string]int{}
	for _, h := range append([]*head{m.load, m.puller, m.job}, m.heads...) {
		paths := []string{h.path}
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
			for range copies {
				next[list]++
				paths = append(paths, list+"[+"+itoa(next[list])+"].")
			}
		}
		for _, path := range paths {
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
			m.facts[len(m.facts)-1].New, m.facts[len(m.facts)-1].Count = h.adds, h.count > 0
		}
		for k, v := range h.more {
			own(k, v)
		}
		if h.class == "gear" && h.count > 0 && h.path == "" {
			own("count", itoa(h.count))
		}
	}
	for field, f := range h.slots {
		f.Field = path + field
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
				(later.more["name"] == "" || strings.EqualFold(h.more["name"], later.more["name"])) {
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
		into.adds = into.adds || later.adds
		for _, mt := range m.mentions {
			if mt.head == later {
				mt.head = into
			}
		}
		m.heads = slices.Delete(m.heads, i, i+1)
		i--
	}
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
