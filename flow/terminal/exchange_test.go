package terminal

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"linetender/flow"
	"linetender/store"
)

// post puts a message into the outbox, as a turn of another chat does.
func post(t *testing.T, x *Exchange, chat string, messages ...flow.Message) {
	t.Helper()
	turn := store.Turn{Chat: "terminal/other"}
	for _, m := range messages {
		body, err := m.Encode()
		if err != nil {
			t.Fatal(err)
		}
		turn.Outbox = append(turn.Outbox, store.Parcel{Chat: chat, Urgent: m.Urgent, Body: body})
	}
	if _, err := x.Outbox.(*store.Store).Commit(turn); err != nil {
		t.Fatal(err)
	}
	x.Posted(chat)
}

func said(text string) flow.Message {
	return flow.Message{Parts: []flow.Said{{Key: "test", Text: text}}}
}

// inOrder wants all of these in a text, one after the other.
func inOrder(t *testing.T, text string, wants ...string) {
	t.Helper()
	rest := text
	for _, want := range wants {
		_, after, ok := strings.Cut(rest, want)
		if !ok {
			t.Fatalf("%q does not follow in its place:\n%s", want, text)
		}
		rest = after
	}
}

// TestEachChatItsOwn: a terminal shows what is for its chat and leaves the rest.
func TestEachChatItsOwn(t *testing.T) {
	x := exchange(t, t.TempDir())
	a, b := sit(t, x, Chat), sit(t, x, "terminal/ben")
	if _, err := x.Sit(Chat); !errors.Is(err, ErrTaken) {
		t.Errorf("a second terminal in a chat: %v, want %v", err, ErrTaken)
	}
	for i := range dueAtOnce + 5 { // more chats than one look at the outbox names
		post(t, x, fmt.Sprintf("terminal/z%d", i), said("nobody reads this"))
	}
	post(t, x, Chat, said("for the first"))
	post(t, x, b.chat, said("for Ben"))
	for _, test := range []struct {
		seat *Seat
		want string
	}{{a, "for the first"}, {b, "for Ben"}} {
		select {
		case <-test.seat.Stirs():
		default:
			t.Errorf("%s was not told that something waits", test.seat.chat)
		}
		var e ear
		if err := (&Terminal{Line: test.seat}).hear(context.Background(), e.tell); err != nil {
			t.Fatal(err)
		}
		if len(e.heard) != 1 || e.heard[0].Text() != test.want {
			t.Errorf("%s was shown %v, want %q alone", test.seat.chat, e.heard, test.want)
		}
	}
	a.Leave()
	if _, err := x.Sit(Chat); err != nil {
		t.Errorf("after the first has left: %v", err)
	}
}

