package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A note is kept as it was written. Whoever writes down that something is wrong has
// told it: what a note tells is read as the same words without it, and what somebody
// of the crew writes down reaches the lead and who watches from afar.

// noteHead is how a note begins.
var noteHead = regexp.MustCompile(`(?i)^notes?\b[\s:,–-]*(?:that\b\s*)?`)

// notes takes a note, and reports whether it did. What it tells is taken with it.
func (t *turn) notes(text string) bool {
	head := noteHead.FindString(text)
	rest := strings.TrimSpace(text[len(head):])
	m := t.me()
	if head == "" || rest == "" || m == nil || m.As == AsObserver || !strings.EqualFold(head[:4], "note") {
		return false
	}
	switch t.s.State {
	case Away, Closed, Debrief, People:
		return false
	}
	took := false
	if t.noteTells(rest) {
		t.inWords(rest, func() {
			if t.noteAnswers() {
				t.text()
				took = true
				return
			}
			took = t.crewWords(rest)
		})
	}
	if !slices.ContainsFunc(t.entry.Acts, func(a Act) bool { return a.Do == DoNote }) {
		t.note(rest)
	}
	if !t.isLead() {
		for _, chat := range t.s.chats(AsLead, AsCoordinator) {
			if chat != t.in.Chat && !t.toldIn(chat) {
				t.inChat(chat, func() { t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(rest)}) })
			}
		}
	}
	if !took {
		t.remark(wording.ReadNoted, nil)
	}
	return true
}

// noteTells reports whether the words of a note tell of the job: something that is
// wrong, or an answer.
func (t *turn) noteTells(rest string) bool {
	low := strings.Trim(hear.Lowered(rest), " .!")
	if isQuestion(low) {
		return false
	}
	if t.s.State == Halted && t.isLead() { // what is seen now is one thing more; nothing written down ends it
		says, _ := t.stopSaid(rest)
		return says == saysSeen
	}
	seen, ok := t.sight(rest)
	_, ill := t.tellsOf(rest, hear.Keeper, hear.Brake, hear.Unbraked, hear.Drink, hear.Young)
	return ok && seen.kind != "moves" || ill || t.rainsNow(rest) || t.someoneNear(rest) != "" ||
		len(t.whoIsWho().Listen(rest, hear.TopicNone).Facts) > 0
}

// noteAnswers reports whether the words of a note may be taken as any message is
// where the job stands: not where whatever is written is the answer.
func (t *turn) noteAnswers() bool {
	if !t.main() {
		return true
	}
	return !t.closing() && t.s.State != Signing && !slices.Contains([]string{"names", "second_look", "kit_name"}, t.s.Topic)
}

// toldIn reports whether a chat is told anything in this turn.
func (t *turn) toldIn(chat string) bool {
	return slices.ContainsFunc(t.mails, func(m *mail) bool { return m.chat == chat && m.live == "" && len(m.replies) > 0 })
}
