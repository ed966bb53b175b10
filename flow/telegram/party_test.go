package telegram

import (
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"linetender/flow"
	"linetender/flow/script"
	"linetender/flow/telegram/apitest"
)

const partyDir = "../../testdata/party"

// pause is what people take for the next message; the conversations were written at this pace, and what
// a job waits for comes at its own time between.
const pause = script.Pause

// TestGoldenParties plays the golden conversations of several people, each in a private chat: everyone is
// told the same words as elsewhere, with the same buttons, in the same order.
func TestGoldenParties(t *testing.T) {
	if raced {
		t.Skip("whole jobs: too slow under the race detector, and the desk is raced by others")
	}
	parties, err := script.Parties(partyDir)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range parties {
		t.Run(p.Name, func(t *testing.T) {
			staged(t, func(t *testing.T, st *stage) {
				seats := map[string]*apitest.Seat{}
				for n, who := range p.People() {
					seats[who] = st.srv.User(int64(11+n), who).Private()
				}
				at := time.Now().Truncate(time.Second).Add(time.Second)
				for _, l := range p.Lines {
					time.Sleep(time.Until(at))
					synctest.Wait()
					before := st.mark()
					switch label, press := l.Press(); {
					case l.Wait > 0:
						at = at.Add(l.Wait - pause)
					case press:
						seats[l.Who].Press(lastWith(st.srv, seats[l.Who].Chat(), label), label)
					default:
						seats[l.Who].Say(l.Input)
					}
					at = at.Add(pause)
					time.Sleep(time.Until(at) - time.Second)
					st.partyHolds(t, before, seats, l)
					if t.Failed() {
						return // what follows would only be noise
					}
				}
				st.quiet(t)
			})
		})
	}
}

// lastWith is the latest message of a chat that shows a button.
func lastWith(srv *apitest.Server, chat int64, label string) int64 {
	shown := srv.Said(chat)
	for _, m := range slices.Backward(shown) {
		for _, row := range m.Buttons {
			for _, b := range row {
				if b.Label == label {
					return m.ID
				}
			}
		}
	}
	return srv.Last(chat).ID
}

// partyHolds compares what everybody was told since before with a line of a conversation.
func (st *stage) partyHolds(t *testing.T, before mark, seats map[string]*apitest.Seat, want script.Line) {
	t.Helper()
	for who, seat := range seats {
		var said []flow.Said
		var labels []string
		urgent := false
		for i, m := range st.box.sent[before.sent:] {
			if st.box.to[before.sent+i] != seat.Chat() || m.Live != "" {
				continue
			}
			said = append(said, m.Parts...)
			urgent = urgent || m.Urgent
			labels = nil
			for _, c := range m.Choices {
				labels = append(labels, c.Label)
			}
		}
		told := want.Said(who)
		if told == nil {
			told = &script.Told{}
		}
		if !slices.Equal(said, told.Said) || !slices.Equal(labels, told.Label) || urgent != told.Urgent {
			t.Errorf("on %q of %s, %s is told\n%s %q\nwhere it was\n%s %q", want.Input, want.Who, who, spoken(said), labels, spoken(told.Said), told.Label)
		}
	}
}

func spoken(said []flow.Said) string {
	var out []string
	for _, s := range said {
		out = append(out, s.Key+": "+s.Text)
	}
	return strings.Join(out, "\n")
}
