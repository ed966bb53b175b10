package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc/unit"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// After a line has crept on its anchor, or the anchor moved, all else hangs on whether the
// mark stands now. Whoever watches the anchor is asked that before anybody is asked to look
// at anything, and before anything is released at the tight line. Once the line
// lies slack the anchor is looked at anew by the list.
//
// Source: common practice.

// heldMark keeps which report of it stands open, by a number of its own.
const heldMark = "mark"

// markKinds are the reports of it.
var markKinds = []string{"creeps", "anchor"}

// opensMark has the mark be asked after, where a line carries something.
func (s *Session) opensMark(kinds ...string) {
	if slices.ContainsFunc(kinds, func(k string) bool { return slices.Contains(markKinds, k) }) && s.tight() {
		s.Held[heldMark] = itoa(len(s.Reports) + len(s.Stops))
	}
}

// markOpen reports whether the mark is asked after now.
func (t *turn) markOpen() bool {
	switch t.s.Stage {
	case AllPlaced, LineSlack, Rerig, RerigHeld, SlackIsOff, Unrig, UnrigHeld:
		return false // the haul line is eased first, or lies slack
	}
	return t.s.Held[heldMark] != "" && t.s.tight() && !slices.Contains([]State{Halted, Away, Closed, Debrief, Referred}, t.s.State)
}

// wantMark asks whoever watches the anchor whether it stands, and has all others wait.
func (t *turn) wantMark(chat string) want {
	if !t.markOpen() {
		return want{}
	}
	n := t.s.Held[heldMark]
	watch, _ := t.doing("anchor")
	if t.chatOf(watch) == chat {
		return want{id: "mark-" + n, say: func() {
			k := wording.MarkAsk
			if watch.member == nil || watch.empty {
				k = wording.MarkAskThrough
			}
			t.say(k, wording.Args{"Name": watch.name})
			t.offers = []offer{
				{choice: "mark_stands." + n, label: t.saying(wording.ChoiceMarkStands)},
				{choice: "mark_moves." + n, label: t.saying(wording.ChoiceMarkMoves)}, {choice: choiceStop},
			}
		}}
	}
	switch lead := chat == t.s.leadChat(); {
	case lead && t.s.State != Pulling && !t.itemsOn():
		return want{} // what is asked of the lead takes nobody to the line
	case lead:
		return want{id: "mark-" + n + "-lead", say: func() {
			t.say(wording.MarkWait, wording.Args{"Name": watch.name})
			t.say(wording.MarkVoice, wording.Args{"Name": watch.name})
			t.offers = []offer{{choice: "mark_stands." + n, label: t.sayingWith(wording.MarkSays, wording.Args{"Name": watch.name})}, {choice: "report"}, {choice: choiceStop}}
		}}
	case !t.onSpot(chat):
		return want{}
	}
	return want{id: "mark-" + n + "-wait", say: func() {
		t.say(wording.MarkWait, wording.Args{"Name": watch.name})
		t.offers = []offer{{choice: "report"}, {choice: choiceStop}}
	}}
}

// markPress takes the buttons of that.
func (t *turn) markPress(choice string) bool {
	name, n, _ := cut(choice)
	if name != "mark_stands" && name != "mark_moves" {
		return false
	}
	t.said = t.saying(wording.Key("choice." + name))
	if !t.markOpen() || n != t.s.Held[heldMark] {
		t.notice = true
		t.say(wording.RefuseStaleShort, nil)
		return true
	}
	t.markTold(name == "mark_stands", t.said)
	return true
}

// markStill are words that the mark stands.
var markStill = regexp.MustCompile(`^(?:(?:yes|yep|yeah|ok|okay|no)[ ,]+)?(?:(?:it|the mark|mark|the anchor|anchor|the tree|tree)(?:'s)? )?(?:(?:has |is )?(?:not|n't|hasn'?t|didn'?t|did not) (?:moved?|moving)(?: any ?more| since| again)?|stands?(?: still)?(?: now)?|stood(?: still)?|is still|holds|is holding|still(?: now)?|no movement)$`)

// markMoves are words that it moved, however little and whatever it did after that;
// markDenies are those with which it may be said that it did not.
var (
	markMoves  = regexp.MustCompile(`\b(?:mov(?:e|es|ed|ing)|shift(?:s|ed|ing)?|creep(?:s|ing)?|crept|sl[io]d(?:e|es|ing)?|slip(?:s|ped|ping)?|lift(?:s|ed|ing)?|tilt(?:s|ed|ing)?|lean(?:s|ed|ing)?|ris(?:es|ing)|rose|rocks?|rocked|gave|gives|giving|crack(?:s|ed|ing)?)\b`)
	markDenies = regexp.MustCompile(`\b(?:no|not|never|nothing|none|isn'?t|hasn'?t|didn'?t|doesn'?t|wasn'?t|without|neither|if)\b|\?`)
)

// markWords takes words to that question from whoever is asked it.
func (t *turn) markWords(text string) bool {
	if !t.markOpen() || t.s.Wants[t.in.Chat] != "mark-"+t.s.Held[heldMark] || t.sentEarly() {
		return false
	}
	low := hear.Lowered(strings.Trim(text, " .!"))
	if moved, _ := travelled(low); counted(low) && tooFarForAMark(moved) {
		return false // how far the load went
	}
	switch {
	case markStill.MatchString(low), slices.Contains([]string{"yes", "y", "yep", "yeah", "it stands"}, low):
		t.markTold(true, text)
	case slices.Contains([]string{"no", "n", "nope"}, low), markMoves.MatchString(low) && !markDenies.MatchString(strings.TrimPrefix(low, "no ")):
		t.markTold(false, text)
	default:
		return false
	}
	return true
}

// mostOfAMark is how far a mark may be told to have moved; what is farther is the load.
//
// Source: judgment; too far rather than too short, since a stop costs a minute.
var mostOfAMark = unit.Metres(0.5)

func tooFarForAMark(moved string) bool {
	l, ok := readLength(moved)
	return ok && l.Low > mostOfAMark
}

// markTold takes the answer. Only whoever watches the anchor gives it, or the lead for them.
func (t *turn) markTold(stands bool, text string) {
	m := t.me()
	watch, _ := t.doing("anchor")
	if m == nil || m.afar() || !t.isLead() && (watch.member == nil || watch.member.ID != m.ID) {
		t.remark(wording.PullNotYours, wording.Args{"Name": watch.name})
		return
	}
	if !stands && t.s.State != Pulling {
		t.haltSeen("anchor", text)
		return
	}
	if !stands {
		t.act(Act{Do: DoReport, Path: "anchor", Value: wording.Plain(text)})
		t.haltFor("anchor", wording.Key("look.anchor"))
		return
	}
	t.act(Act{Do: DoHold, Path: heldMark})
	for _, chat := range t.s.chats(AsLead, AsCoordinator) {
		if chat != t.in.Chat {
			t.inChat(chat, func() { t.say(wording.MarkStood, wording.Args{"Name": watch.name}) })
		}
	}
	t.say(wording.MarkNoted, nil)
	t.ask()
}
