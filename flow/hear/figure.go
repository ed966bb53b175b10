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
		if it.q == nil || it.used || it.silent() || it.clause.infer || m.denied(it) || m.within(it, "attr", "perline") != nil {
			continue
		}
		switch {
		case m.beside(it, "unequal", 1) != nil:
			it.used = true // how much longer one leg is
		case it.clause.one:
		case it.q.is(slope):
			m.steep(it)
		case it.q.is(length):
			m.long(it)
		case it.q.is(force):
			m.heavy(it)
		default:
			m.number(it)
		}
	}
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
	q := it.q
	ropes := func(mt *mention) bool { return mt.head.class == "gear" }
	rope, _ := m.owner(it, ropes)
	side := m.toldAs(it, slope, "side")
	off := m.toldAs(it, angle, "offline")
	switch {
	case q.is(angle) && (off != nil || m.topic == TopicOffLine):
		m.put(m.load, "off_line", q.text, q, it, off)
	case side != nil || m.topic == TopicSideSlope:
		h := m.load
		if side != nil {
			if h = m.standing(it); h == nil && m.topic.stage() == "" {
				h = m.load
			}
		}
		m.put(h, "side_slope", q.text, q, it, side)
	case rope != nil && m.saysOf(it, "gear"):
		// An angle of a rope without "off the line" may be of a sling's leg.
	default:
		m.sloped(m.standing(it), it)
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

// sloped writes a slope and how it was found.
func (m *message) sloped(h *head, it *item) {
	if h == nil || !m.put(h, "slope", it.q.text, it.q, it) || it.q.measured {
		return
	}
	for _, c := range m.clauses {
		if c.passage != it.clause.passage || c.ask {
			continue
		}
		for _, from := range c.items {
			kind, how, _ := strings.Cut(from.means["from"], " ")
			if from.has("from") && (kind == "slope" || kind == "any" && c == it.clause) {
				if how == "guess" {
					how = "eye"
				}
				m.put(h, "slope_from", how, nil, from)
			}
		}
	}
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
	if r := m.beside(it, "attr", 2, "radius"); r != nil {
		field(m.load, "lip.wheel_radius", r)
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
	if at := m.beside(it, "attr", 3, "hitchheight"); at != nil || m.topic == TopicHitchHeight {
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
		if m.asked != nil && strings.HasPrefix(item, m.asked.class) && slices.Contains([]string{"diameter", "length", "depth"}, name) {
			field(m.asked, name, nil)
		}
		return
	}
	if len(m.mentionsIn(it.clause)) > 0 {
		return
	}
	switch m.topic {
	case TopicDistance, TopicReach, TopicLead:
		m.loose(string(m.topic), it, nil)
	case TopicRun:
		field(m.puller, "run", nil)
	case TopicLip:
		field(m.load, "lip.height", nil)
	case TopicWheelRadius:
		field(m.load, "lip.wheel_radius", nil)
	}
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
	m.loose(at.means["attr"], it, at)
}

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
		if _, name, ok := m.topic.piece(); ok && (name == "diameter" || name == "length" || name == "depth") {
			return false
		}
		h = m.asked
	}
	kind := h.kind
	switch {
	case h.class == "gear" && girth != nil:
		// A rope told by what goes round it: the sheet takes what goes across.
	case h.class == "gear" && (kind == "sling" || kind == "strap") && q.small() && long == nil:
		// The width of a flat sling is not its thickness.
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

// heavy files a weight or a force: the thing decides which of the two it is.
func (m *message) heavy(it *item) {
	q := it.q
	stamp := m.beside(it, "rkind", 3)
	weighs := m.beside(it, "attr", 2, "weighs")
	h, doubt := m.owner(it, func(mt *mention) bool {
		switch mt.head.class {
		case "vehicle":
			if mt.it.has("winch") {
				return m.puller.open("rating") || stamp != nil
			}
			return stamp == nil && q.is(mass) && mt.head.open("mass")
		case "end":
			// "Tractor 3.1 t drawbar" weighs the tractor.
			if mt.head.path == "puller." && stamp == nil && mt.it.from > it.from {
				return false
			}
			fallthrough
		case "gear":
			return weighs == nil && (mt.head.open(rating(mt.head)) || stamp != nil)
		case "anchor":
			return (mt.head.kind == "rated" || mt.head.kind == "vehicle") && mt.head.open("rating")
		}
		return false
	})
	if doubt || m.beside(it, "attr", 3, "carries") != nil {
		return
	}
	if path, ok := m.topic.tonPath(); ok && h == nil && stamp == nil && len(m.mentionsIn(it.clause)) == 0 {
		if h := m.headAt(path); h != nil {
			m.put(h, path[strings.LastIndex(path, ".")+1:], q.text, q, it)
		}
		return
	}
	if h == nil {
		h = m.byTopic(it, stamp, weighs)
	}
	switch {
	case h == nil:
	case h == m.puller && (m.winchNear(it) || m.topic == TopicPullerRating) && weighs == nil:
		m.rated(h, "rating", it, stamp)
	case h.class == "vehicle" && (m.sizeClass(it) || h == m.load && m.lacks(it)):
	case h.class == "gear" && h.count > 1 && m.within(it, "sum") != nil:
	case h.class == "vehicle" && stamp == nil && q.is(mass):
		if m.put(h, "mass", q.text, q, it, weighs) && h == m.load {
			m.massFrom(it)
		}
	case h.class == "anchor" && h.kind == "vehicle" && q.is(mass):
		m.put(h, "mass", q.text, q, it)
	case h.class == "gear" || h.class == "anchor":
		m.rated(h, "rating", it, stamp)
	case h.class == "end":
		m.rated(h, rating(h), it, stamp)
	}
}

// sizeClass reports whether a ton names the class of a truck and not what it
// weighs: a half-ton pickup weighs four times as much.
func (m *message) sizeClass(it *item) bool {
	if !strings.HasSuffix(it.q.unit, "ton") || it.q.si > 1600 {
		return false
	}
	for _, mt := range m.mentionsIn(it.clause) {
		if mt.head.class == "vehicle" && mt.it.from >= it.to && m.joined(it.to, mt.it.from) {
			return true
		}
	}
	return false
}

// lacks reports whether a weight leaves out a trailer or a load that the
// message names, or may do so.
func (m *message) lacks(it *item) bool {
	trailer, whole, in, weights := false, false, false, 0
	for _, other := range m.items {
		if other.clause.passage != it.clause.passage || other.silent() {
			continue
		}
		switch {
		case other.has("without") && other.clause == it.clause:
			return true
		case other.q != nil && other.q.is(mass) && !same(other.q, it.q):
			weights++
		case other.has("whole"):
			whole = true
		case strings.HasPrefix(other.means["vehicle"], "part") && !m.denied(other):
			trailer = true
			in = in || other.to <= it.from
		}
	}
	return trailer && m.pulls() && (!in && !whole || weights > 0)
}

// pulls reports whether the load is more than a trailer by itself.
func (m *message) pulls() bool {
	return slices.ContainsFunc(m.mentions, func(mt *mention) bool {
		return mt.head == m.load && !strings.HasPrefix(mt.it.means["vehicle"], "part")
	})
}

func rating(h *head) string {
	if h.class == "end" && h.path == "puller." {
		return "hitch_rating"
	}
	return "rating"
}

// winchNear reports whether the vehicle spoken of at it is a winch.
func (m *message) winchNear(it *item) bool {
	found := false
	m.owner(it, func(mt *mention) bool {
		if mt.head == m.puller && mt.it.has("winch") && (mt.it.clause == it.clause || mt.it.clause.passage == it.clause.passage) {
			found = true
		}
		return false
	})
	if !found {
		return false
	}
	for _, mt := range m.mentionsIn(it.clause) {
		if mt.head == m.puller && !mt.it.has("winch") && m.follows(mt.it.to, it.from) && mt.it.from < it.from {
			return false
		}
	}
	return true
}

// byTopic returns what a weight or force without a thing belongs to.
func (m *message) byTopic(it *item, stamp, weighs *item) *head {
	for _, mt := range m.mentionsIn(it.clause) {
		if mt.head.class != "vehicle" || mt.head.path == "" {
			return nil
		}
	}
	if m.asked != nil {
		return m.asked
	}
	if stamp != nil {
		return nil
	}
	switch {
	case m.topic.stage() == "load" || m.topic == TopicNone || m.topic == TopicPeople:
		// The weight of the load is told with it; then this is the puller's.
		if m.weighed(m.load) && m.named(m.puller) && m.puller.open("mass") && !m.weighed(m.puller) {
			return m.puller
		}
		return m.load
	case m.hoists():
		return nil
	case m.topic == TopicPuller || m.topic == TopicPullerMass || m.topic == TopicPullerKind || m.topic == TopicPullerRating:
		return m.puller
	}
	return nil
}

// hoists reports whether a winch is spoken of and no vehicle that bears it:
// what a figure beside that means is not told.
func (m *message) hoists() bool {
	winch := false
	for _, mt := range m.mentions {
		if mt.head == m.puller {
			if !mt.it.has("winch") {
				return false
			}
			winch = true
		}
	}
	return winch
}

func (m *message) named(h *head) bool {
	return slices.ContainsFunc(m.mentions, func(mt *mention) bool { return mt.head == h })
}

// weighed reports whether a weight stands in a clause with a vehicle.
func (m *message) weighed(h *head) bool {
	for _, mt := range m.mentions {
		for _, it := range mt.it.clause.items {
			if mt.head == h && it.q != nil && it.q.is(mass) {
				return true
			}
		}
	}
	return false
}

// rated writes a rating and, where the words say so, what it means. Of two
// figures on one tag the working one counts.
func (m *message) rated(h *head, field string, it, stamp *item) {
	kind := ""
	if stamp != nil {
		kind = stamp.means["rkind"]
	}
	if old := h.slots["rating_kind"]; old != nil && field == "rating" && kind != "" && kind != old.Value {
		if kind == "breaking" {
			use([]*item{it, stamp})
			return
		}
		delete(h.slots, "rating")
		delete(h.slots, "rating_kind")
	}
	if m.put(h, field, it.q.text, it.q, it) && kind != "" && field == "rating" {
		m.put(h, "rating_kind", kind, nil, stamp)
	}
}

// massFrom writes how the load's weight was found, if the clause says.
func (m *message) massFrom(it *item) {
	for _, from := range it.clause.items {
		kind, how, _ := strings.Cut(from.means["from"], " ")
		if from.has("from") && (kind == "mass" || kind == "any") {
			m.put(m.load, "mass_from", how, nil, from)
		}
	}
}

// number files a figure without a unit, where one unit alone is possible.
func (m *message) number(it *item) {
	n, whole := it.q.count()
	if at := m.beside(it, "attr", 1, "layer"); at != nil && whole {
		m.put(m.puller, "winch_layer", n, it.q, it, at)
		return
	}
	if at := m.beside(it, "attr", 1, "parts"); at != nil && whole && at.from >= it.to {
		m.tackle(n, it, at)
		return
	}
	if q := m.likeBeside(it); q != nil {
		m.likeFigure(it, q)
		return
	}
	if !whole || len(m.mentionsIn(it.clause)) > 0 {
		return
	}
	alone := len(it.clause.items) == 1
	switch {
	case m.topic == TopicWinchLayer && n != "0":
		m.put(m.puller, "winch_layer", n, it.q, it)
	case m.topic == TopicParts && n != "0":
		m.tackle(n, it)
	case m.topic == TopicPullerPeople && n != "0":
		m.put(m.puller, "people", n, it.q, it)
	default:
		if m.asked != nil && m.asked.class == "gear" && m.asked.path == "" && alone && n != "0" {
			m.asked.count, it.used = int(it.q.number), true
			return
		}
		_, name, ok := m.topic.piece()
		if ok && alone && (name == "count" || name == "sheaves") && n != "0" {
			m.put(m.asked, name, n, it.q, it)
		}
	}
}

func (m *message) tackle(n string, its ...*item) {
	m.put(m.job, "tackle.parts", n, its[0].q, its...)
}

// likeBeside returns a figure whose unit a bare one shares beyond doubt: all
// the figures of that kind in the passage have the same unit. "Block 3 t, two
// shackles 3.25" are tonnes; a whole number could be a size, so it is not taken.
func (m *message) likeBeside(it *item) *quantity {
	want := dim(0)
	switch h, _ := m.owner(it, func(mt *mention) bool { return mt.head.class == "gear" || mt.head.class == "end" }); {
	case m.toldAs(it, length, "lead", "reach", "distance", "run") != nil:
		want = length
	case m.toldAs(it, slope, "side") != nil:
		want = angle
	case h != nil && h.open("rating") && h.kind != "rope" && strings.ContainsAny(it.q.text, ".,"):
		want = force
	default:
		return nil
	}
	var like *quantity
	for _, other := range m.items {
		if other.q == nil || !other.q.is(want) || want != angle && other.clause.passage != it.clause.passage || want == angle && other.q.unit != "deg" ||
			want == length && other.q.small() {
			continue
		}
		if like != nil && like.unit != other.q.unit || other.q.vague {
			return nil
		}
		like = other.q
	}
	if like == nil {
		return nil
	}
	return &quantity{text: it.q.text + " " + like.unit, dims: like.dims, unit: like.unit, rough: true, number: it.q.number}
}

// likeFigure files a bare figure with the unit of its neighbours.
func (m *message) likeFigure(it *item, q *quantity) {
	bare := it.q
	it.q = q
	switch {
	case q.is(angle):
		_, err := bound.ReadSlope(q.text)
		q.dims |= slope
		if err == nil {
			m.steep(it)
		}
	case q.is(length):
		if _, err := bound.ReadLength(q.text); err == nil {
			m.long(it)
		}
	default:
		if r, err := bound.ReadForce(q.text); err == nil && r.Value.Best > 0 {
			q.si = r.Value.Best.KilogramsForce()
			q.rough = false
			m.heavy(it)
		}
	}
	if !it.used {
		it.q = bare
	}
}
