package hear

import (
	"cmp"
	"slices"
	"strconv"
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
	case it.has("depth") && !(m.merely(it) && m.topic != TopicSunk && m.topic != TopicGround) && !denied:
		if h := m.standing(it); h == m.load || h == nil && m.topic == TopicSunk {
			m.put(m.load, "sunk", it.means["depth"], nil, it)
		}
	case it.has("locked") && !denied:
		m.wheels(it)
	case it.has("lip") && it.means["lip"] == "none":
		m.put(m.load, "lip", "none", nil, it)
	case m.topic == TopicFrontShare && it.has("share"):
		m.put(m.puller, "front_share", it.means["share"], nil, it)
	case m.topic == TopicSlope && it.has("flat") && !denied && m.load.open("slope"):
		if h, doubt := m.owner(it, vehicles); !doubt && (h == nil || h == m.load) {
			value := "0 deg"
			if m.nearly(it) {
				value = "0 to 5 deg" // what gentle stands for
			}
			m.put(m.load, "slope", value, nil, it)
		}
	case it.has("inline") && m.topic == TopicOffLine && !denied:
		m.put(m.load, "off_line", "0 deg", nil, it)
	case m.topic == TopicSunk && it.has("nothing") && len(it.clause.items) == 1:
		m.put(m.load, "sunk", "none", nil, it)
	case m.topic == TopicLip && it.has("nothing") && len(it.clause.items) == 1:
		m.put(m.load, "lip", "none", nil, it)
	}
}

// merely reports whether a depth is only the name of a part: "hubs".
func (m *message) merely(it *item) bool {
	return it.to-it.from == 1 && !slices.Contains([]string{"to", "the", "in", "over", "at"}, m.word(it.from-1))
}

// ground files what something stands on, unless the ground is only where the
// thing came from or goes to.
func (m *message) ground(it *item) {
	for i := it.from - 1; i >= it.clause.from && i >= it.from-2; i-- {
		if m.word(i) == "of" && slices.Contains([]string{"bit", "bits", "patch", "patches", "layer", "film", "lot", "lots", "load", "loads", "full", "inch", "inches"}, m.word(i-1)) {
			break // a bit of ice is ice
		}
		if slices.Contains([]string{"off", "from", "to", "towards", "near", "beside", "by", "of", "along", "past", "onto", "until"}, m.word(i)) {
			return
		}
	}
	if m.topic.anchoring() || it.has("soil") && m.saysOf(it, "anchor") {
		return
	}
	h, doubt := m.owner(it, vehicles)
	switch {
	case doubt:
		return
	case h != nil:
	case m.inPassing(it):
		it.used = true
		return
	default:
		if h = m.standing(it); h != nil && m.topic != TopicGround && m.topic != TopicPullerGround && m.way(it) {
			return
		}
	}
	ground := it.means["ground"]
	if h == m.puller && slices.Contains([]string{"frozen", "frosty", "frosted", "icy"}, m.word(it.from-1)) {
		ground = "ice" // what a load rolls on as on grass, a puller slips on
	}
	m.put(h, "ground", ground, nil, it)
}

// inPassing reports whether a track or a lane is only where people are, before
// the ground was asked about: "we are on a farm track by the river". The stuck
// vehicle has most likely left it.
func (m *message) inPassing(it *item) bool {
	if m.topic != TopicNone && m.topic != TopicPeople && !m.topic.ton() {
		return false
	}
	for i := it.from; i < it.to; i++ {
		if slices.Contains([]string{"track", "lane", "road", "drive", "yard"}, m.word(i)) {
			return true
		}
	}
	return false
}

// underfoot files a place that tells the ground only of what is said to stand
// there.
func (m *message) underfoot(it *item) {
	on := m.word(it.from-1) == "on" || m.word(it.from) == "the" && m.word(it.from-1) == "on" || m.word(it.from-1) == "the" && m.word(it.from-2) == "on"
	h, doubt := m.owner(it, vehicles)
	if h == nil && !doubt && m.topic.ofStand() {
		h = m.puller
	}
	if on && h == m.puller && h.open("ground") && !slices.Contains([]string{"rod", "side", "edge"}, m.word(it.to)) {
		m.put(h, "ground", it.means["underfoot"], nil, it)
	}
}

