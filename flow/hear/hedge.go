package hear

import (
	"slices"
	"strings"
)

// Hopeful reports whether a value of a field, by the last part of its name, makes
// things look better, so that "I think" is not enough for it and what stands beside
// it must have been read too.
func Hopeful(field, value string) bool {
	switch field {
	case "locked":
		return value == "0"
	case "belly", "lean":
		return value == "false"
	case "alive", "tied_back", "strap_held", "equalised", "rollover_frame", "chocked", "braked", "in_line", "capstan":
		return value == "true"
	case "condition":
		return value == "good"
	case "sunk", "lip", "knots":
		return value == "none"
	case "slope":
		return value == evenSlope
	case "rating_kind", "hitch_rating_kind":
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
		m.takeBack(func(h *head, field string, f *Fact) bool {
			return h.where[field] == m.clauses[i-1] &&
				(Hopeful(field, f.Value) || field == "driven" && f.Value == "1" || figure && (h == m.load && field == "slope" || (h == m.load || h == m.puller) && field == "mass"))
		})
	}
}

// doubtedSlope takes back a slope beside which a figure is told of a part of the way that
// is steeper: "5 deg ish. last bit is like 15".
func (m *message) doubtedSlope() {
	for _, c := range m.clauses {
		more := slices.ContainsFunc(c.items, func(it *item) bool { return it.q != nil && !it.used && !it.silent() && (it.q.bare() || it.q.is(slope)) })
		part := false
		for i := c.from; i < c.to; i++ {
			part = part || ofWay[m.word(i)]
		}
		if more && part {
			m.takeBack(func(h *head, field string, f *Fact) bool {
				return h == m.load && field == "slope" && h.where[field] != c
			})
		}
	}
	for _, it := range m.items {
		if !m.steeperOn(it) {
			continue
		}
		m.takeBack(func(h *head, field string, f *Fact) bool {
			return (h == m.load || h == m.puller && m.topic == TopicPullerSlope) && field == "slope"
		})
	}
}

// steeperOn reports whether an item says that the way is steeper further on, and no figure
// behind it says how steep.
func (m *message) steeperOn(it *item) bool {
	of := it.means["steeper"]
	if of == "" || it.clause.ask || m.denied(it) || of == "any" && m.topic != TopicSlope && m.topic != TopicPullerSlope {
		return false
	}
	return !slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.from > it.from && o.q != nil && (o.q.bare() || o.q.is(slope)) })
}

// Steeper reports whether words that were not read say that a part of the way is steeper
// than what was told of it, in answer to a question.
func Steeper(rest string, topic Topic) bool {
	tokens := tokenize(rest)
	if len(tokens) == 0 {
		return false
	}
	m := newMessage(rest, tokens, topic)
	return slices.ContainsFunc(m.items, m.steeperOn)
}

// ofWay are words for a part of the way.
var ofWay = wordSet("last first top bottom end start bit part stretch near steeper steepest worst then edge lip crest")

// takeBack takes back what pick names of what was told of the load, the puller and
// every other thing.
func (m *message) takeBack(pick func(h *head, field string, f *Fact) bool) {
	for _, h := range append(slices.Clone(m.heads), m.load, m.puller, m.asked) {
		if h == nil {
			continue
		}
		for field, f := range h.slots {
			if pick(h, field, f) {
				delete(h.slots, field)
				delete(h.slots, field+"_from")
				m.unuse(f.Said)
			}
		}
	}
}

// halfRead takes back a good answer beside which something stands that was not
// read and may be what it is not good for: a figure in its clause, "level 48 gap
// 12", an exception in any part of its sentence, "none of these but the bridge is
// cracked", "flat to begin with and then a hump". The question stays open.
func (m *message) halfRead() {
	for _, c := range m.clauses {
		figure, except := m.leftIn(c)
		if slices.ContainsFunc(c.items, func(it *item) bool { return it.has("end") && !it.used && !m.denied(it) }) {
			m.noPlaceOfTwo(c, "")
		} else if m.leftOver(c) {
			m.noPlaceOfTwo(c, "point") // the tow point is the spring hanger
		}
		if !figure && !except {
			continue
		}
		m.takeBack(func(h *head, field string, f *Fact) bool {
			at, way := h.where[field], goodWay(field, f.Value)
			behind := except && at != nil && at.sentence == c.sentence
			return way && at == c || (way || Hopeful(field, f.Value)) && behind
		})
		if except {
			m.facts = slices.DeleteFunc(m.facts, func(f Fact) bool { return f.Field == "hazards" && f.Value == "none" })
		}
	}
}

