package hear

import (
	"slices"
	"strings"
)

// headAt returns the head and so the field that a path of the sheet names.
func (m *message) headAt(path string) *head {
	i := strings.LastIndex(path, ".")
	if i < 0 {
		return nil
	}
	switch at := path[:i+1]; {
	case at == "load.":
		return m.load
	case at == "puller.":
		return m.puller
	case at != "load.tow_point." && !strings.Contains(at, "["):
		return nil
	default:
		class := "end"
		if item, _, ok := Topic(path).piece(); ok {
			class, _, _ = strings.Cut(item, "[")
			class = strings.TrimSuffix(class, "s")
		}
		for _, h := range m.heads {
			if h.class == class && h.path == at {
				return h
			}
		}
		h := newHead(class, at)
		m.heads = append(m.heads, h)
		return h
	}
}

// states reads everything that is told in words and not in figures.
func (m *message) states() {
	for _, it := range m.items {
		if it.used && !it.has("drive") && !it.has("depth") && !it.has("material") || it.means == nil || it.silent() && !it.has("running") {
			continue
		}
		if it.has("running") {
			m.put(m.job, "site.running_start", "true", nil, it)
			continue
		}
		if m.machineHolds(it) {
			continue
		}
		m.lying(it)
		m.going(it)
		m.working(it)
		m.pieces(it)
	}
	m.wetted()
}

// lying reads ground, depth, belly, wheels and step.
func (m *message) lying(it *item) {
	denied := m.denied(it)
	switch {
	case it.has("ground") && !denied:
		m.ground(it)
	case it.has("underfoot") && !denied:
		m.underfoot(it)
	case it.has("belly") && !denied:
		if m.standing(it) == m.load || m.topic == TopicBelly {
			m.put(m.load, "belly", it.means["belly"], nil, it)
			if it.has("depth") {
				m.put(m.load, "sunk", it.means["depth"], nil, it)
			}
		}
	case it.has("depth") && !(m.merely(it) && m.topic != TopicSunk && m.topic != TopicGround) && m.ofWheels(it) && !denied:
		if h := m.standing(it); h == m.load || h == nil && m.topic == TopicSunk {
			m.put(m.load, "sunk", it.means["depth"], nil, it)
		}
	case it.has("locked") && !denied:
		m.wheels(it)
	case it.has("lip") && it.means["lip"] == "none":
		m.put(m.load, "lip", "none", nil, it)
	case m.topic == TopicFrontShare && it.has("share"):
		m.put(m.puller, "front_share", it.means["share"], nil, it)
	case m.topic == TopicSlope && it.has("flat") && !denied && m.load.open("slope") && m.throughout(it):
		if h, doubt := m.owner(it, vehicles); !doubt && (h == nil || h == m.load) {
			value := "0 deg"
			if m.nearly(it) {
				value = "0 to 5 deg" // what gentle stands for
			}
			m.put(m.load, "slope", value, nil, it)
		}
	case m.topic == TopicSideSlope && it.has("flat") && !denied && m.load.open("side_slope") && m.throughout(it) && !m.steepBeside(it):
		if h, doubt := m.owner(it, vehicles); !doubt && (h == nil || h == m.load) {
			value := "0 to 3 deg"
			if m.nearly(it) {
				value = "0 to 5 deg"
			}
			m.put(m.load, "side_slope", value, nil, it)
		}
	case it.has("steepness") && !denied:
		m.steepWord(it)
	case it.has("inline") && m.topic == TopicOffLine && !denied && slices.ContainsFunc(m.items, func(o *item) bool { return o.q != nil && o.q.is(angle) && o.used }):
		it.used = true // "straight, 0-5 deg": the figure tells more
	case it.has("inline") && m.topic == TopicOffLine && !denied && !slices.ContainsFunc(m.clauses, func(c *clause) bool { return turning(m.word(c.from)) || bends[m.word(c.from)] }):
		m.put(m.load, "off_line", inLine, nil, it)
	case m.topic == TopicSunk && it.has("nothing") && len(it.clause.items) == 1:
		m.put(m.load, "sunk", "none", nil, it)
	case m.topic == TopicLip && it.has("nothing") && len(it.clause.items) == 1:
		m.put(m.load, "lip", "none", nil, it)
	}
}

// steepWord takes a slope that is told by a word, where one is asked for.
func (m *message) steepWord(it *item) {
	h, field := m.load, "slope"
	switch m.topic {
	case TopicSlope:
	case TopicSideSlope:
		field = "side_slope"
	case TopicPullerSide:
		h, field = m.puller, "side_slope"
	case TopicPullerSlope:
		h = m.puller
	default:
		return
	}
	for _, t := range m.tokens[it.clause.from:it.clause.to] {
		if slices.Contains([]string{"gentle", "between", "from", "to", "level", "flat"}, t.text) {
			return
		}
	}
	if of, doubt := m.owner(it, vehicles); !doubt && (of == nil || of == h) && h.open(field) && m.throughout(it) && !slices.ContainsFunc(m.items, func(o *item) bool { return o.q != nil && !o.used }) {
		m.put(h, field, it.means["steepness"], nil, it)
	}
}

// throughout reports whether ground is called flat all along: not to begin with, and not a bit off it.
func (m *message) throughout(it *item) bool {
	if m.gapTold() {
		return false // it is the level that is held so
	}
	for _, c := range m.clauses {
		for i := c.from; i < c.to && c.sentence == it.clause.sentence; i++ {
			if partly[m.word(i)] {
				return false
			}
		}
	}
	return true
}

// partly are words with which ground is flat somewhere or nearly.
var partly = wordSet("then begin begins start starts first off until till before after later mostly partly apart except")

// bends are words with which a part of a message begins that says where a line is not straight.
var bends = wordSet("round around past until then over")

// merely reports whether a depth is only the name of a part, "hubs", or a vague
// length of whatever, "a few inches".
func (m *message) merely(it *item) bool {
	if slices.Contains([]string{"inches", "cm", "centimetres"}, m.word(it.to-1)) && m.word(it.from) != "sunk" {
		return true
	}
	return it.to-it.from == 1 && !slices.Contains([]string{"to", "the", "in", "over", "at"}, m.word(it.from-1))
}
