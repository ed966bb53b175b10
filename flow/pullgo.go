package flow

import (
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/wording"
)

// beginPull goes from the plan to the pull, if nothing keeps it.
func (t *turn) beginPull() {
	switch {
	case t.s.Stage == PullOver || t.s.State == Pulling || t.s.State != Verdict:
		t.remark(wording.RefuseNotHere, nil)
		return
	case !t.leads():
		return
	}
	if len(t.s.Defects) > 0 {
		t.remark(wording.PullFaults, wording.Args{"Names": t.faults()})
		return
	}
	if len(t.s.Vetoes) > 0 {
		t.remark(t.withheldBy(wording.PullVetoed, t.vetoes()))
		return
	}
	if t.hourly() {
		t.next()
		return
	}
	if k, args, barred := t.barred(); barred {
		t.remark(k, args)
		return
	}
	if deaf := t.deaf(); len(deaf) > 0 {
		t.remark(wording.PullDeaf, wording.Args{"Names": deaf})
		return
	}
	t.fire(Pulls)
	t.act(Act{Do: DoAsk})
	if t.s.Stage == NotBegun {
		t.act(Act{Do: DoStage, Cue: Begins})
		t.say(t.forPuller(wording.DrillAbout), nil)
		t.say(wording.DrillSignal, nil)
		t.tellAll(false, func() { t.say(t.forPuller(wording.DrillAbout), nil); t.say(wording.DrillSignal, nil) })
	} else {
		t.act(Act{Do: DoAnew})
	}
	t.ask()
}

// backToPull goes on with a pull that was interrupted, once nothing keeps it:
// at a hold point, with a number of its own.
func (t *turn) backToPull() {
	if t.err != nil || t.s.Stage == NotBegun || t.s.Stage == PullOver || t.s.State == Pulling || t.s.State == Debrief {
		return
	}
	if t.s.Stage.needsPlan() {
		if _, _, barred := t.barred(); barred {
			return
		}
	}
	t.fire(Pulls)
	t.act(Act{Do: DoAsk})
	t.act(Act{Do: DoAnew})
	if t.s.Held["hour"] != "" {
		t.act(Act{Do: DoFresh})
		t.act(Act{Do: DoHold, Path: "hour"})
	}
	if t.s.Stage == StopDrill { // no release comes before the drill
		t.sayOver()
	}
	t.say(wording.PullBack, wording.Args{"Number": t.s.Hold, "Result": t.stageWords()})
}

// replan goes on after what the plan rests on has changed: with the pull where
// it still holds, else with what is to be found out or with the plan.
func (t *turn) replan() {
	if t.err != nil {
		return
	}
	if !t.s.Stage.needsPlan() {
		t.ask()
		return
	}
	if _, _, barred := t.barred(); !barred && t.s.State == Pulling {
		t.learnt()
		t.ask()
		return
	}
	t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
	t.learnt()
	if t.easeFirst() {
		return
	}
	t.next()
}

// secureHere gives the pull up where it stands: that needs no plan.
func (t *turn) secureHere() {
	if t.s.State != Verdict && t.s.State != Referred || !t.s.Stage.Lies() { // its button is for what stood then
		if t.isLead() {
			t.remark(wording.RefuseNotHere, nil)
		}
		return
	}
	t.secureNow()
}

// secureNow goes to where the load is secured, from wherever the pull stands.
func (t *turn) secureNow() {
	switch {
	case !t.leads():
		return
	case t.s.State == Pulling:
		t.holdNow()
		if !t.givesUp() {
			return
		}
	case !t.givesUp():
		return
	default:
		if t.s.State != Verdict && t.s.State != Checks {
			t.fire(Reopens) // from wherever a question is asked again
		}
		t.fire(Pulls)
		t.act(Act{Do: DoAsk})
	}
	if cue := t.s.Stage.rest(true); cue != "" && t.s.Stage != Held {
		t.act(Act{Do: DoStage, Cue: cue})
	}
	if _, err := stageAfter(t.s.Stage, Arrives); err == nil {
		t.act(Act{Do: DoStage, Cue: Arrives})
	}
	t.ask()
}

// heldSecure keeps the hold at which the lead was asked whether the pull is to end.
const heldSecure = "secure"

