package calc

import (
	"cmp"
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"linetender/calc/handbook"
	"linetender/calc/unit"
)

//go:embed retire.csv
var retireTable []byte

// withdrawal is one row of the table of reasons.
type withdrawal struct{ why, do, text, source string }

var withdrawals = func() map[string]withdrawal {
	out := map[string]withdrawal{}
	for _, r := range table("retire.csv", retireTable) {
		out[r[0]] = withdrawal{why: r[0], do: r[1], text: r[2], source: r[3]}
	}
	return out
}()

// What is done with a piece, worst first.
const (
	Scrap      = "scrap"      // cut it up, so that nobody uses it again
	Quarantine = "quarantine" // tag it and lay it apart until a competent person has looked
	LookOver   = "look over"  // before it is used again
)

// What an event can have been. The first four shock the whole load path; the
// rest were seen on one piece; a reading is a load cell's.
var (
	Shocks = []string{"ran", "caught", "parted", "jerked"}
	Marks  = []string{"broke", "glazed", "cut", "bent", "cracked", "wobbles", "told", "doubted"}
)

// What is no shock and no mark: a load-cell reading, and a piece that was there when
// one of them happened and that the plan may have no place for.
const (
	EventReading = "reading"
	EventListed  = "listed"
)

// An Event is something that happened to the gear during a pull.
type Event struct {
	What    string      // of Shocks or Marks, EventReading or EventListed
	Piece   string      // for a mark and a listed piece: its name, else its kind or use
	Reading Force       // for a reading
	At      string      // for a reading: AtHaul or AtLoad
	Working *unit.Force // of a listed piece; nil: not known
	Shaken  bool        // a listed piece was there at a shock
}

// Retired is a piece to take out of service or to look over.
type Retired struct {
	Kind, Name, Use string
	Ratio           *float64 // the highest use of its working limit, by plan or reading; nil: not known
	Do              string   // Scrap, Quarantine or LookOver
	Reasons         []Reason // worst first
}

// Reason is why a piece is on the list.
type Reason struct {
	Why, Text, Source string // Why is a key of its own: over-plan, over-reading, near, unknown-plan, or what happened
	do                string
}

// Retire lists the gear of plan p that has to be taken out of service or
// looked over after the pull, worst first: what was over its working limit by
// the plan or by a reading, everything in the load path after a shock, and
// what was reported on a piece. Anchors, tow point and hitch are looked over
// where a piece would be laid apart. A mark on something that the plan does
// not know is listed under the name it was given; a name that fits several
// pieces lists them all, because which of them it was nobody said.
//
// Errors: an event that is none of Shocks, Marks and EventReading.
//
// Source: 29 CFR 1910.184, ASME B30.9 and B30.26; laying apart what was
// shock-loaded is common practice.
func Retire(p Plan, events []Event) ([]Retired, error) {
	l := pathOf(p)
	for i := range l {
		l[i].byPlan()
	}
	for _, e := range events {
		switch {
		case e.What == EventReading:
			l.read(p, e)
		case slices.Contains(Shocks, e.What):
			for i := range l {
				l[i].add(e.What)
			}
		case slices.Contains(Marks, e.What):
			l = l.mark(e)
		case e.What == EventListed: // once all that happened is known
		default:
			return nil, fmt.Errorf("event %q is none of %s, %s, %s and %s", e.What, strings.Join(Shocks, ", "), strings.Join(Marks, ", "), EventReading, EventListed)
		}
	}
	for _, e := range events {
		if e.What == EventListed {
			l = l.beside(p, e, events)
		}
	}
	var out []Retired
	for _, r := range l {
		if len(r.Reasons) == 0 {
			continue
		}
		slices.SortStableFunc(r.Reasons, func(a, b Reason) int { return cmp.Compare(gravity(a.do), gravity(b.do)) })
		r.Do = r.Reasons[0].do
		out = append(out, r.Retired)
	}
	slices.SortStableFunc(out, func(a, b Retired) int {
		return cmp.Or(cmp.Compare(gravity(a.Do), gravity(b.Do)), cmp.Compare(used(b), used(a)))
	})
	return out, nil
}

func gravity(do string) int { return slices.Index([]string{Scrap, Quarantine, LookOver}, do) }

func used(r Retired) float64 {
	if r.Ratio == nil {
		return 1
	}
	return *r.Ratio
}

// worn is a member of the load path on its way to the list.
type worn struct {
	Retired
	carried Carried
	fixed   bool // no piece that could be laid apart
}

type wornList []worn

