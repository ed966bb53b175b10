package flow

import (
	"slices"
	"strings"
	"testing"

	"linetender/calc"
	"linetender/calc/handbook"
)

var nine = []string{"Ada", "Bo", "Cy", "Di", "Eve", "Flo", "Gus", "Hal", "Ida"}

// crewTurn is a turn of a crew of so many who were named, with a plan that needs
// a holding line or doesn't.
func crewTurn(n int, holds bool) *turn {
	x := newTurn(testEngine(), Input{Chat: "c", Person: Person{ID: "1"}})
	x.s = newSession()
	x.s.Lead = Person{ID: "1", Name: "Ada"}
	x.s.Sheet.Crew = &n
	x.s.Settled["names"] = Told
	x.known, x.planned = true, &calc.Plan{Decision: calc.Go, Holding: &calc.Holding{Needed: holds}}
	x.act(Act{Do: DoCrew, Names: nine[:n]})
	x.propose(x.everyone(x.s.Crew))
	return x
}

// words1 is all that a turn says by now.
func (t *turn) words1() string {
	var out []string
	for _, m := range t.mails {
		for _, r := range m.replies {
			out = append(out, t.sayingWith(r.key, r.args))
		}
	}
	return strings.Join(out, "\n")
}

// TestNobodyHoldsALineThatIsNotThere: where nothing can roll nobody is given the
// holding line, everybody is given something else, and who has no part is told
// by name.
func TestNobodyHoldsALineThatIsNotThere(t *testing.T) {
	for n := 2; n <= 9; n++ {
		for _, holds := range []bool{true, false} {
			x := crewTurn(n, holds)
			x.roles()
			said := x.words1()
			if got, want := strings.Contains(said, "holding line:"), holds && n >= 4; got != want {
				t.Errorf("%d people, holding line %v: somebody is given it %v, want %v\n%s", n, holds, got, want, said)
			}
			for i, name := range nine[:n] {
				if !strings.Contains(said, name) {
					t.Errorf("%d people, holding line %v: %s is not named\n%s", n, holds, name, said)
				}
				if given := x.seatNamed(name) != nil; given != (i < handbook.MostPosts(holds)) {
					t.Errorf("%d people, holding line %v: %s has a part %v", n, holds, name, given)
				}
			}
		}
	}
}

// TestPostsFitThePlan: a plan that comes to need a holding line, or needs none any
// more, has the parts given out anew, and whoever keeps theirs keeps it taken on;
// with the line tight nobody is moved, and the holder's is one more to be filled.
func TestPostsFitThePlan(t *testing.T) {
	has := func(x *turn, does string) bool {
		return slices.ContainsFunc(x.s.Seats, func(s Seat) bool { return s.Post.Does == does })
	}
	for n := 2; n <= 9; n++ {
		x := crewTurn(n, false)
		x.act(Act{Do: DoTake, Topic: "driver"})
		x.fitPosts()
		if has(x, "holder") {
			t.Errorf("%d people: a holder for no line", n)
		}
		x.planned.Holding.Needed = true
		x.fitPosts()
		if got, want := has(x, "holder"), n >= 4; got != want {
			t.Errorf("%d people: the plan needs a holder now, there %v, want %v", n, got, want)
		}
		for _, s := range x.s.Seats {
			if s.Name == "" {
				t.Errorf("%d people: %s is empty", n, s.Post.Does)
			}
		}
		if n == 8 && x.seatNamed("Hal") == nil {
			t.Error("eight people at a holding line: one has no part")
		}
		if x.holdsPost("driver") == "" {
			t.Errorf("%d people: the driver has to take it on again", n)
		}
		x.planned.Holding.Needed = false
		x.fitPosts()
		if has(x, "holder") {
			t.Errorf("%d people: the holder stays though no line is there", n)
		}
	}
	x := crewTurn(4, false)
	x.s.Stage = LightTension
	before := slices.Clone(x.s.Seats)
	x.planned.Holding.Needed = true
	x.fitPosts()
	if !slices.Equal(x.s.Seats[:4], before) || !has(x, "holder") || !slices.Contains(x.emptyPosts(), "holder") {
		t.Errorf("at a tight line the parts become %v, and %v are empty", x.s.Seats, x.emptyPosts())
	}
}