// givesUp reports whether the pull is to end where it stands. There is no way back to it,
// so the lead is asked once: unless the load is where it was to come to, the rig has no
// travel left, or nothing but that is open.
func (t *turn) givesUp() bool {
	n := itoa(t.s.Hold)
	// The same button twice is a thumb that slipped.
	meant := t.s.Held[heldSecure] == n && (t.in.Press == nil || strings.HasPrefix(t.in.Press.Choice, "secure_sure."))
	if meant || !t.s.Stage.needsPlan() || t.s.State == Referred || t.s.Stage == Held && (t.s.there() || t.noTravel()) {
		return true
	}
	t.act(Act{Do: DoHold, Path: heldSecure, Value: n})
	t.say(wording.PullGivesUp, nil)
	t.ask()
	t.offers = append([]offer{t.button("secure_sure", "."+n)}, t.offers...)
	return false
}

// heldPast keeps the hold at which the lead was asked whether the load is to go past
// where it was to come to.
const heldPast = "past"

// goesPast reports whether one more pull is meant where the load was said to be where it
// was to come to. The lead is asked once, and a button pressed twice is a thumb that slipped.
func (t *turn) goesPast(h *Hold) bool {
	n := itoa(h.Number)
	if h.Stage != Held || !t.s.there() || t.s.Held[heldPast] == n && t.in.Press == nil {
		return true
	}
	t.act(Act{Do: DoHold, Path: heldPast, Value: n})
	t.say(wording.PullGoesPast, wording.Args{"Number": h.Number})
	t.ask()
	return false
}

// securesSure takes the button of that.
func (t *turn) securesSure(number string) {
	if t.s.Held[heldSecure] != number || number != itoa(t.s.Hold) || !t.s.Stage.needsPlan() || t.s.State == Halted {
		t.void(number)
		return
	}
	t.secureNow()
}

// release lets the pull go on from a hold point.
func (t *turn) release(h *Hold, name string) {
	if !t.leads() {
		return
	}
	cue := releases[name]
	if cue == "" {
		cue = t.onward1(h)
	}
	to, err := stageAfter(t.s.Stage, cue)
	if err != nil {
		t.remark(wording.RefuseNotHere, nil)
		return
	}
	if cue == Arrives && !t.givesUp() {
		return
	}
	if cue == Arrives || cue == Backs { // no motion under a pull, and always open
		t.act(Act{Do: DoStage, Cue: cue})
		t.ask()
		return
	}
	if to.Pulls() && !t.goesPast(h) {
		return
	}
	if to.Pulls() && t.hourly() {
		t.next()
		return
	}
	if k, args, no := t.keeps(h, to); no {
		t.remark(k, args)
		return
	}
	if t.putBack(placePull, name+"."+itoa(h.Number), Pressed, true) {
		return
	}
	a := Act{Do: DoRelease, Value: itoa(h.Number), Cue: cue}
	if cue == TakesSlack {
		a.Topic = rove(t.plan())
	}
	switch to {
	case FirstMove:
		a.Second = firstTravelText
	case Bite, Crest:
		a.Second = t.most()
	}
	number := h.Number
	t.act(a)
	t.sayOver()
	if cue == LookedOver {
		t.toDebrief()
		return
	}
	k := wording.PullReleased
	if !to.Moves() {
		k = wording.PullReleasedStill
	}
	t.tellAll(false, func() { t.say(k, wording.Args{"Number": number, "Name": t.s.Lead.Name}) })
	t.say(k, wording.Args{"Number": number, "Name": t.s.Lead.Name})
	if to == AllPlaced && !t.s.taut() && (t.s.againNear() || t.openNear(nearItems...)) {
		t.replan() // what waited for the slack line
		return
	}
	t.ask()
}

