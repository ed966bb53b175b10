package flow

import (
	"regexp"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Only whoever called a stop knows that it was called by mistake, and whoever called it
// while going to the line stands only once they have said so.

// goesNear reports whether who calls a stop says in the same words that they go to the
// line, the load or the gear, or are there.
func (t *turn) goesNear() bool {
	if t.in.Press != nil || t.s == nil || !t.s.Stage.Rigged() || t.s.alone() {
		return false
	}
	low := strings.Trim(hear.Lowered(t.in.Text), " .!")
	return (goesIn.MatchString(low) || staysIn.MatchString(low) || handsOn.MatchString(low) || heldFast.MatchString(low)) && !goesElse.MatchString(low)
}

// heldFast are words that somebody can't get clear, held by what they have on or stand in.
var heldFast = regexp.MustCompile(`\b(?:foot|feet|boots?|shoes?|legs?|ankles?|hands?|fingers?|arms?|sleeves?|coat|jacket|hair|gloves?)\b.{0,20}\b(?:stuck|trapped|caught|wedged|jammed|pinned)\b|\b(?:i'm|i am|im|we're|we are)\b.{0,10}\b(?:stuck|trapped|caught|pinned)\b`)

// callerMistaken keeps that whoever called the stop says it was a mistake, and tells
// the lead, who goes on.
func (t *turn) callerMistaken(words string) bool {
	stop := t.s.stop()
	if t.s.State != Halted || stop == nil || t.isLead() || stop.calls(t.in.Person.ID) == 0 || !saysMistaken(words) {
		return false
	}
	t.note(words)
	t.act(Act{Do: DoHold, Path: heldMistaken + t.in.Person.ID, Value: stop.callOf(t.in.Person.ID)})
	who := t.whoName()
	t.toLead(func() { t.say(wording.StopCallerMistaken, wording.Args{"Name": who, "Text": wording.Plain(words)}) })
	t.remark(wording.StopMistakeTaken, wording.Args{"Name": t.s.Lead.Name})
	return true
}

// endsHow answers words that end no stop with those that do; that it was a mistake is for
// whoever called it to say.
func (t *turn) endsHow() {
	k, args := wording.StopUnclear, wording.Args(nil)
	if by, is := t.notTheirs(t.saying(wording.StopMistake)); is {
		k, args = wording.StopUnclearOther, wording.Args{"Name": by}
	}
	t.remark(k, args)
}

// heldMistaken stands before whoever has called a stop and says that it was a mistake, as
// the key under which that is kept.
const heldMistaken = "stop_mistaken:"

// callOf names the last call of a stop by one of those who called it.
func (s *Stop) callOf(id string) string { return itoa(s.Number) + "-" + itoa(s.calls(id)) }

// notTheirs reports whether the lead calls a mistake what somebody else called, or called
// again, who is there and hasn't said so of their own call, and who that is.
func (t *turn) notTheirs(words string) (string, bool) {
	stop := t.s.stop()
	if stop == nil || stop.Drill || !saysMistaken(words) {
		return "", false
	}
	for _, by := range append([]Person{stop.By}, stop.Others...) {
		m := t.s.member(by.ID)
		if by.ID == "" || by.ID == t.in.Person.ID || m == nil || m.Gone || t.s.Held[heldMistaken+by.ID] == stop.callOf(by.ID) {
			continue
		}
		return t.s.nameOf(by), true
	}
	return "", false
}
