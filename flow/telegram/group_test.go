package telegram

import (
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/flow"
	"linetender/flow/script"
	"linetender/flow/telegram/apitest"
	"linetender/flow/wording"
)

// groupScript is the golden conversation that a group plays too.
const groupScript = "t-stop-anywhere"

// byName is a command to the program by its name.
func byName(command string) string { return command + "@" + apitest.BotName }

// step does one step of a script in a group whose privacy is on: what is typed there reaches the program
// only as a reply.
func (st *stage) step(t *testing.T, seat *apitest.Seat, step script.Step) {
	t.Helper()
	last := st.srv.Last(seat.Chat()).ID
	if label, ok := step.Press(); ok {
		seat.Press(last, label)
	} else if strings.HasPrefix(step.Input, "/") {
		seat.Say(byName(step.Input))
	} else {
		if sent := seat.Say(step.Input); sent.Update != 0 {
			t.Fatal("privacy is on, and words that are no reply reach the program")
		}
		seat.Reply(last, step.Input)
	}
	st.quiet(t)
}

// waysToStop holds every message since before to the way that a stop reaches the program in a group.
func (st *stage) waysToStop(t *testing.T, before mark, chat int64) {
	t.Helper()
	label := st.words(t, wording.ChoiceStop)
	way := strings.ReplaceAll(st.words(t, wording.StopWay), "/stop", byName("/stop"))
	if !strings.Contains(way, label) || !strings.Contains(way, byName("/stop")) || !strings.Contains(way, "replying") {
		t.Fatalf("the way to a stop names not its button, the command and the reply: %q", way)
	}
	for _, c := range st.srv.Calls("sendMessage", "answerCallbackQuery")[before.said:] {
		if c.Method == "sendMessage" && !strings.HasSuffix(c.Text(), way) {
			t.Errorf("a message to the group does not say how to stop: %q", c.Text())
		}
	}
	for _, m := range st.box.sent[before.sent:] {
		if n := len(m.Choices); !m.Notice && (n == 0 || m.Choices[n-1].Label != label) {
			t.Errorf("a message to the group has no stop button: %q", m.Text())
		}
	}
	if _, ok := st.srv.Last(chat).Button(label); !ok {
		t.Error("the last message shows no stop button")
	}
}

// inGroup runs body in a group whose privacy is on.
func inGroup(t *testing.T, body func(t *testing.T, st *stage, ada *apitest.Seat)) {
	t.Helper()
	staged(t, func(t *testing.T, st *stage) {
		ada := st.srv.User(11, "Ada")
		body(t, st, st.srv.Group(-7, "Ditch", ada).Seat(ada))
	})
}

// TestGoldenGroup: a group where only commands, replies and presses reach the program hears the words
// of the script, and under each message how a stop reaches it.
func TestGoldenGroup(t *testing.T) {
	scripts, err := script.Folder(talkDir)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(scripts, func(s script.Script) bool { return s.Name == groupScript })
	if i < 0 {
		t.Fatalf("there is no script %s", groupScript)
	}
	inGroup(t, func(t *testing.T, st *stage, ada *apitest.Seat) {
		for _, step := range scripts[i].Steps {
			before := st.mark()
			st.step(t, ada, step)
			var said []flow.Said
			for _, m := range st.box.sent[before.sent:] {
				for _, p := range m.Parts {
					switch last := len(said) - 1; {
					case p.Key == string(wording.StopWay):
					case last >= 0 && said[last].Key == p.Key && !slices.Contains(step.Said, p): // cut, to leave room for the way to stop
						said[last].Text += " " + p.Text
					default:
						said = append(said, p)
					}
				}
			}
			if !slices.Equal(said, step.Said) {
				t.Fatalf("to %q it says\n%q\nwhere the script has\n%q", step.Input, said, step.Said)
			}
			st.waysToStop(t, before, ada.Chat())
			st.settledInGroup(t, before, ada.Chat(), step)
		}
	})
}

// settledInGroup: the question that was answered still stands there, with its answer and without buttons.
func (st *stage) settledInGroup(t *testing.T, before mark, chat int64, step script.Step) {
	t.Helper()
	asked := before.open[chat]
	way := "\n\n" + strings.ReplaceAll(st.words(t, wording.StopWay), "/stop", byName("/stop"))
	answer, ok := step.Press()
	if !ok {
		answer = wording.Plain(step.Input)
	}
	for _, m := range st.srv.Said(chat) {
		if want := strings.TrimSuffix(asked.Text, way) + "\n» " + answer; m.ID == asked.ID && (m.Text != want || len(m.Buttons) != 0) {
			t.Errorf("the question answered with %q shows %q %v, want %q", step.Input, m.Text, m.Buttons, want)
		}
	}
}