// keeps returns what keeps a hold point from being released.
func (t *turn) keeps(h *Hold, to Stage) (wording.Key, wording.Args, bool) {
	if empty := t.emptyWaits(); len(empty) > 0 {
		return wording.PullVacant, wording.Args{"Names": t.askedPosts(empty)}, true
	}
	if t.markOpen() {
		watch, _ := t.doing("anchor")
		return wording.MarkWait, wording.Args{"Name": watch.name}, true
	}
	if names := t.waitedFor(); len(names) > 0 {
		return wording.PullWaits, wording.Args{"Names": names}, true
	}
	if len(h.Withheld) > 0 {
		k, args := t.withheldBy(wording.PullWithheld, t.withholders(h))
		return k, args, true
	}
	if left := t.lightLeft(h); left > 0 {
		return wording.PullMinute, wording.Args{"Total": int(left.Seconds())}, true
	}
	if stop := t.s.stop(); stop != nil {
		return wording.PullStopOn, wording.Args{"Name": stop.By.Name}, true
	}
	if (h.Stage == HoldProved || h.Stage == LineSlack) && to == AllPlaced {
		if p := t.plan(); p == nil || t.otherRig(p) {
			return wording.PullOtherRig, nil, true
		}
	}
	if h.Stage.lets(to) {
		if empty := t.vacant(to); len(empty) > 0 {
			return wording.PullVacant, wording.Args{"Names": t.askedPosts(empty)}, true
		}
	}
	if !to.Pulls() {
		return "", nil, false
	}
	if len(t.s.Defects) > 0 && to != Proving { // that is the way to a slack line
		k := wording.PullFaults
		if t.s.loaded() {
			k = wording.PullFaultsTight
		}
		return k, wording.Args{"Names": t.faults()}, true
	}
	if (to == Bite || to == Crest) && t.easesNext() {
		return wording.PullWalkAgain, wording.Args{"Number": h.Number}, true
	}
	if to != SlackOut && to != Proving {
		if p := t.plan(); p != nil && p.Tackle != nil && t.otherRig(p) {
			return wording.PullOtherParts, wording.Args{"Count": p.Tackle.Parts}, true
		}
	}
	if to != SlackOut {
		if k, args, over := t.slackOver(); over {
			return k, args, true
		}
	}
	if to == Bite || to == Crest {
		if p := t.plan(); p != nil {
			if b, ok := t.bite(p); ok && b.Load != nil && *b.Load <= 0 {
				return wording.PullNoTravel, nil, true
			}
		}
	}
	return t.barred()
}

// onward1 is what the release of a hold point leads to now: after a stop, or
// what was seen, the hold is proved before anything else, so that the rig can
// be walked again.
func (t *turn) onward1(h *Hold) Cue {
	if h.Stage == Held && t.easesNext() {
		return Proves
	}
	return onward[h.Stage]
}

// most is the longest that the next bite may be, in words that can be read again.
func (t *turn) most() string {
	if p := t.plan(); p != nil {
		if b, ok := t.bite(p); ok && b.Load != nil {
			return metres(*b.Load)
		}
	}
	return firstTravelText
}

// stood ends a stage that moves: the puller stands.
func (t *turn) stood() {
	cue := map[Stage]Cue{SlackOut: SlackTaken, Tightening: Tightened, FirstMove: Holds, Bite: Holds, Crest: Holds, Proving: Proved, SlackOff: Eased}[t.s.Stage]
	if m := t.me(); m == nil || m.As != AsLead && m.As != AsCrew {
		t.remark(wording.PullOnSpot, nil)
		return
	}
	if cue == "" {
		t.void(itoa(t.s.Hold))
		return
	}
	if t.s.Stage == Proving && !t.isLead() { // that it held is for the lead to say
		if t.in.Press != nil {
			t.awaits("leader")
			return
		}
		cue = Holds
	}
	t.act(Act{Do: DoStage, Cue: cue})
	t.ask()
}

// slid takes that the load moved when the haul line was eased: nothing holds it.
func (t *turn) slid() {
	if t.s.Stage != Proving {
		t.void(itoa(t.s.Hold))
		return
	}
	t.saw("runs", t.saying(wording.ChoiceSlid))
}

// standFirst takes the pull to where it holds before the job is taken out of
// it: no question is asked and no answer changed while the line moves.
func (t *turn) standFirst(e Event) {
	if t.err != nil || t.s.State != Pulling || e == Pulls {
		return
	}
	if e == Stops {
		if cue := t.s.Stage.rest(true); cue != "" {
			t.act(Act{Do: DoStage, Cue: cue})
		}
		return
	}
	if t.s.Stage.Moves() {
		t.holdNow()
	}
}

// guard ends a turn that has left the puller pulling against what keeps it from
// that: whatever was told, everybody holds first.
func (t *turn) guard() {
	if t.err != nil || t.s == nil || !t.s.Stage.Pulls() {
		return
	}
	k, args, barred := t.barred()
	if !barred {
		return
	}
	t.mail = t.mails[0]
	t.holdNow()
	t.say(k, args)
	t.replan()
}

// holdNow has everybody hold, if anything may move or hands are on the gear, and
// tells them first.
func (t *turn) holdNow() bool {
	cue := t.s.Stage.rest(false)
	if !t.s.Stage.Moves() && !t.s.Stage.Hands() || cue == "" {
		return false
	}
	t.act(Act{Do: DoStage, Cue: cue})
	t.tellAll(true, func() { t.first(t.forPuller(wording.PullHoldNow), nil) })
	t.urgent = true
	t.first(t.forPuller(wording.PullHoldNow), nil)
	return true
}

