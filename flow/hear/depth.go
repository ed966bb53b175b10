package hear

import (
	"slices"

	"linetender/calc/bound"
)

// The pull out of the mire goes by where the ground reaches on the wheel, and
// people measure it in centimetres. Judgment: as long as the wheel is not told,
// it is a small one, so that a depth passes for more pull than it may take; a
// depth that is "about" so much is taken a quarter deeper. What was assumed is
// said, and who knows where the ground reaches says so.
//
// A few centimetres are no mire: the depth rule of the recovery manuals begins
// at the wheel's depth. What they cost is in the rolling figures of every ground
// that a wheel sinks into. By the earthmoving rule, R = 2 % + 1.5 % of the weight
// for each inch (a civil-engineering handbook, second-hand), 10 cm make 7.9 %,
// and those reach 8 % and more.
const (
	shallow  = 0.10 // metres that still count as not sunk
	smallHub = 0.25 // metres from the ground to the hub
	smallTop = 0.50 // and to the top of the wheel
	roughly  = 1.25
	deepest  = 3.0 // more is no depth of a wheel

)

// sinks files a length that says how deep the wheels sit, and reports whether
// it does.
func (m *message) sinks(it *item) bool {
	if !(it.q.si <= deepest) || !m.sinking(it) {
		return false
	}
	r, err := bound.ReadLength(it.q.text)
	if err != nil {
		return false
	}
	deep := r.Value.High.Metres()
	if guess, ok := m.hedged("load.sunk", it); !ok {
		return true // over so much: how much?
	} else if guess || it.q.rough || it.clause.unsure {
		deep *= roughly
	}
	value := "cab"
	switch {
	case deep <= shallow:
		value = "none"
	case deep <= smallHub:
		value = "hub"
	case deep <= smallTop:
		value = "fender"
	}
	if old := m.load.slots["sunk"]; m.put(m.load, "sunk", value, nil, it) && m.load.slots["sunk"] != old {
		m.load.slots["sunk"].Taken = deep > smallHub || 0 < deep && deep <= shallow
		for _, other := range it.clause.items {
			other.used = other.used || other.has("sinks") || other.means["attr"] == "deep"
		}
	}
	return true
}

// sinking reports whether a length is told of the stuck vehicle's wheels and
// the ground about them, and not of a ditch, a step or a stake.
func (m *message) sinking(it *item) bool {
	c := it.clause
	cue, only := m.beside(it, "attr", 2, "deep") != nil, true
	for _, other := range c.items {
		switch {
		case other == it:
		case other.has("gear"), other.has("anchor"), other.has("end") && !other.has("depth"), other.has("lip"), other.means["attr"] != "" && other.means["attr"] != "deep":
			return false
		case other.means["ground"] == "snow", other.means["ground"] == "ice":
			return false
		case other.has("sinks"):
			cue = true
		case !other.has("filler") && !other.has("hedge") && !other.has("ground"):
			only = false
		}
	}
	for i := c.from; i < c.to; i++ {
		if talk.is(m.word(i), "hollow") {
			return false
		}
	}
	for _, mt := range m.mentionsIn(c) {
		if mt.head != m.load {
			return false
		}
	}
	asked := m.topic == TopicSunk || m.topic == TopicGround
	if !asked && m.topic.stage() != "load" && m.topic != TopicNone && m.topic != TopicPeople {
		return false
	}
	before := m.word(it.from - 1)
	for _, w := range []string{"a", "about", "bout", "an", "roughly", "around"} {
		if before == w {
			before = m.word(it.from - 2)
		}
	}
	switch {
	case m.topic == TopicSunk, cue, asked && only:
		return true
	}
	return asked && slices.Contains([]string{"down", "in"}, before)
}

// ofWheels reports whether a depth that is told by somebody's body is that of the
// wheels: grass, water and snow are knee high too. It is where the words speak of
// sinking or of mud, or where that was asked and they say nothing else.
func (m *message) ofWheels(it *item) bool {
	body := false
	for i := it.from; i < it.to; i++ {
		body = body || limbs[m.word(i)]
	}
	if !body {
		return true
	}
	alone := m.topic == TopicSunk
	for _, c := range m.clauses {
		if c.sentence != it.clause.sentence {
			continue
		}
		for _, other := range c.items {
			if other.has("sinks") || other.means["ground"] == "mud" || other.means["vehicle"] == "part" {
				return true
			}
		}
		for i := c.from; i < c.to; i++ {
			alone = alone && (it.from <= i && i < it.to || ofDepth[m.word(i)])
		}
	}
	return alone
}

// ofDepth are the words that tell of no other thing than what was asked about.
var ofDepth = wordSet("its it's it is are were we're about bout roughly maybe to in mud muck the a deep sits sitting well right near nearly over just above below under")

var limbs = wordSet("ankle ankles shin shins knee knees thigh thighs waist hip hips chest")
