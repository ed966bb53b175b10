package hear

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc/bound"
)

// A weight may be told in parts: "2 t plus half a ton of feed". A sum only
// makes it heavier, so parts are added where a word joins them, or where the
// second is plainly a trailer or a cargo, and nothing says that the one holds
// the other or takes its place. Ratings are never added.

// totals makes one figure of the parts of the stuck vehicle's weight.
func (m *message) totals() {
	if s := m.topic.stage(); s != "load" && m.topic != TopicNone && m.topic != TopicPeople && !m.topic.ton() {
		return
	}
	m.summedUp()
	for i, first := range m.items {
		if !m.weighsLoad(first) || m.weighsAnchor(first) || m.apiece(first) || m.counted(first) != nil {
			continue
		}
		last, parts := first, []*item{first}
		values := []string{first.q.text}
		for _, next := range m.items[i+1:] {
			if next.q == nil || next.q.bare() {
				continue
			}
			n := m.times(last, next)
			if n == 0 || m.weighsAnchor(next) || len(parts) > mostPieces {
				break
			}
			last, parts = next, append(parts, next)
			values = append(values, slices.Repeat([]string{next.q.text}, n)...)
		}
		if len(parts) > 1 {
			m.total(parts, strings.Join(values, " + "))
		}
	}
}

// weighsAnchor reports whether a weight stands beside a vehicle that is told to hold: it is
// no part of what is to be moved, and adds nothing to what holds.
func (m *message) weighsAnchor(it *item) bool {
	return slices.ContainsFunc(it.clause.items, func(o *item) bool {
		return o.has("vehicle") && (m.calledAnchor(o) || m.headed(o) || slices.ContainsFunc(it.clause.items, func(a *item) bool { return a.has("anchoring") && !madeFastBy(a) }))
	})
}

// corrected keeps with a figure the bare one that may be meant in its place:
// "15 deg maybe 20". Which of the two counts is for the field to say. They are
// no range, which would stand in place of the doubt about a guess.
func (m *message) corrected() {
	for i, it := range m.items {
		if it.q == nil || it.q.bare() || it.q.ranged || !it.q.is(mass) && !it.q.is(slope) && !it.q.is(length) || strings.Contains(it.q.unit, " in ") {
			continue
		}
		if first := m.oneOfTwo(i); first != nil {
			if other := inItsUnit(it.q, first.q); other != nil {
				it.q.other, first.q, first.used = other, nil, true
			}
			continue
		}
		for _, next := range m.items[i+1 : min(i+5, len(m.items))] {
			if next.clause.sentence != it.clause.sentence || next.q != nil && !next.q.bare() {
				break
			}
			between := strings.Trim(strings.Join(strings.Fields(m.text[m.tokens[it.to-1].to:m.tokens[next.from].from]), " "), ", ")
			if next.q == nil || m.single(next) && it.q.is(mass) && lists.has(m.word(next.to), "tells") || !otherwise.MatchString(between) && !m.otherPlace(next) {
				continue
			}
			other := inItsUnit(it.q, next.q)
			if other == nil {
				break
			}
			it.q.rough, it.q.other = true, other
			next.q, next.used = nil, true
			break
		}
	}
}

// oneOfTwo returns the bare figure that is told with the one at i of several
// things: "2 oaks 50 n 60 cm". Which is whose nobody can tell.
func (m *message) oneOfTwo(i int) *item {
	if i < 2 {
		return nil
	}
	and, first := m.items[i-1], m.items[i-2]
	if first.q == nil || !first.q.bare() || first.clause != m.items[i].clause || first.to != and.from || m.word(and.from) != "and" || and.to != m.items[i].from {
		return nil
	}
	several := slices.ContainsFunc(first.clause.items, func(o *item) bool {
		return o.to <= first.from && (o.has("anchor") || o.has("gear")) && m.counted(o) != nil
	})
	if !several {
		return nil
	}
	return first
}

// inItsUnit returns a bare figure as one in the unit of another, if it can be.
func inItsUnit(q, bare *quantity) *quantity {
	unit := q.text[strings.LastIndexAny(q.text, "0123456789.")+1:]
	if words := strings.Fields(unit); len(unit) == len(q.text) || slices.Contains(words, "half") || slices.Contains(words, "quarter") || slices.Contains(words, "quarters") {
		// A couple of tonnes, or 2 and a half ton, of which the half is no unit.
		unit = " " + q.unit
	}
	other := &quantity{text: bare.text + unit, dims: q.dims, unit: q.unit, number: bare.number, vague: q.vague, rough: true}
	if r, err := bound.ReadMass(other.text); err == nil && q.is(mass) {
		other.si = r.Value.Best.Kilograms()
	} else if r, err := bound.ReadSlope(other.text); err == nil && q.is(slope) {
		other.si = r.Value.Best.Degrees()
	} else if r, err := bound.ReadLength(other.text); err == nil && q.is(length) {
		other.si = r.Value.Best.Metres()
	} else {
		return nil
	}
	return other
}

