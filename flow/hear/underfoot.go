package hear

import (
	"slices"
	"strings"
)

// ground files what something stands on, unless the ground is only where the
// thing came from or goes to.
func (m *message) ground(it *item) {
	if m.tokens[it.to-1].mark == unbroken && lists.has(m.word(it.to), "madeof") {
		return // a concrete pipe, a gravel heap: what it is made of, and nobody stands on it
	}
	if w := m.word(it.to); m.tokens[it.to-1].mark == unbroken && (w == "root" || w == "roots" || w == "rooted") {
		return // a tree's
	}
	if w := m.word(it.from - 1); w == "roots" || (w == "are" || w == "all") && m.word(it.from-2) == "roots" {
		return // they are firm
	}
	for i := it.from - 1; i >= it.clause.from && i >= it.from-2; i-- {
		if m.word(i) == "of" && slices.Contains([]string{"top", "bit", "bits", "patch", "patches", "layer", "film", "lot", "lots", "load", "loads", "full", "inch", "inches"}, m.word(i-1)) {
			break // a bit of ice is ice
		}
		if m.word(i) == "to" && becomes[m.word(i-1)] {
			break // "then it goes to clay": both are there
		}
		if (m.word(i) == "to" || m.word(i) == "onto") && m.topic == TopicPullerGround && m.broughtBefore(it, i) {
			break // asked what it stands on: that is where it was brought
		}
		if slices.Contains([]string{"off", "from", "to", "towards", "near", "beside", "by", "of", "along", "past", "onto", "until"}, m.word(i)) {
			return
		}
	}
	if strings.HasPrefix(m.word(it.from), "frozen") && m.anyIn(it.clause, "brakes") {
		return // the brake is, and not the ground
	}
	if next := m.itemAt(it.to); next != nil && next.clause == it.clause && next.has("ground") && it.means["ground"] == "firm soil" && it.to-it.from == 1 {
		it.used = true // firm gravel is gravel
		return
	}
	if m.topic.anchoring() || it.has("soil") && m.saysOf(it, "anchor") {
		return
	}
	h, doubt := m.owner(it, vehicles)
	switch {
	case doubt:
		return
	case h != nil:
	case m.inPassing(it):
		it.used = true
		return
	default:
		if h = m.standing(it); h != nil && m.topic != TopicGround && m.topic != TopicPullerGround && m.way(it) {
			return
		}
	}
	ground := it.means["ground"]
	if h == m.puller && slices.Contains([]string{"frozen", "frosty", "frosted", "icy"}, m.word(it.from-1)) {
		ground = "ice" // what a load rolls on as on grass, a puller slips on
	}
	m.put(h, "ground", ground, nil, it)
}

// broughtBefore reports whether the clause says, before a place in it, that something was
// brought somewhere, as what was done and not as what may be.
func (m *message) broughtBefore(it *item, at int) bool {
	was := false
	for i := it.clause.from; i < at; i++ {
		if mayBe[m.word(i)] {
			return false
		}
		was = was || brought[m.word(i)]
	}
	return was
}

var (
	brought = wordSet("moved drove driven parked backed shifted reversed repositioned brought")
	mayBe   = wordSet("can could will would ll may might should shall going gonna want wants if not never cant couldnt")
)

// becomes are words by which one ground is followed by another.
var becomes = wordSet("goes turns changes going turning changing gone turned changed gives")

// inPassing reports whether a track or a lane is only where people are, before
// the ground was asked about: "we are on a farm track by the river". The stuck
// vehicle has most likely left it.
func (m *message) inPassing(it *item) bool {
	if m.topic != TopicNone && m.topic != TopicPeople && !m.topic.ton() {
		return false
	}
	for i := it.from; i < it.to; i++ {
		if slices.Contains([]string{"track", "lane", "road", "drive", "yard"}, m.word(i)) {
			return true
		}
	}
	return false
}

// underfoot files a place that tells the ground only of what is said to stand
// there.
func (m *message) underfoot(it *item) {
	on := m.word(it.from-1) == "on" || m.word(it.from) == "the" && m.word(it.from-1) == "on" || m.word(it.from-1) == "the" && m.word(it.from-2) == "on"
	h, doubt := m.owner(it, vehicles)
	if h == nil && !doubt && m.topic.ofStand() {
		h = m.puller
	}
	if on && h == m.puller && h.open("ground") && !slices.Contains([]string{"rod", "side", "edge"}, m.word(it.to)) {
		m.put(h, "ground", it.means["underfoot"], nil, it)
	}
}

func (t Topic) anchoring() bool { return t == TopicAnchor || strings.HasPrefix(string(t), "anchors[") }

// way reports whether the clause speaks of a road or lane that nothing is
// said to stand on.
func (m *message) way(it *item) bool {
	for i := it.clause.from; i < it.clause.to; i++ {
		if (i < it.from || i >= it.to) && slices.Contains([]string{"lane", "road", "track", "drive", "yard", "path"}, m.word(i)) {
			return true
		}
	}
	return false
}

// wetted lays "it is wet after the rain" over a ground told without it.
func (m *message) wetted() {
	for _, it := range m.items {
		if !it.has("wet") || it.used || it.silent() || m.denied(it) {
			continue
		}
		h, doubt := m.owner(it, vehicles)
		if doubt {
			continue
		}
		owners := []*head{h}
		if h == nil {
			owners = []*head{m.load, m.puller}
		}
		for _, o := range owners {
			f := (*Fact)(nil)
			if o != nil {
				f = o.slots["ground"]
			}
			if f == nil {
				continue
			}
			if wet, ok := map[string]string{"grass": "wet grass", "asphalt": "wet asphalt", "firm soil": "mud", "loose soil": "mud"}[f.Value]; ok {
				f.Value = wet
			}
			it.used = true
		}
		for _, a := range m.heads {
			if a.class == "anchor" && (a.kind == "picket" || a.kind == "deadman") && (h == nil || m.saysOf(it, "anchor")) {
				m.put(a, "soil", "wet", nil, it)
			}
		}
	}
}