// TestGoldenGroupStops: each way that a group is told of stops, also after another bot has spoken there,
// to which a bare command would go, and without a job.
func TestGoldenGroupStops(t *testing.T) {
	for name, stop := range map[string]func(st *stage, ada *apitest.Seat){
		"command": func(st *stage, ada *apitest.Seat) { ada.Say(byName("/stop")) },
		"reply":   func(st *stage, ada *apitest.Seat) { ada.Reply(st.srv.Last(ada.Chat()).ID, "stop") },
		"press":   func(st *stage, ada *apitest.Seat) { ada.Press(st.srv.Last(ada.Chat()).ID, "STOP") },
		"press on the first message": func(st *stage, ada *apitest.Seat) {
			data, _ := buttonData(flow.Press{Session: st.box.sent[0].Session, Revision: st.box.sent[0].Revision, Choice: "stop"})
			ada.PressOld(st.srv.Said(ada.Chat())[0].ID, data)
		},
		"reply to a settled question": func(st *stage, ada *apitest.Seat) {
			asked := slices.IndexFunc(st.box.sent, func(m flow.Message) bool { return len(m.Choices) > 1 })
			ada.Reply(st.shownAs(ada.Chat(), st.box.sent[asked]), "STOP STOP")
		},
	} {
		for _, left := range []bool{false, true} {
			inGroup(t, func(t *testing.T, st *stage, ada *apitest.Seat) {
				steps := []string{"/start", "none", "/leave"}
				if !left {
					steps = steps[:2]
				}
				before := st.mark()
				for _, s := range steps {
					st.step(t, ada, script.Step{Input: s})
				}
				st.waysToStop(t, before, ada.Chat())
				before = st.mark()
				stop(st, ada)
				st.quiet(t)
				sent := st.box.sent[before.sent:]
				if len(sent) == 0 || sent[0].Parts[0].Key != string(wording.StopCalled) {
					t.Fatalf("%s, job left %v: a stop says %v", name, left, sent)
				}
				st.waysToStop(t, before, ada.Chat())
			})
		}
	}
}

// TestTwoPressTheSameButtonAtOnce: each press is its own person's, the first counts, the second is told
// so in place, and both phones stop waiting.
func TestTwoPressTheSameButtonAtOnce(t *testing.T) {
	staged(t, func(t *testing.T, st *stage) {
		ada, bo := st.srv.User(11, "Ada"), st.srv.User(12, "Bo")
		group := st.srv.Group(-7, "Ditch", ada)
		seats := []*apitest.Seat{group.Seat(ada), group.Seat(bo)}
		seats[0].Say(byName("/start"))
		st.quiet(t)
		asked := st.srv.Last(-7)
		label := asked.Buttons[0][0].Label
		first, second := seats[0].Press(asked.ID, label), seats[1].Press(asked.ID, label)
		st.quiet(t)
		one, ok := first.Answer()
		if !ok || one.Text != "" {
			t.Errorf("the first press was answered %+v, %v", one, ok)
		}
		if two, ok := second.Answer(); !ok || two.Text == "" {
			t.Errorf("the second press was answered %+v, %v; want that it came too late", two, ok)
		}
		heard := map[string]int{}
		err := st.store.Streams(flow.JobStream(""), "", false, func(name string, _ []byte, _ uint64, _ time.Time) error {
			return st.store.Replay(name, 0, func(_ uint64, body []byte) error {
				e, err := flow.DecodeEntry(body)
				if e.Heard.Press != "" {
					heard[e.Who.ID+" "+e.Who.Name]++
				}
				return err
			})
		})
		if err != nil || heard["telegram/11 Ada"] != 1 || heard["telegram/12 Bo"] != 1 {
			t.Errorf("presses in the log by person: %v, %v", heard, err)
		}
		// A press that tells of nothing is answered too: on a button that has gone from the screen.
		old := seats[1].PressOld(asked.ID, "1:gone-00:1:yes")
		st.quiet(t)
		if a, ok := old.Answer(); !ok || a.Text == "" {
			t.Errorf("an old press was answered %+v, %v", a, ok)
		}
	})
}
