package hear

import (
	"slices"
	"strings"

	"linetender/calc/bound"
)

// levelled reads two lengths as what a level or a board shows. The words say
// which is which; without them the longer is the level or the board, since no
// wheel stands on a slope past 45 degrees.
func (m *message) levelled() {
	tool := m.topic
	if tool != TopicLevel && tool != TopicBoard {
		tool = ""
		for _, it := range m.items {
			switch {
			case it.means["level"] == "gap" && m.hasWord("level"):
				tool = TopicLevel
			case (it.means["level"] == "rise" || it.means["level"] == "board") && m.hasWord("board") && m.hasWord("rise"):
				tool = TopicBoard
			}
		}
	}
	if tool == "" {
		return
	}
	var two []*item
	for _, it := range m.items {
		if it.q != nil && (it.q.is(slope) || it.q.is(mass)) || it.silent() && it.q != nil {
			return
		}
		if it.q != nil && !it.used {
			two = append(two, it)
		}
	}
	var a, b *quantity
	switch len(two) {
	case 1: // "1 m and 8 cm gap" is no 108 cm
		long, short, both := strings.Cut(two[0].q.text, " and ")
		if a, b = readQuantity(long), readQuantity(short); !both || a == nil || b == nil {
			return
		}
	case 2:
		a, b = two[0].q, two[1].q
	default:
		return
	}
	// A rule read beside another: the second length is in the unit of the first
	// only if that is one for short lengths.
	switch {
	case a.is(length) && b.bare() && a.small():
		b = &quantity{text: b.text + " " + a.unit, dims: length}
	case b.is(length) && a.bare() && b.small():
		a = &quantity{text: a.text + " " + b.unit, dims: length}
	}
	if !a.is(length) || !b.is(length) {
		return
	}
	ra, err := bound.ReadLength(a.text)
	rb, err2 := bound.ReadLength(b.text)
	if err != nil || err2 != nil {
		return
	}
	if rb.Value.Best > ra.Value.Best {
		a, b = b, a
	}
	value := "level " + a.text + ", gap " + b.text
	if tool == TopicBoard {
		value = "board " + a.text + ", rise " + b.text
	}
	if _, err := bound.ReadSlope(value); err != nil {
		return
	}
	q := &quantity{text: value, dims: slope, unit: string(tool), measured: true}
	h, field := m.load, "slope"
	if m.topic == TopicSideSlope && (!m.hasWord("slope") || m.hasWord("side")) {
		field = "side_slope" // across is what was asked
	} else if m.asked != nil && m.asked.class == "anchor" && m.topic.field() == "slope" {
		h = m.asked
	} else if m.topic.stage() == "puller" {
		h = m.puller
	}
	if m.put(h, field, value, q, two...) {
		for _, it := range m.items {
			if it.has("level") || strings.EqualFold(m.said(it), "level") || strings.EqualFold(m.said(it), "dead level") {
				it.used = true
			}
		}
	}
}

// heldLevel takes what is said of how the level was held as part of what it
// showed: "held it dead level".
func (m *message) heldLevel() {
	f := m.load.slots["slope"]
	if f == nil {
		f = m.load.slots["side_slope"]
	}
	if f == nil || !strings.HasPrefix(f.Value, "level ") && !strings.HasPrefix(f.Value, "board ") {
		return
	}
	for _, it := range m.items {
		if it.has("flat") || it.has("level") {
			it.used = true
		}
	}
}

// gapTold reports whether a message tells of a gap or a rise with a figure: what the level
// or the board shows, though it was not read.
func (m *message) gapTold() bool {
	return slices.ContainsFunc(m.items, func(it *item) bool {
		return (it.means["level"] == "gap" || it.means["level"] == "rise") && slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.q != nil })
	})
}

func (m *message) hasWord(w string) bool {
	for _, t := range m.tokens {
		if t.text == w {
			return true
		}
	}
	return false
}
