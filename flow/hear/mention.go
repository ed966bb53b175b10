package hear

import (
	"slices"
	"strings"
)

// head is a thing that facts are about.
type head struct {
	class  string // "vehicle", "gear", "anchor", "end"
	path   string // where its facts go: "load.", "puller.", "gear[0]."; new pieces get theirs last
	kind   string
	more   map[string]string // what the name itself tells
	count  int
	fresh  bool   // said to be another piece
	adds   bool   // in words that add
	had    bool   // in words of having it there
	same   bool   // said to be the one that was told already
	other  bool   // than the one spoken of, in its place
	only   bool   // said to be so many and no more
	every  bool   // every one of the kind
	part   string // the place of those on the list that it is one of
	left   *head  // those of the same kind that it was told apart from, as all the others
	none   bool   // all of them were told apart
	whole  *head  // those that it was told beside, or as some of
	parted bool   // some of them were told apart
	slots  map[string]*Fact
	from   map[string]*quantity // the figures in the slots
	bad    map[string]bool      // told in two ways
	where  map[string]*clause   // and where it stood
	stood  map[string]*item     // likewise, the words
	row    *series              // a figure for each of them
	all    *head                // one of those of all of which it is told
}

func newHead(class, path string) *head {
	return &head{class: class, path: path, more: map[string]string{}, slots: map[string]*Fact{},
		from: map[string]*quantity{}, bad: map[string]bool{}, where: map[string]*clause{}, stood: map[string]*item{}}
}

func (h *head) open(field string) bool { return h.slots[field] == nil && !h.bad[field] }

// likeOf tells of a thing what was told of another in a field, where nothing was told of
// that yet.
func (h *head) likeOf(o *head, field string) {
	if f := o.slots[field]; f != nil && h.open(field) {
		own := *f
		h.slots[field], h.from[field], h.where[field], h.stood[field] = &own, o.from[field], o.where[field], o.stood[field]
	}
}

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
	m.axleShare()
	m.asked = m.ofTopic()
	m.answeredFirst()
	m.ropesApart()
	m.cast()
	m.driven()
	for _, c := range m.clauses {
		for _, it := range c.items {
			switch {
			case it.silent() || m.denied(it) || m.madeFor(it):
			case it.has("gear") && !(it.has("hazard") && m.topic == TopicPeople):
				m.gear(it)
			case it.has("wire") && m.topic != TopicPeople:
				if h := m.ofRope(it); h != nil {
					h.tell("material=wire")
					m.mark(h, it)
				} else {
					m.mark(m.piece("rope", "material=wire"), it)
				}
			case it.has("anchor") && m.marked(it):
			case it.has("anchor") && m.tiesBack(it):
				it.used = true
				m.sizeOfTie(it)
			case it.has("anchor") && !(it.has("soil") && m.near(c, "anchor", it)):
				m.anchor(it)
			}
		}
		m.implied(c)
	}
	slices.SortStableFunc(m.mentions, func(a, b *mention) int { return a.it.from - b.it.from })
	m.inRows()
	m.besides()
	m.ropesBeside()
	m.split()
	m.ends()
	slices.SortStableFunc(m.mentions, func(a, b *mention) int { return a.it.from - b.it.from })
}

