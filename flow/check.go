package flow

import (
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// The go/no-go list is walked once the plan is a go on paper. Each item is a
// claim about the place; a no to one that blocks ends it there, and no button
// leads past it. Only putting it right and answering again does.

// verdictChoices are the buttons under the plan.
func (t *turn) verdictChoices() []offer {
	out := []offer{{choice: "working"}, {choice: "plan"}, {choice: "so_far"}}
	if t.mayCheck() {
		out = append([]offer{{choice: "checks"}}, out...)
	}
	return append(t.pullChoices(out), offer{choice: "leave"})
}

func (t *turn) verdictChoice(choice string) {
	switch choice {
	case "checks":
		t.startChecks()
	case "working":
		t.reasons()
	case "plan":
		if p := t.plan(); p != nil {
			t.showWhole(p)
		}
	default:
		t.remark(wording.RefuseNotHere, nil)
	}
}

// mayCheck reports whether the list may be walked: the plan is a go, or all
// that blocks it was seen on the spot and can be put right there.
func (t *turn) mayCheck() bool {
	p := t.onceRight()
	if p == nil || !t.s.Figured {
		return false
	}
	if p.Decision == calc.Go {
		return true
	}
	if p.Decision != calc.NoGo {
		return false
	}
	for _, c := range p.Checks {
		if c.Result == calc.Fail && c.Severity == calc.Block && !c.OnSite {
			return false
		}
		if c.Result == calc.Unknown && !c.OnSite && c.Severity != calc.Advice {
			return false // putting it right would leave the plan open
		}
	}
	return true
}

// startChecks begins the list, or takes it up where it was left; what failed
// is asked again.
func (t *turn) startChecks() {
	if t.s.State == Pulling {
		if _, _, barred := t.barred(); barred && t.s.Stage.needsPlan() && t.leads() {
			t.replan()
		} else if t.isLead() {
			t.remark(wording.ChecksAnswered, nil)
		}
		return
	}
	if t.checking() && t.s.State != Halted {
		t.sayWaits()
		return
	}
	if t.s.State != Verdict {
		t.remark(wording.RefuseNotHere, nil)
		return
	}
	if t.asksUntold() {
		return
	}
	if !t.mayCheck() {
		t.remark(wording.ChecksNone, nil)
		return
	}
	for _, c := range siteChecks {
		if c.fails(t.s.Sheet) {
			t.reopenItem(c.path())
		}
	}
	if t.s.Settled["names"] == "" && t.people() > 1 {
		t.toNames()
		return
	}
	t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
	t.say(wording.ChecksBegin, nil)
	t.walk()
}

// asksUntold asks for what bars the pull by not being told, and reports whether there is
// any: after the list is too late, since nobody pulls on it before.
func (t *turn) asksUntold() bool {
	p := t.onceRight()
	if p != nil && p.Decision == calc.Open {
		return t.asksOpen(p)
	}
	if p == nil || p.Decision != calc.Go {
		return false
	}
	for _, c := range p.Checks {
		if !bars(c) || slices.ContainsFunc(c.Fields, func(f string) bool { return strings.HasSuffix(f, ".tied_back") }) {
			continue // whether all are out of a tree's reach is an item of the list
		}
		t.say(wording.PullUntold, wording.Args{"What": c.Text})
		for _, f := range c.Fields {
			if tp, ok := topicByName(topicFilling(f)); ok {
				t.act(Act{Do: DoReopen, Topic: tp.name})
				t.to(tp.name, tp.state)
				return true
			}
		}
		t.ask()
		return true
	}
	return false
}

// asksOpen asks anew for what was put aside and keeps a plan open, and reports whether
// there is any: a list that can't begin says why.
func (t *turn) asksOpen(p *calc.Plan) bool {
	for _, c := range p.Checks {
		if c.Result != calc.Unknown || c.OnSite || c.Severity == calc.Advice {
			continue
		}
		for _, f := range c.Fields {
			tp, ok := topicByName(topicFilling(f))
			if !ok || strings.HasPrefix(f, "site.") || tp.apply != nil && !tp.apply(t.s.Sheet) {
				continue
			}
			t.say(wording.PullUntold, wording.Args{"What": c.Text})
			t.act(Act{Do: DoReopen, Topic: tp.name})
			t.to(tp.name, tp.state)
			return true
		}
	}
	return false
}

// checking reports whether the list is being walked.
func (t *turn) checking() bool { return t.s.Held["checking"] != "" }

// open2 lists the items that apply to the job.
func (t *turn) listed() []siteCheck {
	rig := t.rigParts()
	var out []siteCheck
	for _, c := range siteChecks {
		if c.apply == nil || c.apply(t.s.Sheet, rig) {
			out = append(out, c)
		}
	}
	return out
}

// counted returns which item of how many c is.
func (t *turn) counted(c siteCheck) (at, all int) {
	list := t.listed()
	for i, l := range list {
		if l.field == c.field {
			at = i + 1
		}
	}
	return at, len(list)
}

// walk asks the next item, then for the signatures that are missing, and at
// the end says where that leaves the plan.
func (t *turn) walk() {
	p := t.onceRight()
	t.rigs(p)
	if p == nil || p.Decision != calc.Go && !t.mayCheck() {
		t.endChecks(t.plan())
		return
	}
	for _, waits := range []bool{false, true} { // what is said to come waits for the rest
		for _, c := range t.listed() {
			if t.s.Settled[c.path()] == "" && !t.s.itemWaits(c) && waits == (t.s.Parts[c.path()].Value != "") {
				t.to(c.path(), Checks)
				return
			}
		}
	}
	if open := t.openItems(); len(open) > 0 {
		if t.s.alone() {
			t.wasLookedAt()
			t.to("second_look", Checks)
		} else {
			t.to(open[0].check.path(), Checks)
		}
		return
	}
	if p.Decision == calc.Go && len(p.SignOffs) > 0 {
		t.needSign(p.SignOffs[0])
		return
	}
	if p.Decision == calc.Go && t.people() > 1 && t.s.Settled["names"] == "" {
		t.toNames() // nothing pulls before, and no button leads there
		return
	}
	t.endChecks(p)
}

func (t *turn) endChecks(p *calc.Plan) {
	t.act(Act{Do: DoHold, Path: "checking"})
	t.fire(Decided)
	t.act(Act{Do: DoAsk})
	if p == nil {
		t.ask()
		return
	}
	if what, is := untold(p); is && p.Decision == calc.Go {
		t.sayApart(wording.PullUntold, wording.Args{"What": what})
		t.toldOf(p)
	} else if p.Decision == calc.Go && !p.Conditional {
		if t.s.Stage.Lies() && (len(t.s.Again) > 0 || len(t.opens()) > 0) { // the rest waits for the slack line
			names := slices.Concat(t.againNames(), t.openNames(t.opens()))
			for _, chat := range t.s.chats() { // whose answer was the last one too
				t.inChat(chat, func() { t.sayApart(wording.PlanClearedTight, wording.Args{"Names": names}) })
			}
			if len(t.s.chats()) == 0 {
				t.sayApart(wording.PlanClearedTight, wording.Args{"Names": names})
			}
		} else if t.s.Stage.Lies() { // it is rigged: the way on is the hold
			t.sayApart(wording.PlanClearedAgain, nil)
		} else {
			t.sayApart(wording.PlanCleared, nil)
			t.roles()
		}
		if len(t.s.Defects) > 0 {
			t.say(wording.PullFaults, wording.Args{"Names": t.faults()})
		}
		if len(t.s.Vetoes) > 0 {
			t.say(t.withheldBy(wording.PullVetoed, t.vetoes()))
		}
		t.toldOf(p)
	} else if finding(*p).Digest != t.s.Toldof {
		t.headline(p)
		t.sayWhy(p)
		t.toldOf(p)
	}
	if k, args, barred := t.barred(); barred && p.Decision == calc.Go && t.s.Stage == NotBegun && k != wording.PullUntold {
		t.say(k, args) // whoever looks for the button to begin reads why there is none
	}
	t.backToPull()
	t.ask()
}

// checked takes the answer to an item.
func (t *turn) checked(tp topic, choice string) {
	for _, o := range tp.offers {
		if o.choice != choice {
			continue
		}
		for _, s := range o.sets {
			t.checkValue(tp, s.value)
		}
		return
	}
	t.miss("")
}

func (t *turn) checkValue(tp topic, value string) {
	c, _ := siteCheckOf(strings.TrimPrefix(tp.name, "site."))
	value = t.knownTries(c, t.judgedSober(c, value))
	if !failing(c, value) && t.putBack(placeList, choiceOf(tp, value), Pressed, false) {
		return
	}
	if t.tooQuickAlone(c, value) {
		return
	}
	if t.joinsWeak(c, value) {
		t.ask()
		return
	}
	t.act(Act{Do: DoSet, Path: tp.name, Value: value, How: Told})
	t.act(Act{Do: DoCheck, Topic: tp.name, Value: value})
	t.settle(tp.name, Told)
	if !c.fails(t.s.Sheet) {
		t.next()
		return
	}
	t.failed(c)
}

// choiceOf is the button of a question that says a value.
func choiceOf(tp topic, value string) string {
	for _, o := range tp.offers {
		if len(o.sets) > 0 && o.sets[0].value == value {
			return o.choice
		}
	}
	return ""
}

// severity is what the plan says of the item.
func (t *turn) severity(c siteCheck) calc.Severity {
	if p := t.plan(); p != nil {
		for _, k := range p.Checks {
			if k.ID == c.id && (slices.Contains(k.Fields, c.path()) || k.Result == calc.Fail) {
				return k.Severity
			}
		}
	}
	return calc.Block
}

// heardCheck takes a yes, a no, a count or words that say as much, where one
// phone walks the list. Where several do, an item is for whoever is asked it:
// no word of another's answers it.
func (t *turn) heardCheck(tp topic, h hear.Heard) bool {
	c, _ := siteCheckOf(strings.TrimPrefix(tp.name, "site."))
	said := itemAnswered{}
	if t.s.alone() && t.namedWeak(c, t.in.Text) {
		t.checkValue(tp, c.bad)
		return true
	}
	if t.s.alone() {
		if hear.ItemWrong(c.field, t.in.Text, true) {
			h.Facts = addsNothing(h.Facts)
		} else if t.amissElsewhere(t.in.Text, asking{check: c, seat: t.leadSeat()}, true) {
			return true
		}
		said = readItem(c, t.in.Text, h)
	}
	good := slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return f.Field == tp.name && !failing(c, f.Value) })
	switch {
	case good && t.putBack(placeList, t.in.Text, Told, false):
	case said.value != "" && !failing(c, said.value) && t.tellsBeside(h, c):
		t.hearFacts(h, false) // that comes first; the item is asked again
		t.next()
	case said.value != "" && t.tellsElsewhere(asking{check: c, seat: t.leadSeat()}, t.in.Text, said.value):
	case said.part:
		t.partOf(c, t.leadSeat(), t.in.Text)
	case said.value == "" && h.Act == hear.None && len(h.Facts) == 0 && beginsHow.MatchString(t.in.Text):
		t.how()
	case said.unseen:
		t.act(Act{Do: DoMiss})
		t.remark(wording.ChecksUnseen, nil)
	case said.value != "" && (len(h.Facts) == 0 || h.Act == hear.Yes || h.Act == hear.No):
		if !failing(c, said.value) {
			t.keepBeside(t.in.Text, c)
		}
		t.checkValue(tp, said.value)
	default:
		done := t.hearFacts(h, false)
		for _, path := range done {
			if path == tp.name {
				v, _ := t.s.Sheet.Get(path)
				t.checkValue(tp, v)
				return true
			}
		}
		if len(done) > 0 {
			t.next()
			return true
		}
		t.miss(h.Rest)
	}
	return true
}

