package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Who is not asked the questions of the job may look at all of it. Words that
// only look are answered where they are written: the lead has other things to
// read while a rope is tight.

// looksAt answers such words, and reports whether it did.
func (t *turn) looksAt(text string, h hear.Heard) bool {
	p, low := t.lookPlan(), strings.ToLower(strings.Trim(text, " .!?/"))
	switch {
	case slices.Contains([]string{"plan", "the plan", "show plan", "show the plan"}, low):
		if p == nil || p.Decision == calc.Refer || t.s.State == Referred {
			t.remark(wording.AfarNoPlan, wording.Args{"Text": t.stateWords()})
			return true
		}
		t.sayApart(wording.PlanAgain, nil)
		t.age()
		t.tell(p)
	case slices.Contains(checksWords, low):
		t.checksSeen(p)
	case slices.Contains([]string{"jobs", "my jobs", "the jobs", "other jobs"}, low):
		t.say(wording.BoardHead, wording.Args{"Code": t.s.Code, "Text": t.stateWords()})
		t.otherJobs(t.in.Chat)
	case h.Act == hear.Why && len(h.Facts) == 0:
		if p == nil || p.Decision == calc.Refer {
			t.remark(wording.AfarNoPlan, wording.Args{"Text": t.stateWords()})
			return true
		}
		t.because(p)
	case h.Act == hear.Help && asksOfThere.MatchString(low) && isQuestion(low) && t.talkable() && t.me().ID != t.s.Lead.ID:
		t.query(t.s.Lead.Name, t.s.member(t.s.Lead.ID), text)
		return true
	case h.Act == hear.Help && len(h.Facts) == 0:
		t.say(wording.AfarHow, wording.Args{"Name": t.s.Lead.Name})
		if m := t.me(); m.As == AsCoordinator {
			t.say(wording.AfarHowCoordinator, nil)
		}
	default:
		return false
	}
	t.ask()
	return true
}

// asksOfThere are words that ask how something on the spot is: who stands there answers
// that, and not how this works.
var asksOfThere = regexp.MustCompile(`^(?:(?:hey|so|and|ok|okay)[ ,]+)*how(?:'?s| is| are| does| do| did| was| were) (?:the|your|that|those|its|her|his|their|\w+'s) (?:\w+ ){1,4}(?:looks?|doing|holding|going|lying|lie|standing|stand|sitting|feel|now|there|sit)\b`)

// lookPlan is the plan to be looked at, which decides nothing; nil while there
// is none.
func (t *turn) lookPlan() *calc.Plan {
	if !t.s.Figured {
		return nil
	}
	decided := t.entry.Decided
	p := t.plan()
	t.entry.Decided = decided
	return p
}

// checksSeen lists which checks fail or are not known, and of the list on the
// spot who has what open.
func (t *turn) checksSeen(p *calc.Plan) {
	if p == nil || p.Decision == calc.Refer {
		t.say(wording.AfarNoPlan, wording.Args{"Text": t.stateWords()})
		return
	}
	passed, eyes := 0, 0
	var fails, unknown wording.Lines
	for _, c := range p.Checks {
		switch {
		case c.Result == calc.Pass:
			passed++
		case c.Result == calc.Fail:
			fails = append(fails, c.Text)
		case c.OnSite:
			eyes++
		case c.Severity != calc.Advice:
			unknown = append(unknown, c.Text)
		}
	}
	t.say(wording.AfarChecks, wording.Args{"Number": passed, "Total": len(p.Checks)})
	if len(fails) > 0 {
		t.say(wording.AfarFails, nil)
		t.list(fails)
	}
	if len(unknown) > 0 {
		t.say(wording.AfarUnknown, nil)
		t.list(unknown)
	}
	if eyes > 0 {
		t.say(wording.AfarEyes, wording.Args{"Number": eyes})
	}
	if t.itemsOn() {
		t.list(t.openLines())
	}
}
