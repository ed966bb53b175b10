package hear

import (
	"slices"
	"strings"
)

// head is a thing that facts are about.
type head struct {
	class string // "vehicle", "gear", "anchor", "end"
	path  string // where its facts go: "load.", "puller.", "gear[0]."; new pieces get theirs last
	kind  string
	more  map[string]string // what the name itself tells
	count int
	fresh bool // said to be another piece
	adds  bool // in words that add
	slots map[string]*Fact
	from  map[string]*quantity // the figures in the slots
	bad   map[string]bool      // told in two ways
	where map[string]*clause   // and where it stood
}

func newHead(class, path string) *head {
	return &head{class: class, path: path, more: map[string]string{}, slots: map[string]*Fact{},
		from: map[string]*quantity{}, bad: map[string]bool{}, where: map[string]*clause{}}
}

func (h *head) open(field string) bool { return h.slots[field] == nil && !h.bad[field] }

// mention is a place where the message names a head.
type mention struct {
	head *head
	it   *item
}

// mark names a head at an item.
func (m *message) mark(h *head, it *item) {
	it.used = true
	m.mentions = append(m.mentions, &mention{h, it})
	if !slices.Contains(m.heads, h) {
		m.heads = append(m.heads, h)
	}
}

// name finds the things that the message speaks of.
func (m *message) name() {
	m.load, m.puller = newHead("vehicle", "load."), newHead("vehicle", "puller.")
	m.job = newHead("job", "")
	m.asked = m.ofTopic()
	m.cast()
	for _, c := range m.clauses {
		for _, it := range c.items {
			switch {
			case it.silent() || m.denied(it):
			case it.has("gear") && !(it.has("hazard") && m.topic == TopicPeople):
				m.gear(it)
			case it.has("wire") && m.topic != TopicPeople:
				m.mark(m.piece("rope", "material=wire"), it)
			case it.has("anchor") && m.marked(it):
			case it.has("anchor") && m.tiesBack(it):
				it.used = true
			case it.has("anchor") && !(it.has("soil") && m.near(c, "anchor", it)):
				m.anchor(it)
			}
		}
		m.implied(c)
	}
	m.ends()
	slices.SortStableFunc(m.mentions, func(a, b *mention) int { return a.it.from - b.it.from })
}

// ofTopic returns what a short answer is about if it is neither vehicle.
func (m *message) ofTopic() *head {
	if item, _, ok := m.topic.piece(); ok {
		class, _, _ := strings.Cut(item, "[")
		return newHead(strings.TrimSuffix(class, "s"), item+".")
	}
	switch m.topic {
	case TopicRope, TopicBlock, TopicShackle, TopicSling:
		return m.piece(string(m.topic), "")
	case TopicTowPoint, TopicTowRating, TopicTowKind, TopicTowCondition:
		return newHead("end", "load.tow_point.")
	case TopicHitch, TopicHitchRating:
		return newHead("end", "puller.")
	}
	return nil
}

func (m *message) piece(kind, more string) *head {
	h := newHead("gear", "")
	h.kind = kind
	h.tell(more)
	return h
}

// tell notes what a name tells besides the kind: "use=anchor".
func (h *head) tell(more string) {
	for _, kv := range strings.Fields(more) {
		if k, v, ok := strings.Cut(kv, "="); ok {
			h.more[k] = v
		}
	}
}

// near reports whether another item of class stands in the clause or before
// it in its passage.
func (m *message) near(c *clause, class string, not *item) bool {
	for _, it := range m.items {
		if it != not && it.has(class) && !it.has("soil") && it.clause.passage == c.passage && it.clause.to <= c.to {
			return true
		}
	}
	return false
}

// counted returns the number that stands before an item, with nothing but
// what describes it between.
func (m *message) counted(it *item) *item {
	unknown := 0
	for i := len(it.clause.items) - 1; i >= 0; i-- {
		prev := it.clause.items[i]
		switch {
		case prev.from >= it.from:
		case prev.q != nil && prev.q.bare():
			if _, ok := prev.q.count(); ok && prev.q.number > 0 {
				return prev
			}
			return nil
		case prev.q != nil, prev.has("material"), prev.has("cond"), describes(m.word(prev.from)):
		case prev.means == nil && unknown == 0 && m.tokens[prev.from].mark == unbroken:
			unknown++ // an adjective that is in no list: "4 bow shackles"
		default:
			return nil
		}
	}
	return nil
}