// TestPlainShowsWhatComesIn: while the program waits for a line, what comes in
// by itself is shown, a stop ahead of what was said before it; what is there
// at the end of input is shown as well.
func TestPlainShowsWhatComesIn(t *testing.T) {
	x := exchange(t, t.TempDir())
	s := sit(t, x, Chat)
	in, typing := io.Pipe()
	out, shown := io.Pipe()
	ended := make(chan error, 1)
	go func() {
		err := (&Terminal{Line: s, Now: x.Now}).Plain(context.Background(), in, shown)
		ended <- errors.Join(err, shown.Close())
	}()
	var text strings.Builder
	see := func(want string) {
		t.Helper()
		buf := make([]byte, 4096)
		for !strings.Contains(text.String(), want) {
			n, err := out.Read(buf)
			text.Write(buf[:n])
			if err != nil {
				t.Fatalf("it ended (%v) before it showed %q:\n%s", err, want, text.String())
			}
		}
	}
	see("Is anyone hurt")
	see("[how]\n\n")
	later, stop := said("Ben has joined."), said("STOP by Ben")
	stop.Urgent = true
	// Both at once: the stop must come first.
	post(t, x, Chat, later, stop)
	see("Ben has joined.\n\n") // without a line
	late := "Late: this was written before the STOP or warning above.\n\nBen has joined."
	inOrder(t, text.String(), "Is anyone hurt", "STOP by Ben", late)
	post(t, x, Chat, said("Cid has joined."))
	see("Cid has joined.\n\n")
	if n := strings.Count(text.String(), "Late:"); n != 1 {
		t.Errorf("%d messages are said to be late, and one is:\n%s", n, text.String())
	}
	if _, err := io.WriteString(typing, "none\n"); err != nil {
		t.Fatal(err)
	}
	see("What does it weigh")
	see("[don't know]\n\n")
	x.mu.Lock()
	x.seats[Chat] = nil
	x.mu.Unlock()
	post(t, x, Chat, said("said in silence"))
	typing.Close()
	see("said in silence")
	rest, err := io.ReadAll(out)
	if err != nil || len(rest) > 1 {
		t.Errorf("after the end it wrote %q, %v", rest, err)
	}
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// TestCatchUp: a line that was taken in by a process that died before its turn
// has its turn at the next start, though nobody sits there.
func TestCatchUp(t *testing.T) {
	x := exchange(t, t.TempDir())
	// A dead process is one whose desk does nothing: the line is only kept.
	a := flow.Arrival{Key: "terminal/left", Chat: "terminal/ben", At: x.Now(), Body: []byte(`{"v":1,"text":"stop","person":{"id":"terminal/ben"}}`)}
	other := flow.Arrival{Key: "telegram/left", Chat: "telegram/1", At: x.Now(), Body: []byte(`{}`)}
	if err := x.Inbox.Accept("terminal", 0, []flow.Arrival{a, other}); err != nil {
		t.Fatal(err)
	}
	if err := x.CatchUp(context.Background()); err != nil {
		t.Fatal(err)
	}
	chats, err := x.Inbox.Chats()
	if err != nil || len(chats) != 1 || chats[0] != "telegram/1" {
		t.Errorf("%v wait (%v), want only another channel's", chats, err)
	}
	var e ear
	if err := (&Terminal{Line: sit(t, x, "terminal/ben")}).hear(context.Background(), e.tell); err != nil {
		t.Fatal(err)
	}
	if len(e.heard) == 0 || !strings.HasPrefix(e.heard[0].Text(), "STOP.") {
		t.Errorf("the stop that was left was answered with %v", e.heard)
	}
}

// TestCry: a stop that can't be kept reaches every terminal all the same.
func TestCry(t *testing.T) {
	x := exchange(t, t.TempDir())
	a, b := sit(t, x, Chat), sit(t, x, "terminal/ben")
	x.Alarm = func(flow.Arrival) string { return "STOP, and no record of it" }
	x.Inbox = shut{x.Inbox}
	if err := a.Say(context.Background(), Written{Text: "stop"}); err == nil {
		t.Error("a line that can't be kept is no error")
	}
	for _, s := range []*Seat{a, b} {
		select {
		case <-s.Stirs():
		default:
			t.Errorf("%s was not told", s.chat)
		}
		p, ok, err := s.Next(context.Background())
		if err != nil || !ok || !strings.Contains(string(p.Body), "no record") {
			t.Errorf("%s was handed %q, %v, %v", s.chat, p.Body, ok, err)
		}
		if err := s.Heard(context.Background(), p.ID); err != nil {
			t.Error(err)
		}
	}
}

// shut is an inbox whose disk is full.
type shut struct{ flow.Inbox }

func (shut) Accept(string, int64, []flow.Arrival) error { return errors.New("no room") }

// TestLive: of a message that is kept up to date only the latest is shown, after
// the others, in one line, and only what is new in it. It takes no choices away.
func TestLive(t *testing.T) {
	x := exchange(t, t.TempDir())
	term := &Terminal{Line: sit(t, x, Chat)}
	live := func(texts ...string) flow.Message {
		m := flow.Message{Live: "board"}
		for _, text := range texts {
			m.Parts = append(m.Parts, flow.Said{Key: "board.plan", Text: text})
		}
		m.Parts = append(m.Parts, flow.Said{Key: "board.at", Text: "As of " + rand.Text()}) // time goes on
		return m
	}
	question := said("Go on?")
	question.Choices = []flow.Choice{{Choice: "go", Label: "go on"}}
	hear := func(wants ...string) {
		t.Helper()
		var e ear
		if err := term.hear(context.Background(), e.tell); err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, m := range e.heard {
			got = append(got, m.Text())
		}
		if strings.Join(got, "|") != strings.Join(wants, "|") {
			t.Errorf("shown: %q, want %q", got, wants)
		}
	}
	post(t, x, Chat, live("one"))
	post(t, x, Chat, question)
	post(t, x, Chat, live("two"))
	hear("Go on?", "On the board: two For all of it write: show board")
	term.fresh = true
	post(t, x, Chat, live("two"))
	hear()
	post(t, x, Chat, live("two", "three\nfour"))
	hear("On the board: three four")
	post(t, x, Chat, live("three\nfour"))
	hear()
	words := live("three\nfour")
	words.Parts = append(words.Parts, flow.Said{Key: "board.head", Text: "pulling"}, flow.Said{Key: "board.words", Text: "Last: Bo: yes"})
	post(t, x, Chat, words)
	hear() // nothing but what somebody said and where it stands since
	words.Parts = append(words.Parts, flow.Said{Key: "board.stop", Text: "STOP"})
	post(t, x, Chat, words)
	hear("On the board: pulling Last: Bo: yes STOP")
	post(t, x, Chat, live("three\nfour"))
	hear()
	if _, ok := term.byLabel("[go on]"); !ok {
		t.Error("the board has taken the question's choices away")
	}
	post(t, x, Chat, said("Another thing."))
	hear("Another thing.")
	if _, ok := term.byLabel("[go on]"); ok {
		t.Error("the choices of a question that was answered are still there")
	}
}

// TestReminder: a reminder is the question and its buttons; what was shown with
// it before is not shown again, however many messages it comes in.
func TestReminder(t *testing.T) {
	x := exchange(t, t.TempDir())
	term := &Terminal{Line: sit(t, x, Chat)}
	asked := func(revision uint64, texts ...string) flow.Message {
		m := flow.Message{Revision: revision}
		for _, text := range texts {
			key, text, _ := strings.Cut(text, ":")
			m.Parts = append(m.Parts, flow.Said{Key: key, Text: text})
		}
		return m
	}
	question := func(m flow.Message) flow.Message {
		m.Choices = []flow.Choice{{Choice: "take.1", Label: "I take it"}}
		return m
	}
	post(t, x, Chat, asked(1, "card:Your part.", "duty:What you do."))
	post(t, x, Chat, question(asked(1, "seat.offer:Do you take it on?")))
	post(t, x, Chat, asked(2, "remind.again:Still open.", "card:Your part."))
	post(t, x, Chat, asked(2, "duty:What you do."))
	post(t, x, Chat, question(asked(2, "item:Something new.", "seat.offer:Do you take it on?")))
	post(t, x, Chat, asked(3, "card:Your part."))
	var e ear
	if err := term.hear(context.Background(), e.tell); err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, m := range e.heard {
		got = append(got, m.Text())
	}
	want := []string{"Your part.\n\nWhat you do.", "Do you take it on?", "Still open.", "Something new.\n\nDo you take it on?", "Your part."}
	if !slices.Equal(got, want) {
		t.Errorf("shown: %q, want %q", got, want)
	}
	if at, ok := term.byLetter("b"); !ok || at.Revision != 2 {
		t.Errorf("the button of the reminder is %+v, %v", at, ok)
	}
}
