package hear

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"linetender/calc/bound"
)

func itoa(n int) string { return strconv.Itoa(n) }

// figures reads every figure into the field that it belongs to.
func (m *message) figures() {
	for i, it := range m.items {
		if m.echo(i) {
			it.used = true
			continue
		}
		if it.q == nil || it.used || it.silent() || it.clause.infer && m.within(it, "whole") == nil || m.denied(it) || m.within(it, "attr", "perline") != nil {
			continue
		}
		switch {
		case m.beside(it, "unequal", 1) != nil:
			it.used = true // how much longer one leg is
		case it.q.bare() && m.breaksBare(it):
		case it.clause.one:
		case it.q.is(slope):
			m.steep(it)
		case it.q.is(length):
			m.long(it)
		case it.q.is(force), it.q.is(mass):
			m.heavy(it)
		default:
			m.number(it)
		}
	}
}

// breaksBare reads a figure without a unit that a piece is told to break at beside a
// rating that it has: it isn't kept, and says nothing of that one.
func (m *message) breaksBare(it *item) bool {
	for _, o := range it.clause.items {
		if o.means["rkind"] != "breaking" || o.to > it.from || it.from-o.to > 1 || !m.leadsOn(o) {
			continue
		}
		rated := slices.ContainsFunc(m.items, func(r *item) bool {
			return r != it && r.q != nil && (r.q.is(mass) || r.q.is(force)) && r.clause.sentence == it.clause.sentence && r.to <= o.from
		})
		if rated {
			use([]*item{it, o})
			m.breaksAt = append(m.breaksAt, it.q.text)
		}
		return rated
	}
	return false
}

// echo reports whether a figure only repeats the one before it in another
// unit: "5 t (11000 lb)".
func (m *message) echo(i int) bool {
	for j := i - 1; j >= 0 && i-j <= 2; j-- {
		switch prev := m.items[j]; {
		case prev.clause != m.items[i].clause:
			return false
		case prev.q != nil:
			return prev.used && m.items[i].q != nil && prev.q.unit != m.items[i].q.unit && same(prev.q, m.items[i].q)
		}
	}
	return false
}

// steep files an angle or a slope.
func (m *message) steep(it *item) {
	if m.leansAnchor(it) && !(m.asked != nil && m.topic.field() == "slope") {
		it.used = !m.sideways(it) // "leans to the right" may be the vehicle's
		return
	}
	if m.topic != TopicFrontShare && m.shareOfWeight(it) {
		return
	}
	q := it.q
	ropes := func(mt *mention) bool { return mt.head.class == "gear" }
	rope, _ := m.owner(it, ropes)
	side := m.toldAs(it, slope, "side")
	if side == nil && m.across(it) {
		side = m.beside(it, "attr", 1, "thick")
	}
	off := m.toldAs(it, angle, "offline")
	if off == nil && side == nil {
		off = m.aslant(it)
	}
	switch {
	case q.is(angle) && (off != nil || m.topic == TopicOffLine && (!m.ofGround(it) || m.isOff(it))):
		if m.put(m.load, "off_line", q.text, q, it, off) {
			m.sighted(it)
		}
	case q.is(angle) && m.asksAngle() && m.asked != nil && !m.ofGround(it):
		m.put(m.asked, m.topic.field(), q.text, q, it)
	case q.unit == "%" && m.topic == TopicFrontShare:
		if 0 < q.si && q.si < 45 { // the angle of 100 %
			m.share(it, strings.TrimRight(q.text, "% percntPERCNT"))
		}
	case m.asked != nil && m.asked.class == "anchor" && m.topic.field() == "slope" && side == nil:
		m.sloped(m.asked, "slope", it)
	case m.topic == TopicPullerSide && side == nil:
		m.sloped(m.puller, "side_slope", it)
	case side != nil || m.topic == TopicSideSlope:
		h := m.load
		if side != nil {
			named := m.saysOf(it, "gear") || m.saysOf(it, "anchor") || m.asked != nil && m.asked.class == "anchor"
			if h = m.standing(it); h == nil && m.topic.stage() == "" && !named && (!m.asksAngle() || m.sideways(it)) {
				h = m.load
			}
			if h == m.puller && !m.topic.ofStand() && m.unnamedSide(it) {
				h = nil // the stuck one's was asked as lately
			}
		}
		m.sloped(h, "side_slope", it, side)
	case off != nil:
		// In per cent it is no angle of a line, and no slope either.
	case m.isOff(it):
		// "The tractor is 10 deg off" tells of no ground.
	case rope != nil && m.saysOf(it, "gear"):
		// An angle of a rope without "off the line" may be of a sling's leg.
	default:
		m.sloped(m.standing(it), "slope", it)
	}
}

