package hear

import (
	"slices"
	"strings"

	"linetender/calc/job"
)

// farEnough is the length in metres beyond which a hazard may be out of the
// way: three times the distance at which work near a line is planned. What is
// said to be further off is asked about and counts neither way.
const farEnough = 30

// hazards reads what is in the way of starting at all.
func (m *message) hazards() {
	var found []string
	open := false // something was said of a hazard that is neither yes nor no
	yes := func(it *item, h string) {
		it.used = true
		if !slices.Contains(found, h) {
			found = append(found, h)
		}
	}
	no := func(it *item, h string) {
		it.used = true
		if h != "" && !slices.Contains(m.cleared, h) {
			m.cleared = append(m.cleared, h)
		}
	}
	var said []string
	stock := m.livestock()
	for _, it := range m.noStock() {
		no(it, "surge")
		for _, o := range it.clause.items { // and where they are not
			o.used = o.used || o.has("vehicle") && !o.has("hazard") ||
				!slices.ContainsFunc(m.tokens[o.from:o.to], func(t token) bool { return !whereNot[t.text] })
		}
	}
	for _, it := range m.items {
		if stock[it.clause] == it {
			yes(it, "surge")
			said = append(said, m.said(it))
		}
		if it.has("harmless") && it.has("tree") && (m.topic.anchoring() || m.standsOfAnchor(it)) {
			continue // an upright tree
		}
		if it.has("harmless") {
			if h := it.means["harmless"]; h == "surge" && m.someOf(it) {
				yes(it, h)
				said = append(said, m.said(it))
			} else if slices.Contains(job.HazardKinds, h) {
				no(it, h)
			} else if h == "people" {
				it.used, m.unhurt = true, m.unhurt || !it.silent() && !it.clause.unsure
			}
			continue
		}
		if !it.has("hazard") || it.used {
			continue
		}
		kind, how, _ := strings.Cut(it.means["hazard"], " ")
		if how == "asked" && m.topic != TopicPeople || how == "someone" && (m.topic != TopicPeople || m.ofThing(it)) && !m.someone(it) {
			continue
		}
		if how == "someone" && m.topic == TopicPeople && m.cargo(it) {
			m.onlyCargo(it)
			continue
		}
		if how == "someone" && (m.inAPiece(it) || m.cargo(it) || m.keptThere(it) || m.havesThere(it) || m.leftThere(it) || m.ownSeat(it) || m.onlyStock(it, stock)) || kind == "fuel" && m.said(it) == "smoking" && m.someone(it) {
			continue
		}
		if kind == "traffic" && m.topic != TopicPeople && m.standsThere(it) {
			continue
		}
		if kind == "traffic" && m.topic != TopicPeople && m.anchorOver(it) {
			it.used, m.overRoad = true, true
			continue
		}
		if kind == "edge" && m.topic != TopicPeople && slices.Contains([]string{"cut", "cuts", "frayed", "nicked", "nick", "nicks", "worn", "chafed", "torn", "damaged", "scuffed"}, m.word(it.from-1)) {
			continue // cut on the edge
		}
		if kind == "broken" && m.offItsWay(it) || kind == "surge" && lists.has(m.word(it.to), "bagged") {
			continue
		}
		if kind == "surge" && m.forStock(it) {
			if m.emptied() {
				no(it, kind)
				continue
			}
			if m.topic != TopicPeople {
				continue // what it is built for, and nobody says what is in it
			}
		}
		if kind == "people-inside" && m.pinnedThing(it) || kind == "overhead-line" && m.strands(it) {
			continue
		}
		claim := m.claims(it)
		if kind == "edge" && how == "asked" && claim == 1 && m.mereEdge(it) {
			claim = 0
		}
		if kind == "hazmat" && claim == 1 && m.cooksWith(it) {
			claim, m.gasBottle = 0, true
		}
		if claim == 1 && m.takenOut(it) {
			claim, m.gasBottle = 0, m.gasBottle || m.bottle(it)
			it.used = it.used || m.topic != TopicPeople
		}
		if kind == "water" && (m.notOverHubs(it) || claim == 1 && m.belowHubs(it)) {
			claim = -1
		}
		if kind == "water" && claim == -1 && m.waterMayCome(it) {
			claim = 0
		}
		if kind == "water" && how == "asked" && claim == 1 {
			claim = m.besideWater(it)
		}
		switch claim {
		case 1:
			yes(it, kind)
			said = append(said, m.said(it))
			for _, near := range it.clause.items { // how near it is
				if near.q != nil && (near.q.is(length) || near.to == it.from) {
					near.used = true
				}
			}
		case -1:
			switch {
			case how == "people" || kind == "people-inside" && how != "someone" && !strings.Contains(m.said(it), "in"):
				it.used, m.unhurt = true, m.unhurt || how == "people"
			default:
				no(it, kind)
			}
		default:
			open = true
		}
	}
	m.pondsDenied(found)
	if m.closed() {
		found = slices.DeleteFunc(found, func(h string) bool { return h == "traffic" })
	}
	m.cleared = slices.DeleteFunc(m.cleared, func(h string) bool { return slices.Contains(found, h) })
	byKind := func(a, b string) int { return slices.Index(job.HazardKinds, a) - slices.Index(job.HazardKinds, b) }
	slices.SortFunc(m.cleared, byKind)
	if len(found) > 0 {
		slices.SortFunc(found, byKind)
		m.gasBottle = false
		m.facts = append(m.facts, Fact{Field: "hazards", Value: strings.Join(found, ", "), Said: strings.Join(said, ", ")})
		return
	}
	if it := m.blanket(); it != nil && !open {
		m.none(it)
	}
	m.open, m.gasBottle = open, m.gasBottle && open
}

