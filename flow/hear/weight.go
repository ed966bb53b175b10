package hear

import (
	"slices"
	"strings"
)

// heavy files a weight or a force: the thing decides which of the two it is.
func (m *message) heavy(it *item) {
	q := it.q
	for _, next := range it.clause.items {
		behind := next.from == it.to && next.q != nil && next.q.bare() && !next.used && !m.each(next)
		if behind && (next.q.number >= 50 || 1 < next.q.number && next.q.number < 10 && next.to == it.clause.to && strings.HasPrefix(q.unit, "t")) {
			return // "2 tonne 300" is no 2 tonne, and "two tonne four" none either
		}
	}
	if !q.total && m.ofCargo(it) {
		return // what is on it is a part of what it weighs
	}
	if m.cameOff(it) {
		return // what came off it is not what is left of it
	}
	if m.hitchBehind(it) {
		if m.known.Hitch != "" && !m.othersPoint(it.clause) {
			m.put(m.puller, "hitch_rating", q.text, q, it)
		}
		return
	}
	if m.mountsFigure(it) || m.behindEye(it) {
		return
	}
	stamp := m.beside(it, "rkind", 3)
	if of, row := m.ratingRow(it); row {
		if of != nil {
			m.rated(of, "rating", it, stamp)
		}
		return
	}
	weighs := m.beside(it, "attr", 2, "weighs")
	rates := stamp != nil || m.beside(it, "rated", 3) != nil || m.stamps(it) // no weight, then
	its, about := m.ofItsOwn(it)
	if its && !about && !rates && weighs == nil {
		return // "a rope and a block, its 4 t": one of these, or what was asked
	}
	h, doubt := m.owner(it, func(mt *mention) bool {
		switch mt.head.class {
		case "vehicle":
			if mt.it.has("winch") {
				return m.puller.open("rating") || rates
			}
			return !rates && q.is(mass) && mt.head.open("mass")
		case "end":
			if stamp == nil && m.beside(it, "hedge", 1, "guess") != nil && q.is(mass) {
				return false // nobody stamps "about 3 tonnes"
			}
			// "Tractor 3.1 t drawbar" weighs the tractor.
			if mt.head.path == "puller." && stamp == nil && mt.it.from > it.from {
				return false
			}
			fallthrough
		case "gear":
			return weighs == nil && !its && (mt.head.open(rating(mt.head)) || stamp != nil)
		case "anchor":
			return (mt.head.kind == "rated" || mt.head.kind == "vehicle") && mt.head.open("rating")
		}
		return false
	})
	if h != nil && h.class == "gear" && !m.spokenIn(h, it.clause) && slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool { return mt.head.class == "gear" && mt.it.to <= it.from }) {
		return // a second figure of the piece named here, and none of one before it
	}
	if h == m.load && slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.has("anchoring") }) && !slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool { return mt.head == m.load }) {
		return
	}
	if !rates && weighs == nil && (m.winchOrBearer(it) || m.beforeWinch(it)) {
		return
	}
	switch bears, is := m.bearerOf(it); {
	case rates || !bears:
	case is:
		m.put(m.puller, "mass", q.text, q, it, weighs)
		return
	default:
		return // the winch's, or what bears it: nobody knows
	}
	if rates && m.beside(it, "hedge", 2, "unsure") != nil && stamp == nil {
		return // nobody reads "3 t i think" off a stamp
	}
	if doubt || m.readOn(it) || m.beside(it, "attr", 3, "carries") != nil || !rates && (h == nil || h.class != "vehicle") && m.anothers(it) {
		return
	}
	if path, ok := m.topic.tonPath(); ok && h == nil && stamp == nil && len(m.mentionsIn(it.clause)) == 0 {
		if h := m.headAt(path); h != nil {
			m.put(h, path[strings.LastIndex(path, ".")+1:], q.text, q, it)
		}
		return
	}
	if h == nil && rates && m.ofHitch(it) {
		m.rated(m.puller, "hitch_rating", it, stamp)
		return
	}
	if h == nil {
		h = m.byTopic(it, rates)
	}
	switch {
	case h == nil, h.class == "end" && h.path == "":
	case h == m.asked && h.class == "anchor" && m.topic.field() == "mass":
		if !rates && q.is(mass) {
			m.put(h, "mass", q.text, q, it)
		}
	case h == m.puller && (m.winchNear(it) || m.topic == TopicPullerRating || m.topic == TopicPullerStamp && rates) && weighs == nil:
		m.rated(h, "rating", it, stamp)
	case h == m.load && hauls[m.word(it.from-1)]: // what it pulls is not what it weighs
	case h.class == "vehicle" && (m.sizeClass(it) || h == m.load && (m.apiece(it) || m.lacks(it)) || h == m.puller && it.q.other == nil && leavesOut[m.word(it.to)]):
	case h.class == "gear" && (h.count > 1 && m.within(it, "sum") != nil || m.ofWhich(h, it)):
	case h.class == "vehicle" && !rates && q.is(mass):
		if m.put(h, "mass", q.text, q, it, weighs) && h == m.load {
			m.massFrom(it)
		}
	case h.class == "anchor" && h.kind == "vehicle" && q.is(mass) && !rates && !m.ofPoint(it):
		m.put(h, "mass", q.text, q, it)
	case h.class == "gear" || h.class == "anchor":
		m.rated(h, "rating", it, stamp)
	case h.class == "end":
		m.rated(h, rating(h), it, stamp)
	}
}

