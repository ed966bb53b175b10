package hear

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// crew reads how many people are there.
func (m *message) crew() {
	if m.topic == TopicText {
		return
	}
	defer m.partless()
	m.withOthers()
	for _, c := range m.clauses {
		for i, it := range c.items {
			switch {
			case it.used || it.silent() || m.denied(it):
			case it.has("crew") && !m.ofVehicle(it) && !lists.has(m.word(it.from-1), "standsalone") && !(m.word(it.to-1) == "me" && m.word(it.to) == "and"):
				m.put(m.job, "crew", it.means["crew"], nil, it)
			case it.q != nil && it.q.bare() && m.word(it.to) == "of" && m.word(it.to+1) == "us":
				m.hands(it)
				for _, other := range c.items {
					if other.has("hauling") && m.puller.open("people") {
						n, _ := it.q.count()
						m.put(m.puller, "people", n, it.q, it)
					}
				}
			case it.q != nil && it.q.bare() && m.topic == TopicPuller && len(m.items) == 2 && len(c.items) == 2 && i == 0 && c.items[1].means["person"] == "many":
				if n, ok := it.q.count(); ok && n != "0" {
					m.put(m.puller, "kind", "people", nil, it)
					m.put(m.puller, "people", n, it.q, it, c.items[1])
				}
			case it.q != nil && it.q.bare() && m.topic == TopicPuller && !m.named(m.puller) && !m.named(m.load) && i+1 < len(c.items) && c.items[i+1].means["person"] == "many":
				if n, ok := it.q.count(); ok && n != "0" {
					m.put(m.puller, "kind", "people", nil, it)
					m.put(m.puller, "people", n, it.q, it, c.items[i+1])
				}
			case it.q != nil && it.q.bare() && i+1 < len(c.items) && c.items[i+1].means["person"] == "many" && m.counts(c) && !m.withMe(it):
				m.hands(it, c.items[i+1])
			case it.q != nil && it.q.bare() && m.topic == TopicCrew && (m.allTold(it) || c.infer && it.from == c.from+1 && it.to == c.to):
				m.hands(it)
			case it.q != nil && it.q.bare() && m.weAre(it):
				m.hands(it)
			case m.word(it.from) == "crew" && i+2 < len(c.items) && m.word(it.to) == "of" && c.items[i+2].q != nil:
				m.hands(c.items[i+2], it)
			case (m.word(it.to-1) == "me" || m.word(it.from) == "myself") && (m.word(it.to) == "and" || m.topic == TopicCrew):
				m.company(it)
			}
		}
	}
}

// partless takes those who have no part out of the number that is told with them.
func (m *message) partless() {
	f := m.job.slots["crew"]
	if f == nil {
		return
	}
	apart := ApartIn(m.text, m.topic == TopicCrew)
	if len(apart) == 0 {
		return
	}
	m.apart = apart
	if n, err := strconv.Atoi(f.Value); err != nil || n <= len(apart) {
		delete(m.job.slots, "crew")
		m.unuse(f.Said)
	} else {
		f.Value = strconv.Itoa(n - len(apart))
	}
	for _, c := range m.clauses {
		low := Lowered(m.text[m.tokens[c.from].from:m.tokens[c.to-1].to])
		if slices.ContainsFunc(apart, func(a Apart) bool { return strings.Contains(low, a.said) || strings.Contains(a.said, low) }) {
			for _, it := range c.items {
				it.used = true
			}
		}
	}
}

// ofVehicle reports whether "alone" is said of a vehicle: the trailer alone.
func (m *message) ofVehicle(it *item) bool {
	return slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.to == it.from && o.has("vehicle") })
}

// allTold reports whether a number is the whole answer, but for who has no part: "5", "5
// in all", "we are 5 now, tommy is 15".
func (m *message) allTold(n *item) bool {
	apart := ApartIn(m.text, m.topic == TopicCrew)
	for _, c := range m.clauses {
		low := Lowered(m.text[m.tokens[c.from].from:m.tokens[c.to-1].to])
		if c != n.clause && slices.ContainsFunc(apart, func(a Apart) bool { return strings.Contains(a.said, low) }) {
			continue
		}
		for i := c.from; i < c.to; i++ {
			if (i < n.from || i >= n.to) && !beside[m.word(i)] {
				return false
			}
		}
	}
	return true
}