// isOff reports whether a figure is how far a thing is off something, and not off level.
func (m *message) isOff(it *item) bool {
	return m.word(it.to) == "off" && !slices.Contains([]string{"level", "horizontal", "flat", "plumb", "vertical", "the"}, m.word(it.to+1))
}

// aslant returns the word left or right where a figure tells how far a line leads to that
// side: "line goes about 10 degrees to the left of the truck".
func (m *message) aslant(it *item) (to *item) {
	line := false
	for _, o := range it.clause.items {
		switch w := m.word(o.to - 1); {
		case lists.has(m.word(o.from), "hauledby"):
			line = true
		case lists.has(w, "sideof") && (m.word(o.from-1) == "the" || m.word(o.from-1) == "to"):
			to = o
		}
	}
	if !line {
		return nil
	}
	return to
}

// across reports whether a slope is told as the one across.
func (m *message) across(it *item) bool {
	word := m.beside(it, "attr", 1, "thick")
	asks := m.topic == TopicSlope || m.topic == TopicSideSlope || m.topic == TopicPullerSlope || m.topic == TopicPullerSide
	return word != nil && m.word(word.from) == "across" && (asks || it.q.is(slope))
}

// sighted writes whether an angle off the line was measured. Without a word it
// was not.
func (m *message) sighted(it *item) {
	for _, from := range it.clause.items {
		_, how, _ := strings.Cut(from.means["from"], " ")
		switch {
		case how == "level" || how == "phone":
			m.put(m.load, "off_line_from", "measured", nil, from)
		case how == "eye" || how == "guess":
			m.put(m.load, "off_line_from", "eye", nil, from)
		}
	}
}

// share writes a number of hundredths as the puller's share on its front axle.
func (m *message) share(it *item, hundredths string) {
	v, err := strconv.ParseFloat(hundredths, 64)
	if err == nil && 0 < v && v < 100 {
		m.put(m.puller, "front_share", strconv.FormatFloat(v/100, 'g', -1, 64), it.q, it)
	}
}

// saysOf reports whether the clause names a class of thing and no vehicle.
func (m *message) saysOf(it *item, class string) bool {
	found := false
	for _, mt := range m.mentions {
		if mt.it.clause == it.clause {
			if mt.head.class == "vehicle" {
				return false
			}
			found = found || mt.head.class == class
		}
	}
	return found
}

// behindAnchor reports whether an anchor is all that is named in the clause right before a
// figure that begins its own: "the same oak, 70 cm".
func (m *message) behindAnchor(it *item) bool {
	before := m.clauseBefore(it.clause)
	if before == nil || it.from != it.clause.from {
		return false
	}
	named := m.mentionsIn(before)
	return len(named) > 0 && len(m.mentionsIn(it.clause)) == 0 && !slices.ContainsFunc(named, func(mt *mention) bool { return mt.head.class != "anchor" }) &&
		!slices.ContainsFunc(before.items, func(o *item) bool { return o.q != nil && !o.q.bare() })
}

// sloped writes a slope, along or across, and how it was found.
func (m *message) sloped(h *head, field string, it *item, with ...*item) {
	if h == nil || !m.put(h, field, it.q.text, it.q, append([]*item{it}, with...)...) || it.q.measured {
		return
	}
	for _, c := range m.clauses {
		if c.passage != it.clause.passage || c.ask {
			continue
		}
		for _, from := range c.items {
			kind, how, _ := strings.Cut(from.means["from"], " ")
			if !from.has("from") || kind != "slope" && !(kind == "any" && c == it.clause) || !foundOf(from, it) {
				continue
			}
			if how == "guess" {
				how = "eye"
			}
			m.put(h, field+"_from", how, nil, from)
		}
	}
}

