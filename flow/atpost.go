package flow

import (
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What somebody at a post writes while a line is rigged is never only passed on.
// Whoever goes to a tight line is told to stay out, whoever pulls with nothing
// released has stopped everything, and what isn't understood as harmless holds: a
// hold too many costs a minute.

const firstPerson = `^(?:(?:ok|okay|right|yes|yep|so|now|and|well|sorry|hang on|hey)[ ,]+)*`

var (
	// pullsNow are words of somebody who pulls, or is about to.
	pullsNow = hear.Expression(firstPerson + `(?:` +
		`(?:(?:i ?'?m|i am|we ?'?re|we are) )?(?:just |now |already |still |gonna |going to |about to )*(?:pulling|hauling|winching|winding|tightening|taking (?:it |the |up |in )*(?:slack|up|in)|driving (?:on|off|forward|away|now))\b` +
		`|(?:i|we|i'?ll|we'?ll|let me|i will|we will|(?:i ?'?m|i am|we ?'?re|we are) (?:gonna|going to))(?: just| now)? (?:pull|haul|winch|wind|tighten|give it (?:some |a bit of )?(?:gas|throttle|power|beans))\b)`)

	// goesIn are words of somebody who goes to the line, the load or the gear, or has.
	goesIn = hear.Expression(firstPerson + `(?:(?:` + mayI + `)?(?:if )?(?:i ?'?m|i am|we ?'?re|we are|i'?ll|we'?ll|i will|i|we|let me|cleared to)?\b ?)?(?:just |now |quickly |gonna |going to |will |had to |have to |gotta |must |have |'?ve )*` +
		`(?:(?:go|goes|going|went|get|getting|got|climb\w*|step\w*|crawl\w*|walk\w*|nip\w*|pop\w*|hop\w*|jump\w*|duck\w*|reach\w*|run|ran) (?:just |quickly |right |back |off )*(?:in|into|over|under|across|between|underneath)\b` +
		`|(?:go|going|went|get|getting|got|climb\w*|walk\w*|nip\w*|pop\w*|hop\w*|jump\w*|run|ran)\b.*\b` + gearWords +
		`|(?:fix|fixing|adjust|adjusting|straighten|straightening|free|freeing|move|moving|kick|kicking|grab|grabbing|touch|touching|hammer|hammering|tighten|turn|turning|push|pushing) (?:\w+ ){0,2}` + gearWords + `)`)

	// handsOn are words of somebody who puts a piece of the gear right by hand: on a tight
	// line it jumps. They stand behind what is said to be wrong with it, as often as not.
	handsOn = hear.Expression(`(?:^|[\s,;.:-])(?:` + mayI + `|(?:so|and|then)? ?(?:i'?ll|i will|im|i'?m|i am|i|we'?ll|we will|we'?re|we|let me|lemme|gonna|going to|will|just)\b) ?(?:can |just |now |quickly |quick |gonna |going to |will |to |give it a |give that a |have to |gotta |must |try to |try and )*` +
		`(?:(?:tap|taping|tapp|knock|hit|hitt|bang|whack|thump|bash|beat|kick|hammer|tug|pry|pris|prise|lever|wiggl|wriggl|wiggle|jiggle|bend|twist|turn|shift|nudg|nudge|flip|roll|pull|push|yank|straighten|re-?seat|seat|centr|centre|center|align|line up|fix|adjust|free|unhook|undo|loosen|screw)(?:s|ed|ing|e)?)\b` +
		`(?: (?:it|them|that|this|one|the (?:` + gearWords + `)))(?: (?:up|back|straight|square|right|round|around|over|out|in|loose|free|down|into? line|a bit|with \w+(?: \w+)?|now|quick(?:ly)?|again))*\W*$`)

	// staysIn are words of somebody who asks whether to be where the line lies.
	staysIn = hear.Expression(firstPerson + `(?:` + mayI + `)(?:if )?(?:i'?m |i am |i |we )?(?:just |now |right |still )*(?:stand\w*|sit\w*|kneel\w*|lean\w*|wait\w*|stay\w*|be|being|am|work\w*) (?:just |right |here |close |so )*` +
		`(?:by|at|near|next to|beside|behind|over|on|in|between|against|under|close to)\b.*\b` + gearWords)

	// asksLeave are words that ask whether somebody may: what a lead far from the
	// line would say yes to.
	asksLeave = hear.Expression(`^(?:(?:hey|so|now|and|well|sorry)[ ,]+)*(?:` + mayI + `)`)

	// goesElse are words of that kind for another thing: a gear, a place, a chock.
	goesElse = hear.Expression(`\bin (?:low|first|gear|reverse|neutral|place|position|the (?:seat|cab))\b|\b(?:away|clear|back|out|aside) (?:of|from)\b|\b(?:not|never|n't)\b`)

	// slackFirst are words that the line is to lie slack before that.
	slackFirst = hear.Expression(`\b(?:once|when|after|as soon as) .{0,30}\b(?:slack|eased|loose|off)\b`)

	// beneath is never where somebody sets a chock from.
	beneath = hear.Expression(`\b(?:under|underneath|beneath|between|across)\b`)

	chocking = hear.Expression(`\b(?:chocks?|chocking|wedges?)\b`)

	// whoas are shouts that are a stop wherever the line lies.
	whoas = hear.Expression(`^(?:\W*(?:w+h?oa+h*|woah)\b)+`)

	secureIt = hear.Expression(`^(?:(?:ok|okay|please|then|now|we|i|just|let'?s)[ ,]+)*secure(?: (?:it|her|him|the (?:load|truck|trailer|car|van|vehicle)|everything|all))?(?: (?:here|now|as it (?:is|stands)|where it (?:is|stands)))*$`)
)

// mayI begins words that ask for leave.
const mayI = `(?:(?:is|would) it (?:be )?|it'?s )?(?:ok|okay|safe|fine|alright|all right)(?: for (?:me|us))?(?: if| to)? (?:i |we )?|(?:can|could|may|shall|should|do) (?:i|we) |(?:am i|are we) (?:ok|okay|safe|fine|clear|good|alright|all right) (?:to )?`

const gearWords = `(?:slings?|rope|line|hook|shackles?|pins?|blocks?|pulleys?|straps?|strops?|chains?|cable|wire|knot|bridle|anchor|stakes?|hitch|drawbar|tow ?ball|load|rig|gear)\b`

// atPost takes words of somebody on the spot who goes in, or pulls with nothing
// released, or shouts.
func (t *turn) atPost(text, low string) bool {
	m := t.me()
	if m == nil || m.As != AsLead && m.As != AsCrew || t.s.State == Closed || t.s.State == Away || t.s.State == Debrief {
		return false
	}
	if !t.s.rigged() && !t.s.Stage.Lies() && t.s.Stage != StopDrill {
		return false // no line there
	}
	if s, ok := t.sight(text); ok && s.stops || isQuestion(low) && !asksLeave.MatchString(low) {
		return false
	}
	if t.s.rigged() && pullsNow.MatchString(low) && !t.s.Stage.Moves() && !t.tendsLine(low) {
		t.act(Act{Do: DoReport, Path: "unsure", Value: wording.Plain(text)})
		t.haltFor("unsure", wording.LookUnreleased)
		return true
	}
	if whoas.MatchString(low) && (t.s.Stage.Lies() && t.s.State != Pulling || t.s.Stage == StopDrill) {
		t.halt()
		return true
	}
	near := t.s.tight() && t.s.rigged() || t.s.State == Halted && t.s.Stage.Lies()
	goes := goesIn.MatchString(low) && !goesElse.MatchString(low) || staysIn.MatchString(low)
	hands := handsOn.MatchString(low) && !goesElse.MatchString(low) && !slackFirst.MatchString(low)
	goes = goes || hands
	chocks := chocking.MatchString(low) && !beneath.MatchString(low) && slices.Contains([]Stage{Held, HoldProved, Securing}, t.s.Stage)
	askew := near && !isQuestion(low) && len(t.askewFacts(text)) > 0
	if !near || !goes && !askew || chocks {
		return false
	}
	t.act(Act{Do: DoReport, Path: "words", Value: wording.Plain(text)})
	t.holdsOn()
	who := t.whoName()
	say := func() {
		t.say(wording.PullSays, wording.Args{"Name": who, "Text": wording.Plain(text)})
		t.say(wording.PullStayOut, wording.Args{"Name": who})
	}
	t.tellAll(true, say)
	t.urgent = true
	t.say(wording.PullStayOut, wording.Args{"Name": who})
	t.damageNow(handsOn.ReplaceAllString(low, "")) // what they went in for
	t.ask()
	return true
}

// takesSlack are words of somebody who takes slack in and does nothing else.
var takesSlack = hear.Expression(firstPerson + `(?:(?:i ?'?m|i am) )?(?:just |now |still )*taking (?:(?:in|up) )?(?:the |my |some |its |last )*slack(?: (?:in|up|out of (?:it|the (?:holding )?(?:line|rope))))?(?: (?:now|still|on (?:the|my) (?:holding )?(?:line|rope)))*\W*$`)

// tendsLine reports whether words are of who has the holding line and takes its slack in:
// that is their work at each hold, and pulls nothing.
func (t *turn) tendsLine(low string) bool {
	s := t.s.seatOf(t.in.Person.ID)
	return s != nil && s.Post.Does == "holder" && takesSlack.MatchString(low)
}

// rigged reports whether a line lies from puller to load and nobody is to have
// hands on it.
func (s *Session) rigged() bool {
	return (s.Stage.needsPlan() || s.Stage == Securing || s.Stage == SlackOff) && !s.Stage.Hands()
}

// holdsOn holds the pull where it goes on, or takes back what was confirmed where
// it stands.
func (t *turn) holdsOn() {
	if t.s.State == Pulling {
		t.holdAnew()
	}
}

// notHarmless takes words of the crew at a hold point that nothing else could
// take, and that aren't understood as harmless: they hold.
func (t *turn) notHarmless(text string, h hear.Heard) bool {
	m := t.me()
	if m == nil || m.As != AsCrew || m.afar() || h.Act != hear.None || t.s.State != Pulling || t.s.hold() == nil || !t.s.rigged() || t.heldFor {
		return false
	}
	low := strings.ToLower(strings.Trim(text, " .!"))
	if isQuestion(low) || allWell.MatchString(low) || saysStood(text) || howFar.MatchString(low) {
		return false
	}
	t.holdFor(text)
	t.echoed = true
	t.ask()
	return true
}

// secureWords takes that the load is to be secured where it stands. That moves
// nothing under a pull, so it needs no number and no plan, and is open from
// everywhere but a stop.
func (t *turn) secureWords(low string) bool {
	if low == hear.Lowered(t.saying(wording.ChoiceSecureSure)) && t.me() != nil && t.s.Held[heldSecure] != "" {
		t.securesSure(t.s.Held[heldSecure])
		return true
	}
	number := numberedRelease.FindStringSubmatch(low)
	anew := number != nil && strings.HasPrefix(low, "secure") && t.s.State != Pulling
	if t.me() == nil || !t.s.Stage.Lies() || !anew && !secureIt.MatchString(low) {
		return false
	}
	switch t.s.State {
	case Away, Closed, Debrief:
		return false
	case Halted:
		t.remark(wording.StopSecure, nil)
	default:
		t.secureNow()
	}
	return true
}
