package telegram

import (
	"encoding/json"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/flow"
	"linetender/flow/script"
	"linetender/flow/telegram/apitest"
	"linetender/flow/wording"
)

const talkDir = "../../testdata/talk"

// elsewhere are the scripts that make sense in a terminal only, each with the reason.
var elsewhere = map[string]string{
	"t-words-in-a-pull": "it lingers at a hold, word after word, until the clock that runs here has the program ask for whoever is silent",
}

// underRace are the scripts played under the race detector, which slows plans tenfold: the first
// question, presses, a stop, a job that is left, a new one.
var underRace = []string{"t-stop-anywhere", "t-three-misses-bring-buttons", "t-people-inside", "t-leave-and-come-back"}

// staleEvery is after how many steps an old button is pressed again. Each press is a turn more.
const staleEvery = 8

// reckoned plans each case once: golden conversations ask for the same plan again and again, and nearly
// all their time would go there.
var reckoned = sync.OnceValue(func() func(job.Case) calc.Plan {
	var mu sync.Mutex
	known := map[string]calc.Plan{}
	return func(c job.Case) calc.Plan {
		key, err := json.Marshal(c)
		if err != nil {
			return calc.Reckon(c)
		}
		mu.Lock()
		defer mu.Unlock()
		p, ok := known[string(key)]
		if !ok {
			p = calc.Reckon(c)
			known[string(key)] = p
		}
		return p
	}
})