// holdAnew has everybody hold; where it stands at a hold point already, what was
// confirmed there counts no more.
func (t *turn) holdAnew() {
	if !t.holdNow() && t.s.hold() != nil {
		t.act(Act{Do: DoAnew})
	}
}

// first says a paragraph ahead of what is said in a chat already.
func (m *mail) first(k wording.Key, args wording.Args) {
	m.replies = append([]reply{{key: k, args: args}}, m.replies...)
}

// beforeAsking says a paragraph ahead of the question that a chat is asked last.
func (m *mail) beforeAsking(r reply) {
	at := slices.IndexFunc(m.replies, func(o reply) bool { return o.asks || strings.HasPrefix(string(o.key), "ask.") })
	if at < 0 {
		at = len(m.replies)
	}
	m.replies = slices.Insert(m.replies, at, r)
}

// onlyHold drops what was said so far, but that everybody holds, and why a word does not
// take back for what the job is handed over.
func (m *mail) onlyHold() {
	m.replies = slices.DeleteFunc(m.replies, func(r reply) bool {
		return !holdsNow(r.key) && r.key != wording.RefuseLighter && r.key != wording.RefuseTakeBack
	})
}

// learnt says the plan where it is another than the one last said: to who leads and who
// watches that it is still a go, once nothing else keeps it, and to everybody else at once
// that it is none, and why.
func (t *turn) learnt() {
	p := t.plan()
	if p == nil || t.oddCount || t.isThere { // said once it was looked at
		return
	}
	if finding(*p).Digest == t.s.Toldof {
		return
	}
	t.nowNoGo(p)
	if _, _, barred := t.barred(); !barred {
		t.andWatch(func() {
			t.say(wording.PullStillGo, nil)
			t.force(p, wording.PlanForce, wording.PlanAlone)
			t.given2(p)
		})
		t.toldOf(p)
	}
}

// heldNoGo keeps what made it a no-go when that was last told to everybody.
const heldNoGo = "nogo"

// nowNoGo says to everybody that a plan whose line lies is none any more, and why, once
// for each set of reasons.
func (t *turn) nowNoGo(p *calc.Plan) {
	why := ""
	if p.Decision == calc.NoGo && t.s.Stage.Lies() {
		why = strings.Join(blocking(p), " ")
	}
	if why == t.s.Held[heldNoGo] {
		return
	}
	t.act(Act{Do: DoHold, Path: heldNoGo, Value: why})
	if why == "" || len(p.Why) == 0 {
		return
	}
	reasons, _ := t.whyOf(p)
	say := func() {
		t.headline(p)
		t.say(wording.PlanWhy, wording.Args{"Why": reasons[0]})
	}
	t.tellAllAndHere(false, say)
}

// rove names a plan's tackle, so that a plan that asks for another is not
// pulled by the old one.
func rove(p *calc.Plan) string {
	if p == nil || p.Tackle == nil {
		return ""
	}
	s := itoa(p.Tackle.Parts) + " " + p.Tackle.HaulFrom
	if c := p.Tackle.Compound; c != nil {
		s += " by " + itoa(c.Parts)
	}
	return s
}

// pullChoices puts the ways into the pull, or out of it, before the other
// buttons under the plan.
func (t *turn) pullChoices(out []offer) []offer {
	_, _, barred := t.barred()
	var first []offer
	switch {
	case t.s.Stage == PullOver:
	case !barred && t.s.Figured:
		first = append(first, offer{choice: "begin_pull"})
	}
	if t.s.Stage.Lies() {
		first = append(first, offer{choice: "secure_here"})
	}
	return append(first, out...)
}

// resumePull goes back to the pull, or to its debrief, after the job was left
// or halted.
func (t *turn) resumePull(to State) {
	if to == Debrief {
		t.fire(Debriefs)
		t.act(Act{Do: DoAsk})
		t.ask()
		return
	}
	if !t.s.Stage.needsPlan() {
		t.backToPull()
		t.ask()
		return
	}
	t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
	t.next()
}

// rerigged says after the rope was laid out anew what that makes doubtful.
func (t *turn) rerigged() {
	t.say(wording.PullRerigged, nil)
	t.tellAll(false, func() { t.say(wording.PullRerigged, nil) })
	t.reopenFor(calc.Rerig)
	t.replan()
}
