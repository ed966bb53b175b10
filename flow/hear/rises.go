package hear

import (
	"fmt"
	"math"
	"slices"

	"linetender/calc/bound"
)

// A slope is told as a rise and the way along which it rises: "rises 3 feet in 12".
// Whether that way was taken along the ground or level is seldom said. Along the ground
// it is the sine, which is the steeper; only a way that is called level is the tangent.

// rising reads such as slopes.
func (m *message) rising() {
	for i, it := range m.items {
		if it.q == nil || it.q.bare() || !it.q.is(length) || it.q.ranged || it.silent() {
			continue
		}
		way := m.wayOf(i)
		if way == nil {
			continue
		}
		along := way.q.si
		if way.q.bare() {
			r, err := bound.ReadLength(way.q.text + " " + it.q.unit)
			if err != nil {
				continue
			}
			along = r.Value.Best.Metres()
		}
		sine := it.q.si / along
		if !(sine > 0 && sine < 1) {
			continue
		}
		angle := math.Asin(sine)
		if slices.ContainsFunc(m.tokens[it.clause.from:it.clause.to], func(t token) bool { return levelWay[t.text] }) {
			angle = math.Atan(sine)
		}
		text := fmt.Sprintf("%.1f deg", math.Ceil(angle*180/math.Pi*10-1e-6)/10)
		q := &quantity{text: text}
		if m.readSlope(q, way.to, way.to); q.dims == 0 {
			continue
		}
		it.to, it.q = way.to, q
		way.q, way.used = nil, true
		for _, o := range it.clause.items {
			o.used = o.used || o != it && (climbing[m.word(o.from)] || levelWay[m.word(o.from)] || o.from > it.from && o.to <= way.from)
		}
	}
}

// wayOf returns the figure along which the length at i is a rise.
func (m *message) wayOf(i int) *item {
	it := m.items[i]
	rises := slices.ContainsFunc(m.tokens[it.clause.from:it.clause.to], func(t token) bool { return climbing[t.text] })
	asked := m.topic == TopicSlope || m.topic == TopicSideSlope || m.topic == TopicPullerSlope || m.topic == TopicPullerSide
	in := ""
	for _, o := range m.items[i+1:] {
		switch w := m.word(o.from); {
		case o.clause != it.clause:
			return nil
		case o.q != nil && in == "":
			return nil
		case o.q != nil && (o.q.bare() && o.q.number > 0 || o.q.is(length) && !o.q.ranged):
			if !rises && !(asked && in == "in") {
				return nil
			}
			return o
		case o.q != nil:
			return nil
		case slices.Contains([]string{"in", "over", "for", "per", "every"}, w):
			in = w
		case !climbing[w] && !slices.Contains([]string{"a", "the", "each", "every", "of", "run", "vertical", "vertically"}, w):
			return nil
		}
	}
	return nil
}

// Words by which a length is a rise, and those by which a way is a level one.
var (
	climbing = wordSet("rises rise rising climbs climb climbing goes up higher drops drop falls fall gains comes")
	levelWay = wordSet("horizontal horizontally level flat")
)
