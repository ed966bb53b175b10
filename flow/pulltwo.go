package flow

import (
	"math"
	"slices"
	"strconv"

	"linetender/calc"
	"linetender/calc/unit"
	"linetender/flow/wording"
)

// Two phones may tell two lengths of one bite. Neither wins by being told later: the
// bite went anything from the shorter to the longer, and what is left is reckoned
// from both ends. Who tells it again puts their own right.

// Gone is how far a bite went, as one phone tells it.
type Gone struct {
	By    Person
	Moved string
	Going bool // it moved on
}

// went takes how far a bite went. While it moves, the later is further on, and none of
// that is how far it went in all.
func (b *Travel) went(g Gone) {
	b.Told = append(slices.DeleteFunc(b.Told, func(o Gone) bool { return g.Going || o.Going || o.By.ID == g.By.ID }), g)
	b.Moved = g.Moved
	if len(b.Told) < 2 {
		return
	}
	var span calc.Length
	for i, o := range b.Told {
		l, ok := readLength(o.Moved)
		if !ok {
			continue
		}
		if i == 0 {
			span = l
		}
		span = calc.Length{Low: min(span.Low, l.Low), Best: l.Best, High: max(span.High, l.High)}
	}
	if near(span.Low.Metres(), span.High.Metres(), 0.05) {
		return
	}
	text := metres(span.Low) + " to " + unit.Short(strconv.FormatFloat(math.Ceil(span.High.Metres()*100-1e-9)/100, 'f', 2, 64)) + " m"
	if _, ok := readLength(text); ok {
		b.Moved = text
	}
}

// differs reports whether phones tell different lengths of it.
func (b Travel) differs() bool {
	return len(b.Told) > 1 && b.Moved != b.Told[len(b.Told)-1].Moved
}

// goneTwice says so where another phone told another length of the last bite.
func (t *turn) goneTwice(moved string) {
	n := len(t.s.Bites)
	if moved == "" || n == 0 || !t.s.Bites[n-1].differs() {
		return
	}
	var names wording.Names
	for _, g := range t.s.Bites[n-1].Told {
		names = append(names, t.sayingWith(wording.PullGoneAs, wording.Args{"Name": t.s.nameOf(g.By), "Text": g.Moved}))
	}
	say := func() { t.say(wording.PullGoneTwice, wording.Args{"Names": names, "Text": t.s.Bites[n-1].Moved}) }
	for _, g := range t.s.Bites[n-1].Told {
		if m := t.s.member(g.By.ID); m != nil && !m.Gone && m.Chat != t.in.Chat && m.Chat != t.s.leadChat() {
			t.inChat(m.Chat, say)
		}
	}
	t.toLead(say)
	say()
}