func (t Topic) anchoring() bool { return t == TopicAnchor || strings.HasPrefix(string(t), "anchors[") }

// way reports whether the clause speaks of a road or lane that nothing is
// said to stand on.
func (m *message) way(it *item) bool {
	for i := it.clause.from; i < it.clause.to; i++ {
		if (i < it.from || i >= it.to) && slices.Contains([]string{"lane", "road", "track", "drive", "yard", "path"}, m.word(i)) {
			return true
		}
	}
	return false
}

// wheels reads which wheels turn. A bare "free" counts only by itself.
func (m *message) wheels(it *item) {
	if m.said(it) == "free" && len(it.clause.items) > 1 && m.topic != TopicWheels {
		return
	}
	for _, c := range m.clauses {
		// "All turn but one" is not all of them.
		if c.sentence != it.clause.sentence {
			continue
		}
		for i := c.from; i < c.to; i++ {
			if w := m.word(i); (w == "except" || w == "apart") || w == "but" && slices.Contains([]string{"one", "two", "1", "2", "the"}, m.word(i+1)) {
				return
			}
		}
	}
	if h, _ := m.owner(it, vehicles); h == m.puller && h != nil || m.topic.anchoring() || m.saysOf(it, "anchor") {
		return // a parked vehicle is meant to hold
	}
	share := it.means["locked"]
	if some, ok := m.someWheels(it); ok {
		share = some
	}
	m.put(m.load, "locked", share, nil, it)
	if f := m.load.slots["locked"]; f != nil && f.Value != "0" && strings.Contains(strings.ToLower(f.Said), "brake") {
		f.Guess = true // which wheels it holds differs between vehicles
	}
}

// someWheels returns the share of the weight on locked wheels where so many of so
// many are said to turn or to be locked. Up to half of them are half of it, more
// are all: those that are locked may bear more than their part.
func (m *message) someWheels(it *item) (share string, ok bool) {
	count := func(i int) int {
		v, spelled := talk.value(m.word(i), "number")
		if !spelled {
			v = m.word(i)
		}
		n, err := strconv.Atoi(v)
		if err != nil {
			return 0
		}
		return n
	}
	i := it.from - 1
	for slices.Contains([]string{"wheels", "are", "do", "still", "can"}, m.word(i)) {
		i--
	}
	of := count(i)
	if i--; slices.Contains([]string{"the", "its", "her", "his"}, m.word(i)) {
		i--
	}
	some := 0
	if m.word(i) == "of" {
		some = count(i - 1)
	}
	if some < 1 || of <= some {
		return "", false
	}
	if it.means["locked"] == "0" {
		some = of - some
	}
	for _, n := range m.items {
		if n.from >= i-1 && n.to <= it.from {
			n.used = true
		}
	}
	if 2*some <= of {
		return "0.5", true
	}
	return "1", true
}

// wetted lays "it is wet after the rain" over a ground told without it.
func (m *message) wetted() {
	for _, it := range m.items {
		if !it.has("wet") || it.used || it.silent() || m.denied(it) {
			continue
		}
		h, doubt := m.owner(it, vehicles)
		if doubt {
			continue
		}
		owners := []*head{h}
		if h == nil {
			owners = []*head{m.load, m.puller}
		}
		for _, o := range owners {
			f := (*Fact)(nil)
			if o != nil {
				f = o.slots["ground"]
			}
			if f == nil {
				continue
			}
			if wet, ok := map[string]string{"grass": "wet grass", "asphalt": "wet asphalt", "firm soil": "mud", "loose soil": "mud"}[f.Value]; ok {
				f.Value = wet
			}
			it.used = true
		}
		for _, a := range m.heads {
			if a.class == "anchor" && (a.kind == "picket" || a.kind == "deadman") && (h == nil || m.saysOf(it, "anchor")) {
				m.put(a, "soil", "wet", nil, it)
			}
		}
	}
}

