package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What is withheld is lifted by whoever withheld it, who is told the word for it wherever
// it is told of. That word lifts it in whatever company it comes; approval without it is
// put back: lift it, or not.

var (
	// liftsIt is the bare word.
	liftsIt = regexp.MustCompile(`^(?:ok |okay |i )*(?:lift|lifted)(?: it| (?:my |the )?(?:veto|withhold))?(?: now)?$`)

	// liftSaid is that word, or that it is withheld no more, among others.
	liftSaid = regexp.MustCompile(`\b(?:lift(?:ed|ing|s)?(?: (?:it|that|hold|the hold|my hold|the withhold|my withhold|the veto|my veto))?|unwithhold|un-withhold|(?:no longer|not|don'?t|do not) withhold(?:ing)?(?: (?:it|that))?(?: any ?(?:more|longer))?|withhold(?:ing)? (?:it )?no (?:more|longer)|(?:withhold|veto) (?:is |'s )?(?:off|lifted|gone|over|withdrawn)|(?:withdraw|cancel|revoke|drop)(?:n|ed|s)? (?:my|the) (?:withhold|veto|hold)|(?:take|taking|took) (?:my|the) (?:withhold|veto|hold) (?:back|off))\b(?: ?(?:hold |no\.? ?)?(\d+))?`)

	// liftWith are words that may stand with it.
	liftWith = regexp.MustCompile(`^(?:\W*\b(?:ok|okay|kk|yes|yep|yeah|aye|all|good|fine|happy|great|right|alright|clear|sorted|done|looks?|looked|looking|seen|saw|it|its|it's|that|that's|thats|the|this|photo|picture|pic|thanks|thank|you|cheers|now|so|then|and|i|i'm|im|am|we|we're|me|from|by|with|to|go|on|ahead|carry|continue|proceed|you|can|may|please|pls|is|are|was|very|much|better|of|for|my|hereby|therefore|agreed|understood|copy|roger|satisfied)\b)*\W*$`)
)

// heldLiftAsk stands before the ID of somebody who was asked whether they lift what they
// withhold, with the hold point's number, until their next words.
const heldLiftAsk = "lift-"

// liftWords takes back what who speaks withholds.
func (t *turn) liftWords(low string) bool {
	if t.liftsGone(low) {
		return true
	}
	_, looked := hear.LookedBy(t.in.Text)
	if (liftsIt.MatchString(low) || looked && strings.HasPrefix(low, "lift")) && t.looksRight() {
		return true
	}
	h := t.s.hold()
	atHold := h != nil && t.s.State == Pulling && slices.ContainsFunc(h.Withheld, func(p Person) bool { return p.ID == t.in.Person.ID })
	atAll := slices.ContainsFunc(t.s.Vetoes, func(v Veto) bool { return v.By.ID == t.in.Person.ID })
	if !atHold && !atAll {
		return false
	}
	number := ""
	if h != nil {
		number = itoa(h.Number)
	}
	asked := t.s.Held[heldLiftAsk+t.in.Person.ID]
	if asked != "" {
		t.act(Act{Do: DoHold, Path: heldLiftAsk + t.in.Person.ID})
	}
	m := liftSaid.FindStringSubmatch(low)
	rest := liftSaid.ReplaceAllString(low, " ")
	plain := m != nil && !isQuestion(low) && liftWith.MatchString(rest)
	switch {
	case plain && atHold && m[1] != "" && m[1] != number:
		t.void(m[1])
	case plain && atHold, asked != "" && asked == number && atHold && yesToLift(low):
		t.lift(h)
	case plain, asked != "" && atAll && yesToLift(low):
		t.act(Act{Do: DoLift})
		args := wording.Args{"Name": t.whoName()}
		t.tellAll(false, func() { t.say(wording.PullMayBegin, args) })
		t.say(wording.PullMayBegin, args)
		t.ask()
	case (atAll || h.Reasons[t.in.Person.ID] != "") && !isQuestion(low) && tellsNoFault(t.in.Text) && !withholding.MatchString(low):
		t.note(t.in.Text)
		t.toLead(func() { t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(t.in.Text)}) })
		t.asksLift(number)
		t.remark(wording.PullLiftAsk, wording.Args{"Text": wording.Plain(t.in.Text)})
	default:
		return false
	}
	return true
}

// asksLift keeps that who speaks was asked whether they lift what they withhold.
func (t *turn) asksLift(number string) {
	if number == "" {
		number = "0"
	}
	t.act(Act{Do: DoHold, Path: heldLiftAsk + t.in.Person.ID, Value: number})
}

// yesToLift reports whether words are a plain yes.
func yesToLift(low string) bool {
	return slices.Contains([]string{"yes", "y", "yep", "yeah", "yes please", "yes i do", "i do", "aye", "yes lift", "yes lift it", "yes take it back", "yes, i do", "yes go on", "yes, go on"}, low)
}
