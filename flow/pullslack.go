package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Who drives feels the line go slack, and whoever watches sees that the load stands.
// Said in words it counts as the button does that the lead has for it, where a
// button of theirs would; where it is for somebody else to say, it is kept and told
// whose word is awaited. Neither begins the same step over.

var (
	saidBefore = `^(?:(?:ok|okay|yes|yep|yeah|yeh|right|and|now|so|all|there)[ ,]+)*`
	saidAfter  = `(?:[ ,]+(?:now|and|all|fully|again|braked|brakes?(?: is)? on|foot off|holding|held|standing|it stands|on the ground|(?:(?:he|she|they|the driver|driver|i)(?:['’]?s|['’]?m| is| am| are)? |im |hes |shes )?(?:foot |standing |firmly )?on the brakes?|(?:(?:he|she|the driver|driver|i) )?(?:has |have )?backed off))*$`
	slackOut   = regexp.MustCompile(saidBefore + `(?:the )?slack(?:'s|s| is| has been)?(?: all| now)* (?:out|taken(?: up| out| in)?)` + saidAfter)
	slackLies  = regexp.MustCompile(saidBefore + `(?:(?:(?:the )?(?:haul |main |tow )?(?:line|rope)|it)(?:'s|s| is| lies| lays| hangs| went| has gone| is lying)?(?: all| now| gone| fully| completely)* slack(?: off)?|(?:the )?slack(?:'s|s| is) off|(?:it'?s |it is |line |the line |rope )?eased(?: off)?)` + saidAfter)
	tensionOn  = regexp.MustCompile(saidBefore + `(?:the )?(?:light )?tension(?:'s| is)?(?: all| now)*(?: on)?` + saidAfter)
	stoodStill = regexp.MustCompile(saidBefore + `(?:(?:(?:it|the load|load|truck|the truck|trailer|the trailer|vehicle|car|van)[ ,]+)?(?:(?:did ?n[o']?t|did not|has ?n[o']?t|has not|never)(?: even)? moved?(?: at all| a bit| one bit| an inch| a (?:milli|centi)met\w+)?|stood(?: still| fast)?|is standing still|stands still)|no movement(?: at all)?|nothing moved)` + saidAfter)
)

// slackSaid takes that the slack is out, or that the line lies slack.
func (t *turn) slackSaid(text, low string) bool {
	m := t.me()
	if m == nil || m.As != AsLead && m.As != AsCrew || !strings.Contains(low, "slack") && !strings.Contains(low, "eased") {
		return false // neither is said without one of these words
	}
	bare := t.nameless(low)
	out, lies := slackOut.MatchString(bare), slackLies.MatchString(bare)
	switch at := t.s.Stage; {
	case !out && !lies:
		return false
	case at == SlackOut && out, at == SlackOff && lies:
		t.stood()
	case t.s.taut() && lies:
		t.easedSaid()
	case (at == AllPlaced || at == LineSlack || at == SlackIsOff) && lies, at == SlackIsOut && out:
		t.asItIs(text)
	case (at == LightTension || at == Held || at == HoldProved) && lies: // nobody has released that
		t.holdFor(text)
		t.ask()
	default:
		return false
	}
	return true
}

// easedSaid takes the driver's word that a line which was tight lies slack.
func (t *turn) easedSaid() {
	h := t.s.hold()
	duty, mine := t.mineOpen()
	switch {
	case h == nil:
		t.remark(wording.PullBare, nil)
	case mine && duty == easing && !t.sentEarly():
		t.sure(h, easing)
	case mine && duty == easing:
		t.remark(wording.PullBareConfirm, wording.Args{"Number": h.Number})
	default:
		t.awaits(easing)
	}
}

// stillSaid takes that the load has not moved where it was not to: what it shows is
// good, and it is for somebody to say so.
func (t *turn) stillSaid(text, low string) bool {
	m := t.me()
	if m == nil || m.As != AsLead && m.As != AsCrew || !stoodStill.MatchString(low) {
		return false
	}
	switch t.s.Stage {
	case Proving:
		if t.isLead() {
			t.stood()
			return true
		}
		t.awaits("leader")
	case SlackIsOut, LightTension, HoldProved, LineSlack, RerigHeld, Securing, SlackOff, SlackIsOff, UnrigHeld:
		t.asItIs(text)
	default:
		return false // there it was to come
	}
	return true
}

