package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// words takes the few words that belong to the moment rather than to the
// message, and reports whether it did.
func (t *turn) words(text string) bool {
	low := strings.ToLower(strings.Trim(text, " .!"))
	if slices.Contains(checksWords, low) {
		t.startChecks()
		return true
	}
	if t.s.State == Verdict && t.wheelRadius(low) {
		return true
	}
	switch low {
	case "that's all", "thats all", "that is all", "nothing else", "no more", "all of it", "done":
		if t.s.State == AtGear || t.s.Topic == "names" {
			t.choose(offer{choice: "done"})
			return true
		}
	case "begin", "begin pull", "begin the pull", "start the pull", "ready", "we're ready", "were ready", "we are ready", "all ready", "ready to pull":
		if t.s.State == Verdict && t.offers1("begin_pull") {
			t.beginPull()
			return true
		}
		if t.s.State == Verdict && t.mayCheck() && t.s.Stage == NotBegun {
			t.startChecks() // what comes before it
			return true
		}
	case "close", "finish", "finished", "job done", "all done":
		if t.s.Stage.Lies() && (t.s.State == Verdict || t.s.State == Referred) {
			t.remark(wording.PullStillOn, nil)
			return true
		}
		if t.s.State == Verdict || t.s.State == Referred {
			t.close()
			return true
		}
	case "roles", "the roles", "parts", "the parts", "who does what":
		if t.people() > 0 && t.s.State != Referred && t.s.State != Pulling {
			t.roles()
			t.ask()
			return true
		}
	case "card":
		if t.s.State == Referred {
			t.refer(t.plan(), hazards(t.s.Sheet))
			t.ask()
			return true
		}
	case "plan", "the plan", "show plan":
		if p := t.plan(); p != nil && t.s.Figured && t.s.State != Referred {
			t.showWhole(p)
			return true
		}
	}
	if p := t.plan(); turnsIt.MatchString(low) && t.s.State == Verdict && p != nil && t.s.Figured {
		t.sayTurns(p)
		return true
	}
	if whatNext.MatchString(low) {
		switch p := t.plan(); {
		case t.s.State == Verdict && p != nil && t.s.Figured:
			t.showWhole(p)
			return true
		case !t.hub() && t.s.State != Pulling && t.s.State != Signing && t.s.State != Debrief:
			t.ask()
			return true
		}
	}
	if name, ok := strings.CutPrefix(low, "save kit"); ok {
		t.saveKit(strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(name), "as ")))
		return true
	}
	return t.putRight(text) || t.freeText(text)
}

// checksWords ask for the list.
var checksWords = []string{"checks", "check", "check list", "checklist", "the checks", "show checks"}

// whatNext is how people ask what is still wanted of them.
var whatNext = regexp.MustCompile(`^(?:(?:so|and|ok|okay|right|then|well|now)[ ,]+)*what(?:'s|s| is)? ?(?:else|now|next|is missing|missing|do (?:i|we) (?:still )?need|(?:else )?do you need)(?: (?:then|now|else|to do|from me))*\??$`)

// turnsIt is how people ask what would make the decision another.
var turnsIt = regexp.MustCompile(`^(?:(?:so|and|ok|okay|right|then|well|now|but)[ ,]+)*(?:what (?:would|could|can|will|might|else would) (?:change|turn|help|make|clear|fix)\b.*|what (?:can|could|should|do|must) (?:i|we) (?:do|change|try|need to change|have to change)\b.*|what (?:helps|changes it|clears it)|how (?:can|could|do|would) (?:i|we) (?:make|get|turn|fix|clear|do) (?:it|this|that)\b.*)\??$`)

// sayTurns says what would make the decision another.
func (t *turn) sayTurns(p *calc.Plan) {
	if p.Decision != calc.NoGo {
		t.showWhole(p)
		return
	}
	t.changes(p)
	t.ask()
}

