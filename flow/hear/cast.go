package hear

import (
	"slices"
	"strings"
)

// Weights of what makes a vehicle the load or the puller. Judgment: a name
// alone says little, "stuck" says much, and the question settles what is left.
const (
	leanScore     = 1.0
	casualtyScore = 3.0
	winchScore    = 3.0
	stuckScore    = 3.0
	ownScore      = 1.0
	knownScore    = 3.0
	clearScore    = 0.5 // below it either way nothing is taken
)

// cast decides which of the vehicles is the load and which the puller. What
// can't be told stays without a part, and what is said of it is left over.
func (m *message) cast() {
	actors := m.actors()
	for _, a := range actors {
		m.score(a)
	}
	if slices.ContainsFunc(actors, func(a *actor) bool { return a.named }) {
		for _, a := range actors {
			if !a.named && !a.winch() {
				a.score -= ownScore // it is told which pulls
			}
		}
	}
	var pullers, loads, loose []*actor
	for _, a := range actors {
		switch {
		case a.hold || a.pair:
		case a.score >= clearScore && !m.opens(a, actors):
			pullers = append(pullers, a)
		case a.score <= -clearScore && !(a.onlyDriven() && m.known.Kind != ""):
			loads = append(loads, a)
		default:
			loose = append(loose, a)
		}
	}
	// Of two that both look like loads, the one that looks less so pulls.
	if len(pullers) == 0 && len(loads) == 2 && loads[0].part == loads[1].part && !loads[0].whichever() && !loads[1].whichever() {
		slices.SortStableFunc(loads, func(a, b *actor) int { return compare(a.score, b.score) })
		if loads[1].score-loads[0].score >= 2*leanScore {
			pullers, loads = loads[1:], loads[:1]
		}
	}
	if len(loads) == 2 && loads[0].part != loads[1].part {
		// A trailer is part of the load; what it weighs by itself is left over.
		for _, a := range loads {
			if a.part && !slices.ContainsFunc(loads, func(o *actor) bool { return !o.part && o.items[0].clause == a.items[0].clause }) {
				loose = append(loose, a)
			}
		}
		loads = slices.DeleteFunc(loads, func(a *actor) bool { return a.part })
	}
	winches := slices.DeleteFunc(slices.Clone(pullers), func(a *actor) bool { return !a.winch() })
	if len(winches) == 1 && len(pullers) == 2 && m.besideWinch(winches[0], pullers) {
		for _, a := range pullers {
			if a != winches[0] {
				loose = append(loose, a)
				m.passedOver = a.items
			}
		}
		pullers = winches
	} else if len(winches) == 1 && len(pullers) == 2 {
		// A winch on a tractor: the winch pulls, the tractor is what it weighs.
		for _, a := range pullers {
			a.kind, a.drive = winches[0].kind, ""
		}
	} else if slices.SortStableFunc(pullers, func(a, b *actor) int { return compare(b.score, a.score) }); len(pullers) == 2 &&
		pullers[0].score-pullers[1].score >= 2*leanScore && len(loads) == 0 && !m.sized(pullers[1], pullers[0]) {
		// The other is named only as what the line goes to.
		loads, pullers = pullers[1:], pullers[:1]
	} else if len(pullers) > 1 {
		loose, pullers = append(loose, pullers...), nil
	}
	if len(loads) > 1 {
		loose, loads = append(loose, loads...), nil
	}
	for _, a := range loads {
		m.engage(a, m.load)
	}
	for _, a := range pullers {
		m.engage(a, m.puller)
	}
	for _, a := range actors {
		switch {
		case a.hold:
			m.engage(a, m.anchorOf(a))
		case a.pair || slices.Contains(loose, a):
			m.engage(a, newHead("vehicle", ""))
			for _, it := range a.items {
				it.used = false
			}
		}
	}
}

// whichever reports whether an actor goes by no kind of vehicle: the load is what stands
// beside it or what is on that, and no second vehicle.
func (a *actor) whichever() bool {
	return !slices.ContainsFunc(a.items, func(it *item) bool { return !strings.HasPrefix(it.means["vehicle"], "casualty") })
}

// onlyDriven reports whether an actor goes by nothing but which wheels drive: that is as
// well said of what will pull.
func (a *actor) onlyDriven() bool {
	return !slices.ContainsFunc(a.items, func(it *item) bool { return !strings.Contains(it.means["vehicle"], "driven=") })
}