// countAfter returns the number that stands behind a name of several, by itself:
// "blocks 2, WLL 3 t each", "slings two off".
func (m *message) countAfter(it *item) *item {
	if !strings.HasSuffix(it.name, "s") {
		return nil
	}
	for _, next := range it.clause.items {
		if next.from != it.to || next.q == nil || !next.q.bare() {
			continue
		}
		if n, ok := next.q.count(); ok && n != "0" && (next.to == it.clause.to && m.hasWord("each") || m.word(next.to) == "off") {
			return next
		}
	}
	return nil
}

// describes reports whether a word between a figure and its noun is an adjective.
func describes(word string) bool {
	return slices.Contains([]string{"big", "small", "little", "old", "new", "good", "spare", "x", "of", "rated", "electric",
		"dry", "long", "heavy", "steel", "our", "the", "live", "dead"}, word)
}

func (m *message) gear(it *item) {
	kind, more, _ := strings.Cut(it.means["gear"], " ")
	h := m.piece(kind, more)
	if strings.Contains(more, "improvised") {
		h.more["name"] = m.said(it)
	}
	n := m.counted(it)
	if n == nil {
		n = m.countAfter(it)
	}
	if n != nil {
		n.used = true
		if !m.onlySo(n) {
			h.count = int(n.q.number)
			h.fresh = true
		}
	}
	h.fresh, h.adds = h.fresh || m.another(it), m.adds(it)
	if m.asked != nil && m.asked.class == "gear" && (m.asked.kind == kind || m.asked.path != "") && h.count == 0 && more == "" && !slices.Contains(m.heads, m.asked) {
		h = m.asked
	}
	m.mark(h, it)
}

// another reports whether the words say that a thing was not named before.
func (m *message) another(it *item) bool {
	return slices.Contains([]string{"a", "an", "another", "second", "and", "other"}, m.word(it.from-1))
}

// onlySo reports whether a count says that there are no more: only one.
func (m *message) onlySo(count *item) bool {
	return slices.Contains([]string{"only", "just"}, m.word(count.from-1))
}

// addsOne are the words that say of a piece that it is one more.
var addsOne = wordSet("another second 2nd third 3rd fourth 4th 5th extra spare additional also plus add adds added bring brings bringing brought fetch fetched " +
	"borrow borrowed lent lends")

// adds reports whether the words about a piece say that it is one more.
func (m *message) adds(it *item) bool {
	for i := it.clause.from; i < it.from; i++ {
		if addsOne[m.word(i)] || m.word(i) == "more" && m.word(i+1) != "like" && m.word(i+1) != "than" {
			return true
		}
	}
	last, before := m.word(it.clause.to-1), m.word(it.clause.to-2)
	return last == "too" || last == "also" || last == "well" && before == "as"
}

// tiesBack reports whether an item is what an anchor is tied back to, which
// is a part of that anchor and none by itself.
func (m *message) tiesBack(it *item) bool {
	for i := it.from - 1; i > it.clause.from; i-- {
		switch w := m.word(i); {
		case w == "to" && m.word(i-1) == "back":
			return true
		case !slices.Contains([]string{"a", "an", "another", "second", "2nd", "the", "other", "next", "one", "behind", "it"}, w):
			return false
		}
	}
	return false
}

// marked reports whether an item names a head already.
func (m *message) marked(it *item) bool {
	return slices.ContainsFunc(m.mentions, func(mt *mention) bool { return mt.it == it })
}

func (m *message) anchor(it *item) {
	kind, more, _ := strings.Cut(it.means["anchor"], " ")
	h := newHead("anchor", "")
	h.kind = kind
	if more == "name" {
		h.more["name"] = m.said(it)
	}
	stump := m.stump(it)
	if stump != nil {
		// A spruce stump is one thing, and not a spruce.
		h.kind, h.more["name"] = "stump", m.said(it)+" "+m.said(stump)
	}
	if n := m.counted(it); n != nil {
		n.used = true
		if kind != "picket" && !m.onlySo(n) { // stakes count by their pattern
			h.count = int(n.q.number)
		}
	}
	h.fresh, h.adds = h.count > 0 || m.another(it), m.adds(it)
	if m.asked != nil && m.asked.class == "anchor" && h.count == 0 && !slices.Contains(m.heads, m.asked) {
		h = m.asked
	}
	m.mark(h, it)
	if stump != nil {
		m.mark(h, stump)
	}
}