// ofTopic returns what a short answer is about if it is neither vehicle.
func (m *message) ofTopic() *head {
	if item, _, ok := m.topic.piece(); ok {
		class, _, _ := strings.Cut(item, "[")
		h := newHead(strings.TrimSuffix(class, "s"), item+".")
		h.kind = m.known.at(item).Kind
		return h
	}
	switch m.topic {
	case TopicRope, TopicBlock, TopicShackle, TopicSling:
		return m.piece(string(m.topic), "")
	case TopicTowPoint, TopicTowRating, TopicTowKind, TopicTowCondition:
		return newHead("end", "load.tow_point.")
	case TopicHitch, TopicHitchRating, TopicHitchStamp:
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

func (m *message) gear(it *item) {
	kind, more, _ := strings.Cut(it.means["gear"], " ")
	if strings.HasPrefix(m.word(it.from), "bolt") && m.anyIn(it.clause, "comesoff") && !slices.ContainsFunc(it.clause.items, func(o *item) bool { return o != it && o.has("gear") }) {
		return // a bolt that is missing joins nothing
	}
	if m.ofAnchor(it) || strings.Contains(more, "improvised") && m.liesAbout(it) {
		it.used = true
		return
	}
	if m.ofTie(it) {
		m.mentions = append(m.mentions, &mention{newHead("gear", ""), it}) // its figures are its own
		it.used = true
		return
	}
	if h := m.byNumber(it, kind); h != nil {
		m.mark(h, it)
		return
	}
	if h := m.byOrdinal(it, kind); h != nil {
		m.mark(h, it)
		return
	}
	if of := m.usedAs(it, kind, more); of != nil {
		of.tell(more)
		m.mark(of, it)
		return
	}
	if of := m.servesAs(it); of != nil {
		m.mark(of, it)
		return
	}
	h := m.piece(kind, more)
	if fibre := m.fibre(it.clause); fibre != nil && more == "material=wire" && m.word(it.from) == "winch" {
		delete(h.more, "material") // what it is made of is asked
		fibre.used = true
	}
	if strings.Contains(more, "improvised") {
		h.more["name"] = m.said(it)
	}
	n := m.counted(it)
	if n == nil {
		if n = m.countAfter(it); n == nil {
			n = m.timesAfter(it)
		}
	}
	if n != nil {
		n.used = true
		h.count = int(n.q.number)
		h.fresh, h.only = !m.onlySo(n), m.onlySo(n)
	}
	h.fresh, h.adds, h.same, h.other, h.every = h.fresh || m.another(it), m.adds(it), m.sameOne(it), m.otherOne(it), m.everyOne(it)
	if h.had = m.hadThere(it, h.adds); h.had && m.liesIn(it) != nil {
		m.itemAt(it.to).used, m.liesIn(it).used = true, true
	}
	called := m.lettered(it, kind)
	if m.asked != nil && m.asked.class == "gear" && m.isPiece(kind, called) && h.count == 0 && more == "" && !slices.Contains(m.heads, m.asked) && !m.otherThanAsked(it) {
		h = m.asked
	}
	if called != "" {
		h.more["name"] = called
	}
	m.mark(h, it)
}

// fibre returns the word by which what is called a cable is told to be a fibre rope.
func (m *message) fibre(c *clause) *item {
	for i := c.from; i < c.to; i++ {
		if lists.has(m.word(i), "nowire") {
			return m.itemAt(i)
		}
	}
	return nil
}

// ofAnchor reports whether a line is named only as the one that an anchor is
// of: "the oak of the holding line is 40 cm".
func (m *message) ofAnchor(it *item) bool {
	of := it.from - 1
	if m.word(of) == "the" {
		of--
	}
	return m.word(of) == "of" && slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.has("anchor") && o.to == of })
}

// ofTie reports whether gear is named only as what an anchor is tied back with, which is a
// part of that anchor and no piece of the haul: "tied back to the ash with a chain".
func (m *message) ofTie(it *item) bool {
	tie := slices.IndexFunc(it.clause.items, func(o *item) bool { return o.means["tree"] == "tied_back=true" && o.to <= it.from })
	if tie < 0 {
		return false
	}
	for i := it.from - 1; i >= it.clause.items[tie].to; i-- {
		switch o := m.itemAt(i); {
		case lists.has(m.word(i), "tiedwith"):
			return true
		case lists.has(m.word(i), "article"), o.q != nil, o.has("material"), describes(m.word(i)), harmless[m.word(i)]:
		default:
			return false
		}
	}
	return false
}

// ties reports whether what is mentioned only ties an anchor back: a thing of which no more
// is kept, and that takes no word from what is asked.
func (mt *mention) ties() bool { return mt.head.class == "gear" && mt.head.kind == "" }

// liesAbout reports whether a makeshift thing is named only as what lies in the place:
// fence wire in the hedge is in no rig.
func (m *message) liesAbout(it *item) bool {
	at := it.to
	for slices.Contains([]string{"lying", "lies", "just", "old", "in", "along", "on", "by", "the", "a"}, m.word(at)) {
		at++
	}
	return at > it.to && slices.Contains([]string{"hedge", "ditch", "field", "grass", "ground", "verge", "bank", "fence", "mud", "bushes", "brambles"}, m.word(at))
}

// tiesBack reports whether an item is what an anchor is tied back to, which
// is a part of that anchor and none by itself.
func (m *message) tiesBack(it *item) bool {
	for i := it.from - 1; i > it.clause.from; i-- {
		switch w := m.word(i); {
		case w == "to" && (m.word(i-1) == "back" || m.tieBefore(it.clause, i)):
			return true
		case !slices.Contains([]string{"a", "an", "another", "second", "2nd", "the", "other", "next", "one", "behind", "it"}, w):
			return false
		}
	}
	return false
}

// tieBefore reports whether the words before one tell that an anchor is tied back, and behind
// that nothing but what with: "tied back with a chain to a birch".
func (m *message) tieBefore(c *clause, at int) bool {
	tie := slices.IndexFunc(c.items, func(o *item) bool { return o.means["tree"] == "tied_back=true" && o.to <= at })
	return tie >= 0 && !slices.ContainsFunc(c.items[tie+1:], func(o *item) bool {
		return o.from < at && (o.has("end") || o.has("vehicle") || o.has("anchor"))
	})
}

