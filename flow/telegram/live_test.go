package telegram

import (
	"slices"
	"testing"
	"testing/synctest"
	"time"

	"linetender/flow"
	"linetender/flow/telegram/apitest"
	"linetender/flow/wording"
)

func live(text string, choices ...string) flow.Message {
	m := question(text, "", choices...)
	m.Live = "board"
	return m
}

func methods(calls []apitest.Call) (names []string) {
	for _, c := range calls {
		names = append(names, c.Method)
	}
	return names
}

func TestALiveMessageIsSentOnceAndChangedInPlace(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		ann := g.srv.User(4, "Ann").Private()
		ann.Say("hi")
		for _, m := range []flow.Message{live("1 of 3 ready", "Stop"), live("2 of 3 ready", "Stop"), live("2 of 3 ready", "Stop"), live("all ready", "Stop", "Go on")} {
			id := g.box.post(t, 4, m)
			g.settle(t)
			if why := g.box.gaveUp(id); why != "" {
				t.Errorf("%q is given up: %s", m.Text(), why)
			}
		}
		said := g.srv.Said(4)
		if len(said) != 1 || said[0].Text != "all ready" || said[0].Edits != 2 {
			t.Fatalf("the chat shows %+v", said)
		}
		if _, ok := said[0].Button("Go on"); !ok {
			t.Error("the new button is missing")
		}
		if got := methods(g.srv.Calls()); !slices.Equal(got, []string{"sendMessage", "editMessageText", "editMessageText", "editMessageText"}) {
			t.Errorf("calls %v; the third changes nothing and is no trouble", got)
		}
		// The buttons of a live message are found by its name.
		over := words("That is that.")
		over.Settles = []flow.Settle{{Slot: "board", Text: "all ready"}}
		g.box.post(t, 4, over)
		g.settle(t)
		if shown := g.srv.Said(4)[0]; len(shown.Buttons) != 0 {
			t.Errorf("the buttons are still up: %+v", shown)
		}
	})
}

func TestALiveMessageThatCannotBeChangedIsSentAnew(t *testing.T) {
	for name, lose := range map[string]func(t *testing.T, g *ground, group *apitest.Group, by *apitest.User) int64{
		"too old": func(t *testing.T, g *ground, group *apitest.Group, _ *apitest.User) int64 {
			g.srv.Freeze(group.Chat(), g.srv.Last(group.Chat()).ID)
			return group.Chat()
		},
		"deleted": func(t *testing.T, g *ground, group *apitest.Group, _ *apitest.User) int64 {
			g.srv.Delete(group.Chat(), g.srv.Last(group.Chat()).ID)
			return group.Chat()
		},
		// Its messages are counted anew there; another one must not be changed in its place.
		"in a group that became a supergroup": func(t *testing.T, g *ground, group *apitest.Group, by *apitest.User) int64 {
			up := group.Migrate(by)
			for range 9 {
				g.box.post(t, group.Chat(), words("one of many"))
			}
			g.settle(t)
			return up.Chat()
		},
	} {
		sending(t, func(t *testing.T, g *ground) {
			ann := g.srv.User(4, "Ann")
			group := g.srv.Group(-7, "Ditch", ann)
			g.box.post(t, -7, live("1 of 3 ready"))
			g.settle(t)
			chat := lose(t, g, group, ann)
			before := len(g.srv.Said(chat))
			for _, text := range []string{"2 of 3 ready", "all ready"} {
				g.box.post(t, -7, live(text))
				g.settle(t)
				if last := g.srv.Last(chat); last.Text != text {
					t.Errorf("%s: the last message shows %q, want %q", name, last.Text, text)
				}
			}
			if last := g.srv.Last(chat); last.Edits != 1 {
				t.Errorf("%s: the new one was changed %d times, want once", name, last.Edits)
			}
			for _, m := range g.srv.Said(chat)[:before] {
				if m.Edits != 0 {
					t.Errorf("%s: %q was changed in its place", name, m.Text)
				}
			}
		})
	}
}

// overtaken is how words are shown that an urgent parcel has overtaken.
func overtaken(text string) string { return words(text).Overtaken(wording.English()).Text() }

func TestAnOldStateThatWasOvertakenIsLeftOut(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		ann := g.srv.User(4, "Ann").Private()
		ann.Say("hi")
		g.srv.Fail(apitest.Fault{Kind: apitest.TooMany, Times: 1, RetryAfter: 30 * time.Second})
		g.box.post(t, 4, words("Hold."))
		g.ch.Sender().Posted("")
		synctest.Wait()
		press := ann.Press(g.ask(t, 4), "Yes")
		first := live("1 of 3 ready")
		first.Handle = press.ID
		first.Settles = []flow.Settle{{Slot: "q", Text: "Sure? Yes"}}
		g.box.post(t, 4, first)
		for _, text := range []string{"2 of 3 ready", "3 of 3 ready"} {
			g.box.post(t, 4, live(text))
		}
		other := live("another board")
		other.Live = "other"
		g.box.post(t, 4, other)
		g.box.post(t, 4, live("all ready"))
		g.settle(t)
		if got := texts(g.srv.Said(4)); !slices.Equal(got, []string{"Sure? Yes", overtaken("Hold."), "another board", "all ready"}) {
			t.Errorf("the chat shows %q", got)
		}
		if _, ok := press.Answer(); !ok {
			t.Error("the press that came with what was left out is not answered")
		}
		if n := len(g.srv.Calls("editMessageText")); n != 1 {
			t.Errorf("%d edits, want the settled buttons only", n)
		}
	})
}

// ask puts a question with buttons on a phone past the limits, and returns its id there.
func (g *ground) ask(t *testing.T, chat int64) int64 {
	t.Helper()
	m := question("Sure?", "q", "Yes")
	m.Urgent = true
	g.box.post(t, chat, m)
	g.ch.Sender().Posted("")
	synctest.Wait()
	return g.srv.Last(chat).ID
}

func TestAnUrgentStateIsNeitherLeftOutNorTurnedBack(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		g.srv.User(4, "Ann").Private().Say("hi")
		g.box.post(t, 4, live("pulling"))
		g.settle(t)
		g.srv.Fail(apitest.Fault{Kind: apitest.TooMany, Times: 1, RetryAfter: 30 * time.Second})
		g.box.post(t, 4, words("Hold."))
		g.ch.Sender().Posted("")
		synctest.Wait()
		g.box.post(t, 4, live("a metre to go")) // waits behind the other
		stop := live("STOPPED")
		stop.Urgent = true
		g.box.post(t, 4, stop)
		g.ch.Sender().Posted("")
		synctest.Wait()
		if got := g.srv.Said(4)[0].Text; got != "STOPPED" {
			t.Errorf("the board shows %q", got)
		}
		g.settle(t)
		if got := texts(g.srv.Said(4)); !slices.Equal(got, []string{"STOPPED", overtaken("Hold.")}) {
			t.Errorf("the chat shows %q; a state from before the stop must not come back", got)
		}
	})
}