// weAre reports whether a clause says how many whoever writes and the others are, and
// nothing else: "we are 5 now".
func (m *message) weAre(n *item) bool {
	if first := m.word(n.clause.from); first != "we" && first != "were" {
		return false
	}
	for i := n.clause.from + 1; i < n.clause.to; i++ {
		if (i < n.from || i >= n.to) && !beside[m.word(i)] {
			return false
		}
	}
	return n.from > n.clause.from && slices.Contains([]string{"are", "were", "now"}, m.word(n.from-1))
}

// beside are words that stand beside the number of the crew and tell nothing more.
var beside = wordSet("in all total altogether here now just only grown ups adults nos we are including counting driver")

// othersToo is a list of names with how many more there are.
var othersToo = regexp.MustCompile(`(?i)^(.*?)[\s,]*(?:\band\b|&|\+|\bplus\b)\s*(\d|one|two|three|four|five|six)\s+(?:more|others?)\W*$`)

// withOthers counts who is named with whoever writes, and the others that are told by number:
// "me, ben, sal and 2 more". A list in which whoever writes does not stand, or a name that
// may be two, is no count.
func (m *message) withOthers() {
	told := othersToo.FindStringSubmatch(m.text)
	if told == nil || m.topic != TopicCrew {
		return
	}
	named, words, me := People(told[1]), 0, false
	for _, w := range strings.FieldsFunc(strings.ToLower(told[1]), betweenWords) {
		if w != "and" && w != "n" && w != "plus" {
			words++
		}
	}
	for _, p := range named {
		me = me || p.Me && p.Name == ""
	}
	more, err := strconv.Atoi(told[2])
	if v, ok := talk.value(strings.ToLower(told[2]), "number"); ok {
		more, err = strconv.Atoi(v)
	}
	if err != nil || !me || words != len(named) {
		return
	}
	m.put(m.job, "crew", strconv.Itoa(len(named)+more), nil, m.items...)
}

// withMe reports whether a number of people is only part of who is there: "me
// and Dave and the two lads".
func (m *message) withMe(n *item) bool {
	for i := n.clause.from; i < n.clause.to; i++ {
		if (m.word(i) == "me" || m.word(i) == "myself") && (i < n.from || m.topic == TopicCrew && m.andAt(i)) {
			return true
		}
	}
	return false
}

// andAt reports whether "and" stands before a token: "2 lads and me".
func (m *message) andAt(at int) bool {
	return slices.Contains([]string{"and", "plus", "n", "&"}, m.word(at-1))
}

// counts reports whether a number of people is the crew and not, say, who
// sits in the cab.
func (m *message) counts(c *clause) bool {
	for _, it := range c.items {
		if it.has("hazard") {
			return false
		}
	}
	for i := c.from; i < c.to; i++ {
		if slices.Contains([]string{"normally", "usually", "aboard", "onboard", "inside"}, m.word(i)) {
			return false // who rides in it
		}
	}
	if m.topic == TopicCrew {
		return true
	}
	return m.opensWith(c, "we", "weve", "were", "us", "here", "crew", "got", "have", "theres", "there")
}

func (m *message) hands(n *item, with ...*item) {
	if count, ok := n.q.count(); ok && count != "0" {
		m.put(m.job, "crew", count, n.q, append([]*item{n}, with...)...)
	}
}

// company counts "me and my brother", "me and two mates".
func (m *message) company(me *item) {
	total, next := 1, 0
	its := []*item{me}
	for _, it := range m.items {
		n := 0
		switch {
		case it == me, it.from <= me.from && (m.topic != TopicCrew || it.clause != me.clause || !m.andAt(me.from)) || it.clause.sentence != me.clause.sentence:
			continue
		case it.q != nil && it.q.bare():
			if k, ok := it.q.count(); ok {
				next, _ = strconv.Atoi(k)
				its = append(its, it)
				continue
			}
			return
		case it.clause != me.clause && m.topic != TopicCrew:
			continue
		case it.means["person"] == "one":
			n = max(1, next)
		case it.means["person"] == "many":
			if n = next; n == 0 {
				return // how many mates?
			}
		case slices.Contains([]string{"and", "plus", "my", "our", "the", "a", "his", "her", "their", "just", "only", "us", "also"}, m.word(it.from)) && it.to-it.from == 1 || it.has("filler"):
			continue
		default:
			return
		}
		total, next = total+n, 0
		its = append(its, it)
	}
	if total > 1 && next == 0 {
		m.put(m.job, "crew", strconv.Itoa(total), nil, its...)
	}
}