// foundOf reports whether how a slope was found is said of this one: of the
// one before it in its clause, else of the first behind it; in a clause without
// a slope, of all in the passage.
func foundOf(from, it *item) bool {
	var of *item
	for _, other := range from.clause.items {
		if other.q != nil && other.q.is(slope) && (of == nil || other.from < from.from) {
			of = other
		}
	}
	return of == nil || of == it
}

// long files a length.
func (m *message) long(it *item) {
	q := it.q
	field := func(h *head, name string, with *item) { m.put(h, name, q.text, q, it, with) }
	// The thing that the figure stands with, nearest first.
	if at := m.toldAs(it, length, "distance", "run", "reach", "lead"); at != nil && !q.small() {
		m.span2(it, at)
		return
	}
	if field := m.anchorAway(it); field != "" && !q.small() {
		m.loose(field, it, nil)
		return
	}
	if r := m.beside(it, "attr", 2, "radius"); r != nil || (m.topic == TopicLip || m.topic == TopicWheelRadius || m.wheelMiddle(it)) && m.ofWheel(it) {
		m.wheel(it, r)
		return
	}
	if l := m.within(it, "lip", "lip"); l != nil {
		if field(m.load, "lip.height", l); it.used {
			if tall := m.beside(it, "attr", 2, "tall"); tall != nil {
				tall.used = true
			}
		}
		return
	}
	if m.sinks(it) {
		return
	}
	if m.ofMachine(it) {
		return
	}
	if m.drumAcross(it) {
		field(m.puller, "drum", nil)
		return
	}
	if m.topic == TopicWheelbase && m.aHeight(it) {
		return
	}
	if (m.topic == TopicAxleHeight || m.topic == TopicWheelbase || m.topic == TopicCGHeight) && !m.saysOf(it, "anchor") && !m.behindAnchor(it) {
		field(m.puller, m.topic.field(), nil)
		return
	}
	if at := m.beside(it, "attr", 3, "hitchheight"); at != nil || m.topic == TopicHitchHeight && m.onlyMeasured(it) && !m.behindAnchor(it) {
		m.put(m.puller, "hitch_height", q.text, q, it, at)
		return
	}
	if far := m.beside(it, "attr", 2, "tall"); far != nil {
		return
	}
	if m.thing(it) {
		return
	}
	if item, name, ok := m.topic.piece(); ok {
		if girth := m.beside(it, "attr", 2, "girth"); girth != nil {
			if d, ok := acrossOf(q); ok && name == "diameter" && m.asked.class == "anchor" && !q.ranged {
				m.put(m.asked, name, d, q, it, girth)
			}
			return
		}
		if m.asked != nil && m.asked.class == "anchor" && m.wentBy(it) {
			return
		}
		if m.asked != nil && strings.HasPrefix(item, m.asked.class) && slices.Contains([]string{"diameter", "length", "depth"}, name) {
			field(m.asked, name, nil)
		}
		return
	}
	if len(m.mentionsIn(it.clause)) > 0 && !m.spansTo(it) {
		return
	}
	switch m.topic {
	case TopicDistance, TopicReach, TopicLead, TopicHoldReach:
		m.loose(string(m.topic), it, nil)
	case TopicRun:
		field(m.puller, "run", nil)
	case TopicLip:
		if m.onlyMeasured(it) {
			field(m.load, "lip.height", nil)
		}
	case TopicWheelRadius:
		if m.onlyMeasured(it) {
			m.wheel(it, nil)
		}
	}
}

// onlyMeasured reports whether nothing stands before a length in its clause that may be
// the thing which it is of: "gate is 1.2 m wide".
func (m *message) onlyMeasured(it *item) bool {
	for i := it.clause.from; i < it.from; i++ {
		if o := m.itemAt(i); !lists.has(m.word(i), "measured") && !o.has("hedge") && !o.has("turn") && o.q == nil {
			return false
		}
	}
	return true
}