// offers1 reports whether a choice stands under what is asked now.
func (t *turn) offers1(choice string) bool {
	return slices.ContainsFunc(t.allChoices(), func(o offer) bool { return o.choice == choice })
}

// freeText takes a message at the questions where any words are an answer.
func (t *turn) freeText(text string) bool {
	if !t.closing() && t.s.State != Signing && t.s.Topic != "names" && t.s.Topic != "second_look" && t.s.Topic != "kit_name" && t.s.State != Halted {
		return false
	}
	h := hear.Listen(text, hear.TopicText)
	switch h.Act {
	case hear.Help, hear.Why, hear.Back, hear.SoFar, hear.Leave, hear.New, hear.Words, hear.Note, hear.Change, hear.Skip, hear.Kit, hear.Greet:
		return false
	}
	switch {
	case t.s.State == Halted && t.inStop(text):
	case t.s.State == Halted:
		t.resumeHalted(text)
	case t.closing():
		t.leavesAs(text)
	case t.s.State == Signing:
		t.sign(text, h.Act == hear.No)
	case t.s.Topic == "names" && t.in.Group && !t.isLead():
		t.miss("") // whatever the others talk about is nobody's name
	case t.s.Topic == "names":
		t.names(text)
	case t.s.Topic == "second_look" && t.unlooked(text):
	case t.s.Topic == "second_look":
		t.looked(text)
	default:
		t.saveKit(text)
	}
	return true
}

// do does what the person wants, or takes the message as an answer.
func (t *turn) do(h hear.Heard) {
	switch h.Act {
	case hear.Stop:
		t.halt()
		return
	case hear.None, hear.Yes:
		if len(h.BreaksAt) > 0 && t.main() {
			t.say(wording.ReadBreaksAt, wording.Args{"Names": wording.Names(h.BreaksAt)})
		}
		if h.DugPart && t.main() {
			t.say(wording.ReadDugPart, nil)
		}
		if t.waterNear(h) || t.gasBottle(h) || t.livesOnly(&h) {
			return
		}
	}
	switch h.Act {
	case hear.Help, hear.Why:
		if _, item := t.walkedItem(); item && h.Act == hear.Help && beginsHow.MatchString(t.in.Text) {
			t.how() // a figure in it is the one that is asked about
			return
		}
		if len(h.Facts)+len(h.Cleared) > 0 && !t.hub() {
			t.answered(h)
			return
		}
		if h.Act == hear.Help {
			t.how()
		} else {
			t.why()
		}
	case hear.Skip:
		t.skip()
	case hear.Back:
		if t.closing() {
			t.leavesAs("back")
			return
		}
		t.back()
	case hear.Change:
		t.change(h)
	case hear.SoFar:
		t.soFar()
		t.ask()
	case hear.Leave:
		if m := t.me(); m != nil && t.in.Group && !t.isLead() {
			t.gone(*m) // one of a group; the job stays
			t.ask()
			return
		}
		t.leave()
	case hear.New:
		// Alone they go where they say, but not unasked while a load hangs on the line; nor does
		// whoever leads go unasked from a stop that others stand still for.
		asks := t.s.Stage.Lies() && t.s.alone() || t.s.stop() != nil && (t.s.State == Halted || t.s.State == Away)
		if !asks || !t.parting("new") {
			t.fresh()
		}
	case hear.Words:
		t.remark(wording.HelpWords, nil)
		for _, k := range moreWords {
			t.insert(k)
		}
	case hear.Greet:
		t.ask()
	case hear.Note:
		t.note(h.Object)
		t.remark(wording.ReadNoted, nil)
	case hear.Kit:
		t.kitWord(h.Object)
	case hear.Same:
		t.same()
	case hear.Sum:
		t.quickSum(h.Object)
		t.ask()
	default:
		t.heard(h)
	}
}

