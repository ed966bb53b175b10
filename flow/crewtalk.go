package flow

import (
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// crewPress does what a button says that belongs to a person or to a moment of
// the pull and not to the question of the job, and reports whether it did.
// Such a button says itself what it is for, so that it means the same or
// nothing however late it is pressed.
func (t *turn) crewPress(choice string) bool {
	switch name, of, _ := cut(choice); name {
	case "still", "all_still":
		t.said = t.saying(wording.Key("choice." + name))
		t.standPress(name, of)
	default:
		return t.unreadPress(choice) || t.markPress(choice) || t.differPress(choice) || t.pullPress(choice) || t.seatPress(choice)
	}
	return true
}

// crewWords does what can be said in every state of a job by whoever may.
func (t *turn) crewWords(text string) bool {
	if t.leadWords(text) || t.takesReportBack(text) || t.dangers(text) || t.whyAnswered(text) || t.namesEarly(text) || t.takesNoBack(text) {
		return true
	}
	low := hear.Lowered(strings.Trim(text, " .!"))
	if as, ok := codeWordsFor[low]; ok {
		t.joinCode(as)
		return true
	}
	if t.showWords(low) {
		return true
	}
	if t.explains(text) {
		return true
	}
	if boardAsked(low) || low == "board" && t.boardHere() {
		t.showBoard()
		return true
	}
	if t.s.State == Halted && slices.Contains(checksWords, low) {
		t.checksSeen(t.lookPlan())
		t.ask()
		return true
	}
	switch low {
	case "no more phones", "revoke", "revoke codes", "revoke code":
		t.revoke()
		return true
	case "take the lead", "take lead", "i take the lead", "i lead":
		t.takeLead()
		return true
	}
	if t.stoodSaid(text) || t.hasCome(text) || t.callerMistaken(text) {
		return true
	}
	for _, before := range []string{"hand over to ", "lead is ", "give the lead to "} {
		if name, ok := strings.CutPrefix(low, before); ok {
			t.handOver(name)
			return true
		}
	}
	if t.leadsSaid(low) {
		return true
	}
	for _, before := range []string{"place is ", "the place is ", "we are at "} {
		if _, ok := strings.CutPrefix(low, before); ok {
			where := wording.Plain(strings.TrimSpace(text[len(before):]))
			t.act(Act{Do: DoHold, Path: "place", Value: where})
			t.remark(wording.ReadPlace, wording.Args{"Text": where})
			return true
		}
	}
	for _, before := range []string{"call me ", "my name is "} {
		if _, ok := strings.CutPrefix(low, before); ok && !t.s.alone() {
			t.callMe(strings.TrimSpace(text[len(before):]))
			return true
		}
	}
	return t.holdSlack(text) || t.otherPuller(text) || t.stepsOff(low) || t.noneHurtSaid(text) || t.differWords(text) || t.pullWords(text) || t.against(text) || t.talk(text) || t.seatWords(text)
}

// tick is the turn of a moment that the job waited for. It speaks to nobody
// but those who wait or are waited for.
func (t *turn) tick() {
	t.silent = true
	t.pullTick()
	t.silenceTick()
	t.seatTick()
}

// wake is when the job wants the next such turn; empty for never.
func (t *turn) wake() string {
	first := t.pullWake()
	for _, next := range []string{t.seatWake(), t.silenceWake()} {
		if first == "" || next != "" && next < first {
			first = next
		}
	}
	return first
}