// spokenIn reports whether a clause names a head.
func (m *message) spokenIn(h *head, c *clause) bool {
	return slices.ContainsFunc(m.mentionsIn(c), func(mt *mention) bool { return mt.head == h })
}

// ofItsOwn reports whether a weight is told of "it", behind gear that has no rating yet,
// where it is asked what the load weighs, and whether it is told as about so much, as
// nobody reads a stamp.
func (m *message) ofItsOwn(it *item) (its, about bool) {
	if m.topic != TopicMass && m.topic != TopicMassFrom || !it.q.is(mass) || len(m.mentionsIn(it.clause)) > 0 {
		return false, false
	}
	for i := it.clause.from; i < it.from; i++ {
		its = its || lists.has(m.word(i), "itself")
	}
	gear := slices.ContainsFunc(m.mentions, func(mt *mention) bool {
		return mt.head.class == "gear" && mt.it.from < it.from && mt.it.clause.sentence == it.clause.sentence && mt.head.open("rating")
	})
	return its && gear, its && m.beside(it, "hedge", 1, "guess") != nil
}

// ofCargo reports whether a weight is of something that is no vehicle: 600 kg of feed.
func (m *message) ofCargo(it *item) bool {
	if m.word(it.to) != "of" || !it.q.is(mass) {
		return false
	}
	at := it.to + 1
	for m.word(at) == "the" || m.word(at) == "a" {
		at++
	}
	if slices.Contains([]string{"", "weight", "mass", "it", "load", "pull", "that", "them"}, m.word(at)) {
		return false
	}
	return !slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.from >= it.to && o.has("vehicle") })
}

// Words by which a weight came off something.
var (
	offWords = wordSet("unloaded offloaded removed gone")
	wasWords = wordSet("came come comes went was were is are has have been got taken lifted now already")
	tookOff  = wordSet("unloaded offloaded removed unload offload")
	offIt    = wordSet("it her him already now so then and back bed deck load truck lorry trailer wagon van vehicle pickup")
)

// cameOff reports whether a weight is what a vehicle lost: "640 kg came off", "took 640 kg
// off it", "640 kg lighter". Off a weighbridge or a plate it is what was read there.
func (m *message) cameOff(it *item) bool {
	if !it.q.is(mass) {
		return false
	}
	at, was := it.to, false
	for wasWords[m.word(at)] {
		at, was = at+1, true
	}
	switch w := m.word(at); {
	case w == "lighter", w == "less" && m.word(at+1) != "than" && m.word(it.to-1) != "or":
		return true
	case was && offWords[w], tookOff[w] && at > it.to:
		return true
	case w == "off":
		if m.word(at+1) == "the" || m.word(at+1) == "our" {
			at++
		}
		return m.word(at+1) == "" || offIt[m.word(at+1)] // off the track is where a vehicle of so much is
	}
	before := m.word(it.from - 1)
	for _, filler := range []string{"about", "some", "another", "the", "around"} {
		if before == filler {
			before = m.word(it.from - 2)
		}
	}
	return tookOff[before] || before == "less" || before == "minus" || before == "by" && (m.word(it.from-2) == "down" || m.word(it.from-2) == "lighter")
}

// hauls are words before a weight that a vehicle is said to pull.
var hauls = wordSet("pulls pull tow tows towing hauls haul")

// hitchBehind reports whether a hitch is what a figure is said to be of: the 5 t is the
// tractor's hitch.
func (m *message) hitchBehind(it *item) bool {
	if !slices.Contains([]string{"is", "was", "on", "for", "of"}, m.word(it.to)) {
		return false
	}
	for _, o := range it.clause.items {
		switch {
		case o.from <= it.to:
		case o.has("measure of") && m.speaks(o.from, o.to, hitchWords):
			return o.to == it.clause.to || o.q == nil
		case !o.has("vehicle") && !slices.Contains([]string{"the", "my", "our", "his", "her", "their", "s"}, m.word(o.from)):
			return false
		}
	}
	return false
}