// sized reports whether a weight may be that of a rather than of b.
func (m *message) sized(a, b *actor) bool {
	for _, it := range a.items {
		var weights []*item
		for _, o := range it.clause.items {
			if o.q != nil && o.q.is(mass) && m.within(o, "end") == nil && m.within(o, "gear") == nil && !stamped(o) {
				weights = append(weights, o)
			}
		}
		var shared *item
		for _, o := range b.items {
			if o.clause == it.clause {
				shared = o
			}
		}
		gap := func(x, y *item) int { return max(x.from-y.to, y.from-x.to) }
		if len(weights) > 1 || len(weights) == 1 && (shared == nil || gap(weights[0], it) <= gap(weights[0], shared)) {
			return true
		}
	}
	return false
}

// stamped reports whether a figure is a rating: "5 t wll" weighs nothing.
func stamped(figure *item) bool {
	return slices.ContainsFunc(figure.clause.items, func(o *item) bool {
		return o.has("rkind") && (o.from == figure.to || o.to == figure.from)
	})
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// opens reports whether a is the only vehicle of a first message and only its
// name says that it pulls: a tractor may well be what is stuck.
func (m *message) opens(a *actor, all []*actor) bool {
	return (m.topic == TopicNone || m.topic == TopicPeople) && len(all) == 1 && a.score < leanScore+ownScore && !a.winch()
}

// score adds what the words around it and the question say.
func (m *message) score(a *actor) {
	for _, it := range a.items {
		if m.elsewhere(it) {
			a.score += stuckScore
		}
		if m.bearsWinch(it) {
			a.score += stuckScore
		}
		alone := true
		for _, other := range it.clause.items {
			if other != it && (other.has("vehicle") || other.has("winch")) && !slices.Contains(a.items, other) &&
				!strings.HasPrefix(other.means["vehicle"], "part") && !other.has("drive") {
				alone = false
			}
		}
		for _, other := range it.clause.items {
			before := other.to <= it.from && it.from-other.to <= 4
			switch {
			case other.has("cue") && other.means["cue"] == "load" && (alone || !before && other.from-it.to <= 3):
				a.score -= stuckScore
				other.used = !other.has("ground")
			case strings.HasPrefix(other.means["cue"], "puller") && before:
				if a.named = other.means["cue"] == "puller named"; a.named {
					a.score += stuckScore
				} else if !strings.HasPrefix(it.means["vehicle"], "load") && !strings.HasPrefix(it.means["vehicle"], "casualty") {
					a.score += ownScore // "my brothers van" is as soon stuck
				}
				other.used = true
			case alone && (other.has("depth") && !m.merely(other) || other.has("belly") || other.has("locked") && !onlyFree(other, m) && !m.topic.anchoring()):
				a.score -= stuckScore
			case alone && strings.HasPrefix(other.means["end"], "- "):
				a.score += ownScore
			case other.has("anchoring") && madeFastBy(other) && it.to <= other.from:
				// The truck that is anchored to a beech is no anchor: that is the beech.
			case other.has("anchoring"):
				a.hold, a.use = true, other.means["anchoring"]
				other.used = true
			}
		}
		if m.headed(it) || m.calledAnchor(it) && !m.knows(a) && m.known.calls(it.name) != "load" {
			a.hold = true
		}
	}
	if m.bygone(a) {
		a.pair = true // no part: it is told of for comparison
	}
	if m.knows(a) {
		a.score += knownScore
	} else if !a.winch() && !strings.HasPrefix(a.items[0].means["vehicle"], "puller") && m.known.calls(a.items[0].name) == "load" {
		a.score -= knownScore // the bus was told as what is stuck
	} else if _, ok := m.known.machine(a.items[0].name); ok && !a.winch() || m.asksMachine() && !a.winch() && a.score > -stuckScore {
		a.hold = true // it was told as what holds, and does not pull by being named
	}
	switch s := m.topic.stage(); {
	case m.topic == TopicMass || m.topic == TopicMassFrom:
		a.score -= 2.25 * leanScore
	case s == "load":
		a.score -= 1.25 * leanScore
	case s == "puller" && m.stucksPoint(a):
		a.score = -stuckScore
	case m.eithersPoint(a):
		a.pair = true
	case s == "puller" && a.part:
		a.score = 0 // no trailer pulls
	case s == "puller":
		a.score += 1.75 * leanScore
	case m.topic == TopicAnchor && m.stuckOne(a):
		a.score -= stuckScore
	case m.topic == TopicAnchor && m.known.calls(a.items[0].name) != "load" && a.score > -stuckScore && !a.winch() && a.score < stuckScore && !m.measured(a):
		a.hold = true
	}
}

// madeFastBy reports whether words of anchoring name the anchor behind them, and what is
// made fast to it before: "anchored to".
func madeFastBy(it *item) bool {
	return lists.has(it.name[strings.LastIndexByte(it.name, ' ')+1:], "fastto")
}

// bygone reports whether a vehicle is told of as one that there was before, and not the
// one that is here: "his old lorry was only 1.5 t".
func (m *message) bygone(a *actor) bool {
	return !slices.ContainsFunc(a.items, func(it *item) bool {
		return !(former[m.word(it.from-1)] && whoseOwn[m.word(it.from-2)] && past[m.word(it.to)])
	})
}

var (
	former   = wordSet("old last previous former first other")
	whoseOwn = wordSet("his her their my our the neighbours mates brothers dads farmers")
	past     = wordSet("was were had weighed used pulled")
)

// headed reports whether a vehicle stands behind the word anchor as what it is told
// under: "anchor: another vehicle, 8 t". What is listed so never weighs the load.
func (m *message) headed(it *item) bool {
	at := it.from - 1
	for at >= 0 && (slices.Contains([]string{"another", "a", "an", "the", "other", "second", "our", "my", "is", "one", "more"}, m.word(at)) || m.tokens[at].figure()) {
		at--
	}
	return slices.Contains([]string{"anchor", "anchors"}, m.word(at)) && m.word(it.to) != "itself" && !m.saidOfBefore(at)
}

// saidOfBefore reports whether the word anchor at a token is said of what stands before it:
// "the lorry is the anchor, the trailer weighs 3.5 t".
func (m *message) saidOfBefore(at int) bool {
	for at--; lists.has(m.word(at), "anchorlike"); at-- {
	}
	return slices.Contains([]string{"is", "was", "as", "s"}, m.word(at))
}

// calledAnchor reports whether a vehicle is said to be what holds: "the 12 t lorry parked
// uphill is the holding anchor", "our anchor is the 12 t lorry", "the holding line goes to
// the 12 t lorry". What is to be moved holds nothing, so its weight is none of the load's.
func (m *message) calledAnchor(it *item) bool {
	c := it.clause
	for i := it.to; i < c.to; i++ { // to the word for what it is, with no other vehicle between
		if o := m.itemAt(i); o != nil && (o.has("vehicle") || o.has("anchor") || o.has("gear")) && m.word(i) != "anchor" && m.word(i) != "anchors" {
			break
		}
		if !slices.Contains([]string{"is", "was", "as", "s", "makes", "becomes"}, m.word(i)) {
			continue
		}
		at := i + 1
		for lists.has(m.word(at), "anchorlike") {
			at++
		}
		if m.word(at) == "anchor" || m.word(at) == "anchors" {
			return m.word(i-1) != "not" && m.word(i+1) != "not"
		}
	}
	at := it.from - 1
	for at >= c.from && (lists.has(m.word(at), "anchorlike") || lists.has(m.word(at), "article") || m.itemAt(at) != nil && m.itemAt(at).q != nil) {
		at--
	}
	switch w := m.word(at); {
	case w == "is" || w == "was":
		return slices.Contains([]string{"anchor", "anchors"}, m.word(at-1))
	case w == "to" || w == "on" || w == "at":
		return slices.ContainsFunc(c.items, func(o *item) bool { return strings.Contains(o.means["gear"], "use=holding") && o.to <= at })
	}
	return false
}

// stucksPoint reports whether a vehicle that is named where the puller is asked about
// is the stuck one, of whose point is spoken.
func (m *message) stucksPoint(a *actor) bool {
	lean := a.items[0].means["vehicle"]
	if a.winch() || strings.HasPrefix(lean, "puller") || m.knows(a) || m.known.calls(a.items[0].name) == "puller" || !slices.ContainsFunc(a.items, m.hasPoint) {
		return false
	}
	pulls := func(it *item) bool { return it.has("vehicle") && !slices.Contains(a.items, it) && !it.silent() }
	if m.winchPulls() && (m.known.calls(a.items[0].name) == "load" || slices.ContainsFunc(a.items, m.hasTowPoint)) {
		return true
	}
	winch := m.winchPulls() || slices.ContainsFunc(m.items, func(it *item) bool { return it.has("winch") }) // it may be on a truck
	bears := func(it *item) bool { return pulls(it) && m.bearsWinch(it) }
	if winch && slices.ContainsFunc(m.items, bears) {
		return true // the winch is on another one
	}
	return a.part || strings.HasPrefix(lean, "casualty") || !winch && (m.known.Puller != "" || slices.ContainsFunc(m.items, pulls))
}

// stuckOne reports whether a vehicle that is named where anchors are asked for is the
// stuck one: the van itself, or the van of whose eye or bumper is spoken. What is
// to be moved holds nothing.
func (m *message) stuckOne(a *actor) bool {
	lean := a.items[0].means["vehicle"]
	if !strings.HasPrefix(lean, "load") && !strings.HasPrefix(lean, "casualty") && a.items[0].name != "vehicle" {
		return false
	}
	return slices.ContainsFunc(a.items, func(it *item) bool {
		if m.furtherOne(it) || m.word(it.from-1) == "a" || m.word(it.from-1) == "an" {
			return false
		}
		return m.word(it.to) == "itself" || slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.has("end") || strings.HasSuffix(m.word(o.from), "eye") })
	})
}

