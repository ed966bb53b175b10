package hear

import (
	"cmp"
	"slices"
	"strings"
)

// going reads the ways that things point and go.
func (m *message) going(it *item) {
	if m.denied(it) {
		return
	}
	h, _ := m.owner(it, vehicles)
	switch {
	case it.has("above") && m.anchorFirst(it):
		it.used = true // where a tree stands tells of no vehicle
	case it.has("above"):
		if h == m.puller || h == nil && m.topic.stage() == "puller" {
			m.put(m.load, "pull", it.means["above"], nil, it)
		}
	case it.has("heading") && m.headedAt(it):
		// Towards what it pulls it goes backwards, or round: which way is asked.
	case it.has("heading"):
		if h == m.puller || h == nil && m.topic.stage() == "puller" {
			m.put(m.puller, "pull", it.means["heading"], nil, it)
		}
	case m.placesAnchor(it), m.waysHolding(it):
		it.used = true // where a tree stands, or what holds goes, is no way that anything is pulled
	case m.topic == TopicPull && it.has("way") && !it.has("level") && (len(it.clause.items) <= 2 || it.to-it.from > 1):
		m.put(m.load, "pull", it.means["way"], nil, it)
	case m.topic == TopicPullerPull && (it.has("way") || it.has("dir")):
		m.put(m.puller, "pull", cmp.Or(it.means["way"], it.means["dir"]), nil, it)
	case m.topic == TopicPullerSlope && (h == nil || h == m.puller) && slices.Contains([]string{"uphill", "downhill"}, cmp.Or(it.means["way"], it.means["dir"])):
		m.put(m.puller, "pull", cmp.Or(it.means["way"], it.means["dir"]), nil, it)
	case it.has("dir") && m.topic.stage() == "puller" && (h == nil || h == m.puller) && m.steepBeside(it):
		m.put(m.puller, "pull", it.means["dir"], nil, it) // which way its own slope goes
	case it.has("dir") && (h == m.puller && h != nil || h == nil && m.topic.stage() == "puller") && m.afterFlat(it):
		if it.means["dir"] == "uphill" { // downhill only helps it, and not all along
			m.put(m.puller, "pull", "uphill", nil, it)
		}
	case it.has("dir") && h == m.puller && h != nil:
		if it.means["dir"] == "uphill" {
			m.put(m.load, "pull", "uphill", nil, it)
		}
	case it.has("dir") && (h == m.load || h == nil && m.topic.stage() != "puller"):
		m.put(m.load, "pull", it.means["dir"], nil, it)
	}
}

// placesAnchor reports whether a way is told only as where an anchor stands: "an oak 50 cm
// downhill of the load", "the ash 20 m uphill".
func (m *message) placesAnchor(it *item) bool {
	if !it.has("dir") || it.to-it.from > 2 || slices.ContainsFunc(it.clause.items, func(o *item) bool { return lists.has(m.word(o.from), "pulling") }) {
		return false
	}
	return (m.anchorFirst(it) || m.anchorAt(it)) && lists.has(m.word(it.from), "placing")
}

// anchorAt reports whether an anchor stands right before an item: "to the oak uphill".
func (m *message) anchorAt(it *item) bool {
	return slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool { return mt.head.class == "anchor" && mt.it.to == it.from })
}

// waysHolding reports whether a way is the one in which the holding line leads: it holds
// the load, whichever way that is pulled.
func (m *message) waysHolding(it *item) bool {
	if !it.has("dir") && !it.has("way") {
		return false
	}
	holds := false
	for i := it.clause.from; i < it.from; i++ {
		w := m.word(i)
		if holds = holds || slices.Contains([]string{"holding", "holdback", "holds", "hold"}, w); pullWords[w] {
			return false
		}
	}
	return holds
}

// pullWords are words that something is pulled, and not only that it goes somewhere.
var pullWords = wordSet("pull pulls pulled pulling drag drags dragged dragging haul hauls hauled hauling winch winched winching")

// anchorFirst reports whether an anchor is what a clause names first, before an item.
func (m *message) anchorFirst(it *item) bool {
	named := m.mentionsIn(it.clause)
	return len(named) > 0 && named[0].head.class == "anchor" && named[0].it.from < it.from
}

// headedAt reports whether a machine points at the stuck vehicle, and not the way it will
// go: "points down at it", "facing down towards the van".
func (m *message) headedAt(it *item) bool {
	if !slices.Contains([]string{"at", "towards", "toward"}, m.word(it.to)) {
		return false
	}
	next := m.word(it.to + 1)
	return next == "it" || next == "her" || next == "him" || slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool { return mt.head == m.load && mt.it.from >= it.to })
}