// winchOrBearer reports whether a figure stands apart from both a winch and the
// vehicle that bears it, and may be of either: "winch on the truck, its 12000 lb".
func (m *message) winchOrBearer(it *item) bool {
	winch, bearer := false, false
	for _, mt := range m.mentionsIn(it.clause) {
		if mt.head != m.puller || mt.it.to > it.from {
			continue
		}
		winch, bearer = winch || mt.it.has("winch"), bearer || mt.it.has("vehicle") && m.bearsWinch(mt.it)
	}
	return winch && bearer && slices.Contains([]string{"its", "is", "it"}, m.word(it.from-1))
}

// bearerOf reports whether a weight is told behind a vehicle and the winch that it bears,
// and whether it is said to be what that weighs: "the truck with the winch is 2.2 t" is no
// winch of 2.2 t. What a winch pulls stands right behind it.
func (m *message) bearerOf(it *item) (bears, is bool) {
	if !it.q.is(mass) {
		return false, false
	}
	c := it.clause
	if before := m.clauseBefore(c); before != nil && len(m.mentionsIn(c)) == 0 {
		c = before
	}
	for _, w := range c.items {
		if !w.has("winch") || w.to > it.from || w.to == it.from && c == it.clause {
			continue
		}
		for _, v := range c.items {
			if v.has("vehicle") && !v.has("winch") && v.to < w.from && m.only(v.to, w.from, "bearing") {
				between := m.word(w.to)
				return true, c == it.clause && (between == "is" || between == "weighs" || between == "s" || between == "was")
			}
		}
	}
	return false, false
}

// only reports whether nothing but words of a list stands between two tokens.
func (m *message) only(from, to int, list string) bool {
	for i := from; i < to; i++ {
		if !lists.has(m.word(i), list) {
			return false
		}
	}
	return to > from
}

// beforeWinch reports whether a figure stands before a winch and may be what bears it
// weighs: something that is in no list or the winch's own figure is between, the winch is named by a vehicle, or
// another figure comes behind it. "6 t truck winch 9500 lb" is no winch of 6 t.
func (m *message) beforeWinch(it *item) bool {
	if slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.has("vehicle") && !o.has("winch") && (o.to == it.from || o.from == it.to) }) {
		return false // it is that vehicle's
	}
	for _, w := range it.clause.items {
		if !w.has("winch") || w.from < it.to {
			continue
		}
		if slices.ContainsFunc(it.clause.items, func(o *item) bool {
			return o.from >= w.to && o.q != nil && (o.q.is(mass) || o.q.is(force)) && !same(o.q, it.q)
		}) {
			return true
		}
		return talk.is(m.word(w.from), "vehicle") || slices.ContainsFunc(it.clause.items, func(o *item) bool {
			nearer := o.q != nil && o.to == w.from && (o.q.is(mass) || o.q.is(force)) && !same(o.q, it.q) // "2.1 t, has a 4 t winch"
			return o.from >= it.to && o.to <= w.from && (nearer || m.unheardOf(o) || m.word(o.from) == "with")
		})
	}
	return false
}

// anothers reports whether a figure stands behind something in no list that the
// thing spoken of is on: the wire is on a rattler 4.1 t.
func (m *message) anothers(it *item) bool {
	return slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.to == it.from && o.means == nil && o.q == nil && m.placed(o) })
}

// placed reports whether a word names what a thing is on, in or at.
func (m *message) placed(it *item) bool {
	return slices.Contains([]string{"a", "an", "the", "my", "our", "his", "her", "their"}, m.word(it.from-1)) &&
		slices.Contains([]string{"in", "from", "at", "by", "behind", "under", "near", "on", "of", "off"}, m.word(it.from-2))
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
	if it.q.total {
		return false
	}
	if m.word(it.to) == "dry" || m.leftOut(it) {
		return true
	}
	trailer, behind, whole, in, weights, cargo := false, false, false, false, 0, false
	for _, other := range m.items {
		if other.clause.passage != it.clause.passage || other.silent() {
			continue
		}
		switch {
		case other.has("without") && other.clause == it.clause && m.emptyNow(it):
			other.used = true // it is weighed as it stands
		case other.has("without") && other.clause == it.clause:
			return true
		case other.has("without") && other.clause.sentence == it.clause.sentence && m.word(it.from-1) == "load" && slices.ContainsFunc(other.clause.items, func(o *item) bool { return o.q != nil }):
			return true // "empty 2.1, load 900 kg" is told in parts
		case other.q != nil && other.q.bare() && other.from > it.to && (m.word(other.to) == "each" || m.word(other.to) == "apiece"):
			cargo = true // "1,900 kg + 4 bales 250 each"
		case other.q != nil && other.q.is(mass) && !same(other.q, it.q):
			weights++
			cargo = cargo || m.apiece(other)
		case other.has("whole"):
			whole = true
		case strings.HasPrefix(other.means["vehicle"], "part") && !m.denied(other):
			trailer = true
			in = in || other.to <= it.from
			behind = behind || (m.word(other.to) == "behind" || m.word(other.to-1) == "behind") && !slices.Contains([]string{m.word(other.to), m.word(other.to + 1)}, "it") || m.word(other.from-1) == "another"
		}
	}
	if cargo && !whole || behind && !in && !whole && m.topic.stage() == "load" {
		return true
	}
	return trailer && m.pulls() && (!in && !whole || weights > 0)
}

