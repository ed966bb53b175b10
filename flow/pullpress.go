package flow

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// pullPress does what a button of the pull says. Each of them carries the
// number of the hold point that it is for: pressed late it does nothing, and
// says so.
func (t *turn) pullPress(choice string) bool {
	name, number, rest := cut(choice)
	switch name {
	case "begin_pull":
		if t.s.State != Verdict { // it stands under a plan that was said before
			t.notice = true
			t.say(wording.RefuseStaleShort, nil)
			return true
		}
		t.beginPull()
	case "as_before":
		return t.asBefore()
	case "report":
		t.offerReports()
	case "saw":
		if _, ok := sightOf(number); !ok {
			return false
		}
		t.said = t.saying(wording.Key("saw." + number))
		t.saw(number, t.said)
	case "drill", "drill_ok", "drill_shouted", "drill_again":
		t.drillPress(name, number)
	case "stop_cause":
		t.causePress(number, rest)
	case "debrief":
		t.debriefPress(number)
	case "secure_here":
		t.secureHere()
	case "over_edge":
		t.said = t.saying(wording.ChoiceOverEdge)
		t.overEdge(number)
	case "secure_sure":
		t.said = t.saying(wording.ChoiceSecureSure)
		t.securesSure(number)
	case "sure", "unsure", "release", "crest", "rerig", "walk", "secure", "slacken", "withhold", "lift", "slid", "done_re_rig", "done_unrig":
		n, err := strconv.Atoi(number)
		if err != nil {
			return false
		}
		t.said = t.sayingWith(wording.Key("choice."+name), wording.Args{"Number": n})
		t.numbered(name, number, rest)
	default:
		if !strings.HasPrefix(name, "stands_") {
			return false
		}
		if k := wording.Key("choice." + name); t.e.Words.Has(k) {
			t.said = t.saying(k)
		}
		t.numbered(name, number, rest)
	}
	return true
}

// numbered does what belongs to one hold point, if that is the one where the
// pull stands.
func (t *turn) numbered(name, number, rest string) {
	if name == "withhold" && t.withholdNow(rest) {
		return
	}
	if t.s.State != Pulling || number != itoa(t.s.Hold) {
		t.void(number)
		return
	}
	h := t.s.hold()
	if h == nil && slices.Contains([]string{"sure", "unsure", "release", "crest", "rerig", "walk", "secure", "slacken", "withhold", "lift"}, name) {
		t.void(number)
		return
	}
	if at, ok := strings.CutPrefix(name, "stands_"); ok {
		if at != word(string(t.s.Stage)) {
			t.void(number)
			return
		}
		t.stood()
		return
	}
	switch name {
	case "sure":
		t.sure(h, rest)
	case "unsure":
		t.unsure(h, rest)
	case "lift":
		t.lift(h)
	case "slid":
		t.slid()
	case "done_re_rig":
		t.handsOff(Rerig, Rigged)
	case "done_unrig":
		t.handsOff(Unrig, Unrigged)
	default:
		t.release(h, name)
	}
}

// releases are the cues of the lead's buttons at a hold point; release itself
// leads to what comes next there.
var releases = map[string]Cue{"release": "", "crest": Crests, "rerig": Proves, "walk": Stays, "secure": Arrives, "slacken": Backs}

// onward is what the release of a hold point leads to.
var onward = map[Stage]Cue{
	AllPlaced: TakesSlack, SlackIsOut: Tightens, LightTension: FirstMoves, Held: Bites, HoldProved: Slacks, LineSlack: Shifts,
	Securing: Eases, SlackIsOff: Unrigs, GearCheck: LookedOver, RerigHeld: HandsIn, UnrigHeld: GearOff,
}

// void answers what came for a hold point that is over. It changes nothing.
func (t *turn) void(number string) {
	now := wording.Args{"Text": number, "Number": t.s.Hold, "Result": t.stageWords()}
	k := wording.PullVoid
	if n, err := strconv.Atoi(number); err == nil && n > t.s.Hold {
		k = wording.PullVoidYet
	} else if number == itoa(t.s.Hold) {
		k = wording.PullVoidNow
		if t.s.unreleased() {
			k = wording.PullVoidGone
		}
	}
	if t.in.Press != nil {
		t.notice = true
		t.say(k, now)
		return
	}
	t.remark(k, now)
}