// afterFlat reports whether a way is told as what comes behind flat ground.
func (m *message) afterFlat(it *item) bool {
	return slices.ContainsFunc(m.items, func(o *item) bool {
		return o.to <= it.from && o.clause.sentence == it.clause.sentence && o.has("flat") && m.notAllAlong(o)
	})
}

// working reads what drives the puller, and how things were found.
func (m *message) working(it *item) {
	if m.denied(it) {
		return
	}
	switch {
	case it.has("drum"):
		m.drumLayer(it)
	case it.has("tracks"):
		h, _ := m.owner(it, vehicles)
		if kind := m.puller.slots["kind"]; (h == m.puller && h != nil || h == nil && m.topic.stage() == "puller") && (kind == nil || kind.Value == it.means["tracks"]) {
			m.put(m.puller, "kind", it.means["tracks"], nil, it)
		}
	case it.has("drive") && strings.HasSuffix(it.means["drive"], "asked") && m.topic != TopicPullerDriven && !m.drivesByName(it):
	case it.has("drive") && m.driveFaulty():
	case it.has("drive"):
		value, _, _ := strings.Cut(it.means["drive"], " ")
		h, _ := m.owner(it, vehicles)
		if h == m.puller && h != nil || h == nil && m.topic.stage() == "puller" {
			if m.put(m.puller, "driven", value, nil, it) && value != "1" {
				m.puller.slots["driven"].Guess = true
			}
			if m.topic == TopicPuller && m.puller.open("kind") {
				m.put(m.puller, "kind", "wheeled", nil, it) // whatever it is called
			}
		} else if h == m.load {
			it.used = true
		}
	case it.has("from"):
		m.found(it)
	}
}

// drivesByName reports whether an axle's wheels are named by themselves among what is
// told of the puller: "lawn tractor 1150 lbs, rear wheels, on grass".
func (m *message) drivesByName(it *item) bool {
	return m.topic == TopicPuller && len(it.clause.items) == 1 && !strings.HasPrefix(it.means["drive"], "1")
}

// found reads how a figure was come by where it is the whole answer.
func (m *message) found(it *item) {
	kind, how, _ := strings.Cut(it.means["from"], " ")
	if from := m.load.slots["mass_from"]; from != nil && how == "guess" && kind != "slope" && m.load.slots["slope"] == nil && !m.denied(it) {
		it.used, from.Value = true, how // a part of it is: plate for the empty, bales are a guess
		return
	}
	switch {
	case (m.topic == TopicMassFrom || m.topic == TopicMass) && kind != "slope" && m.load.open("mass_from") && !m.unweighed():
		m.put(m.load, "mass_from", how, nil, it)
	case (m.topic == TopicSlopeFrom || m.topic == TopicSlope) && kind != "mass" && m.load.open("slope_from"):
		if how == "guess" {
			how = "eye"
		}
		m.put(m.load, "slope_from", how, nil, it)
	case (m.topic == TopicSideSlope || m.topic == TopicPullerSide) && m.word(it.from) == "looks" && !m.steepBeside(it) &&
		!slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.has("flat") || o.has("steepness") }):
		// "Looks ok no rust" is of another thing.
	case (m.topic == TopicSideSlope || m.topic == TopicPullerSide) && kind != "mass":
		h := m.load
		if m.topic == TopicPullerSide {
			h = m.puller
		}
		if how == "guess" {
			how = "eye"
		}
		if h.open("side_slope_from") {
			m.put(h, "side_slope_from", how, nil, it)
		}
	case kind != "slope" && m.load.slots["mass"] != nil && m.load.slots["slope"] == nil && m.load.open("mass_from") && len(it.clause.items) == 1:
		m.put(m.load, "mass_from", how, nil, it) // "7 t, a guess", whatever was asked
	}
}

// unweighed reports whether a weight was told and not taken, so that how it was
// found says nothing of the one that will be.
func (m *message) unweighed() bool {
	return m.load.slots["mass"] == nil && slices.ContainsFunc(m.items, func(it *item) bool { return it.q != nil && it.q.is(mass) && !it.used })
}

// steepBeside reports whether a slope in figures stands in an item's clause.
func (m *message) steepBeside(it *item) bool {
	return slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.q != nil && o.q.is(slope) })
}

// faulty are the words by which a drive that is there does not drive.
var faulty = wordSet("when if mostly usually supposed supposedly meant allegedly broken broke bust busted knackered gone dead faulty jammed doesnt isnt wont cant not dont out off intermittent sometimes seized slips slipping")

// driveFaulty reports whether the words about the wheels that drive tell of a
// fault: which do is asked, then.
func (m *message) driveFaulty() bool {
	return slices.ContainsFunc(m.items, func(it *item) bool {
		if !it.has("drive") {
			return false
		}
		for i := it.to; i < it.clause.to && i <= it.to+4; i++ {
			if faulty[m.word(i)] {
				return true
			}
		}
		return false
	})
}