// beginsHow is how people ask how an item is looked at, whatever follows.
var beginsHow = regexp.MustCompile(`(?i)^\W*(?:(?:and|but|so|ok|well|er|um)\b\W*)*how\b`)

// skip takes the careful value for what nobody knows, and says so.
func (t *turn) skip() {
	tp, ok := topicByName(t.s.Topic)
	switch {
	case t.s.State == Signing:
		t.remark(wording.RefuseSkipSign, nil)
		return
	case !ok || t.hub():
		t.remark(wording.RefuseNotHere, nil)
		return
	case tp.noskip:
		t.remark(wording.RefuseSkipPeople, nil)
		return
	}
	if t.s.State == Amend && len(tp.skip) == 0 {
		t.untell(tp)
	}
	if t.skipSpecial(tp) {
		return
	}
	var changes []change
	for _, s := range tp.skip {
		changes = append(changes, change{set: s, how: Skipped})
	}
	t.put(quiet(changes, tp.name != "mass" && tp.name != "slope"))
	switch {
	case len(changes) == 0:
		t.say(unasked(tp.name), wording.Args{"What": t.name(tp.name)})
	case tp.name != "mass" && tp.name != "slope":
		t.say(wording.ReadSkipped, wording.Args{"What": t.name(tp.name), "Text": t.word(changes[0].path, changes[0].value)})
	}
	t.settle(tp.name, Skipped)
	if tp.name == "names" {
		t.propose(t.everyone(nil))
	}
	t.next()
}

// untell takes back what was told of a question that nobody can answer any more: an
// answer that is not known now is no answer, and the old one must not stand.
func (t *turn) untell(tp topic) {
	for _, path := range tp.fills {
		if path == "anchors[0].kind" && len(t.s.Sheet.Anchors) > 0 { // nothing of an anchor is without its kind
			t.emptyList("anchors", Skipped)
			continue
		}
		if was, told := t.s.Sheet.Get(path); told {
			t.act(Act{Do: DoSet, Path: path, Was: was, How: Skipped})
		}
	}
}

// quiet marks changes that were read back already.
func quiet(changes []change, yes bool) []change {
	for i := range changes {
		changes[i].quiet = yes
	}
	return changes
}

// hub reports whether the job stands where nothing is asked of the sheet.
func (t *turn) hub() bool {
	switch t.s.State {
	case Referred, Halted, Away, Closed, Verdict:
		return true
	}
	return false
}

// comeBack goes on with a job that was left. An answer to the question that
// it was left at is taken at once.
func (t *turn) comeBack(h hear.Heard) {
	if h.Act == hear.No && len(h.Facts) == 0 {
		if !t.parting("new") {
			t.fresh()
		}
		return
	}
	on := slices.Contains([]string{"go on", "continue", "carry on"}, strings.ToLower(strings.Trim(t.in.Text, " .!/")))
	if h.Act != hear.Yes && !on && len(h.Facts) == 0 {
		t.miss(h.Rest)
		return
	}
	t.resume()
	if len(h.Facts) > 0 && t.s.State != Halted {
		t.replies = nil
		t.heard(h)
	}
}

// resume goes back to where the job stood before it was left or halted.
func (t *turn) resume() {
	if t.s.stop() != nil { // it was left in the middle of a stop, which is still on
		t.fire(Stops)
		t.act(Act{Do: DoAsk})
		t.ask()
		return
	}
	from := t.s.From
	switch from.State {
	case Pulling, Debrief:
		t.resumePull(from.State)
	case Verdict:
		t.fire(Decided)
		t.act(Act{Do: DoAsk})
		t.ask()
	case Referred:
		t.fire(Refers)
		t.act(Act{Do: DoAsk})
		t.ask()
	case "":
		t.next()
	default:
		if from.State == Checks && strings.HasPrefix(from.Topic, "site.") && !t.s.alone() {
			t.next() // others have answered meanwhile
			return
		}
		t.to(from.Topic, from.State)
	}
}