// bearsWinch reports whether a vehicle is named as what the winch is on, or as what has it:
// "winch on the pickup", "pickup 2.6 t with a 4 t winch".
func (m *message) bearsWinch(it *item) bool {
	for _, o := range it.clause.items[slices.Index(it.clause.items, it)+1:] {
		if o.has("winch") && m.word(o.from-1) != "the" && slices.ContainsFunc(m.tokens[it.to:o.from], func(t token) bool { return lists.has(t.text, "bears") }) {
			return true
		}
		if o.has("vehicle") || o.has("gear") || o.has("anchor") || o.has("end") {
			break
		}
	}
	on := it.from - 1
	for on > it.clause.from && (m.tokens[on].figure() || slices.Contains([]string{"front", "back", "rear", "of", "a", "the", "my", "our", "his", "her", "their", "t", "tonne", "ton", "kg", "lb"}, m.word(on))) {
		on--
	}
	return m.word(on) == "on" && slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.has("winch") && o.to <= on })
}

// measured reports whether a machine is named only as what something is so far
// from: "an oak 30 m up from the van".
func (m *message) measured(a *actor) bool {
	from := func(it *item) bool {
		at := it.from - 1
		if slices.Contains([]string{"the", "my", "our", "his", "her", "their"}, m.word(at)) {
			at--
		}
		return slices.Contains([]string{"from", "of", "behind", "past", "beyond", "beside", "near"}, m.word(at))
	}
	return !slices.ContainsFunc(a.items, func(it *item) bool { return !from(it) })
}