// sizeOfTie leaves out how thick or how far off that is: "tied back to an oak 60 cm behind
// it" makes the tree in front no thicker.
func (m *message) sizeOfTie(tie *item) {
	for _, it := range tie.clause.items[slices.Index(tie.clause.items, tie)+1:] {
		if it.has("anchor") || it.has("gear") {
			return
		}
		if it.q != nil && it.q.is(length) {
			it.used, it.q = true, nil
		}
	}
}

// marked reports whether an item names a head already.
func (m *message) marked(it *item) bool {
	return slices.ContainsFunc(m.mentions, func(mt *mention) bool { return mt.it == it })
}

func (m *message) anchor(it *item) {
	kind, more, _ := strings.Cut(it.means["anchor"], " ")
	if m.topic.stage() == "load" && m.hits(it) {
		it.used = m.topic == TopicBelly
		return // the rock that it hangs on holds no rope
	}
	at, number := m.numberOf(it)
	if number != nil && at == "" {
		return // "oak 2" where there is one: nobody knows which that is
	}
	h := newHead("anchor", "")
	h.kind = kind
	if number != nil {
		number.used, number.q = true, nil
		it.clause.one = false
		h.path = at + "."
		if m.asked != nil && m.asked.path == h.path {
			h = m.asked
		}
		m.mark(h, it)
		return
	}
	if more == "name" {
		h.more["name"] = one(m.said(it))
	}
	stump := m.stump(it)
	if stump != nil {
		// A spruce stump is one thing, and not a spruce.
		h.kind, h.more["name"] = "stump", m.said(it)+" "+m.said(stump)
	}
	if n := m.counted(it); n != nil && n.q.number >= 10 && !strings.HasSuffix(it.name, "s") {
		n.used = true // "the 45 oak": how thick it is, in nobody knows what
	} else if n != nil {
		n.used = true
		if kind != "picket" && !m.onlySo(n) { // stakes count by their pattern
			h.count = int(n.q.number)
		}
	}
	h.only = m.onlyThat(it)
	h.fresh, h.adds, h.same, h.every = h.count > 0 || m.another(it), m.adds(it), m.sameOne(it), m.everyOne(it)
	if m.asked != nil && m.asked.class == "anchor" && m.isPiece(h.kind, h.more["name"]) && h.count == 0 && !slices.Contains(m.heads, m.asked) && !m.otherThanAsked(it) {
		h = m.asked
	}
	m.mark(h, it)
	if stump != nil {
		m.mark(h, stump)
	}
}

// hits reports whether a thing is named as what the stuck vehicle sits on or
// has run into.
func (m *message) hits(it *item) bool {
	return slices.Contains([]string{"a", "the", "some"}, m.word(it.from-1)) &&
		slices.Contains([]string{"on", "against", "over", "into", "onto", "hit", "hitting", "jammed"}, m.word(it.from-2))
}

// one returns the name of one of several: oaks are each an oak, and beeches a beech.
func one(name string) string {
	for _, many := range []string{"s", "es"} {
		if single, ok := strings.CutSuffix(name, many); ok && talk.is(strings.ToLower(single), "anchor") {
			return single
		}
	}
	return name
}

// numberOf returns the number by which an anchor of the list is named, "oak 2",
// and where that anchor is, if one goes by it.
func (m *message) numberOf(it *item) (at string, number *item) {
	for _, o := range it.clause.items {
		if o.from == it.to && o.q != nil && o.q.bare() && len(m.word(o.from)) == 1 {
			number = o
		}
	}
	var like []Piece
	for _, p := range m.known.Pieces {
		if strings.HasPrefix(p.At, "anchors") && p.Name != "" && sameName(p.Name, it.name) {
			like = append(like, p)
		}
	}
	if number == nil || len(like) == 0 || m.tokens[it.to-1].mark != unbroken || slices.Contains([]string{"of", "x", "off", "each", "more"}, m.word(number.to)) {
		return "", nil
	}
	if len(like) == 1 && m.word(number.from) == "1" {
		return like[0].At, number
	}
	for _, p := range like {
		if strings.HasSuffix(p.Label, " "+m.word(number.from)) {
			at = p.At
		}
	}
	return at, number
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
		if h := m.addsToRope(c); h != nil {
			m.mark(h, it)
			return
		}
		h := m.piece("rope", "")
		if m.asked != nil && m.asked.class == "gear" && !m.asksAngle() && !slices.Contains(m.heads, m.asked) {
			h = m.asked
		}
		m.mark(h, it)
		return
	}
}
