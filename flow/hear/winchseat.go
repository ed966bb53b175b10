package hear

import (
	"slices"
	"strings"
)

// What a winch is bolted to is on the winch's own vehicle, by whatever name that goes:
// never is it where the line is made fast on the stuck one, nor what that bears.

// winchPulls reports whether a winch was told as what pulls.
func (m *message) winchPulls() bool { return strings.HasSuffix(m.known.Kind, "winch") }

// seatsWinch reports whether a place is named as what carries a winch: in a clause that
// says how one is mounted, or without a word of its own in a sentence that says so.
func (m *message) seatsWinch(it *item) bool {
	if strings.HasPrefix(it.means["end"], "rated-eye") || strings.HasPrefix(it.means["end"], "- ") {
		return false
	}
	if m.saysSeat(it.clause) {
		return true
	}
	if m.topic.towPoint() || m.onLoad(it) || m.linesIn(it.clause) {
		return false
	}
	return slices.ContainsFunc(m.clauses, func(c *clause) bool { return c.sentence == it.clause.sentence && m.saysSeat(c) })
}

// saysSeat reports whether a clause says how a winch is mounted, and nothing of a line or
// of a point for one: "the winch sits on the frame"; "its mount is bolted to the chassis",
// where a winch pulls or is spoken of beside.
func (m *message) saysSeat(c *clause) bool {
	winch := slices.ContainsFunc(c.items, func(o *item) bool { return o.has("winch") })
	return (m.anyIn(c, "winchmount") || winch && m.anyIn(c, "seats")) && !m.linesIn(c) && m.saysSeatNear(c)
}

// linesIn reports whether a clause speaks of a line, or of a point that one is made fast to.
func (m *message) linesIn(c *clause) bool {
	return slices.ContainsFunc(c.items, func(o *item) bool {
		return o.has("gear") || o.has("wire") || strings.HasPrefix(o.means["end"], "rated-eye")
	}) || m.anyIn(c, "fastens")
}

// eyeIn reports whether a clause names an eye or another rated point: "not the eye" is none.
func (m *message) eyeIn(c *clause) bool {
	for i := c.from; i < c.to; i++ {
		if lists.has(m.word(i), "eyes") && m.word(i-1) != "not" && !(m.word(i-1) == "the" && m.word(i-2) == "not") {
			return true
		}
	}
	return slices.ContainsFunc(c.items, func(o *item) bool { return strings.HasPrefix(o.means["end"], "rated-eye") })
}

// mountsFigure files a figure that is read on what a winch is mounted with, which is no
// rating of the winch and none of the stuck vehicle's point. It reports whether it is one.
func (m *message) mountsFigure(it *item) bool {
	if !m.anyIn(it.clause, "winchmount") && !m.onMount(it.clause) || m.onLoad(it) || m.eyeIn(it.clause) || !m.saysSeatNear(it.clause) {
		return false
	}
	stamp := m.beside(it, "rkind", 3)
	if m.known.Hitch != "" && (m.winchSpoken(it.clause) || !m.topic.towPoint()) { // asked for the tow point, a mount may be that one's
		m.rated(m.puller, "hitch_rating", it, stamp)
	}
	if stamp != nil {
		stamp.used = true // nor is what it means that of any other figure
	}
	return true
}

// onMount reports whether the next clause of the sentence only says that it stands on a
// mount: "4.5 t working, it says on the mount plate".
func (m *message) onMount(c *clause) bool {
	i := slices.Index(m.clauses, c) + 1
	return i < len(m.clauses) && m.clauses[i].sentence == c.sentence && m.anyIn(m.clauses[i], "winchmount") &&
		!slices.ContainsFunc(m.clauses[i].items, func(o *item) bool { return o.q != nil }) && len(m.mentionsIn(c)) == 0
}

// saysSeatNear reports whether a mount that is spoken of in or behind a clause may be a
// winch's: one pulls, or is spoken of in the sentence.
func (m *message) saysSeatNear(c *clause) bool { return m.winchPulls() || m.winchSpoken(c) }

// winchSpoken reports whether a winch is spoken of in the sentence of a clause.
func (m *message) winchSpoken(c *clause) bool {
	return slices.ContainsFunc(m.items, func(o *item) bool { return o.has("winch") && o.clause.sentence == c.sentence })
}