// elsewhere reports whether a machine is named for another place than the one
// whose slope the message tells: "10 degrees, flat where the tractor is".
func (m *message) elsewhere(it *item) bool {
	if !strings.HasPrefix(it.means["vehicle"], "puller") || m.word(it.from-1) != "where" && m.word(it.from-2) != "where" {
		return false
	}
	return slices.ContainsFunc(m.items, func(o *item) bool { return o.q != nil && o.q.is(slope) && o.clause != it.clause })
}

// knows reports whether a vehicle goes by the name of the puller, or of the
// kind of thing that it is: the big tractor is the tractor.
func (m *message) knows(a *actor) bool {
	if m.topic.stage() != "puller" && m.furtherOne(a.items[0]) {
		return false // another tractor is not the tractor
	}
	if slices.ContainsFunc(a.items, func(it *item) bool { return it.means["called"] == "puller" }) {
		return true
	}
	if a.kind != "" && a.items[0].has("winch") && a.kind == m.known.Kind {
		return true
	}
	was := strings.Fields(m.known.Puller)
	is := strings.Fields(a.items[0].name)
	return len(was) > 0 && len(is) > 0 && was[len(was)-1] == is[len(is)-1]
}

// onlyFree reports whether "free" stands in a phrase of its own.
func onlyFree(it *item, m *message) bool { return m.said(it) == "free" }

// anchorOf returns the anchor that a machine is: the one asked about, the one
// told before by that name, or one more.
func (m *message) anchorOf(a *actor) *head {
	name := a.items[0].name
	h := newHead("anchor", "")
	p, told := m.known.machine(name)
	switch {
	case told && (m.asked == nil || m.asked.path != p.At+"."):
		h.path = p.At + "."
	case m.asksMachine() && !slices.Contains(m.heads, m.asked):
		h, p = m.asked, m.known.at(strings.TrimSuffix(m.asked.path, "."))
	}
	h.kind = "vehicle"
	if a.use == "holding" {
		h.more["use"] = a.use
	}
	if p.Name == "" && name != "vehicle" && name != "machine" && m.known.calls(name) != "load" {
		h.more["name"] = name
	}
	return h
}

// asksMachine reports whether what is asked is of a machine that is an anchor.
func (m *message) asksMachine() bool {
	return m.asked != nil && m.asked.class == "anchor" && m.asked.path != "" && m.asked.kind == "vehicle"
}