// otherwise is what stands between a figure and the one that may be meant.
var otherwise = regexp.MustCompile(`(?i)^(?:or|well|no|no wait|sorry|i mean|make that|(?:or |i think |i reckon |i guess )*(?:maybe|perhaps|possibly|probably|more like|even|(?:it )?(?:could|might|may|can) be?)(?: even| up to| as much as| nearer| closer to| more like)*)$`)

// otherPlace reports whether a bare figure is the same thing in another place:
// "12 deg here, 14 higher up".
func (m *message) otherPlace(it *item) bool {
	if slices.Contains([]string{"without", "empty", "unladen", "loaded", "laden"}, m.word(it.to)) && m.tokens[it.from-1].mark != unbroken {
		return true // "10 t with the bucket full, 8.5 without"
	}
	return slices.Contains([]string{"higher", "further", "farther", "lower", "above", "below", "near", "nearer", "at", "in"}, m.word(it.to)) &&
		slices.Contains([]string{"up", "down", "on", "back", "the", "places", "its", "top", "bottom"}, m.word(it.to+1)) && m.tokens[it.from-1].mark != unbroken
}

// weighsLoad reports whether a figure may be a part of what the load weighs.
func (m *message) weighsLoad(it *item) bool {
	if it.q == nil || it.q.bare() || !it.q.is(mass) || it.silent() || it.used || m.denied(it) || it.clause.undone {
		return false
	}
	for _, o := range it.clause.items {
		whole := o.has("whole") && !(o.name == "with a trailer" && m.trailerWeighed(it.clause))
		if o.has("rkind") || o.has("rated") || whole || o.means["attr"] == "carries" || o.has("anchor") || o.has("winch") || m.names(o, m.puller) {
			return false
		}
	}
	return true
}

// trailerWeighed reports whether a trailer has a weight of its own elsewhere.
func (m *message) trailerWeighed(not *clause) bool {
	return slices.ContainsFunc(m.clauses, func(c *clause) bool {
		return c != not && slices.ContainsFunc(c.items, (*item).partVehicle) &&
			slices.ContainsFunc(c.items, func(it *item) bool { return it.q != nil && it.q.is(mass) })
	})
}

// times returns how often the weight next is to be added to the one before
// it: 0 if it is no part of the sum.
func (m *message) times(before, next *item) int {
	carried := m.carried(before, next)
	switch {
	case !m.weighsLoad(next), m.cameOff(next), same(before.q, next.q) && before.q.unit != next.q.unit:
		return 0
	case before.clause.sentence != next.clause.sentence && !(carried && before.clause.sentence+1 == next.clause.sentence):
		return 0
	}
	joined := false
	for i := before.to; i < next.from; i++ {
		if talk.is(m.word(i), "nosum") {
			return 0
		}
		joined = joined || talk.is(m.word(i), "adds")
	}
	// "600 kg of that is the trailer", "1.8 t empty and 2.4 t loaded"
	for i := next.to; i < min(next.clause.to, next.to+3); i++ {
		if talk.is(m.word(i), "nosum") || talk.is(m.word(i), "alone") || m.word(i) == "of" && m.word(i+1) == "it" {
			return 0
		}
	}
	var count *item
	for _, it := range m.items {
		switch {
		case it.to <= before.clause.from || it.from >= next.from:
		case talk.is(m.word(it.from), "alone") && !m.hasWord("plus") && !m.ofGoods(next):
			return 0
		case it.from < before.to:
		case it.has("anchor"), it.has("winch"), it.has("vehicle") && !it.partVehicle() && !m.names(it, m.load):
			return 0
		case it.q != nil && it.q.bare():
			count = it
		}
	}
	switch {
	case !joined && !carried:
		return 0
	case count == nil && !m.apiece(next):
		return 1
	case count == nil || !(1 <= count.q.number && count.q.number <= mostPieces):
		return 0
	case !m.apiece(next) && m.word(next.from-1) != "x" && m.word(next.from-1) != "at":
		return 0 // each, or all of them?
	}
	n, ok := count.q.count()
	if !ok {
		return 0
	}
	return int(n[0] - '0')
}