// leavesOut are words that what comes behind them is not in a weight.
var leavesOut = wordSet("less minus without excluding sans")

// emptyNow reports whether it is said apart from a weight that nothing is on the
// vehicle now: "weighed empty, its empty".
func (m *message) emptyNow(it *item) bool {
	for _, o := range m.items {
		c := o.clause
		if !o.has("without") || m.word(o.from) != "empty" || c == it.clause || o.silent() || c.unsure || c.undone || m.denied(o) ||
			!slices.Contains([]string{"its", "is", "still", "now"}, m.word(o.from-1)) || slices.ContainsFunc(c.items, func(o *item) bool { return o.q != nil }) {
			continue
		}
		o.used = true
		return true
	}
	return false
}

// leftOut reports whether what is said behind a weight leaves something out of
// it: "3 t, thats without the bales", "2.6 t but the trailer is hitched on too",
// "the trailer alone is 1.2 t".
func (m *message) leftOut(it *item) bool {
	whole := slices.ContainsFunc(m.items, func(o *item) bool { return o.has("whole") && o.clause.sentence == it.clause.sentence })
	for _, o := range it.clause.items {
		if strings.HasPrefix(o.means["vehicle"], "part") && slices.Contains([]string{"alone", "itself", "only"}, m.word(o.to)) {
			return true
		}
	}
	for i := it.to; i < it.clause.to && i <= it.to+2; i++ {
		o := m.itemAt(i)
		switch w := m.word(i); {
		case slices.Contains([]string{"minus", "less", "without", "excluding", "sans"}, w):
			return !slices.ContainsFunc(it.clause.items, func(f *item) bool { return f.from > i && f.q != nil && !m.cameOff(f) })
		case o != nil && strings.HasPrefix(o.means["vehicle"], "part"):
			return !whole && m.counted(o) == nil && !slices.ContainsFunc(it.clause.items, func(f *item) bool { return f.from >= o.to && f.q != nil })
		case !slices.Contains([]string{"and", "plus", "the", "a"}, w):
			i = it.clause.to
		}
	}
	for i, c := range m.clauses {
		if i == 0 || m.clauses[i-1] != it.clause || c.sentence != it.clause.sentence || slices.ContainsFunc(c.items, func(o *item) bool { return o.q != nil }) {
			continue
		}
		for _, o := range c.items {
			switch {
			case m.word(o.from) == "without" || o.has("without") && strings.HasPrefix(m.word(c.from), "that"):
				return true
			case strings.HasPrefix(o.means["vehicle"], "part") && turning(m.word(c.from)) && !m.denied(o) && !whole:
				return true
			}
		}
	}
	return false
}

// apiece reports whether a weight is that of one of several: bales at 250 kg
// each lie on something, and its own weight leaves them out.
func (m *message) apiece(it *item) bool {
	by := m.word(it.from - 1)
	multiplied := (by == "x" || by == "at") && m.among(it)
	return !it.q.total && (multiplied || slices.Contains([]string{"each", "apiece"}, m.word(it.to))) && m.within(it, "gear") == nil && m.within(it, "anchor") == nil
}

// among reports whether a count of several stands before a weight.
func (m *message) among(it *item) bool {
	return slices.ContainsFunc(it.clause.items, func(o *item) bool {
		return o.to < it.from && o.q != nil && o.q.bare() && o.q.number > 1
	})
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
		if mt.head != m.puller || mt.it.has("winch") {
			continue
		}
		if m.follows(mt.it.to, it.from) && mt.it.from < it.from || mt.it.from >= it.to && m.joined(it.to, mt.it.from) {
			return false
		}
	}
	return true
}

