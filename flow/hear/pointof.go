package hear

import (
	"maps"
	"slices"
	"strings"
)

// A stamp, a plate or an eye that is said to be on a vehicle is that one's,
// whatever is asked: what the trailer's eye bears is never what the tractor's
// hitch may carry.

// onThe are the words between a point and the vehicle that it is on.
var onThe = []string{"on", "of", "at", "off", "from"}

// hasPoint reports whether a vehicle is named as the one that a point is on: the
// trailer's eye, the stamp on the van.
func (m *message) hasPoint(vehicle *item) bool {
	at := vehicle.from
	for slices.Contains([]string{"the", "its", "my", "our", "his", "her", "their", "stuck"}, m.word(at-1)) {
		at--
	}
	on := slices.Contains(onThe, m.word(at-1))
	return slices.ContainsFunc(vehicle.clause.items, func(o *item) bool {
		point := o.has("point") || o.has("end") && !strings.HasPrefix(o.means["end"], "- ")
		return o != vehicle && (point && (o.from == vehicle.to && vehicle.to > 0 && m.tokens[vehicle.to-1].mark == unbroken || on && (o.to == at-1 || o.to == at))) // the phrase may hold its "on"
	})
}

// possessor returns the vehicle that a word names as the one whose point the next one
// is: the van's stamp.
func (m *message) possessor(i int) *phrase {
	one, theirs := strings.CutSuffix(m.word(i), "s")
	if !theirs || m.tokens[i].mark != unbroken || i+1 >= len(m.tokens) {
		return nil
	}
	if p := talk.longest(m.tokens, i+1); p == nil || p.means["point"] == "" && p.means["end"] == "" {
		return nil
	}
	for _, p := range talk[one] {
		if len(p.words) == 1 && p.means["vehicle"] != "" {
			return p
		}
	}
	return nil
}

// eyes makes a place for the line of each bare eye that is said to be the stuck
// vehicle's.
func (m *message) eyes() {
	for _, it := range m.items {
		if m.word(it.from) != "eye" || it.to-it.from != 1 || !it.has("point") {
			continue
		}
		if slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.has("end") && o.to == it.from }) {
			it.used = true // a chassis eye is of the chassis
			continue
		}
		theirs := slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool { return mt.head == m.load && m.hasPoint(mt.it) })
		if theirs {
			it.means = maps.Clone(it.means)
			it.means["end"] = "rated-eye rated-point stamped"
		}
	}
}

// pointElsewhere reports whether a vehicle that is not the one whose point was asked
// about is named in a clause as the one that the point spoken of is on.
func (m *message) pointElsewhere(c *clause) bool {
	return m.asked != nil && m.asked.class == "end" && slices.ContainsFunc(m.mentionsIn(c), func(mt *mention) bool {
		return mt.head.class == "vehicle" && !strings.HasPrefix(m.asked.path, mt.head.path) && m.hasPoint(mt.it) || mt.head.class == "vehicle" && mt.head.path == "" && m.hasPoint(mt.it)
	})
}

// othersPoint reports whether a clause names the point of a vehicle that does not pull.
func (m *message) othersPoint(c *clause) bool {
	return slices.ContainsFunc(m.mentionsIn(c), func(mt *mention) bool {
		return mt.head == m.load || mt.head.path == "load.tow_point." || mt.head.class == "vehicle" && mt.head.path == ""
	})
}

// stamps reports whether a figure is what the stuck vehicle's point may bear, not what
// the vehicle weighs: where the puller or a point is asked about, and the point is named.
func (m *message) stamps(it *item) bool {
	if m.topic.stage() != "puller" && m.topic != TopicTowRating && m.topic != TopicTowKind {
		return false
	}
	var before *mention
	point := false
	for _, mt := range m.mentionsIn(it.clause) {
		point = point || mt.head == m.load && m.hasPoint(mt.it)
		if mt.it.to <= it.from && (before == nil || mt.it.from >= before.it.from) {
			before = mt
		}
	}
	return point && (before == nil || before.head != m.puller)
}

// readOn reports whether a figure, where a rating is asked for, is said to stand on a
// vehicle: "3 t on the tractor" is nothing that the tractor weighs.
func (m *message) readOn(it *item) bool {
	if m.topic != TopicTowRating && m.topic != TopicHitchRating || !slices.Contains(onThe, m.word(it.to)) {
		return false
	}
	at := it.to + 1
	for slices.Contains([]string{"the", "its", "my", "our", "his", "her", "their"}, m.word(at)) {
		at++
	}
	return slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.from == at && o.has("vehicle") })
}