// stump returns the stump that the name of a tree tells the wood of.
func (m *message) stump(tree *item) *item {
	for _, it := range tree.clause.items {
		if tree.has("anchor") && strings.HasPrefix(tree.means["anchor"], "tree") && it.from == tree.to && it.means["anchor"] == "stump" {
			return it
		}
	}
	return nil
}

// implied makes a rope of a clause that tells a rope's material and names no
// gear: "24 mm polyester 60 m".
func (m *message) implied(c *clause) {
	for _, mt := range m.mentions {
		if mt.it.clause == c && mt.head.class == "gear" {
			return
		}
	}
	for _, it := range c.items {
		if !it.has("material") || it.has("gear") || it.silent() || m.denied(it) {
			continue
		}
		// A clause that only adds the material goes on about the piece before.
		for i := len(m.mentions) - 1; i >= 0; i-- {
			if mt := m.mentions[i]; mt.head.class == "gear" && mt.it.clause.passage == c.passage && len(c.items) == 1 {
				return
			}
		}
		h := m.piece("rope", "")
		if m.asked != nil && m.asked.class == "gear" && m.topic.field() != "sling_angle" && !slices.Contains(m.heads, m.asked) {
			h = m.asked
		}
		m.mark(h, it)
		return
	}
}

// ends names the places where a line is made fast, those first that can be
// told by themselves.
func (m *message) ends() {
	if m.topic == TopicHitch && m.tellsHeights() {
		return // hitch and axle name the heights
	}
	for pass := range 3 {
		for _, it := range m.items {
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
	onLoad, onPuller, _ := strings.Cut(it.means["end"], " ")
	side := m.sideOf(it, onLoad, onPuller)
	if side == "" || !m.fastens(it) {
		return
	}
	word := onPuller
	if side == "load.tow_point." {
		word = onLoad
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
	m.put(h, field, word, nil, it)
	m.mark(h, it)
}

// sideOf decides which vehicle an end belongs to; "" when it can't be told.
func (m *message) sideOf(it *item, onLoad, onPuller string) string {
	const load, puller = "load.tow_point.", "puller."
	asksLoad := m.topic.towPoint()
	near := m.nearest(it)
	switch {
	case onLoad == "-" && asksLoad:
		return ""
	case onLoad == "-":
		return puller
	case near != nil && near.it.clause == it.clause && near.head == m.load, asksLoad:
		return load
	case near != nil && near.head == m.puller && near.it.clause.sentence == it.clause.sentence && !m.told(puller) && !m.leadsTo(it) && !m.onLoad(it):
		return puller // "5 t tractor, tow hook"
	case near != nil && near.it.clause == it.clause && m.told(puller), near != nil && near.head == m.puller && m.leadsTo(it):
		return load // from the tractor's drawbar to the tow eye
	case near != nil && near.it.clause == it.clause, m.topic == TopicHitch || m.topic == TopicHitchRating:
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
	case near == nil && m.topic.stage() == "puller":
		return ""
	}
	return load
}

// onLoad reports whether the stuck vehicle is named in the clause of an end.
func (m *message) onLoad(it *item) bool {
	return slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool { return mt.head == m.load })
}

// leadsTo reports whether a line is said to go to an end, and so away from
// the vehicle spoken of.
func (m *message) leadsTo(it *item) bool {
	return m.word(it.from-1) == "to" || m.word(it.from-1) == "the" && m.word(it.from-2) == "to"
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

// fastens reports whether an end is spoken of as the place where a line goes,
// and not merely as a part of the vehicle.
func (m *message) fastens(it *item) bool {
	if m.topic.towPoint() || m.topic == TopicHitch || m.topic == TopicHitchRating || m.topic == TopicPuller {
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