// spansTo reports whether a length goes to what the line goes to that is asked
// about: "20 m to the digger" from the anchor.
func (m *message) spansTo(it *item) bool {
	return !slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool {
		at := mt.it.from - 1
		if slices.Contains([]string{"the", "our", "my"}, m.word(at)) {
			at--
		}
		goes := m.topic == TopicLead && mt.head.class == "vehicle" && mt.head != m.load || m.toAnchor() && mt.head.class == "anchor"
		return !goes || at < it.to || m.word(at) != "to"
	})
}

// ofWheel reports whether a length stands behind the name of a wheel.
func (m *message) ofWheel(it *item) bool {
	at := it.from - 1
	for slices.Contains([]string{"is", "are", "about", "its", "middle", "mid", "centre", "center"}, m.word(at)) {
		at--
	}
	return wheelNames[m.word(at)] && (strings.HasPrefix(m.word(at), "wheel") || strings.HasPrefix(m.word(at), "ti") || strings.HasPrefix(m.word(at), "ty"))
}

// wheelMiddle reports whether a length stands behind the middle of a wheel.
func (m *message) wheelMiddle(it *item) bool {
	return m.word(it.from-1) != "across" && slices.ContainsFunc([]int{1, 2, 3}, func(n int) bool {
		return slices.Contains([]string{"middle", "centre", "center"}, m.word(it.from-n)) && strings.HasPrefix(m.word(it.from-n-1), "wheel")
	})
}

// wheel files how far it is to the middle of a wheel. What goes all across it
// is twice that, and would make the step look easier than it is.
func (m *message) wheel(it, word *item) {
	text := it.q.text
	if across := m.beside(it, "attr", 2, "thick", "tall"); across != nil && across.from >= it.to {
		r, err := bound.ReadLength(text)
		if err != nil || r.Ranged {
			return
		}
		text = fmt.Sprintf("%.4g cm", r.Value.Best.Centimetres()/2)
		across.used = true
	}
	m.put(m.load, "lip.wheel_radius", text, it.q, it, word)
}

func (m *message) mentionsIn(c *clause) (out []*mention) {
	for _, mt := range m.mentions {
		if mt.it.clause == c {
			out = append(out, mt)
		}
	}
	return out
}

// span2 writes one of the four distances of the job.
func (m *message) span2(it, at *item) {
	if at.means["attr"] == "run" {
		m.put(m.puller, "run", it.q.text, it.q, it, at)
		return
	}
	field := at.means["attr"]
	if field == string(TopicReach) && (m.topic == TopicHoldReach || m.ofHolding(it)) {
		field = string(TopicHoldReach)
	}
	m.loose(field, it, at)
}

// toAnchor reports whether the way from the load to an anchor is asked for.
func (m *message) toAnchor() bool { return m.topic == TopicReach || m.topic == TopicHoldReach }

// loose writes a length that stands on the sheet by itself.
func (m *message) loose(field string, its ...*item) {
	m.put(m.job, field, its[0].q.text, its[0].q, its...)
}

