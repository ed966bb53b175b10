package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Who has called a stop says next what it was for, and others ask them why or tell that it
// stands. That calls no other stop: it is told to everybody beside the one that is on, with
// what to look at. What runs, who is hurt, what is called out and what somebody else sees is
// a stop again, and so is whatever isn't plainly one of these.

var (
	// saidStop are words that a stop was called, and for what; they call none.
	saidStop = regexp.MustCompile(`\b(?:i|we|he|she|they) (?:just |only |have |had |'ve )*(?:said|called|wrote|pressed|shouted|hit|sent|typed|hollered|yelled|made)(?: for)?(?: the| a| it| that| this)? ?(?:stop|halt)(?:ped)?,? (?:because|as|since|for|when|cos|coz|cause|due to|so that|on account)\b` +
		`|^\W*(?:(?:the|my|that|this) )?(?:stop|halt) (?:was|is|came) (?:only |just )?(?:for|because|about|due to|as|since|on account)\b` +
		`|\b(?:i|we|he|she|they) (?:just |only |have |had |'ve )*(?:stopped|halted)(?: it| everything| all| us)?,? (?:because|as|since|for|when|cos|coz|cause|due to)\b`)

	// asksOfStop are questions about the stop that is on.
	asksOfStop = regexp.MustCompile(`^\W*(?:(?:hey|so|and|but|ok|okay|sorry|er|um|\pL+),? )?(?:why|who|what|whats|what's|how come)(?: (?:was|is|were|did|has|have|had|do|does|'s))?(?: (?:the|this|that|a|you|we|they|he|she|it|everybody|everyone|everything|all|for))*(?: (?:called|call|said|say|wrote|write|pressed|press|made|make|shouted|shout))?(?: (?:the|this|that|a|it|us|them|everything))* ?(?:stop|stopp?ed|halt|halted)(?: (?:it|us|for|about|called|everything|then|now|again|there|here))*(?:,? \pL+)?\W*$`)

	// stands are words that what moved has come to stand.
	stands = regexp.MustCompile(`^(?:\W*\b(?:ok|okay|yes|yep|and|so|now|well|right|the|it|its|it's|everything|all|that|this|winch|tractor|truck|lorry|load|trailer|van|car|puller|line|rope|engine|motor|pulling|machine|vehicle|has|have|had|is|are|just|finally|completely|fully|dead|stopped|stoped|standing|still|stands|moving|turning|running|pulling|winding|off|brake|brakes|on|it|we|here|again|then|good|see|i|can|they|both)\b)+\W*$`)

	// calledAnew is a stop that is called out, whatever else is said.
	calledAnew = regexp.MustCompile(`\b(?:stop|halt)["'”]?\s*!|^\W*(?:stop|halt)\b\W*(?:$|[!.,])|\b(?:stop|halt) (?:now|it now|everything now|right now|please|pls)\b|\b(?:stop|halt)\W+(?:stop|halt)\b|^\W*(?:stop|halt)\W*$`)
)

// ofTheStop reports whether words that have the letters of a stop are about the one that is
// on: why it was called, what it was for, or that all has stopped.
func (t *turn) ofTheStop() bool {
	stop := t.stopNow()
	if t.in.Press != nil || stop == nil {
		return false
	}
	low := hear.Lowered(strings.TrimSpace(t.in.Text))
	if calledAnew.MatchString(low) {
		return false
	}
	if asksOfStop.MatchString(low) || hasStopped.MatchString(low) && stands.MatchString(low) {
		return true
	}
	rest := saidStop.ReplaceAllString(low, " ")
	return rest != low && !hear.Stops(rest)
}

// hasStopped is the word for it in the past: the bare verb calls one.
var hasStopped = regexp.MustCompile(`\b(?:stopp?ed)\b`)

// stopNow is the stop that is on and is no drill; nil for none.
func (t *turn) stopNow() *Stop {
	if t.s == nil || t.s.State != Halted || t.me() == nil {
		return nil
	}
	if stop := t.s.stop(); stop != nil && !stop.Drill {
		return stop
	}
	return nil
}

// hasCome takes that what moved has come to stand, which says nothing of those around it,
// and passes on to whoever called a stop what is asked about it.
func (t *turn) hasCome(text string) bool {
	low := hear.Lowered(strings.TrimSpace(text))
	stop := t.stopNow()
	if stop == nil {
		return false
	}
	if by := t.s.member(stop.By.ID); by != nil && !by.Gone && by.ID != t.in.Person.ID && asksOfStop.MatchString(low) && !calledAnew.MatchString(low) {
		t.note(text)
		says := func() { t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)}) }
		if t.inChat(by.Chat, says); by.ID != t.s.Lead.ID {
			t.toLead(says)
		}
		t.remark(wording.StopAsked, wording.Args{"Name": by.Name})
		return true
	}
	if saysStood(text) || !hasStopped.MatchString(low) || !stands.MatchString(low) || calledAnew.MatchString(low) {
		return false
	}
	t.note(text)
	t.toLead(func() { t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)}) })
	t.remark(wording.StopHasCome, nil)
	return true
}

// explainsStop takes from whoever called a stop what it was for, and reports whether that is
// all that their words are.
func (t *turn) explainsStop(s sight, text string) bool {
	stop := t.stopNow()
	if stop == nil || t.saidBefore() || s.kind == "hurt" || !isCause(s.kind) || t.isLead() && t.main() {
		return false
	}
	low := hear.Lowered(strings.TrimSpace(text))
	said := saidStop.MatchString(low)
	theirs := stop.By.ID == t.in.Person.ID && stop.Calls == 0
	was := past.MatchString(low) && !now.MatchString(low)
	known := slices.Contains(stop.causes(), s.kind)
	switch {
	case strings.Contains(text, "!") || !said && hear.Stops(text):
		return false
	case said:
	case !theirs, s.kind == "runs" && !was, (isCause(stop.Cause) || stop.Words != "" && !hear.StopsAlone(stop.Words)) && !(known && was):
		return false
	}
	t.act(Act{Do: DoReport, Path: s.kind, Value: wording.Plain(text)})
	if !known {
		t.act(Act{Do: DoHold, Path: "stop_reason"}) // what was said of it before knew nothing of that
	}
	t.act(Act{Do: DoCause, Value: s.kind, Path: causeTold})
	who := t.whoName()
	tell := func() {
		t.urgent = true
		t.say(wording.StopExplained, wording.Args{"Name": who, "Text": wording.Plain(text)})
		if !known {
			t.say(wording.Key("look."+s.kind), nil)
		}
	}
	for _, chat := range t.s.chats() {
		if chat != t.in.Chat {
			t.inChat(chat, func() {
				tell()
				if w := t.want(chat); w.id != "" && (t.movingIn(chat) || chat == t.s.leadChat()) {
					w.say()
				}
			})
		}
	}
	tell()
	t.stopTells(text)
	t.ask()
	return true
}

// causeTold stands with the cause of a stop of which it was told what to look at.
const causeTold = "told"