// going reads the ways that things point and go.
func (m *message) going(it *item) {
	if m.denied(it) {
		return
	}
	h, _ := m.owner(it, vehicles)
	switch {
	case it.has("above"):
		if h == m.puller || h == nil && m.topic.stage() == "puller" {
			m.put(m.load, "pull", it.means["above"], nil, it)
		}
	case it.has("heading"):
		if h == m.puller || h == nil && m.topic.stage() == "puller" {
			m.put(m.puller, "pull", it.means["heading"], nil, it)
		}
	case m.topic == TopicPull && it.has("way") && !it.has("level") && (len(it.clause.items) <= 2 || it.to-it.from > 1):
		m.put(m.load, "pull", it.means["way"], nil, it)
	case m.topic == TopicPullerPull && (it.has("way") || it.has("dir")):
		m.put(m.puller, "pull", cmp.Or(it.means["way"], it.means["dir"]), nil, it)
	case m.topic == TopicPullerSlope && (h == nil || h == m.puller) && slices.Contains([]string{"uphill", "downhill"}, cmp.Or(it.means["way"], it.means["dir"])):
		m.put(m.puller, "pull", cmp.Or(it.means["way"], it.means["dir"]), nil, it)
	case it.has("dir") && h == m.puller && h != nil:
		if it.means["dir"] == "uphill" {
			m.put(m.load, "pull", "uphill", nil, it)
		}
	case it.has("dir") && (h == m.load || h == nil && m.topic.stage() != "puller"):
		m.put(m.load, "pull", it.means["dir"], nil, it)
	}
}

// working reads what drives the puller, and how things were found.
func (m *message) working(it *item) {
	if m.denied(it) {
		return
	}
	switch {
	case it.has("drum"):
		m.put(m.puller, "winch_layer", it.means["drum"], nil, it)
	case it.has("drive") && strings.HasSuffix(it.means["drive"], "asked") && m.topic != TopicPullerDriven:
	case it.has("drive"):
		value, _, _ := strings.Cut(it.means["drive"], " ")
		h, _ := m.owner(it, vehicles)
		if h == m.puller && h != nil || h == nil && m.topic.stage() == "puller" {
			if m.put(m.puller, "driven", value, nil, it) && value != "1" {
				m.puller.slots["driven"].Guess = true
			}
		} else if h == m.load {
			it.used = true
		}
	case it.has("from"):
		m.found(it)
	}
}

// found reads how a figure was come by where it is the whole answer.
func (m *message) found(it *item) {
	kind, how, _ := strings.Cut(it.means["from"], " ")
	switch {
	case (m.topic == TopicMassFrom || m.topic == TopicMass) && kind != "slope" && m.load.open("mass_from") && !m.unweighed():
		m.put(m.load, "mass_from", how, nil, it)
	case (m.topic == TopicSlopeFrom || m.topic == TopicSlope) && kind != "mass" && m.load.open("slope_from"):
		if how == "guess" {
			how = "eye"
		}
		m.put(m.load, "slope_from", how, nil, it)
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
	}
}

// unweighed reports whether a weight was told and not taken, so that how it was
// found says nothing of the one that will be.
func (m *message) unweighed() bool {
	return m.load.slots["mass"] == nil && slices.ContainsFunc(m.items, func(it *item) bool { return it.q != nil && it.q.is(mass) && !it.used })
}