// someOf reports whether a thing is said of some of several: a few of the sheep got out.
func (m *message) someOf(it *item) bool {
	at := it.from - 1
	for slices.Contains([]string{"the", "of", "our", "my", "his", "her", "their", "them"}, m.word(at)) {
		at--
	}
	o := m.itemAt(at)
	return m.denied(it) || slices.Contains([]string{"some", "few", "most", "half", "couple", "one", "many", "several", "only", "nearly", "almost"}, m.word(at)) || o != nil && o.q != nil
}

// none files that no hazard is there.
func (m *message) none(it *item) {
	m.facts = append(m.facts, Fact{Field: "hazards", Value: "none", Said: m.said(it)})
	m.cleared = nil
	it.used = true
}

// plainly reads a plain no that the answer to the hazards begins with, where
// all else that was said is read and has nothing to do with them: "None. The
// van weighs 2.4 t." A no with one of them behind it denies that one alone.
func (m *message) plainly() {
	if m.topic != TopicPeople || m.open || slices.ContainsFunc(m.facts, func(f Fact) bool { return f.Field == "hazards" }) {
		return
	}
	for i, c := range m.clauses {
		for _, it := range c.items {
			if it.has("allclear") && !it.used && m.beyond(it) && !c.unsure && !c.ask && !slices.ContainsFunc(m.clauses[:i], m.leftOver) {
				m.none(it)
				return
			}
		}
	}
	first := m.clauses[0]
	var no *item
	for _, it := range first.items {
		switch {
		case it.has("nothing") || it.has("allclear"):
			no = it
		case !it.has("filler"):
			return
		}
	}
	if no == nil || first.unsure || first.ask || m.tokens[first.to-1].mark == asked || m.tokens[first.to-1].mark == unbroken {
		return
	}
	if len(m.cleared) > 0 && m.word(no.from) != "none" && m.word(no.from) != "nothing" {
		return
	}
	for _, c := range m.clauses[1:] {
		if c.undone || m.leftOver(c) && m.asks(c) == None || slices.ContainsFunc(c.items, func(it *item) bool { return it.has("hazard") && !it.used }) {
			return
		}
	}
	m.none(no)
}

// beyond reports whether a denial is only of what was not named before it:
// "the road is 50 m off, nothing else".
func (m *message) beyond(it *item) bool {
	for i := it.from; i < it.to; i++ {
		if slices.Contains([]string{"else", "other", "others", "rest"}, m.word(i)) {
			return it.clause.from > 0
		}
	}
	return false
}