func (t *turn) stageWords() string {
	if t.s.taut() {
		return t.saying(wording.StageTaut)
	}
	return t.saying(wording.Key("stage." + word(string(t.s.Stage))))
}

// sure takes the confirmation of all that one person has to confirm.
func (t *turn) sure(h *Hold, duty string) {
	who, list, ok := t.mine(duty)
	if !ok || list[0].duty != easing && t.putBack(placePull, "sure."+itoa(h.Number)+"."+duty, Pressed, false) {
		return
	}
	if who.member == nil && t.tooSoon(h) {
		t.askBack()
		t.ask()
		return
	}
	for _, c := range list {
		t.act(Act{Do: DoSure, Path: c.duty, Value: itoa(h.Number), Names: []string{who.name}, Reason: c.name})
	}
	t.say(wording.PullSure, wording.Args{"Name": who.name, "Number": h.Number})
	if list[0].duty == easing {
		// At a slack line it is another hold: the same words once more confirm nothing of it.
		t.act(Act{Do: DoAnew})
		// What waited for the slack line is asked now.
		if t.main() {
			t.replan()
			return
		}
		t.inChat(t.s.leadChat(), t.replan)
	}
	t.ask()
}

// tooSoon reports whether a confirmation that somebody else is to give aloud came so soon
// after the last from the same phone that nobody can have been asked: the same words sent
// twice, or a thumb that slipped.
func (t *turn) tooSoon(h *Hold) bool {
	if t.in.Piped || len(h.Sure) == 0 || h.Sure[len(h.Sure)-1].By.ID != t.in.Person.ID {
		return false
	}
	at, err := time.Parse(time.RFC3339, h.Sure[len(h.Sure)-1].At)
	return err == nil && t.in.At.Sub(at) < quickest
}

// unsure takes that it is not so. What was confirmed before counts no more,
// and the lead is told.
func (t *turn) unsure(h *Hold, duty string) {
	who, list, ok := t.mine(duty)
	if !ok {
		return
	}
	for _, c := range list {
		t.act(Act{Do: DoDoubt, Path: c.duty, Value: itoa(h.Number)})
	}
	say := func() { t.say(wording.PullUnsure, wording.Args{"Name": who.name, "Number": h.Number}) }
	if chat := t.s.leadChat(); chat != t.in.Chat {
		t.inChat(chat, say)
	}
	say()
	t.ask()
}

// mine returns who confirms a duty and all that is open of theirs, if it is
// for the one who speaks to say it.
func (t *turn) mine(duty string) (doing, []claim, bool) {
	who, known := t.doing(duty)
	if !known {
		t.remark(wording.RefuseNotHere, nil)
		return who, nil, false
	}
	if who.empty {
		t.remark(wording.PullVacant, wording.Args{"Names": t.askedPosts([]string{who.does})})
		return who, nil, false
	}
	if who.member != nil && who.member.ID != t.in.Person.ID || who.member == nil && !t.isLead() {
		t.remark(wording.PullNotYours, wording.Args{"Name": who.name})
		return who, nil, false
	}
	var list []claim
	h, taut := t.s.hold(), t.s.taut()
	for _, c := range claims {
		if d, ok := t.doing(c.duty); ok && c.stage == h.Stage && d.name == who.name && taut == (c.duty == easing) && (c.apply == nil || c.apply(t)) {
			list = append(list, c)
		}
	}
	if len(list) == 0 || taut && duty != easing {
		t.remark(wording.RefuseNotHere, nil)
		return who, nil, false
	}
	return who, list, true
}

func (t *turn) lift(h *Hold) {
	if !slices.ContainsFunc(h.Withheld, func(p Person) bool { return p.ID == t.in.Person.ID }) {
		if len(h.Withheld) > 0 {
			t.remark(t.withheldBy(wording.PullWithheld, t.withholders(h)))
			return
		}
		t.remark(wording.RefuseNotHere, nil)
		return
	}
	t.act(Act{Do: DoLift, Value: itoa(h.Number)})
	t.tellAll(false, func() { t.say(wording.PullHasLifted, wording.Args{"Name": t.whoName(), "Number": h.Number}) })
	t.ask()
}

