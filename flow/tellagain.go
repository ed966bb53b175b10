package flow

import (
	"crypto/sha256"
	"encoding/hex"
	"regexp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/wording"
)

// A plan that is no go is said whole once. While the answers after it leave it
// what it is, only what they changed is said: what decides it, what fails now
// and did not, and what would turn it. All of it comes on asking.

// toldOf keeps that a plan was told, by its decision and what keeps it from a go.
func (t *turn) toldOf(p *calc.Plan) {
	a := Act{Do: DoTold, Value: finding(*p).Digest, Path: string(p.Decision)}
	if p.Decision == calc.NoGo {
		a.Was = strings.Join(blocking(p), " ")
	}
	t.act(a)
}

// blocking lists what makes a plan a no-go, each by a short digest of its words
// without their figures, in their order.
func blocking(p *calc.Plan) []string {
	var out []string
	for _, c := range p.Checks {
		if c.Result == calc.Fail && c.Severity == calc.Block {
			out = append(out, inShort(c.Text))
		}
	}
	return out
}

// aFigure is a figure with its unit: another one makes no other reason.
var aFigure = regexp.MustCompile(`[0-9][0-9.,]* (kN|lbf|t|lb|kg|m|ft|cm|mm|in|deg|%|times)`)

func inShort(text string) string {
	sum := sha256.Sum256([]byte(aFigure.ReplaceAllString(text, "#")))
	return hex.EncodeToString(sum[:3])
}

// mostNew is how many things that fail now and did not are said at once.
const mostNew = 3

// tellAgain says a plan that is still no go.
func (t *turn) tellAgain(p *calc.Plan) {
	if p.Decision == calc.Open {
		t.sayApart(wording.PlanStillOpen, nil)
		for _, w := range p.Why {
			t.say(wording.PlanWhy, wording.Args{"Why": w})
		}
		t.worthMeasuring(p)
		return
	}
	was, now := strings.Fields(t.s.ToldWhy), blocking(p)
	if len(now) == len(was) {
		t.sayApart(wording.PlanStillNoGoSame, wording.Args{"Count": len(now)})
	} else {
		t.sayApart(wording.PlanStillNoGo, wording.Args{"Count": len(now), "Total": len(was)})
	}
	said, anchor := map[string]bool{}, false
	if why, _ := t.whyOf(p); len(why) > 0 {
		t.say(wording.PlanWhy, wording.Args{"Why": why[0]})
		said[why[0]] = true
	}
	for _, c := range p.Checks {
		if c.Result != calc.Fail || c.Severity != calc.Block || said[c.Text] || len(said) > mostNew || slices.Contains(was, inShort(c.Text)) {
			continue
		}
		said[c.Text] = true
		anchor = anchor || strings.HasPrefix(c.ID, "A") // all of an anchor's are called so
		t.say(wording.PlanNew, wording.Args{"Why": c.Text})
	}
	t.oneChange(p)
	if anchor {
		t.holdUnasked(p)
	}
}

// holdUnasked says at a no-go that the anchor of the holding line was not asked for yet,
// where the line is reckoned on the anchor of the pull for want of another and that is too
// weak for it: a second one may clear it, and no other way out is needed.
func (t *turn) holdUnasked(p *calc.Plan) {
	if p.Decision != calc.NoGo || len(t.s.Sheet.Anchors) != 1 || t.s.Settled["holding"] != "" {
		return
	}
	if slices.ContainsFunc(p.Anchors, func(h calc.Held) bool { return h.Use == "holding" && !h.Passes && !h.Asked }) {
		t.say(wording.PlanHoldUnasked, wording.Args{"Name": t.label("anchors", 0)})
	}
}

// oneChange says what would turn a no-go soonest: one thing.
func (t *turn) oneChange(p *calc.Plan) {
	if spare := t.spareBad(); len(spare) > 0 {
		t.say(wording.PlanWithout, wording.Args{"Name": spare[0]})
		return
	}
	if len(p.Changes) == 0 {
		return
	}
	best := p.Changes[0]
	for _, c := range p.Changes {
		if c.Then == calc.Go {
			best = c
			break
		}
	}
	t.change1(best)
}

// showWhole says all of a plan to who asks for it.
func (t *turn) showWhole(p *calc.Plan) {
	t.sayApart(wording.PlanAgain, nil)
	t.age()
	t.tell(p)
	t.toldOf(p)
	t.ask()
}