// pieces reads what is told of gear and anchors.
func (m *message) pieces(it *item) {
	denied := m.denied(it)
	is := func(class string) func(*mention) bool {
		return func(mt *mention) bool { return mt.head.class == class }
	}
	of := func(class string) *head {
		h, _ := m.owner(it, is(class))
		if h == nil && m.asked != nil && m.asked.class == class && len(m.mentionsIn(it.clause)) == 0 {
			h = m.asked
		}
		return h
	}
	switch {
	case it.has("tree"):
		if h := of("anchor"); h != nil {
			field, value, _ := strings.Cut(it.means["tree"], "=")
			if denied {
				if field != "alive" || value != "true" {
					return
				}
				value = "false"
			}
			// One bad sign settles it.
			if old := h.slots[field]; field == "alive" && old != nil && old.Value != value {
				h.slots[field] = &Fact{Value: "false", Said: m.said(it)}
				it.used = true
				return
			}
			m.put(h, field, value, nil, it)
			return
		}
	}
	if it.has("unmarked") {
		if h := m.markedOf(it, of); h != nil && h.path != "puller." {
			delete(h.slots, "rating_kind")
			m.put(h, "rating_kind", "unmarked", nil, it)
		}
		return
	}
	if denied {
		return
	}
	switch {
	case it.has("rkind") && m.topic == TopicPullerStamp:
		m.put(m.puller, "rating_kind", it.means["rkind"], nil, it)
	case it.has("plain") && m.topic.field() == "condition" && m.asked != nil:
		m.put(m.asked, "condition", it.means["plain"], nil, it)
	case it.has("rkind") && it.q == nil:
		if h := m.markedOf(it, of); h != nil && h.open("rating_kind") && h.path != "puller." && (h.slots["rating"] != nil || h == m.asked) && m.alone(it) {
			m.put(h, "rating_kind", it.means["rkind"], nil, it)
		}
	case it.has("material"):
		if h := of("gear"); h != nil {
			m.put(h, "material", it.means["material"], nil, it)
		}
	case strings.HasSuffix(string(m.topic), ".knots") && it.has("nothing") && m.asked != nil && len(m.items) == 1:
		m.put(m.asked, "knots", "none", nil, it)
	case it.has("knot"):
		if h := of("gear"); h != nil {
			m.knot(h, it)
		}
	case it.has("pattern"):
		if h := of("anchor"); h != nil && h.kind == "picket" || h != nil && h.path != "" {
			m.put(h, "pattern", it.means["pattern"], nil, it)
		}
	case it.has("unequal"):
		if h := of("gear"); h != nil {
			m.put(h, "equalised", it.means["unequal"], nil, it)
		}
	case it.has("cond"):
		if h := of("gear"); h != nil {
			m.put(h, "condition", it.means["cond"], nil, it)
		} else if m.topic == TopicTowCondition {
			m.put(m.asked, "condition", it.means["cond"], nil, it)
		} else if h, _ := m.owner(it, is("end")); h != nil && h.path == "load.tow_point." {
			m.put(h, "condition", it.means["cond"], nil, it)
		}
	case it.has("soil") && (m.saysOf(it, "anchor") || m.topic.anchoring()):
		if h := of("anchor"); h != nil && (h.kind == "picket" || h.kind == "deadman" || h.path != "") {
			m.put(h, "soil", it.means["soil"], nil, it)
		}
	}
}

// alone reports whether no other meaning of a stamp stands in the clause.
func (m *message) alone(it *item) bool {
	for _, other := range it.clause.items {
		if other.has("rkind") && other.means["rkind"] != it.means["rkind"] {
			return false
		}
	}
	return true
}

// markedOf returns the piece or end that a remark on its stamp is about.
func (m *message) markedOf(it *item, of func(string) *head) *head {
	if h := of("gear"); h != nil {
		return h
	}
	if h := of("end"); h != nil {
		return h
	}
	return m.asked
}

// knot adds a knot to a rope's list.
func (m *message) knot(h *head, it *item) {
	name := it.means["knot"]
	old := h.slots["knots"]
	if old == nil {
		m.put(h, "knots", name, nil, it)
		return
	}
	switch {
	case slices.Contains(strings.Split(old.Value, ", "), name), name == "knot":
	case old.Value == "knot":
		old.Value = name
	case old.Value == "none" || name == "none":
		h.bad["knots"] = true
		delete(h.slots, "knots")
		return
	default:
		old.Value += ", " + name
	}
	it.used = true
}