// belowHubs reports whether water is said to stay under the hubs, which is what was
// asked, and to do nothing else: none that moves or rises is.
func (m *message) belowHubs(it *item) bool {
	c := it.clause
	for i := c.from; i < m.clauses[len(m.clauses)-1].to; i++ {
		if water[m.word(i)] {
			return false
		}
	}
	for _, o := range m.items {
		if o.clause.sentence != c.sentence || !o.has("depth") && !hubs[m.word(o.to-1)] {
			continue
		}
		under := o.from
		for slices.Contains([]string{"the", "its", "wheel"}, m.word(under-1)) || under > o.to {
			under--
		}
		if hubs[m.word(o.to-1)] && (slices.Contains([]string{"below", "under", "beneath"}, m.word(under-1)) || m.word(under) == "below" || m.word(under) == "under") {
			o.used = true
			if m.topic != TopicSunk {
				o.means = map[string]string{"filler": "-"} // how high water stands is no depth of the wheels
			}
			return !o.silent() && !o.clause.unsure
		}
	}
	return false
}

var (
	hubs  = wordSet("hub hubs axle axles")
	water = wordSet("moving moves flowing flows running runs rising rises flood flooded flooding stream river current tide over above up fast deep deeper")
)

// closed reports whether the road is said to be closed and nothing but the
// road was said to be near.
func (m *message) closed() bool {
	closed := false
	for _, it := range m.items {
		switch {
		case it.means["harmless"] == "traffic":
			closed = closed || !m.denied(it) && !it.silent() && !it.clause.unsure
		case strings.HasPrefix(it.means["hazard"], "traffic") && !strings.Contains(m.said(it), "road"):
			return false
		}
	}
	return closed
}

// flaws are what can be in a piece where a person could be in a vehicle.
var flaws = words1("crack cracks nick nicks cut cuts hole holes bend bends dent dents kink kinks knot knots twist twists break breaks split splits tear tears gash notch groove flat burr rust play wear flaw flaws damage")

func words1(list string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.Fields(list) {
		out[w] = true
	}
	return out
}

// inAPiece reports whether what is in it is a flaw: "a crack in it".
func (m *message) inAPiece(it *item) bool { return it.from > 0 && flaws[m.word(it.from-1)] }

// someone reports whether a person is spoken of beside an item.
func (m *message) someone(it *item) bool {
	for i := it.clause.from; i < it.clause.to; i++ {
		if talk.is(m.word(i), "someone") && !(i >= it.from && i < it.to) && !(m.word(i) == "i" && talk.is(m.word(i+1), "hedge")) {
			for _, mt := range m.mentionsIn(it.clause) {
				if mt.head == m.puller {
					return false
				}
			}
			return true
		}
	}
	return false
}

// ownSeat reports whether whoever drives the puller says that they sit in it.
func (m *message) ownSeat(it *item) bool {
	if !m.known.Drives || !strings.HasSuffix(m.said(it), "seat") && !strings.HasSuffix(m.said(it), "cab") && !strings.HasSuffix(m.said(it), "cabin") && !strings.HasSuffix(m.said(it), "wheel") {
		return false
	}
	at := it.from - 1
	for slices.Contains([]string{"sat", "sitting", "still", "now", "up", "here", "am", "back", "already"}, m.word(at)) {
		at--
	}
	if w := m.word(at); w != "im" && w != "i" && !(w == "" && at < 0) {
		return false
	}
	return !slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool { return mt.head == m.load })
}

// ofThing reports whether a place is told of a thing, which is a hazard by
// itself, and of nobody: "gas bottles in the back".
func (m *message) ofThing(it *item) bool {
	return slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.has("hazard") && o != it })
}

// keptThere reports whether it is gear that is told to be found or kept in a place, once the
// hazards were asked: "one i found in the van".
func (m *message) keptThere(it *item) bool {
	if m.topic == TopicPeople || m.topic == TopicNone || !lists.has(m.word(it.from-1), "keptin") {
		return false
	}
	for i := it.clause.from; i < it.from; i++ {
		if lists.has(m.word(i), "somebody") {
			return false
		}
	}
	return slices.ContainsFunc(m.items, func(o *item) bool { return o.has("gear") })
}

// cooksWith reports whether it is one gas bottle that is told, where the hazards are asked, to
// be for cooking or to be shut, which is asked about and is no cargo yet. More of them, or a
// smell or a leak, are what they are.
func (m *message) cooksWith(it *item) bool {
	if m.topic != TopicPeople || m.word(it.from) != "gas" || strings.HasSuffix(m.word(it.to-1), "s") || it.from > 0 && m.tokens[it.from-1].figure() {
		return false
	}
	for i := it.clause.from; i < it.clause.to; i++ {
		if lists.has(m.word(i), "cooks") || i >= it.to && lists.has(m.word(i), "shut") && m.word(i-1) != "not" && m.word(i-1) != "isnt" {
			return !it.clause.unsure
		}
	}
	return false
}