// mostPieces is how many bales at so much each are written out in a sum, and
// how many parts one has.
const mostPieces = 9

// carried reports whether a weight is plainly that of a trailer or a cargo.
func (m *message) carried(before, next *item) bool {
	for _, it := range m.items {
		if it.partVehicle() && it.clause == next.clause && it.from >= before.to {
			return true
		}
	}
	if m.ofGoods(next) {
		return true
	}
	for i := max(before.to, next.clause.from); i < min(next.clause.to, next.to+4); i++ {
		if talk.is(m.word(i), "cargo") {
			return true
		}
	}
	return m.aboard(next.to)
}

// ofGoods reports whether a weight is told of goods by their name: "2 t of feed sacks".
func (m *message) ofGoods(it *item) bool {
	i := it.to
	if m.word(i) == "of" {
		i++
	}
	return i < it.clause.to && (isGoods(m.word(i)) || i+1 < it.clause.to && m.word(i) != "with" && isGoods(m.word(i+1)))
}

// summedUp takes the parts that are told behind a sum as what it was made of: "6.1 t then,
// empty off the papers plus 80 sacks of 25 kg". Each part is less than the sum.
func (m *message) summedUp() {
	at := slices.IndexFunc(m.items, m.weighsLoad)
	if at < 0 || m.topic != TopicMass && m.topic != TopicPeople && m.topic != TopicNone {
		return
	}
	if end := m.items[at].to; !lists.has(m.word(end), "summed") && !lists.has(m.word(end), "parts") && !(m.word(end) == "of" && m.word(end+1) == "which") {
		return
	}
	var parts []*item
	for _, it := range m.items[at+1:] {
		switch {
		case it.q == nil || !it.q.is(mass):
		case !m.weighsLoad(it) || it.q.si >= m.items[at].q.si:
			return
		default:
			parts = append(parts, it)
		}
	}
	if len(parts) == 0 || m.addsTo(m.items[at], parts[0]) {
		return
	}
	for _, it := range parts {
		it.used, it.q, it.means = true, nil, map[string]string{"filler": "-"}
	}
}

// addsTo reports whether a part is told to come to a sum, and not to be in it: "2.4 t total
// plus 600 kg of sand". Behind what it weighs empty the adding is inside the sum.
func (m *message) addsTo(sum, part *item) bool {
	for i := sum.to + 1; i < part.from; i++ {
		switch w := m.word(i); {
		case talk.is(w, "alone"), w == "empty", w == "unladen":
			return false
		case talk.is(w, "adds"), lists.has(w, "joins"):
			return true
		}
	}
	return false
}

// aboard reports whether "in the back" or the like starts at the token i.
func (m *message) aboard(i int) bool {
	if m.word(i) == "aboard" {
		return true
	}
	if w := m.word(i); w != "in" && w != "on" {
		return false
	}
	i++
	if m.word(i) == "the" {
		i++
	}
	return slices.Contains([]string{"back", "board", "bed", "boot", "top", "it", "trailer", "roof", "flatbed"}, m.word(i))
}

// names reports whether an item names a head.
func (m *message) names(it *item, h *head) bool {
	return slices.ContainsFunc(m.mentions, func(mt *mention) bool { return mt.it == it && mt.head == h })
}

func (it *item) partVehicle() bool { return strings.HasPrefix(it.means["vehicle"], "part") }

// total puts a sum in the place of its first part.
func (m *message) total(parts []*item, text string) {
	r, err := bound.ReadMass(text)
	if err != nil {
		return
	}
	first, last := parts[0], parts[len(parts)-1]
	rough := r.Rough
	for _, it := range m.items {
		rough = rough || it.from >= first.clause.from && it.to <= last.from && slices.Contains([]string{"guess", "unsure"}, it.means["hedge"])
		if it.from < first.to || it.from >= last.clause.to {
			continue
		}
		if it.partVehicle() || it.has("without") || it.q != nil && it.q.bare() && it.to <= last.from || it.from == last.to && m.aboard(it.from) {
			it.used = true
		}
	}
	for _, it := range parts[1:] {
		it.q, it.used = nil, true
	}
	first.q = &quantity{text: text, dims: mass, unit: r.Unit, si: r.Value.Best.Kilograms(),
		ranged: r.Ranged, vague: r.Vague, rough: rough, total: true}
	if first.clause == last.clause {
		first.to = last.to
	}
}
