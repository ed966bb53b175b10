package report

import (
	"cmp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/calc/unit"
)

// What a card has room for on one page of A4 or US letter. What is left out is
// counted on the card, never dropped unsaid.
const (
	mostMembers = 8
	mostRoles   = 8
	mostBoxes   = 7
	mostWhy     = 3
	longName    = 44 // letters
	longLine    = 120
	longCheck   = 180
)

// A Role is one person's part in the pull.
type Role struct{ Name, Role, Place, Duty string }

// A Box is a check with a box to tick. A done one says who did it.
type Box struct {
	Text string
	Done bool
	Who  string

	Whole bool // it tells what to bring, so its figures are not cut off
}

// A Card is what one page for a windscreen is made of.
type Card struct {
	Title, Code, Place, Date string
	Plan                     calc.Plan
	Rig                      Picture        // empty for a plan without force
	Numbers                  map[string]int // of places in the picture, by use
	Roles                    []Role
	Checks                   []Box        // nil: those of the plan that are not passed, and those for people on the spot
	Bite                     *unit.Length // the longest that the load goes between two holds; nil: not known
	Head                     string       // of the job's chain of entries, to hold a log against
}

// cardView is a card with what is worked out for its page.
type cardView struct {
	Card
	Members      []member
	MoreMembers  int
	Boxes        []Box
	MoreBoxes    int
	People       []Role
	MorePeople   int
	Title, Place string
	Why          []string
	Refer        bool
	Holds        bool        // a holding line keeps it
	Pulled       bool        // it takes force to move it
	Haul         *calc.Force // at the puller
}

// member is a piece or an anchor as the card lists it.
type member struct {
	Number    int
	Name, Use string
	Load      string
	Limit     string
	Share     string
	Fails     bool
	Weakest   bool
}

// HTML prints the card.
//
// Errors: only our own, in template or words.
func (c Card) HTML() ([]byte, error) {
	v := cardView{Card: c, Refer: c.Plan.Decision == calc.Refer, Title: brief(c.Title, longLine), Place: brief(c.Place, longLine)}
	v.Holds = c.Plan.Holding != nil && c.Plan.Holding.Needed
	for _, w := range c.Plan.Why[:min(len(c.Plan.Why), mostWhy)] {
		v.Why = append(v.Why, brief(w, 2*longLine))
	}
	if f := c.Plan.Force; f != nil && f.High > 0 {
		v.Pulled = true
	}
	if t := c.Plan.Tackle; t != nil {
		v.Haul = &t.Haul
	}
	all, err := members(c.Plan, c.Numbers)
	if err != nil {
		return nil, err
	}
	v.Members, v.MoreMembers = most(all, mostMembers)
	for i := range v.Members {
		v.Members[i].Name = brief(v.Members[i].Name, longName)
	}
	v.People, v.MorePeople = most(slices.Clone(c.Roles), mostRoles)
	for i := range v.People {
		p := &v.People[i]
		p.Name, p.Role, p.Place = brief(p.Name, longName), brief(p.Role, longName), brief(p.Place, longLine)
	}
	boxes := c.Checks
	if boxes == nil {
		boxes = boxesOf(c.Plan)
	}
	v.Boxes, v.MoreBoxes = most(slices.Clone(boxes), mostBoxes)
	for i := range v.Boxes {
		long := longCheck
		if v.Boxes[i].Whole {
			long = 2 * longCheck
		}
		v.Boxes[i].Text = brief(v.Boxes[i].Text, long)
		v.Boxes[i].Who = brief(v.Boxes[i].Who, longName)
	}
	return write("card.html", v)
}

// brief shortens a text to n letters, and says so with an ellipsis.
func brief(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return strings.TrimSpace(string(r[:n-1])) + "…"
	}
	return s
}

// most is a list cut to n, and how many were cut.
func most[T any](all []T, n int) ([]T, int) {
	if len(all) <= n {
		return all, 0
	}
	return all[:n], len(all) - n
}

// boxesOf lists what is still to do before a pull: first what blocks or waits
// for a signature, then what only people on the spot can answer.
func boxesOf(p calc.Plan) []Box {
	var out []Box
	add := func(pick func(calc.Check) bool) {
		for _, c := range p.Checks {
			if c.Result != calc.Pass && pick(c) {
				out = append(out, Box{Text: c.Text, Whole: c.ID == "R1" || c.ID == "R4"})
			}
		}
	}
	add(func(c calc.Check) bool { return !c.OnSite && c.Severity != calc.Advice })
	add(func(c calc.Check) bool { return c.OnSite && c.Severity != calc.Advice })
	add(func(c calc.Check) bool { return c.Severity == calc.Advice })
	return out
}

// members lists pieces and anchors, what fails first and then the most used.
func members(p calc.Plan, numbers map[string]int) ([]member, error) {
	type ranked struct {
		member
		rank float64
	}
	var all []ranked
	add := func(name, kind, use string, m member, known bool, ratio *float64, passes bool) error {
		m.Name = name
		if m.Name == "" {
			m.Name = kind
		}
		u, err := say("use_" + key(use))
		if err != nil {
			u = use
		}
		m.Use, m.Number, m.Fails = u, numbers[use], known && !passes
		if m.Share, err = share(ratio); err != nil {
			return err
		}
		r := ranked{member: m, rank: -1}
		if ratio != nil {
			r.rank = *ratio
		}
		if m.Fails {
			r.rank += 1000
		}
		all = append(all, r)
		return nil
	}
	for _, g := range p.Gear {
		lim, err := limit(g.Working)
		if err != nil {
			return nil, err
		}
		if err := add(g.Name, g.Kind, g.Use, member{Load: loaded(g.Tension), Limit: lim}, g.Working != nil, g.Ratio, g.Passes || g.Asked); err != nil {
			return nil, err
		}
	}
	for _, a := range p.Anchors {
		lim, err := limit(a.Capacity)
		if err != nil {
			return nil, err
		}
		use := a.Use
		if use == "holding" {
			use = "holding-anchor"
		}
		if err := add(a.Name, a.Kind, use, member{Load: loaded(a.Force), Limit: lim}, a.Capacity != nil, a.Ratio, a.Passes || a.Asked); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(all, func(a, b ranked) int { return cmp.Compare(b.rank, a.rank) })
	out := make([]member, len(all))
	for i, r := range all {
		r.Weakest = i == 0 && r.rank >= 0
		out[i] = r.member
	}
	return out, nil
}
