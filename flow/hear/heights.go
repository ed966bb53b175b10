package hear

import (
	"slices"
	"strings"

	"linetender/calc/bound"
)

// The words that tell which of two heights a figure is, and that it is a rating.
var (
	axleWords  = []string{"axle", "axles", "hub", "hubs"}
	hitchWords = []string{"hitch", "drawbar", "fairlead", "hook", "pin"}
	comparing  = []string{"lower", "higher", "below", "above", "than", "under", "over"} // by so much, not at so much
	ratedWords = []string{"rating", "rated", "stamped", "plated"}
)

// heights reads the heights of hitch and axle from one message, each by the
// word it stands with, and reports whether the message tells both apart. Taken
// for each other they would hide that the machine tips over backward, so what
// is not plain is left over whole.
func (m *message) heights() bool {
	if !m.tellsHeights() {
		return false
	}
	var figures []*item
	var rated *item // what the place is rated for, beside its height
	unit := ""
	for _, it := range m.items {
		switch {
		case it.q == nil:
			continue
		case it.q.is(length) && slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.means["measure of"] == "wheelbase" }):
			m.put(m.puller, "wheelbase", it.q.text, it.q, it)
			for _, o := range it.clause.items {
				o.used = o.used || o.means["measure of"] == "wheelbase"
			}
			continue
		case m.rates(it) && m.othersPoint(it.clause):
			continue // the trailer's eye is no hitch
		case rated == nil && m.rates(it):
			rated = it
			continue
		case it.silent() || it.clause.undone || !it.q.bare() && !it.q.is(length) || it.q.ranged:
			return true
		case !it.q.bare():
			unit = it.q.unit
		}
		figures = append(figures, it)
	}
	names := m.labels(figures, func(i int) (int, int) { return end(figures, i-1, 0), figures[i].from })
	if names == nil {
		names = m.labels(figures, func(i int) (int, int) {
			if i+1 < len(figures) {
				return figures[i].to, figures[i+1].from
			}
			return figures[i].to, len(m.tokens)
		})
	}
	if names == nil {
		// Each in its own clause: the place is named before them, "drawbar, axle 55, hitch 35".
		names = m.labels(figures, func(i int) (int, int) { return max(end(figures, i-1, 0), figures[i].clause.from), figures[i].from })
	}
	if names == nil && !slices.ContainsFunc(figures, func(it *item) bool {
		return slices.ContainsFunc(figures, func(o *item) bool { return o != it && o.clause == it.clause })
	}) { // "hitch is 55 cm, 78 cm the axle"
		names = m.labels(figures, func(i int) (int, int) { return figures[i].clause.from, figures[i].clause.to })
	}
	if names == nil {
		names = m.otherHeight(figures)
	}
	if names == nil || m.speaks(0, len(m.tokens), comparing) {
		return true
	}
	for i, it := range figures {
		text := it.q.text
		if it.q.bare() {
			text = strings.TrimSpace(text) + " " + unit // the unit is told once
		}
		if _, err := bound.ReadLength(text); err == nil && unit != "" && m.put(m.puller, names[i], text, it.q, it) {
			for _, o := range it.clause.items {
				o.used = o.used || m.speaks(o.from, o.to, axleWords) || m.speaks(o.from, o.to, hitchWords)
			}
		}
	}
	if rated != nil {
		at := slices.IndexFunc(rated.clause.items, func(o *item) bool { return o.has("rkind") })
		var stamp *item
		if at >= 0 {
			stamp = rated.clause.items[at]
		}
		m.rated(m.puller, "hitch_rating", rated, stamp)
	}
	return true
}

// rates reports whether a figure is a rating told in a clause of its own: "hitch 40 cm, axle 60 cm, rated 3 t".
func (m *message) rates(it *item) bool {
	if it.silent() || it.q.ranged || it.q.bare() || !it.q.is(force) && !it.q.is(mass) || m.speaks(it.clause.from, it.clause.to, axleWords) {
		return false
	}
	return m.speaks(it.clause.from, it.clause.to, ratedWords) || slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.means["rkind"] == "working" })
}

// tellsHeights reports whether a message is about the heights of both: where
// one was asked for and the other is named too, or where the place was asked
// for and two lengths come with both names.
func (m *message) tellsHeights() bool {
	if slices.ContainsFunc(m.items, func(it *item) bool { return it.has("lip") || it.means["attr"] == "radius" }) {
		return false // a step and the wheel that meets it are the load's
	}
	axle, hitch := m.speaks(0, len(m.tokens), axleWords), m.speaks(0, len(m.tokens), hitchWords)
	switch m.topic {
	case TopicHitchHeight:
		return axle || hitch && m.loneFigure() // both are asked for
	case TopicAxleHeight:
		return hitch
	case TopicHitch:
		return axle && hitch && m.lengths() > 0 && m.heightFigures() == 2
	case TopicNone: // nobody asks, so that a hook or a pin may be any
		return axle && m.speaks(0, len(m.tokens), hitchWords[:3]) && m.lengths() > 0 && m.heightFigures() == 2
	}
	return false
}

// loneFigure reports whether of two figures of a height one stands in a clause by itself.
func (m *message) loneFigure() bool {
	if m.heightFigures() != 2 {
		return false
	}
	return slices.ContainsFunc(m.clauses, func(c *clause) bool { return len(c.items) == 1 && c.items[0].q != nil && c.items[0].q.is(length) })
}

// heightFigures counts the figures of the message that may be a height: in a unit, or
// bare beside one that has it.
func (m *message) heightFigures() int {
	n := m.lengths()
	for _, it := range m.items {
		if it.q != nil && it.q.bare() && m.speaks(it.clause.from, it.from, append(slices.Clone(axleWords), hitchWords...)) {
			n++
		}
	}
	return n
}

// lengths counts the figures of the message that are a length.
func (m *message) lengths() int {
	n := 0
	for _, it := range m.items {
		if it.q != nil && it.q.is(length) {
			n++
		}
	}
	return n
}

func end(figures []*item, i, none int) int {
	if i < 0 {
		return none
	}
	return figures[i].to
}

// labels names the height of each figure by the words in its stretch of the
// message; nil if one has none or both, or if two are the same.
func (m *message) labels(figures []*item, stretch func(int) (from, to int)) []string {
	var out []string
	for i := range figures {
		from, to := stretch(i)
		axle, hitch := m.speaks(from, to, axleWords), m.speaks(from, to, hitchWords)
		name := "hitch_height"
		if axle {
			name = "axle_height"
		}
		if axle == hitch || slices.Contains(out, name) {
			return nil
		}
		out = append(out, name)
	}
	return out
}

// otherHeight names the heights of two figures, each in its own clause, of which one is
// said and the other the one that was asked: "78 cm, hitch 55" where that is the axle's.
func (m *message) otherHeight(figures []*item) []string {
	if len(figures) != 2 || figures[0].clause == figures[1].clause {
		return nil
	}
	for i, it := range figures {
		other := figures[1-i].clause
		axle, hitch := m.speaks(it.clause.from, it.clause.to, axleWords), m.speaks(it.clause.from, it.clause.to, hitchWords)
		if axle == hitch || len(other.items) != 1 || hitch != (m.topic == TopicAxleHeight) {
			continue
		}
		if hitch == (i == 0) {
			return []string{"hitch_height", "axle_height"}
		}
		return []string{"axle_height", "hitch_height"}
	}
	return nil
}

func (m *message) speaks(from, to int, of []string) bool {
	for i := from; i < to; i++ {
		if slices.Contains(of, m.word(i)) {
			return true
		}
	}
	return false
}