// whereEyeIs reports whether a frame is only named as what a rated point is on: "recovery
// point on the van chassis".
func (m *message) whereEyeIs(it *item) bool {
	if it.means["end"] != "frame frame" {
		return false
	}
	at := it.from - 1
	for at > 0 && !lists.has(m.word(at), "pointon") {
		if o := m.itemAt(at); m.tokens[at].mark != unbroken || !lists.has(m.word(at), "ownarticle") && (o == nil || !o.has("vehicle")) {
			return false
		}
		at--
	}
	o := m.itemAt(at - 1)
	return o != nil && strings.HasPrefix(o.means["end"], "rated-eye") && o.clause.sentence == it.clause.sentence && !o.silent() && !m.denied(o)
}

// tiePoint returns how plainly a frame is said to be what the line is made fast to: in
// passing, with no word of a line, a point or the stuck vehicle, it is Loose.
func (m *message) tiePoint(h *head, field string) Tie {
	it := h.stood[field]
	if h.path != "load.tow_point." || field != "kind" || it == nil || h.slots[field].Value != "frame" || m.onLoad(it) || m.linesIn(it.clause) || m.anyIn(it.clause, "instead") {
		return Tied
	}
	return Loose
}

// asksOfWinch reports whether something of a winch that pulls is asked about, and not what
// it is that pulls.
func (m *message) asksOfWinch() bool {
	return m.winchPulls() && m.topic.stage() == "puller" && m.topic != TopicPuller && m.topic != TopicPullerKind
}

// hasTowPoint reports whether a vehicle is named as the one that the tow point is on,
// which only the stuck one has by that name.
func (m *message) hasTowPoint(vehicle *item) bool {
	return m.hasPoint(vehicle) && slices.ContainsFunc(vehicle.clause.items, func(o *item) bool {
		return o.to <= vehicle.from && (o.name == "tow point" || o.name == "towing point")
	})
}

// bearsOnly reports whether a vehicle that is named, where a winch pulls and something of
// that is asked about, is what bears the winch and pulls by itself no more than before.
func (m *message) bearsOnly(a *actor) bool {
	if !m.asksOfWinch() || a.winch() || slices.ContainsFunc(m.items, func(it *item) bool { return it.has("winch") && m.denied(it) }) {
		return false
	}
	return !slices.ContainsFunc(a.items, func(it *item) bool { return m.anyIn(it.clause, "pullsnow") })
}

// behindEye reports whether a figure stands right behind a clause that says of an eye
// that it has no stamp, and names nothing itself: "the eye has no stamp, handbook says 1.5 t".
func (m *message) behindEye(it *item) bool {
	c := m.clauseBefore(it.clause)
	if c == nil || len(m.mentionsIn(it.clause)) > 0 || m.asked != nil {
		return false
	}
	eye := func(o *item) bool { return m.word(o.to-1) == "eye" && (o.has("point") || o.has("end")) }
	before := c.items
	bare := func(o *item) bool { return o.has("neg") || o.has("unmarked") || o.means["rkind"] == "unmarked" }
	return slices.ContainsFunc(before, eye) && slices.ContainsFunc(before, bare) && !slices.ContainsFunc(before, func(o *item) bool { return o.q != nil })
}

// eithersPoint reports whether a vehicle whose point is spoken of, where something of the
// winch is asked about, may as well be the stuck one: of a kind that gets stuck, and not
// told as what bears the winch.
func (m *message) eithersPoint(a *actor) bool {
	if !m.asksOfWinch() || a.winch() || strings.HasPrefix(a.items[0].means["vehicle"], "puller") || m.knows(a) || m.known.calls(a.items[0].name) == "puller" {
		return false
	}
	return !m.winchSpoken(a.items[0].clause) && slices.ContainsFunc(a.items, func(it *item) bool { return m.hasPoint(it) && m.eyeIn(it.clause) })
}

// unnamedSide reports whether no vehicle is named with a slope to the side, where
// something of the puller is asked about that it does not stand on.
func (m *message) unnamedSide(it *item) bool {
	return m.topic.stage() == "puller" && m.topic != TopicPuller && m.topic != TopicPullerKind &&
		!slices.ContainsFunc(m.mentions, func(mt *mention) bool { return mt.head == m.puller && mt.it.clause.sentence == it.clause.sentence })
}