// handsOff ends a stage in which hands are on the gear.
func (t *turn) handsOff(at Stage, cue Cue) {
	if t.s.Stage != at {
		t.void(itoa(t.s.Hold))
		return
	}
	if !t.leads() {
		return
	}
	t.act(Act{Do: DoStage, Cue: cue})
	if cue == Rigged {
		t.rerigged()
		return
	}
	t.ask()
}

// leads reports whether the lead speaks, and says otherwise that only they can.
func (t *turn) leads() bool {
	if !t.isLead() {
		t.remark(wording.JoinNotLead, wording.Args{"Name": t.s.Lead.Name})
		return false
	}
	return true
}

// pullWords does what words in the pull say.
func (t *turn) pullWords(text string) bool {
	low := hear.Lowered(strings.Trim(text, " .!"))
	switch low {
	case "begin the pull", "start the pull", "begin pull", "pull":
		if t.s.State != Pulling {
			t.beginPull()
			return true
		}
	}
	if t.phoneIsDead(text, low) || t.debriefWords(text, low) || t.closeWords(low) || t.againWords(low) || t.liftWords(low) || t.withholdWords(text, low) || t.countLate(text, low) || t.alarmWords(text, low) || t.offWords(text, low) || t.secureWords(low) || t.atPost(text, low) {
		return true
	}
	if !t.s.Stage.Lies() && t.s.Stage != StopDrill {
		return t.wayOn(low)
	}
	if t.s.State == Halted && t.drillWords(low) {
		return true
	}
	if t.s.State != Pulling {
		return t.releaseNone(low) || t.wayOn(low)
	}
	if t.drillWords(low) || t.releaseWords(low) || t.rerigWords(low) || t.sureWords(low) || t.bare(low) || t.claimWords(text, low) || t.slackSaid(text, low) || t.stillSaid(text, low) || t.holds(text, low) || t.standWords(low) || t.tensionWords(text, low) {
		return true
	}
	return t.readBack(low) || t.reportWords(text, low) || t.stoppedSaid(text) || t.wellSaid(text, low) || !t.s.Stage.Moves() && t.answersQuery(text, false)
}

// tensionSaid are words that the line is tight: what is, and no order.
var tensionSaid = regexp.MustCompile(`^(?:(?:ok|okay|yes|yep|and|now|the|light|all|its|it's|it is|right)\s+)*(?:tension(?:'s| is)? (?:now )?on|(?:line|rope)(?:'s|s| is)? (?:now )?(?:tight|taut|taught)|tight|taut)` +
	`(?:[ ,]+(?:now|and|braked|brakes?(?: is)? on|foot off|holding|held|standing|it stands))*$`)

// tensionWords takes that the line is tight, from whoever sees it. Where it was
// being taken up that stage has its end; where it lies, or was to carry nothing,
// somebody did what was not released, and all are told. It releases nothing.
func (t *turn) tensionWords(text, low string) bool {
	if m := t.me(); m == nil || m.afar() || !tensionSaid.MatchString(low) {
		return false
	}
	switch t.s.Stage {
	case SlackOut, Tightening:
		t.stood()
	case LightTension:
		t.remark(wording.PullStandsAlready, wording.Args{"Number": t.s.Hold, "Result": t.stageWords()})
	case AllPlaced, SlackIsOut:
		t.holdFor(text)
		t.ask()
	default:
		return false
	}
	return true
}

// standWords takes that the puller stands, from whoever sees it.
func (t *turn) standWords(low string) bool {
	if low != "hold" && low != "held" && low != "it stands" && low != "holding" {
		return false
	}
	if h := t.s.hold(); h != nil && low == "hold" && len(h.Sure) > 0 {
		t.holdFor(t.in.Text) // a release of this number may be on its way
		t.ask()
		return true
	}
	if !t.s.Stage.Moves() {
		t.remark(wording.PullStandsAlready, wording.Args{"Number": t.s.Hold, "Result": t.stageWords()})
		return true
	}
	t.stood()
	return true
}
