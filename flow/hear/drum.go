package hear

import (
	"slices"
	"strings"
)

// A plate gives what a winch pulls on the first layer. "9500 lb, first layer" tells for
// which layer that is and not how many lie on the drum: only who is asked for those, or
// tells of no rating, means the rope by it.

// drumLayer files on which layer of the drum the rope lies.
func (m *message) drumLayer(it *item) {
	layer := it.means["drum"]
	if m.layerOfRating(it, layer) {
		it.used = layer == "1" // as is supposed of every plate
		return
	}
	m.put(m.puller, "winch_layer", layer, nil, it)
}

// drumAcross reports whether a length is how thick the drum of a winch is: behind its
// name, or where that is asked and nothing else in the clause may be meant.
func (m *message) drumAcross(it *item) bool {
	at := it.from - 1
	for at >= it.clause.from && (lists.has(m.word(at), "measured") || m.itemAt(at).has("hedge")) {
		at--
	}
	if at >= it.clause.from && m.word(at) == "drum" {
		return it.q.small() && (m.topic == TopicDrum || !slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool { return mt.head.class != "vehicle" }))
	}
	return m.topic == TopicDrum && m.onlyMeasured(it) && len(m.mentionsIn(it.clause)) == 0
}

// layerOfRating reports whether a layer is told as the one that a rating is for: in one
// clause with what tells of ratings, or, of the first, right behind such a clause.
func (m *message) layerOfRating(it *item, layer string) bool {
	if m.tellsRating(it.clause) {
		return true
	}
	if layer != "1" || m.topic == TopicWinchLayer {
		return false
	}
	before := m.clauseBefore(it.clause)
	return before != nil && m.tellsRating(before)
}

// tellsRating reports whether a clause has a force or a weight, or a word of ratings.
func (m *message) tellsRating(c *clause) bool {
	for _, it := range c.items {
		if it.q != nil && (it.q.is(force) || it.q.is(mass)) || it.has("rkind") || it.has("rated") {
			return true
		}
	}
	for i := c.from; i < c.to; i++ {
		if lists.has(m.word(i), "ofrating") || strings.HasPrefix(m.word(i), "rating") {
			return true
		}
	}
	return false
}