// golden returns the scripts that are to be played here.
func golden(t *testing.T) []script.Script {
	t.Helper()
	scripts, err := script.Folder(talkDir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, s := range scripts {
		names = append(names, s.Name)
	}
	for _, name := range underRace {
		if !slices.Contains(names, name) {
			t.Errorf("there is no script %s to play under the race detector", name)
		}
	}
	for name, why := range elsewhere {
		if why == "" || !slices.Contains(names, name) {
			t.Errorf("script %s is left out without a reason, or is not there", name)
		}
	}
	return slices.DeleteFunc(scripts, func(s script.Script) bool {
		return elsewhere[s.Name] != "" || raced && !slices.Contains(underRace, s.Name)
	})
}

// TestGoldenConversations plays the golden conversations in a private chat: the channel says the same
// words as every other, with the same buttons, and what was answered shows its answer. Now and then a
// phone that has not caught up presses a button of an earlier question.
func TestGoldenConversations(t *testing.T) {
	for _, s := range golden(t) {
		t.Run(s.Name, func(t *testing.T) {
			staged(t, func(t *testing.T, st *stage) {
				ada := st.srv.User(11, "Ada").Private()
				for n, step := range s.Steps {
					if n%staleEvery == 2 {
						st.pressOld(t, ada)
					}
					time.Sleep(6 * time.Second) // of the bubble's clock: nobody looks at anything sooner
					before := st.mark()
					if label, ok := step.Press(); ok {
						ada.Press(st.srv.Last(ada.Chat()).ID, label)
					} else {
						ada.Say(step.Input)
					}
					st.quiet(t)
					st.holds(t, before, ada.Chat(), step)
					if t.Failed() {
						return // what follows would only be noise
					}
				}
			})
		})
	}
}

// holds compares what was said since before with what a step of a script says.
func (st *stage) holds(t *testing.T, before mark, chat int64, want script.Step) {
	t.Helper()
	var said []flow.Said
	for _, m := range st.box.sent[before.sent:] {
		said = append(said, m.Parts...)
	}
	if !slices.Equal(said, want.Said) {
		t.Errorf("to %q it says\n%q\nwhere the script has\n%q", want.Input, said, want.Said)
	}
	var shown []string
	for _, c := range st.srv.Calls("sendMessage", "answerCallbackQuery")[before.said:] {
		if c.Text() != "" {
			shown = append(shown, c.Text())
		}
	}
	if got := strings.Join(shown, "\n\n"); got != plain(want.Text()) {
		t.Errorf("to %q the chat shows\n%s\nwhere the script has\n%s", want.Input, got, want.Text())
	}
	var labels []string
	last := st.srv.Last(chat)
	for _, row := range last.Buttons {
		for _, b := range row {
			labels = append(labels, b.Label)
		}
	}
	if !slices.Equal(labels, want.Label) {
		t.Errorf("to %q it offers %q where the script has %q", want.Input, labels, want.Label)
	}
	st.settled(t, before, chat, want)
}

// settled holds what was asked before to the answer that it got: the buttons are gone, what was said
// there still stands, and the answer stands below it.
func (st *stage) settled(t *testing.T, before mark, chat int64, step script.Step) {
	t.Helper()
	asked := before.open[chat]
	if asked.ID == 0 || len(step.Said) == 0 {
		return
	}
	answer, ok := step.Press()
	if !ok {
		answer = wording.Plain(step.Input)
	}
	want := asked.Text + "\n» " + answer
	for _, m := range st.srv.Said(chat) {
		if m.ID != asked.ID {
			continue
		}
		if len(m.Buttons) != 0 {
			t.Errorf("answered with %q, a question keeps its buttons %v", step.Input, m.Buttons)
		}
		if m.Text != want && !(units(want) > longestText && strings.HasPrefix(want, strings.TrimSuffix(m.Text, "…"))) {
			t.Errorf("the question answered with %q shows\n%s\nwant\n%s", step.Input, m.Text, want)
		}
	}
}

// pressOld presses the button of a question that was answered, if there is one: that is answered
// kindly, says nothing into the chat, and leaves the open question open.
func (st *stage) pressOld(t *testing.T, seat *apitest.Seat) {
	t.Helper()
	now := st.srv.Last(seat.Chat())
	var old flow.Message
	for _, m := range slices.Backward(st.box.sent) {
		if m.Slot != "" && len(m.Choices) > 0 && m.Session != "" && asksTheJob(m) && st.shownAs(seat.Chat(), m) != now.ID {
			old = m
			break
		}
	}
	if old.Slot == "" {
		return
	}
	data, _ := buttonData(flow.Press{Session: old.Session, Revision: old.Revision, Choice: old.Choices[0].Choice})
	texts := len(st.srv.Calls("sendMessage", "editMessageText"))
	press := seat.PressOld(st.shownAs(seat.Chat(), old), data)
	st.answered(t) // nobody waits for it: the job is as old as it is told elsewhere
	if a, ok := press.Answer(); !ok || a.Text != st.words(t, wording.RefuseStaleShort) {
		t.Errorf("a press on an old question is answered %+v, %v", a, ok)
	}
	if n := len(st.srv.Calls("sendMessage", "editMessageText")); n != texts {
		t.Errorf("a press on an old question says or changes %d things in the chat", n-texts)
	}
}

// TestGoldenCommandsAreRegistered: the menu is what the conversation offers as commands, stop first.
func TestGoldenCommandsAreRegistered(t *testing.T) {
	staged(t, func(t *testing.T, st *stage) {
		calls := st.srv.Calls("setMyCommands")
		if len(calls) != 1 || !calls[0].OK() {
			t.Fatalf("%d calls to set the menu", len(calls))
		}
		list, _ := calls[0].Params["commands"].([]any)
		items, err := st.desk.Engine.Menu()
		if err != nil || len(items) == 0 || len(list) != len(items) || items[0].Word != "stop" {
			t.Fatalf("the menu has %d of %d words, %v", len(list), len(items), err)
		}
		for i, item := range items {
			c := list[i].(map[string]any)
			if c["command"] != item.Word || c["description"] != item.Does {
				t.Errorf("the menu has %v, want %v", c, item)
			}
		}
	})
}

// asksTheJob reports whether the buttons of a message answer a question of the job. Those of the pull say
// themselves what they are for, and mean it for as long as that is so.
func asksTheJob(m flow.Message) bool {
	return len(m.Parts) > 0 && strings.HasPrefix(m.Parts[len(m.Parts)-1].Key, "ask.")
}