// bottle reports whether a hazard is one gas bottle.
func (m *message) bottle(it *item) bool {
	last := m.word(it.to - 1)
	return m.word(it.from) == "gas" && (last == "bottle" || last == "cylinder")
}

// takenOut reports whether a gas bottle, or cans of fuel, are told to be out of the vehicle,
// where they are no cargo of it: "the gas bottle is off the truck now". A smell or a leak
// that is told beside it is what it is.
func (m *message) takenOut(it *item) bool {
	if !m.bottle(it) && !lists.has(m.word(it.to), "cans") {
		return false
	}
	out := false
	for i := it.clause.from; i < it.clause.to; i++ {
		switch w := m.word(i); {
		case lists.has(w, "carriedout"):
			out = true
		case lists.has(w, "isnot"), w == "cant", w == "still", w == "will", w == "to" && !out:
			return false
		}
	}
	return out && !it.clause.unsure && !it.clause.ask
}

// offItsWay reports whether a wheel is told to have come off what it stood or ran on, and not
// off its vehicle: "when the wheel came off the planks".
func (m *message) offItsWay(it *item) bool {
	at := it.to
	for slices.Contains([]string{"of", "the", "a", "our", "its", "that", "those", "one"}, m.word(at)) {
		at++
	}
	return strings.HasSuffix(m.word(it.to-1), "off") && at > it.to && lists.has(m.word(at), "runson")
}

// leftThere reports whether it is a piece that is left in a vehicle, by a clause that says
// nothing else and so of nobody: "block 2 we leave in the car".
func (m *message) leftThere(it *item) bool {
	if m.topic == TopicPeople || m.topic == TopicNone || !lists.has(m.word(it.from-1), "leftin") {
		return false
	}
	gear := false
	for i := it.clause.from; i < it.clause.to; i++ {
		if i >= it.from && i < it.to || lists.has(m.word(i), "leftin") || lists.has(m.word(i), "leftby") || m.tokens[i].figure() {
			continue
		}
		o := m.itemAt(i)
		if o == nil || !o.has("gear") {
			return false
		}
		gear = true
	}
	return gear
}

// standsThere reports whether a road is named, after the hazards were asked, as
// where a vehicle other than the load stands: "tractor on the road".
func (m *message) standsThere(it *item) bool {
	if !strings.HasPrefix(m.said(it), "on ") && !strings.HasPrefix(m.said(it), "On ") {
		return false
	}
	mentions := m.mentionsIn(it.clause)
	return slices.ContainsFunc(mentions, func(mt *mention) bool { return mt.head.class == "vehicle" && mt.head != m.load }) &&
		!slices.ContainsFunc(mentions, func(mt *mention) bool { return mt.head == m.load })
}

// anchorOver reports whether a road is named only as what an anchor stands beyond: "two
// trees across the road". No line is told to lie over it, which would be asked about.
func (m *message) anchorOver(it *item) bool {
	if w := m.word(it.from); w != "across" && w != "over" {
		return false
	}
	mentions := m.mentionsIn(it.clause)
	return slices.ContainsFunc(mentions, func(mt *mention) bool { return mt.head.class == "anchor" && mt.it.to <= it.from }) &&
		!slices.ContainsFunc(mentions, func(mt *mention) bool { return mt.head.class != "anchor" })
}