// thing files a length with a piece of gear or an anchor. It reports whether
// one is spoken of, though the length may not fit it.
func (m *message) thing(it *item) bool {
	q := it.q
	thick := m.beside(it, "attr", 2, "thick")
	girth := m.beside(it, "attr", 2, "girth")
	if girth != nil && m.goesRound(it, girth) {
		girth = nil
	}
	long := m.beside(it, "attr", 2, "length")
	deep := m.beside(it, "attr", 2, "deep")
	h, doubt := m.owner(it, func(mt *mention) bool { return mt.head.class == "gear" || mt.head.class == "anchor" })
	if doubt {
		return true
	}
	if h == nil {
		if len(m.mentionsIn(it.clause)) > 0 || m.asked == nil || m.asked.class != "gear" && m.asked.class != "anchor" {
			return false
		}
		if _, name, ok := m.topic.piece(); ok && (name == "diameter" || name == "length" || name == "depth" || m.asksAngle()) {
			return false
		}
		h = m.asked
	}
	kind := h.kind
	switch {
	case h.class == "anchor" && thick == nil && girth == nil && deep == nil && m.wentBy(it):
		// How far it moved is no measure of it.
	case h.class == "anchor" && m.toAnchor() && thick == nil && girth == nil && long == nil && deep == nil && !q.small():
		m.loose(string(m.topic), it, nil) // 22 m to the oak
	case h.class == "gear" && thick == nil && q.small() && m.word(it.to) == "from":
		// "furry 30 cm from the hook" is where, and not how thick it is.
	case h.class == "gear" && kind == "rope" && lists.has(m.word(it.to), "measuredfrom") && m.longToo(it) && !m.fetchedLike(it) && !m.marked(it):
		// "80 m rope, 20 m from the farm": that is where it lies
	case h.class == "gear" && girth != nil:
		// A rope told by what goes round it: the sheet takes what goes across.
	case h.class == "gear" && (kind == "sling" || kind == "strap") && q.small() && long == nil:
		// The width of a flat sling is not its thickness.
	case h.class == "gear" && kind == "block" && q.small() && long == nil:
		m.put(h, "diameter", q.text, q, it, thick) // its wheel
	case h.class == "gear" && (kind == "block" || kind == "hook"):
	case h.class == "gear" && (thick != nil || q.small() && long == nil):
		m.put(h, "diameter", q.text, q, it, thick)
	case h.class == "gear" && kind != "shackle":
		m.put(h, "length", q.text, q, it, long)
	case h.class == "anchor" && deep != nil:
		m.put(h, "depth", q.text, q, it, deep)
	case h.class == "anchor" && long != nil && kind == "deadman":
		m.put(h, "length", q.text, q, it, long)
	case h.class == "anchor" && girth != nil && !q.ranged:
		if d, ok := acrossOf(q); ok {
			m.put(h, "diameter", d, q, it, girth)
		}
	case h.class == "anchor" && (thick != nil || q.small()) && kind != "picket":
		m.put(h, "diameter", q.text, q, it, thick)
	}
	return true
}

// goesRound reports whether "round" is where a line goes and no measure: "the holding
// line goes round the spruce 52 cm". Of "round the spruce 52 cm" nobody knows, and the
// girth is the less.
func (m *message) goesRound(it, round *item) bool {
	if round.to > it.from || round.to-round.from != 1 || m.word(round.from) != "round" || m.word(round.to) != "the" && m.word(round.to) != "a" {
		return false
	}
	return slices.ContainsFunc(round.clause.items, func(o *item) bool { return o.has("gear") && o.to <= round.from })
}

// went are words of what an anchor does that gives.
var went = wordSet("move moves moved moving shift shifts shifted shifting lift lifts lifted lifting came comes coming rose rises risen opened opens " +
	"gave gives crept creeps slid slides leaned leant leaning leans tilted tilts pulled sank sunk crack cracked split gap")

// wentBy reports whether a length says how far something moved, and not how large it is.
func (m *message) wentBy(it *item) bool {
	for at := it.from - 1; at >= max(0, it.from-4); at-- {
		if went[m.word(at)] {
			return true
		}
	}
	return went[m.word(it.to)]
}

// acrossOf returns the diameter of a trunk whose girth was taped, rounded down
// to three figures, since an anchor counts at its least.
func acrossOf(q *quantity) (string, bool) {
	r, err := bound.ReadLength(q.text)
	if err != nil {
		return "", false
	}
	d := r.Value.Low.Scale(1 / math.Pi)
	value, unit := d.Centimetres(), "cm"
	if r.Unit == "in" || r.Unit == "ft" || r.Unit == "yd" {
		value, unit = d.Inches(), "in"
	}
	value = math.Floor(value*10+1e-9) / 10
	return fmt.Sprintf("%g %s", value, unit), value > 0
}

// asksAngle reports whether what is asked is how a piece lies to the pull.
func (m *message) asksAngle() bool {
	return m.topic.field() == "sling_angle" || m.topic.field() == "side_angle"
}

// aHeight reports whether a length is said to be how high something is.
func (m *message) aHeight(it *item) bool {
	axle := false
	for i := it.clause.from; i < it.clause.to; i++ {
		switch m.word(i) {
		case "high", "height", "hitch", "ground", "drawbar":
			return true
		case "axle":
			axle = true
		case "wheelbase", "between", "to", "rear", "front", "apart":
			return false
		}
	}
	return axle
}
