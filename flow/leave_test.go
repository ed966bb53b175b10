package flow_test

import (
	"regexp"
	"slices"
	"testing"

	"linetender/flow"
)

// onCard finds Di on a card, but for what she has signed: that stays.
var onCard = regexp.MustCompile(`(?m)^(?:[^S\n]|S[^i\n]).*\bDi\b.*$|^Di\b.*$`)

// TestWhoLeavesLosesTheirPart: whoever goes, in whatever words the lead tells
// it, has no part any more; the pull waits until it is given to somebody, and no
// card names them.
func TestWhoLeavesLosesTheirPart(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, crew := range [][]string{nil, {"Bo", "Cy", "Eve"}} {
		for _, text := range []string{"Di leaves, has to milk, we are only 3 now", "Di is gone", "Di left", "Di went home", "Di has to go"} {
			for _, stage := range []flow.Stage{flow.NotBegun, flow.AllPlaced, flow.SlackOut, flow.Held} {
				p := readyToPull(t, crew...)
				p.to(stage)
				out := p.say("Ada", text)
				s := p.job()
				if slices.ContainsFunc(s.Seats, func(x flow.Seat) bool { return x.Name == "Di" }) || *s.Sheet.Crew != 3 || s.Stage.Moves() {
					t.Errorf("%s, %q: of %d the parts are %+v, at %s", stage, text, *s.Sheet.Crew, s.Seats, s.Stage)
				}
				if why, barred := flow.Barred(p.engine, s, p.input("Ada")); !barred {
					t.Errorf("%s, %q keeps nothing: %s; told %s", stage, text, why, said(out["test/Ada"]))
				}
				card := ""
				for _, m := range p.say("Ada", "card")["test/Ada"] {
					if m.Live == "" { // the board says who signed, gone or not
						card += m.Text()
					}
				}
				if onCard.MatchString(card) {
					t.Errorf("%s, %q: the card has %q", stage, text, onCard.FindAllString(card, -1))
				}
			}
		}
		for _, text := range []string{"change crew 3", "change people 3", "we are only 3 now"} {
			p := readyToPull(t, crew...)
			p.to(flow.Held)
			p.say("Ada", text)
			s := p.job()
			if *s.Sheet.Crew != 3 || slices.ContainsFunc(s.Seats, func(x flow.Seat) bool { return x.Name == "Di" }) {
				t.Errorf("%q: of %d the parts are %+v", text, *s.Sheet.Crew, s.Seats)
			}
			if why, barred := flow.Barred(p.engine, s, p.input("Ada")); !barred {
				t.Errorf("%q keeps nothing: %s", text, why)
			}
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Eve")
	p.to(flow.SlackOut)
	p.say("Cy", "Di has to leave")
	if s := p.job(); s.Stage.Moves() {
		t.Errorf("that the holder leaves, told by another, leaves it at %s", s.Stage)
	}
}
