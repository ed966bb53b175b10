package hear

import (
	"slices"
	"strings"
)

// actor is a vehicle, winch or gang that the message speaks of, wherever it does.
type actor struct {
	items []*item
	kind  string  // as the sheet has it, "" if the name does not tell
	drive string  // driven share, if the name tells
	score float64 // below nothing the load, above it the puller
	named bool    // told as the puller
	part  bool    // a trailer
	pair  bool    // named in one breath with another that is no trailer
	hold  bool    // an anchor
	use   string  // what it is an anchor for, if that is said
}

func (a *actor) winch() bool { return a.items[0].has("winch") || a.items[0].has("hauling") }

// actors gathers the vehicles, each once.
func (m *message) actors() []*actor {
	var out []*actor
	byName := map[string]*actor{}
	for i, it := range m.items {
		if !it.has("vehicle") && !it.has("winch") && !it.has("hauling") || it.silent() || m.denied(it) || m.adjective(it) {
			continue
		}
		if m.leftOff(it) {
			continue // "3 t less the loader" names no other machine
		}
		if m.weighedIn(it) || m.sizeOf(it) || m.partOf(it) {
			it.used = true
			continue
		}
		if i+1 < len(m.items) && m.items[i+1].from == it.to && m.items[i+1].clause == it.clause && it.has("vehicle") &&
			m.items[i+1].has("vehicle") && !strings.HasPrefix(m.items[i+1].means["vehicle"], "part") && !m.items[i+1].has("drive") {
			it.used = true // a tipper truck is one thing
			continue
		}
		name := it.name
		if it.has("hauling") {
			name = "people"
		}
		if a := byName[name]; a != nil {
			a.items = append(a.items, it)
			continue
		}
		a := &actor{items: []*item{it}}
		switch {
		case it.has("winch"):
			a.kind, a.score = it.means["winch"], winchScore
		case it.has("hauling"):
			a.kind, a.score = it.means["hauling"], winchScore
		default:
			f := strings.Fields(it.means["vehicle"])
			switch f[0] {
			case "load":
				a.score = -leanScore
			case "puller":
				a.score = leanScore
			case "casualty":
				a.score = -casualtyScore
			case "part":
				a.score, a.part = -leanScore, true
			}
			if len(f) > 1 {
				a.kind = f[1]
			}
			if len(f) > 2 && !m.driveFaulty() {
				a.drive = strings.TrimPrefix(f[2], "driven=")
			}
		}
		if slices.Contains([]string{"on", "with"}, m.word(it.to)) && m.word(it.to+1) == "tracks" {
			a.kind, a.drive = "tracked", ""
		}
		if n := m.counted(it); n != nil && n.q.number > 1 && it.has("vehicle") {
			a.pair = true // two tractors: which of them?
		}
		byName[name] = a
		out = append(out, a)
	}
	out = m.alike(out)
	m.pairs(out)
	return out
}

// leftOff reports whether a thing is named as what a weight before it leaves out.
func (m *message) leftOff(it *item) bool {
	at := it.from - 1
	for slices.Contains([]string{"the", "its", "a", "my", "our", "front"}, m.word(at)) {
		at--
	}
	return leavesOut[m.word(at)] &&
		slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.to <= at && o.q != nil && o.q.is(mass) })
}

// adjective reports whether "4x4" describes a vehicle that is named beside it.
func (m *message) adjective(it *item) bool {
	if !it.has("drive") {
		return false
	}
	if m.topic == TopicPullerDriven {
		return true
	}
	if m.oneMore(it) {
		return false
	}
	if i := it.from - 1; !talk.is(m.word(i), "cue") && !slices.Contains([]string{"a", "an", "the", "our", "my", "his", "their", "another", "got"}, m.word(i)) &&
		slices.ContainsFunc(m.items, func(o *item) bool {
			return o.clause.sentence == it.clause.sentence && o.to <= it.from && o.has("vehicle") && !o.has("drive")
		}) {
		return true // "the tractor, 5 t 4wd"
	}
	alone := !slices.ContainsFunc(it.clause.items, func(o *item) bool { return o != it && !o.has("filler") })
	if alone && slices.ContainsFunc(m.items, func(o *item) bool {
		return (o.clause.passage == it.clause.passage || o.to <= it.from) && o.has("vehicle") && !o.has("drive")
	}) {
		return true
	}
	return slices.ContainsFunc(it.clause.items, func(o *item) bool {
		return (o.has("vehicle") || o.has("winch")) && !o.has("drive") && !strings.HasPrefix(o.means["vehicle"], "casualty")
	})
}

// oneMore reports whether "a 4x4" names another vehicle behind one: "tractor
// and a 4x4".
func (m *message) oneMore(it *item) bool {
	article := slices.Contains([]string{"a", "an", "the", "our", "my", "another"}, m.word(it.from-1))
	joined := slices.Contains([]string{"and", "or", "plus", "with"}, m.word(it.from-2))
	return article && joined && !slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.from == it.to && o.has("vehicle") })
}

// alike drops "1 vehicle" where the message says what vehicle it is.
func (m *message) alike(all []*actor) []*actor {
	if len(all) != 2 || all[0].kind == "" && all[1].kind == "" {
		return all
	}
	return slices.DeleteFunc(all, func(a *actor) bool {
		vague := a.kind == "" && slices.Contains([]string{"vehicle", "machine"}, a.items[0].name) && !a.pair
		if vague && len(a.items) == 1 && !slices.ContainsFunc(a.items[0].clause.items, func(o *item) bool { return o.has("cue") || o.q != nil && !o.q.bare() }) {
			a.items[0].used = true
			if n := m.counted(a.items[0]); n != nil {
				n.used = true
			}
			return true
		}
		return false
	})
}

// sizeOf reports whether a vehicle is only what another thing is as big as.
func (m *message) sizeOf(it *item) bool {
	of := m.word(it.from-1) == "a" || m.word(it.from-1) == "the"
	return of && (m.word(it.from-2) == "of" && m.word(it.from-3) == "size" || m.word(it.from-2) == "as" || m.word(it.from-2) == "than")
}

// pairs marks vehicles that are named in one breath: "quad bike and pickup".
func (m *message) pairs(all []*actor) {
	for _, a := range all {
		for _, b := range all {
			if a == b || !m.together(a.items[0], b.items[0]) {
				continue
			}
			if a.part || b.part {
				// A trailer with what tows it is one thing.
				for _, t := range []*actor{a, b} {
					for _, it := range t.items {
						it.used = it.used || t.part
					}
				}
				continue
			}
			if a.winch() != b.winch() && !a.items[0].has("hauling") && !b.items[0].has("hauling") {
				continue // the winch is what pulls, and what is beside it is said not to be taken
			}
			a.pair, b.pair = true, true
		}
	}
}

func (m *message) together(a, b *item) bool {
	if a.clause != b.clause || a.to >= b.from {
		return false
	}
	and := false
	for i := a.to; i < b.from; i++ {
		switch w := m.word(i); {
		case w == "and" || w == "or":
			and = true
		case w == "a" || w == "an" || describes(w):
		default:
			return false
		}
	}
	return and
}

// weighedIn reports whether a vehicle is part of what a weight before it is of:
// "the van is stuck, 2.8 t with the camper".
func (m *message) weighedIn(it *item) bool {
	return strings.HasPrefix(it.means["vehicle"], "load") && slices.Contains([]string{"the", "its", "our", "my"}, m.word(it.from-1)) && m.word(it.from-2) == "with" &&
		slices.ContainsFunc(m.items, func(o *item) bool { return o.q != nil && o.q.is(mass) && o.to == it.from-2 })
}
