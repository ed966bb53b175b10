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

// Words by which a weight came off something.
var (
	offWords = wordSet("unloaded offloaded removed gone")
	wasWords = wordSet("came come comes went was were is are has have been got taken lifted now already")
	tookOff  = wordSet("unloaded offloaded removed unload offload")
	offIt    = wordSet("it her him already now so then and back bed deck load truck lorry trailer wagon van vehicle pickup")
)

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