// anotherMachine reports whether a machine that is named is another than the puller
// that was told of, and nothing says that it is to pull.
func (m *message) anotherMachine(a *actor) bool {
	if a.items[0].has("winch") && m.known.Kind != "" && m.topic.stage() != "puller" && m.topic != TopicPeople && m.topic != TopicNone && !m.takesOver(a) {
		return true
	}
	return (m.known.Puller != "" || m.known.Kind != "") && !m.knows(a) && !a.winch() && m.topic.stage() != "puller" && m.topic != TopicPeople && (a.score < leanScore+ownScore || m.furtherOne(a.items[0]) || m.placeOnly(a))
}

// takesOver reports whether a winch that is named where another machine pulls is told as
// what pulls: with a figure, or in words of having or using it. "The winch goes over to
// the oak", "wire off the old winch" tell of where a thing lies.
func (m *message) takesOver(a *actor) bool {
	return slices.ContainsFunc(a.items, func(it *item) bool {
		if m.word(it.from-1) == "off" || m.word(it.from-1) == "from" || (describes(m.word(it.from-1)) || m.word(it.from-1) == "the") && slices.Contains([]string{"off", "from"}, m.word(it.from-2)) ||
			slices.Contains([]string{"off", "from"}, m.word(it.from-3)) {
			return false
		}
		for i := it.clause.from; i < it.clause.to; i++ {
			if overtakes[m.word(i)] && (m.topic != TopicAnchor || !lists.has(m.word(i), "article")) {
				return true
			}
		}
		if m.topic == TopicAnchor {
			return false // what is told there holds, and a weight is no word of pulling
		}
		return slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.has("drum") || o.q != nil && (o.q.is(mass) || o.q.is(force)) }) ||
			len(it.clause.items) <= 2
	})
}

var overtakes = wordSet("a an use using uses used got have has with pull pulls pulling instead swap swapped swapping changed change switch switched replaced now take taking bring brought hire hired borrow borrowed theres is its will does do by puller")

// placeOnly reports whether a machine is named only as where something lies: "we have
// one in the tractor".
func (m *message) placeOnly(a *actor) bool {
	return !slices.ContainsFunc(a.items, func(it *item) bool {
		at := it.from - 1
		if slices.Contains([]string{"the", "my", "our", "his", "her", "their"}, m.word(at)) {
			at--
		}
		return !slices.Contains([]string{"in", "inside", "from", "behind", "under", "beside", "near"}, m.word(at))
	})
}

// engage makes mentions of an actor's part.
func (m *message) engage(a *actor, h *head) {
	if h == m.puller && m.anotherMachine(a) {
		m.engage(a, newHead("vehicle", ""))
		for _, it := range a.items {
			it.used = false
		}
		return
	}
	for _, it := range a.items {
		m.mark(h, it)
	}
	first := a.items[0]
	if h == m.puller && first.has("hauling") && m.known.Puller != "" && m.topic != TopicPuller && m.topic != TopicPullerKind {
		return // a machine pulls already; by hand is how a line is held
	}
	if h != m.puller || m.topic != TopicNone && m.topic != TopicPeople && m.topic.stage() == "" && a.score < leanScore+ownScore {
		return
	}
	if m.knows(a) && m.topic != TopicPuller && m.topic != TopicPullerKind {
		return // spoken of again, not told anew: a winch on a tractor stays one
	}
	if m.bearsOnly(a) {
		return
	}
	if a.kind != "" {
		m.put(h, "kind", a.kind, nil, first)
	}
	if !a.items[0].has("hauling") && h.open("name") {
		m.put(h, "name", first.name, nil, first)
	}
	if a.drive != "" {
		m.put(h, "driven", a.drive, nil, first)
	}
	if first.has("hauling") {
		if n := m.counted(first); n != nil {
			count, _ := n.q.count()
			m.put(h, "people", count, n.q, n)
		}
	}
}

// stage is which vehicle a topic is about: "load", "puller" or neither.
func (t Topic) stage() string {
	switch t {
	case TopicMass, TopicMassFrom, TopicSlope, TopicSlopeFrom, TopicLevel, TopicBoard, TopicGround, TopicSunk, TopicWheels,
		TopicBelly, TopicLip, TopicWheelRadius, TopicPull, TopicOffLine, TopicSideSlope:
		return "load"
	}
	if t.towPoint() {
		return "load"
	}
	if strings.HasPrefix(string(t), "puller") {
		return "puller"
	}
	return ""
}