// walkedItem returns the item that the list stands at where one phone walks it.
func (t *turn) walkedItem() (siteCheck, bool) {
	if t.s.State != Checks {
		return siteCheck{}, false
	}
	return siteCheckOf(strings.TrimPrefix(t.s.Topic, "site."))
}

// stale takes back what people had seen on the spot and what was signed for:
// it was seen and signed for a plan, or at a moment, that is no more. It
// reports whether there was any of it.
func (t *turn) stale() bool { return t.staleFor("") }

// seenOnSpot reports whether anything of the list was answered.
func (t *turn) seenOnSpot() bool {
	return slices.ContainsFunc(siteChecks, func(c siteCheck) bool { return t.s.Settled[c.path()] != "" || t.s.Marks[c.path()].Value != "" })
}

// staleFor is stale with why: only what was told is another thing, or more.
func (t *turn) staleFor(why string) bool {
	again := false
	for _, c := range siteChecks {
		if t.s.Settled[c.path()] != "" || t.s.Marks[c.path()].Value != "" {
			t.reopens(c.path(), why)
			again = true
		}
	}
	if len(t.s.Sheet.Signed) > 0 {
		t.act(Act{Do: DoSet, Path: "signed", How: Told, Reason: why})
		again = true
	}
	return again
}

// changed reopens what an answer has made doubtful: the crew's names with its
// number, and the list on the spot with anything else.
func (t *turn) changed(c change, was string) {
	if was == c.value || strings.HasPrefix(c.path, "site.") {
		return
	}
	if c.path == "crew" && t.s.Settled["names"] != "" {
		t.crewCounted(was)
	}
	if t.staleFor(keptOnly) {
		t.say(wording.ChecksAgain, nil)
	}
}