// noPlaceOfTwo takes back a good place for the line beside which another was named and
// not read: "the tow point is the bumper". Only one that was said with a word counts,
// where there is one.
func (m *message) noPlaceOfTwo(c *clause, word string) {
	m.takeBack(func(h *head, field string, f *Fact) bool {
		good := field == "kind" && slices.Contains([]string{"rated-eye", "frame"}, f.Value) || field == "hitch" && slices.Contains([]string{"drawbar", "rated-point"}, f.Value)
		return good && h.where[field] == c && strings.Contains(strings.ToLower(f.Said), word)
	})
}

// goodWay reports whether a slope or an angle is as good as there is.
func goodWay(field, value string) bool {
	return field == "slope" && (value == "0 deg" || value == "0 to 5 deg") || field == "off_line" && value == inLine
}

// leftIn reports what of a clause was not read: a figure, and whether words of an
// exception stand with something that was not read.
func (m *message) leftIn(c *clause) (figure, except bool) {
	if !m.leftOver(c) {
		return false, false
	}
	for _, it := range c.items {
		figure = figure || it.q != nil && !it.used && !it.silent()
	}
	for i := c.from - 1; i < c.to; i++ {
		except = except || i >= 0 && exceptions[m.word(i)]
	}
	return figure, except
}

// exceptions are words behind which something else holds than what was said.
var exceptions = wordSet("but although though altho tho except apart besides however unless until then otherwise mostly begin start first")

// tellsOfField is, by field, the class of words that tell of it too.
var tellsOfField = map[string]string{"lip": "lip", "sunk": "depth", "knots": "knot", "condition": "cond"}

// namedAgain takes back what makes things look better where words of its own
// kind, which were not read, stand in another clause: "none, well a little step".
func (m *message) namedAgain() {
	for _, c := range m.clauses {
		if !m.leftOver(c) {
			continue
		}
		m.takeBack(func(h *head, field string, f *Fact) bool {
			class := tellsOfField[field]
			return class != "" && h.where[field] != c && Hopeful(field, f.Value) &&
				slices.ContainsFunc(c.items, func(it *item) bool { return !it.used && it.has(class) && !m.denied(it) && !it.clause.ask })
		})
	}
}

// idle takes back that all wheels drive where it is said that a part of the drive
// is broken: "4x4, one diff is gone".
func (m *message) idle() {
	f := m.puller.slots["driven"]
	if f == nil || f.Value != "1" {
		return
	}
	for _, c := range m.clauses {
		part, off := false, false
		for i := c.from; i < c.to; i++ {
			part = part || driveline[m.word(i)]
			off = off || brokenDown[m.word(i)]
		}
		if part && off {
			delete(m.puller.slots, "driven")
			m.unuse(f.Said)
		}
	}
}

var (
	driveline  = wordSet("diff diffs differential prop propshaft driveshaft halfshaft axle hub hubs gearbox clutch box")
	brokenDown = wordSet("broken gone bust busted stuffed knackered shot dead off out failed fails slipping not isnt wont doesnt dont only")
)

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
				if other.from > it.from && !behind[other.name] {
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
				if !slices.Contains(demands, field) && !slices.Contains(demands, last) && last != "rating" && last != "hitch_rating" {
					return false, false
				}
			}
			other.used = true
		}
	}
	return guess, true
}

// behind are the words that a figure is only the least which stand behind it as well:
// "12 degrees at least".
var behind = map[string]bool{"at least": true, "minimum": true, "min": true, "and then some": true, "or more": true, "and up": true, "and more": true, "or over": true, "and over": true}

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
	if !slices.Contains([]string{"or", "no", "sorry", "i", "wait"}, m.word(i)) || m.word(i) == "i" && m.word(i+1) != "mean" {
		return false
	}
	for i++; slices.Contains([]string{"mean", "maybe", "perhaps", "possibly", "was", "is", "it", "in", "rather", "wait", "sorry", "hang", "on", "i", "no"}, m.word(i)); i++ {
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
