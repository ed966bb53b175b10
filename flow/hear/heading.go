package hear

import (
	"slices"
	"strings"
)

// A number of things may stand over the list of them: "two new ropes: a haul rope of 70 m
// and a holding rope of 50 m" are two ropes and not four, and so are "two trees, a spruce
// and a beech". What is said of both or all at the end of a list is said of each.

// heading takes out of the number of some things those that are told one by one behind it.
func (m *message) heading() {
	for i, h := range m.heads {
		if h.class != "gear" && h.class != "anchor" || h.path != "" || h.kind == "" || h.count < 2 || h.parted || h.none || h.kind == "picket" {
			continue
		}
		at := slices.IndexFunc(m.mentions, func(mt *mention) bool { return mt.head == h })
		if at < 0 || h.class == "anchor" && h.more["name"] != "" {
			continue
		}
		var of []*head
		n := 0
		for _, o := range m.heads[i+1:] {
			own := slices.IndexFunc(m.mentions, func(mt *mention) bool { return mt.head == o })
			if o.class != h.class || o.kind != h.kind || o.path != "" || o.whole == h || own < 0 || m.mentions[own].it.clause.passage != m.mentions[at].it.clause.passage ||
				h.class == "gear" && !m.namedByWord(o) {
				continue
			}
			if len(of) == 0 && !m.listBegins(m.mentions[at].it, m.mentions[own].it) || m.adds(m.mentions[own].it) {
				break
			}
			of, n = append(of, o), n+max(1, o.count)
		}
		if n == 0 || n > h.count || slices.ContainsFunc(of, func(o *head) bool { return h.gainsays(o) }) {
			continue
		}
		for _, o := range of {
			for field := range h.slots {
				o.likeOf(h, field)
			}
		}
		h.count -= n
		h.none = h.count == 0
	}
	m.heads = slices.DeleteFunc(m.heads, func(h *head) bool { return h.none })
}

// listBegins reports whether a thing is the first of a list under the one that was named
// before: something divides them, and no word joins the one to the other.
func (m *message) listBegins(over, first *item) bool {
	for i := first.from - 1; i >= over.to-1; i-- {
		if i >= over.to && lists.has(m.word(i), "joins") {
			return false
		}
		if m.tokens[i].mark != unbroken || strings.Contains(m.text[m.tokens[i].to:m.tokens[i+1].from], ":") {
			return true
		}
	}
	return false
}

// gainsays reports whether something of a thing is told otherwise of another.
func (h *head) gainsays(o *head) bool {
	for k, f := range h.slots {
		if own := o.slots[k]; own != nil && own.Value != f.Value {
			return true
		}
	}
	return false
}

// ofEach gives what stands behind "both" or "all", where no thing is named, to each of
// those that were named before it.
func (m *message) ofEach() {
	for _, c := range m.clauses {
		word := m.word(c.from)
		if word == "theyre" || word == "they" {
			word = m.word(c.from + 1)
			if word == "are" {
				word = m.word(c.from + 2)
			}
		}
		if !lists.has(word, "all") || len(m.mentionsIn(c)) > 0 {
			continue
		}
		for _, class := range []string{"gear", "anchor"} {
			if from := m.lastIn(c, class); from != nil {
				m.spread(c, from, m.before(c, class), word == "both")
			}
		}
	}
}

// lastIn returns the thing of a class that took what a clause says.
func (m *message) lastIn(c *clause, class string) *head {
	for _, h := range m.heads {
		if h.class != class {
			continue
		}
		for _, at := range h.where {
			if at == c {
				return h
			}
		}
	}
	return nil
}

// before returns the things of a class that were named before a clause in its passage, in
// that order.
func (m *message) before(c *clause, class string) []*head {
	var out []*head
	for _, mt := range m.mentions {
		if mt.head.class == class && mt.head.kind != "" && mt.it.from < c.from && mt.it.clause.passage == c.passage && slices.Contains(m.heads, mt.head) {
			out = append(slices.DeleteFunc(out, func(h *head) bool { return h == mt.head }), mt.head)
		}
	}
	return out
}

// eachMay are what is told of several things in one word.
var eachMay = strings.Fields("alive lean condition improvised knots rating_kind strap_held equalised")

// spread gives what a thing took from a clause to each of some others.
func (m *message) spread(c *clause, from *head, to []*head, two bool) {
	if two && len(to) > 2 {
		to = to[len(to)-2:]
	}
	for _, field := range eachMay {
		if from.slots[field] == nil || from.where[field] != c {
			continue
		}
		for _, h := range to {
			if h != from && h.class == from.class && (field != "knots" || h.kind == "rope" || h.kind == "sling") {
				h.likeOf(from, field)
			}
		}
	}
}
