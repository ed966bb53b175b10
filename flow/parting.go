package flow

import (
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A button, and the letter or number that picks it, may be meant for what was asked
// before. Who leaves a job that others are in, or whose line lies, or begins another
// beside it, is asked once whether they mean it; and where whoever leads has gone to
// another job, a stop of this one can still be ended: by them on the way back, by
// another on the spot who takes the lead.
//
// Source: common practice.

// heldParting keeps what whoever leads was asked about: leave or new.
const heldParting = "parting"

// partings are the buttons that part a chat from its job.
var partings = map[string]hear.Act{"leave": hear.Leave, "new": hear.New}

// parting asks whether a parting is meant, where that leaves others or a rigged line
// behind, and reports whether it did.
func (t *turn) parting(choice string) bool {
	others := t.s.chats()
	if _, is := partings[choice]; !is || t.s.State == Closed || choice == "leave" && t.s.State == Away || len(others) < 2 && !t.s.Stage.Lies() {
		return false
	}
	t.act(Act{Do: DoHold, Path: heldParting, Value: choice})
	k := wording.JoinPartingLeave
	if choice == "new" {
		k = wording.JoinPartingNew
		switch {
		case t.s.Stage.Lies():
			k = wording.JoinPartingLies
		case t.s.stop() != nil:
			k = wording.JoinPartingStop
		}
	}
	t.say(k, wording.Args{"Code": t.s.Code})
	t.offers = []offer{{choice: choice + "_sure"}, {choice: "stay"}}
	return true
}

// partingPress takes the buttons of that question.
func (t *turn) partingPress(choice string) bool {
	asked := t.s.Held[heldParting]
	if choice != "stay" && choice != asked+"_sure" || asked == "" {
		return false
	}
	t.parted(asked, choice != "stay")
	return true
}

// partingWords takes words to that question: a yes is one, and all else is about the job.
func (t *turn) partingWords(text string) bool {
	asked := t.s.Held[heldParting]
	if asked == "" || !t.main() {
		return false
	}
	low := strings.ToLower(strings.Trim(text, "[] .!"))
	switch {
	case low == t.saying(wording.Key("choice."+asked+"_sure")) || hear.Listen(text, hear.TopicYesNo).Act == hear.Yes && len(strings.Fields(low)) == 1:
		t.parted(asked, true)
	case low == t.saying(wording.ChoiceStay) || low == "stay" || low == "no":
		t.parted(asked, false)
	default:
		t.act(Act{Do: DoHold, Path: heldParting})
		return false
	}
	return true
}

func (t *turn) parted(how string, sure bool) {
	t.act(Act{Do: DoHold, Path: heldParting})
	if !sure {
		t.ask()
		return
	}
	if how == "new" {
		t.fresh()
		return
	}
	t.do(hear.Heard{Act: partings[how]})
}

// leadElsewhere reports whether the chat of whoever leads is in another job now.
func (t *turn) leadElsewhere() bool {
	chat := t.s.leadChat()
	if chat == t.in.Chat || t.log == nil {
		return false
	}
	c, err := t.e.loadChat(t.log, chat)
	return err == nil && c.job != "" && c.job != t.s.Code
}

// sayOpens tells whoever leads, in the chat where they are in another job, how a stop of
// this one is answered.
func (t *turn) sayOpens(chat string) {
	if chat == t.s.leadChat() && t.leadElsewhere() {
		t.say(wording.StopOpens, wording.Args{"Code": t.s.Code})
	}
}