// claimed names chocks, marks and brakes; unmoved says that something is where it was.
var (
	claimed = regexp.MustCompile(`\b(?:chocks?|chocked|wedges?|wedged|marks?|marked|brakes?|braked)\b`)
	unmoved = regexp.MustCompile(`\b(?:has|have|did)? ?(?:not|n't|hasn'?t|haven'?t|didn'?t) moved?\b`)
)

// claimWords takes at a hold point that people stand, or that chocks, marks or brakes
// are as they are to be, in words of their own: it confirms nothing, and begins
// nothing over again.
func (t *turn) claimWords(text, low string) bool {
	if m := t.me(); m == nil || m.As != AsLead && m.As != AsCrew || t.s.hold() == nil {
		return false
	}
	if saysStood(text) {
		t.asItIs(text)
		return true
	}
	if rest, is := hear.Chatter(low, t.crewNames()); is && asItShould(rest) {
		t.asItIs(text)
		t.toLead(func() { t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)}) })
		return true
	}
	low = unmoved.ReplaceAllString(low, " unmoved ")
	if !claimsOnly(low) && !hear.DutySaid(t.nameless(low)) {
		return false
	}
	if brakesOff.MatchString(low) {
		return false
	}
	t.asItIs(text)
	return true
}

// wellSaid takes at a hold point that what somebody sees is as it should be, or that nothing
// of it is wrong, where nothing else could take it: it confirms nothing, and holds nothing.
func (t *turn) wellSaid(text, low string) bool {
	if m := t.me(); m == nil || m.As != AsLead && m.As != AsCrew || t.s.hold() == nil || isBare(low) || !hear.AsItShould(low, t.crewNames()) {
		return false
	}
	t.asItIs(text)
	t.toLead(func() { t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)}) })
	return true
}

// asItShould reports whether each part of some words says that it is as it is to be, and
// no more.
func asItShould(low string) bool {
	for _, part := range strings.Split(low, ", ") {
		part = unmoved.ReplaceAllString(part, " unmoved ")
		if part != "" && part != "so it is" && !isBare(part) && !saysStood(part) && !allWell.MatchString(part) && !(claimsOnly(part) && !brakesOff.MatchString(part)) {
			return false
		}
	}
	return true
}

// claimsOnly reports whether words say that chocks, marks or brakes are as they are to
// be, and nothing else.
func claimsOnly(low string) bool {
	return claimed.MatchString(low) && !slices.ContainsFunc(strings.FieldsFunc(low, func(r rune) bool { return strings.ContainsRune(" ,;:.!+&\n\t", r) }), func(w string) bool { return !hear.ClaimWord(w) })
}

// nameless are words without those of the crew that they name.
func (t *turn) nameless(low string) string {
	for _, name := range t.crewNames() {
		low = regexp.MustCompile(`\b`+regexp.QuoteMeta(strings.ToLower(name))+`(?:['’]?s)?\b`).ReplaceAllString(low, " ")
	}
	return low
}

// brakesOff are words that what holds it is off, or out.
var brakesOff = regexp.MustCompile(`\b(?:brakes?|chocks?|wedges?|belts?|pawl|gear)(?: is| are| all| both| now)* off\b`)

// asItIs keeps words that say no more than how it is to be there: whoever has to
// confirm it is told how, and the others for whom it waits.
func (t *turn) asItIs(text string) {
	if q := t.openQuery(); q != nil && t.askedLast(q) { // it is what somebody has just asked
		t.reply(*q, text)
		t.ask()
		return
	}
	_, mine := t.mineOpen()
	switch names := t.waitedFor(); {
	case mine:
		t.note(text)
		t.remark(wording.PullBareConfirm, wording.Args{"Number": t.s.Hold})
	case len(names) > 0:
		t.note(text)
		t.remark(wording.PullKept, wording.Args{"Names": names})
	default:
		t.note(text)
		t.remark(wording.PullStandsAlready, wording.Args{"Number": t.s.Hold, "Result": t.stageWords()})
	}
}

// awaits keeps words that somebody else has to say, and tells both so.
func (t *turn) awaits(duty string) {
	d, _ := t.doing(duty)
	t.note(t.in.Text)
	who, text := t.whoName(), wording.Plain(t.in.Text)
	if chat := t.chatOf(d); chat != t.in.Chat {
		t.inChat(chat, func() { t.say(wording.PullToldYou, wording.Args{"Name": who, "Text": text}) })
	}
	t.remark(wording.PullKept, wording.Args{"Names": wording.Names{d.name}})
}