// byTopic returns what a weight or force without a thing belongs to.
func (m *message) byTopic(it *item, rates bool) *head {
	for _, mt := range m.mentionsIn(it.clause) {
		if mt.head.class != "vehicle" || mt.head.path == "" {
			return nil
		}
	}
	if m.pointElsewhere(it.clause) || slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.has("anchoring") }) {
		return nil // what weighs so much is to be an anchor, whatever it is called
	}
	if m.asked != nil && rates && m.asked.class == "anchor" && slices.Contains([]string{"tree", "stump", "picket", "deadman"}, m.asked.kind) {
		return nil // none of these bears a stamp: it is of something else
	}
	if m.asked != nil {
		return m.asked
	}
	if m.ballasted(it) && m.topic.stage() != "load" {
		if m.named(m.puller) || m.topic.stage() == "puller" {
			return m.puller
		}
		return nil // either may bear them
	}
	if rates && m.topic != TopicPullerRating && m.topic != TopicPullerStamp {
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
	case m.topic == TopicPuller || m.topic == TopicPullerMass || m.topic == TopicPullerKind || m.topic == TopicPullerRating || m.topic == TopicPullerStamp:
		return m.puller
	}
	return nil
}

// ballasted reports whether a weight is told as one with the ballast of a machine on it:
// with front weights 6 t.
func (m *message) ballasted(it *item) bool {
	return ballast(m.tokens[it.clause.from:it.clause.to])
}

// Ballasted reports whether a text tells of the ballast of a machine.
func Ballasted(text string) bool { return ballast(tokenize(text)) }

func ballast(tokens []token) bool {
	for i, t := range tokens {
		if strings.HasPrefix(t.text, "ballast") || i > 0 && t.text == "weights" && lists.has(tokens[i-1].text, "bearsballast") {
			return true
		}
	}
	return false
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

// handbookWords tell that a hitch's figure is its maker's: what the handbook of a machine
// gives for its drawbar is the pull that may be put on it, and no breaking strength. A
// plate may be another's, such as a winch's, and is asked about.
//
// Source: common practice.
var handbookWords = []string{"handbook", "manual"}

// rated writes a rating and, where the words say so, what it means. Of two
// figures on one tag the working one counts.
func (m *message) rated(h *head, field string, it, stamp *item) {
	kind := ""
	if stamp != nil {
		kind = stamp.means["rkind"]
	}
	of := field + "_kind"
	if m.unlabelled(h, field, kind, it, stamp) {
		return
	}
	if old := h.slots[of]; old != nil && kind != "" && kind != old.Value {
		if kind == "breaking" {
			use([]*item{it, stamp})
			m.breaksAt = append(m.breaksAt, it.q.text)
			return
		}
		if broke := h.slots[field]; broke != nil && old.Value == "breaking" && kind == "working" {
			m.breaksAt = append(m.breaksAt, broke.Value)
		}
		delete(h.slots, field)
		delete(h.slots, of)
	}
	if !m.put(h, field, it.q.text, it.q, it) {
		return
	}
	switch {
	case kind != "":
		m.put(h, of, kind, nil, stamp)
	case field == "hitch_rating" && m.topic == TopicHitchRating && h.slots[of] == nil && m.speaks(it.clause.from, it.clause.to, handbookWords):
		m.put(h, of, "working", nil, it)
	}
}

// unlabelled reports whether a figure that is told beside one without a word on what it
// means was seen to: "3.25 t, breaks at 16 t" keeps the 3.25 t, whose meaning is asked,
// and of "16 t, wll 4 t" the working limit counts.
func (m *message) unlabelled(h *head, field, kind string, it, stamp *item) bool {
	was := h.from[field]
	if h.slots[field] == nil || h.slots[field+"_kind"] != nil || was == nil || kind == "" || was.si == 0 {
		return false
	}
	switch {
	case kind == "breaking" && it.q.si > was.si:
		use([]*item{it, stamp})
		m.breaksAt = append(m.breaksAt, it.q.text)
		return true
	case kind == "working" && it.q.si < was.si:
		h.stood[field].used = false
		delete(h.slots, field)
	}
	return false
}

// massFrom writes how the load's weight was found, if the clause says.
func (m *message) massFrom(it *item) {
	for _, from := range it.clause.items {
		kind, how, _ := strings.Cut(from.means["from"], " ")
		if it.q.total && how != "guess" && (it.q.rough || from.from < it.to) {
			from.used = true
			continue // "weighed 1.8 t plus about 300 kg": not all of it
		}
		if from.has("from") && (kind == "mass" || kind == "any") {
			m.put(m.load, "mass_from", how, nil, from)
		}
	}
}
