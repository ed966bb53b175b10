package hear

import (
	"slices"
	"strings"
)

// ends names the places where a line is made fast, those first that can be
// told by themselves.
func (m *message) ends() {
	heights := m.topic == TopicHitch && m.tellsHeights() // hitch and axle name them, beside a figure
	m.eyes()
	for pass := range 3 {
		for _, it := range m.items {
			if pass == 0 && it.has("end") && m.plateOn(it) {
				it.used = true
			}
			if heights && (slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.q != nil }) || m.speaks(it.from, it.to, axleWords)) {
				continue
			}
			if it.has("end") && !it.used && !it.silent() && !m.denied(it) && pass == m.certainty(it) {
				m.end(it)
			}
		}
	}
}

// certainty ranks ends: 0 where only one kind of vehicle has such, 1 where the
// vehicle stands beside it, 2 for the rest.
func (m *message) certainty(it *item) int {
	near := m.nearest(it)
	switch {
	case strings.HasPrefix(it.means["end"], "- "):
		return 0
	case near != nil && near.it.clause == it.clause:
		return 1
	}
	return 2
}

// end makes a head of the place where a line is made fast, on the one vehicle
// or on the other.
func (m *message) end(it *item) {
	if h := m.machinesPoint(it); h != nil {
		m.mentions = append(m.mentions, &mention{h, it})
		it.used = true
		return
	}
	if m.whereEyeIs(it) {
		it.used = true
		return
	}
	on := strings.Fields(it.means["end"])
	onLoad, onPuller := on[0], on[1]
	if len(on) > 2 && on[2] == "stamped" && !m.stampedPoint(it) || m.inAWall(it) {
		m.mentions = append(m.mentions, &mention{newHead("end", ""), it})
		return
	}
	side := m.sideOf(it, onLoad, onPuller)
	if side == "" && (m.topic.towPoint() || m.asksHitchFigure()) {
		// What can be no tow point takes its figures with it, unread.
		m.mentions = append(m.mentions, &mention{newHead("end", ""), it})
	}
	if m.topic == TopicRollover && onPuller == "roll-bar" {
		return // whether it has one is asked, and not where the line goes
	}
	if side == "" || !m.fastens(it) {
		return
	}
	if len(on) > 2 && side == "load.tow_point." && !m.stampedPoint(it) {
		m.mentions = append(m.mentions, &mention{newHead("end", ""), it})
		return
	}
	word := onPuller
	if side == "load.tow_point." {
		word = onLoad
		if m.ofHolding(it) {
			side = "load.holding_point."
		}
	}
	h := newHead("end", side)
	if m.asked != nil && m.asked.path == side {
		h = m.asked
	}
	for _, other := range m.heads {
		if other.class == "end" && other.path == side {
			h = other
		}
	}
	field := "kind"
	if side == "puller." {
		field = "hitch"
	}
	if was := h.slots[field]; was != nil && was.Value != word && m.stateAlone(it) {
		m.mentions = append(m.mentions, &mention{newHead("end", ""), it}) // its state is its own
		it.used = true
		return
	}
	m.put(h, field, word, nil, it)
	m.mark(h, it)
}

// stateAlone reports whether a part is named behind another only to say how it is: "the tow
// eye, the frame is sound too".
func (m *message) stateAlone(it *item) bool {
	at := it.to
	if !slices.Contains([]string{"is", "are", "looks", "seems", "was", "has"}, m.word(at)) {
		return false
	}
	for at++; at < it.clause.to; at++ {
		o := m.itemAt(at)
		if w := m.word(at); !(o != nil && (o.has("cond") || o.has("plain") || o.has("tree"))) && !harmless[w] && !slices.Contains([]string{"also", "too", "as", "well", "all", "still", "a", "bit", "no", "rust", "rusty", "bent", "solid", "sound"}, w) {
			return false
		}
	}
	return true
}

// ofHolding reports whether a point is told as the one of the holding line: the word
// stands nearest to it, with no other point and no pull between.
func (m *message) ofHolding(it *item) bool {
	parts := func(i int) bool {
		o := m.itemAt(i)
		return slices.Contains([]string{"pull", "pulls", "pulling", "haul", "hauling", "tow", "towing"}, m.word(i)) || o != nil && o != it && o.has("end")
	}
	for i := it.from - 1; i >= it.clause.from && !parts(i); i-- {
		if m.word(i) == "holding" || m.word(i) == "holdback" {
			return true
		}
	}
	for i := it.to; i < it.clause.to && !parts(i); i++ {
		if m.word(i) == "holding" || m.word(i) == "holdback" {
			return true
		}
	}
	return false
}