// claims reports whether a hazard is said to be there (1), not to be (-1), or
// neither for certain (0).
func (m *message) claims(it *item) int {
	c := it.clause
	if it.from >= c.iffy || c.ask && m.opensWith(c, "any", "anyone", "do", "does", "what", "should") {
		return 0
	}
	if m.tokens[c.to-1].mark == asked && !m.opensWith(c, "can", "cant", "could", "should", "will", "may") {
		return m.answered(c)
	}
	// "Not leaking", "isn't overturned".
	if slices.Contains([]string{"not", "isnt", "arent", "wasnt"}, m.word(it.from-1)) && it.from > c.from {
		return -1
	}
	deny := false
	for _, other := range c.items {
		switch {
		case other.has("far") || other.q != nil && other.q.is(length) && other.q.si >= farEnough:
			return 0
		case other.has("hedge") && slices.Contains([]string{"not sure", "unsure", "no idea", "dont know", "dunno"}, strings.ReplaceAll(m.said(other), "'", "")):
			return 0
		case other.has("neg") && other.to <= it.from && !m.turnedBetween(other, it):
			deny = true
		}
	}
	if !deny {
		if last := c.items[len(c.items)-1]; last.has("nothing") && last.from == it.to {
			return -1
		}
		if m.listed(it) {
			return 0
		}
		return 1
	}
	// A no denies only what stands right behind it: "no wires or traffic", but
	// not "no way round the wires" and "not far from the wires".
	for i := it.from - 1; i >= c.from; i-- {
		w := m.word(i)
		if slices.Contains([]string{"no", "nobody", "noone", "none", "without", "nor", "neither", "free", "nothing"}, w) || w == "one" && m.word(i-1) == "no" {
			return -1
		}
		if !slices.Contains([]string{"any", "or", "of", "sign", "signs", "the", "is", "live", "leaking", "leaks", "in", "electric", "nearby", "near",
			"overhead", "anyone", "one", "getting", "stuck", "people", "persons", "person", "driver", "passenger", "passengers", "kids", "children", "body"}, w) && !m.hazardAt(i) {
			return 0
		}
	}
	return 0
}

// answered reads the yes or no with which a person answers their own question:
// "fuel leak? no".
func (m *message) answered(c *clause) int {
	for i, other := range m.clauses {
		if other != c || i+1 == len(m.clauses) {
			continue
		}
		switch m.word(m.clauses[i+1].from) {
		case "no", "nope", "none", "nah":
			m.clauses[i+1].items[0].used = true
			return -1
		case "yes", "yep", "yeah":
			m.clauses[i+1].items[0].used = true
			return 1
		}
	}
	return 0
}

func (m *message) opensWith(c *clause, words ...string) bool {
	for i := c.from; i < c.to; i++ {
		if slices.Contains(words, m.word(i)) {
			return true
		}
	}
	return false
}

func (m *message) hazardAt(i int) bool {
	for _, it := range m.items {
		if it.from <= i && i < it.to {
			return it.has("hazard")
		}
	}
	return false
}

func (m *message) turnedBetween(a, b *item) bool {
	for _, it := range a.clause.items {
		if it.from >= a.to && it.to <= b.from && it.has("turn") {
			return true
		}
	}
	return false
}

// listed reports whether a bare hazard stands in a list that began with a no,
// "no wires, traffic": denied or found, it can't be told.
func (m *message) listed(it *item) bool {
	for _, other := range it.clause.items {
		if other != it && !other.has("filler") {
			return false
		}
	}
	for i, c := range m.clauses {
		if c != it.clause || i == 0 {
			continue
		}
		prev := m.clauses[i-1]
		if prev.sentence != c.sentence {
			return false
		}
		neg, hazard := false, false
		for _, other := range prev.items {
			neg = neg || other.has("neg")
			hazard = hazard || other.has("hazard") || other.has("harmless")
		}
		return neg && hazard
	}
	return false
}

// blanket returns the item that says no to all hazards at once. A plain no
// does so only where it is the whole answer.
func (m *message) blanket() *item {
	if m.topic != TopicPeople {
		for _, it := range m.items {
			if it.has("allclear") && strings.HasPrefix(strings.ToLower(m.said(it)), "no ") && strings.Contains(m.said(it), "a") && (it.means["allclear"] == "none") &&
				slices.Contains([]string{"hazard", "hazards", "danger", "dangers"}, m.word(it.to-1)) && !it.silent() && !it.clause.unsure {
				return it
			}
		}
		return nil
	}
	var plain *item
	only := true
	for _, it := range m.items {
		switch {
		case it.silent() || it.clause.unsure:
			return nil
		case it.has("allclear") && m.beyond(it):
			only = false // what was named before must be read first
		case it.has("allclear"):
			return it
		case it.has("nothing"):
			plain = it
		case !it.has("filler"):
			only = false
		}
	}
	if only {
		return plain
	}
	return nil
}
