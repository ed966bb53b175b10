package hear

import (
	"slices"
	"strconv"
	"strings"
)

// How a puller's weight lies on its axles is told as a part of it and the end that bears
// it: "two thirds on the rear axle". The axle is then no place where a line is made fast,
// and the part no slope.

// axleShare reads how much of the puller's weight is on its front axle.
func (m *message) axleShare() {
	for _, c := range m.clauses {
		if !m.ofPullersAxles(c) {
			continue
		}
		for _, it := range c.items {
			part, ok := m.partOf100(it)
			end := m.axleBehind(it)
			if !ok || it.silent() || end == nil {
				continue
			}
			if lists.has(m.word(end.from), "rearend") {
				part = 1 - part
			}
			// Down to a hundredth: the lighter its front, the sooner it lifts.
			value := strconv.FormatFloat(float64(int(part*100+1e-9))/100, 'g', -1, 64)
			if !m.put(m.puller, "front_share", value, nil, it, end) {
				continue
			}
			it.q, it.means, it.used = nil, map[string]string{"filler": "-"}, true
			for i := it.to; i < c.to; i++ {
				if o := m.itemAt(i); o != nil && o.q == nil && (o == end || lists.has(m.word(i), "axles") || lists.has(m.word(i), "borne") || lists.has(m.word(i), "frontend") || lists.has(m.word(i), "rearend")) {
					o.means, o.used = map[string]string{"filler": "-"}, true
				}
			}
		}
	}
}

// ofPullersAxles reports whether a clause may tell of the puller's axles: where that is
// asked, or where it speaks of axles or of what they bear, of the puller or where that is
// what is asked about.
func (m *message) ofPullersAxles(c *clause) bool {
	if m.topic == TopicFrontShare {
		return true
	}
	if !m.anyIn(c, "axles") && !m.anyIn(c, "borne") && !slices.ContainsFunc(c.items, func(o *item) bool { return o.has("share") }) {
		return false
	}
	load, puller := false, m.topic.stage() == "puller"
	for _, o := range c.items {
		if !o.has("vehicle") {
			continue
		}
		if strings.HasPrefix(o.means["vehicle"], "puller") || m.known.calls(o.name) == "puller" {
			puller = true
		} else {
			load = true
		}
	}
	return puller && !load
}

// partOf100 returns the part of a whole that an item tells: a third, 40 %, and where it is
// asked a bare 40.
func (m *message) partOf100(it *item) (float64, bool) {
	text := it.means["share"]
	hundredths := text == ""
	if hundredths && it.q != nil && (it.q.unit == "%" || it.q.bare() && m.topic == TopicFrontShare) && it.q.other == nil {
		text = strings.TrimRight(it.q.text, "% percntPERCNT")
	}
	v, err := strconv.ParseFloat(text, 64)
	if hundredths {
		v /= 100
	}
	return v, err == nil && 0 < v && v < 1
}

// axleBehind returns the word for the front or the rear that stands behind a part, with
// nothing between but words that lead to it; nil where none does.
func (m *message) axleBehind(it *item) *item {
	for i := it.to; i < it.clause.to; i++ {
		switch w := m.word(i); {
		case lists.has(w, "frontend"), lists.has(w, "rearend"):
			return m.itemAt(i)
		case !lists.has(w, "leadstoaxle") && !lists.has(w, "borne"):
			return nil
		}
	}
	return nil
}