func pathOf(p Plan) wornList {
	var l wornList
	add := func(c Carried, fixed bool) {
		if i := l.index(c); i >= 0 { // a piece that fills several places
			if l[i].carried.strain() < c.strain() {
				l[i].carried, l[i].Ratio = c, c.Ratio
			}
			return
		}
		l = append(l, worn{Retired: Retired{Kind: c.Kind, Name: c.Name, Use: c.Use, Ratio: c.Ratio}, carried: c, fixed: fixed})
	}
	for _, g := range p.Gear {
		c := Carried{Kind: g.Kind, Name: g.Name, Use: g.Use, Force: g.Tension, Working: g.Working}
		c.rate()
		add(c, slices.Contains([]string{"tow-point", "holding-point", "hitch"}, g.Use))
	}
	for _, a := range p.Anchors {
		c := Carried{Kind: a.Kind, Name: a.Name, Use: a.Use, Force: a.Force, Working: a.Capacity}
		c.rate()
		add(c, true)
	}
	return l
}

func (l wornList) index(c Carried) int {
	return slices.IndexFunc(l, func(w worn) bool { return w.Kind == c.Kind && w.Name == c.Name && w.Use == c.Use })
}

func (w *worn) add(why string, args ...any) {
	row, ok := withdrawals[why]
	if !ok {
		panic("calc: no reason " + why)
	}
	if slices.ContainsFunc(w.Reasons, func(r Reason) bool { return r.Why == why }) {
		return
	}
	do := row.do
	if w.fixed { // nobody cuts up a tree or a tow point
		do = LookOver
	}
	w.Reasons = append(w.Reasons, Reason{Why: why, Text: filled(row.text, written(args)), Source: row.source, do: do})
}

func (w *worn) byPlan() {
	if w.Use == "holding" || w.Use == "holding-point" {
		return // what the plan has it carry is a catch that may never have come
	}
	advised, _ := handbook.UseAdvised()
	switch c := w.carried; {
	case c.Within == Unknown:
		w.add("unknown-plan")
	case c.Within == Fail:
		w.add("over-plan", needed(c.Force), allowed(*c.Working))
	case *c.Ratio > float64(advised):
		w.add("near", percent(*c.Ratio))
	}
}

// read holds every member against a reading's high end.
func (l wornList) read(p Plan, e Event) {
	for _, c := range Compare(p, e.At, e.Reading).Over {
		i := l.index(c) // both are of the plan's own members
		l[i].add("over-reading", needed(c.Force), allowed(*c.Working), needed(e.Reading.High))
		if c.Ratio != nil && (l[i].Ratio == nil || *l[i].Ratio < *c.Ratio) {
			l[i].Ratio = c.Ratio
		}
	}
}

// beside adds a listed piece that the plan has no place for, where something
// happened that it may have borne.
func (l wornList) beside(p Plan, e Event, events []Event) wornList {
	known := func(w worn) bool {
		return w.carried.Use != "" && (strings.EqualFold(w.Name, e.Piece) || w.Name == "" && strings.EqualFold(w.Kind, e.Piece))
	}
	if slices.ContainsFunc(l, known) {
		return l
	}
	i := slices.IndexFunc(l, func(w worn) bool { return w.carried.Use == "" && strings.EqualFold(w.Name, e.Piece) })
	w := worn{Retired: Retired{Name: e.Piece}}
	if i >= 0 {
		w = l[i]
	}
	if e.Shaken {
		w.add("beside")
	}
	for _, r := range events {
		if r.What != EventReading || e.Working == nil {
			continue
		}
		most := unit.Force(0)
		for _, c := range readAt(p, r) {
			most = max(most, c.Force)
		}
		if !within(most, *e.Working) {
			w.add("over-beside", needed(most), allowed(*e.Working), needed(r.Reading.High))
		}
	}
	if i >= 0 {
		l[i] = w
		return l
	}
	return append(l, w)
}

// mark adds what was seen on a piece.
func (l wornList) mark(e Event) wornList {
	for _, of := range []func(w worn) string{
		func(w worn) string { return w.Name },
		func(w worn) string { return w.Use },
		func(w worn) string { return w.Kind },
	} {
		hit := false
		for i := range l {
			if e.Piece != "" && strings.EqualFold(of(l[i]), e.Piece) {
				l[i].add(e.What)
				hit = true
			}
		}
		if hit {
			return l
		}
	}
	w := worn{Retired: Retired{Name: e.Piece}}
	w.add(e.What)
	return append(l, w)
}