// stampedPoint reports whether a stamp or a figure stands with a point that
// is a rated one only by that.
func (m *message) stampedPoint(it *item) bool {
	says := func(o *item) bool {
		return (o.has("rkind") && o.means["rkind"] != "unmarked" || o.has("rated") || o.q != nil && (o.q.is(mass) || o.q.is(force)) && o.from >= it.to) && !o.silent() && !m.denied(o)
	}
	if i := slices.Index(m.clauses, it.clause); (it.to == it.clause.to || m.whereEyeIs(it.clause.items[len(it.clause.items)-1])) && i+1 < len(m.clauses) && says(m.clauses[i+1].items[0]) {
		return true // "tow hook, stamped 3 t"
	}
	return slices.ContainsFunc(it.clause.items, says)
}

// sideOf decides which vehicle an end belongs to; "" when it can't be told.
func (m *message) sideOf(it *item, onLoad, onPuller string) string {
	const load, puller = "load.tow_point.", "puller."
	asksLoad := m.topic.towPoint()
	near := m.nearest(it)
	switch {
	case onPuller != "-" && m.seatsWinch(it):
		if m.winchPulls() || near != nil && near.head == m.puller {
			return puller
		}
		return ""
	case slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool {
		return mt.head.class == "vehicle" && mt.head.path == "" && m.hasPoint(mt.it)
	}):
		return "" // of a vehicle that is neither
	case onLoad == "-" && m.onStuck(it):
		return "" // the stuck one's drawbar is no hitch of the puller
	case onLoad == "-" && asksLoad && m.known.Hitch == onPuller:
		return puller
	case onLoad == "-" && asksLoad:
		return ""
	case onLoad == "-":
		return puller
	case near != nil && near.it.clause == it.clause && near.head == m.load, asksLoad:
		return load
	case near != nil && near.head == m.load && near.it.clause.sentence == it.clause.sentence && m.hasPoint(near.it) && onPuller == "rated-point":
		return load // "tow point on the van is the front eye, a recovery point"
	case near != nil && near.head == m.puller && near.it.clause.sentence == it.clause.sentence && !m.told(puller) && !m.leadsTo(it) && !m.onLoad(it):
		return puller // "5 t tractor, tow hook"
	case near != nil && near.it.clause == it.clause && m.told(puller), near != nil && near.head == m.puller && m.leadsTo(it):
		return load // from the tractor's drawbar to the tow eye
	case m.asksHitchFigure() && m.known.Hitch != "" && m.known.Hitch != onPuller && !(near != nil && near.it.clause == it.clause):
		return "" // what the hitch is was told, and this is another point
	case near != nil && near.it.clause == it.clause, m.topic == TopicHitch || m.topic == TopicHitchRating || m.topic == TopicHitchStamp:
		return puller
	case onPuller == "rated-point" && m.topic.stage() == "puller":
		// The eye of the one or of the other: what is told already settles it.
		if m.told(puller) {
			return load
		}
		if m.told(load) {
			return puller
		}
		return ""
	case onPuller == "rated-point":
		return load
	case near != nil && near.head == m.puller:
		return puller
	case m.topic.stage() == "puller" && onPuller == "ball" && !m.told(puller) && slices.ContainsFunc(m.mentions, func(mt *mention) bool { return mt.head == m.puller && mt.it.from < it.from }):
		return puller // it is refused on either, and the puller is spoken of
	case near == nil && m.topic.stage() == "puller":
		return ""
	}
	return load
}

// inAWall reports whether a point is told as one of what no vehicle has: "a rated point in
// the barn wall".
func (m *message) inAWall(it *item) bool {
	at := it.to
	if !slices.Contains([]string{"in", "on", "of", "at"}, m.word(at)) {
		return false
	}
	for at++; at < it.clause.to && at <= it.to+4; at++ {
		if lists.has(m.word(at), "walled") {
			return true
		}
	}
	return false
}

// ofStrayPoint reports whether what was named last before an item, in its sentence, is a
// point of which nobody can tell whose it is.
func (m *message) ofStrayPoint(it *item) bool {
	var last *mention
	for _, mt := range m.mentions {
		if mt.it.clause.sentence == it.clause.sentence && mt.it.from < it.from && (last == nil || mt.it.from > last.it.from) {
			last = mt
		}
	}
	return last != nil && last.head.class == "end" && last.head.path == ""
}

// asksHitchFigure reports whether it is asked what the puller's hitch may bear.
func (m *message) asksHitchFigure() bool {
	return m.topic == TopicHitchRating || m.topic == TopicHitchStamp
}

// onLoad reports whether the stuck vehicle is named in the clause of an end.
func (m *message) onLoad(it *item) bool {
	return slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool { return mt.head == m.load })
}

// onStuck reports whether an end is said to be on the stuck vehicle, with no other end
// between: "on the stuck one the rear drawbar pin".
func (m *message) onStuck(it *item) bool {
	named := func(from, to int) bool {
		at := from - 1
		for ; slices.Contains([]string{"the", "its", "my", "our", "his", "her", "their", "stuck"}, m.word(at)); at-- {
		}
		between := func(o *item) bool {
			return o != it && o.has("end") && o.from >= min(it.to, to) && o.to <= max(it.from, from)
		}
		return slices.Contains([]string{"on", "of", "at"}, m.word(at)) && !slices.ContainsFunc(it.clause.items, between)
	}
	for i := it.clause.from; i+1 < it.clause.to; i++ {
		if m.word(i) == "stuck" && (i >= it.to || i < it.from) && m.word(i-1) == "the" && named(i, i+2) {
			return true
		}
	}
	return slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool { return mt.head == m.load && named(mt.it.from, mt.it.to) })
}

// leadsTo reports whether a line is said to go to an end, and so away from
// the vehicle spoken of.
func (m *message) leadsTo(it *item) bool {
	to := it.from - 1
	if m.word(to) == "the" {
		to--
	}
	return m.word(to) == "to" && !(m.asksOfWinch() && lists.has(m.word(to-1), "seats")) // a winch is bolted to it
}

// nearest returns the load or the puller as named nearest to it in its clause,
// or else last before it in its passage.
func (m *message) nearest(it *item) *mention {
	var same, before *mention
	for _, mt := range m.mentions {
		if mt.head != m.load && mt.head != m.puller {
			continue
		}
		gap := func(o *mention) int { return max(o.it.from-it.to, it.from-o.it.to) }
		switch {
		case mt.it.clause == it.clause:
			if same == nil || gap(mt) < gap(same) {
				same = mt
			}
		case mt.it.clause.passage == it.clause.passage && mt.it.from < it.from && (before == nil || mt.it.from > before.it.from):
			before = mt
		}
	}
	if same != nil {
		return same
	}
	return before
}

// told reports whether an end on a vehicle was named.
func (m *message) told(path string) bool {
	return slices.ContainsFunc(m.heads, func(h *head) bool { return h.class == "end" && h.path == path && len(h.slots) > 0 })
}

// worksWith are parts that a machine works with, and a place for a line where it is on them.
var worksWith = wordSet("bucket forks blade")

// fastens reports whether an end is spoken of as the place where a line goes,
// and not merely as a part of the vehicle.
func (m *message) fastens(it *item) bool {
	if worksWith[m.word(it.from)] && m.topic != TopicHitch {
		i := it.from - 1
		for ; slices.Contains([]string{"the", "its", "his", "her", "their"}, m.word(i)); i-- {
		}
		return slices.Contains([]string{"on", "to", "round", "around", "onto", "off", "from"}, m.word(i))
	}
	if m.topic.towPoint() || m.topic == TopicHitch || m.topic == TopicHitchRating || m.topic == TopicHitchStamp || m.topic == TopicPuller {
		return true
	}
	if strings.HasPrefix(it.means["end"], "rated-eye") || strings.HasPrefix(it.means["end"], "-") || strings.HasPrefix(it.means["end"], "hitch-ball") {
		return true
	}
	for i := it.from - 3; i < it.from; i++ {
		if i >= it.clause.from && slices.Contains([]string{"to", "round", "around", "off", "from", "on", "via", "hook", "hooked", "tied", "chained", "using", "onto"}, m.word(i)) {
			return true
		}
	}
	return slices.Contains([]string{"round", "around"}, m.word(it.from)) || it.from == it.clause.from && it.to == it.clause.to
}

// machinesPoint returns the machine told as an anchor whose point is spoken of, as in
// "digger as anchor, rated point 6 t"; nil where the point may be of load or puller.
func (m *message) machinesPoint(it *item) *head {
	var before *mention
	for _, mt := range m.mentions {
		switch {
		case mt.it.clause.sentence != it.clause.sentence:
		case mt.head == m.load || mt.head == m.puller || mt.head.class == "vehicle":
			return nil
		case mt.it.to <= it.from && (before == nil || mt.it.from > before.it.from):
			before = mt
		}
	}
	if before == nil || before.head.class != "anchor" || before.head.kind != "vehicle" {
		return nil
	}
	return before.head
}

// ofPoint reports whether a figure stands behind a point to make fast to, and is what that
// may bear.
func (m *message) ofPoint(it *item) bool {
	for _, o := range it.clause.items {
		if o.has("end") && o.to <= it.from && !slices.ContainsFunc(it.clause.items, func(p *item) bool { return p.q != nil && p.from >= o.to && p.from < it.from }) {
			return true
		}
	}
	return false
}
