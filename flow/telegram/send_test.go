package telegram

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"linetender/flow"
	"linetender/flow/telegram/apitest"
)

// sending runs the sender inside a synctest bubble for as long as body.
func sending(t *testing.T, body func(t *testing.T, g *ground), change ...func(*Config)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		g := setUp(t, change...)
		ctx, stop := context.WithCancel(t.Context())
		ended := make(chan error, 1)
		go func() { ended <- g.ch.Sender().Run(ctx) }()
		body(t, g)
		stop()
		if err := <-ended; err != nil && !errors.Is(err, ErrToken) {
			t.Errorf("sender ended with %v", err)
		}
	})
}

func (g *ground) settle(t *testing.T) {
	t.Helper()
	for range 10_000 {
		synctest.Wait()
		if g.box.left() == 0 {
			return
		}
		time.Sleep(time.Second)
	}
	t.Fatalf("%d parcels still unsent", g.box.left())
}

func texts(shown []apitest.Shown) []string {
	var list []string
	for _, m := range shown {
		list = append(list, m.Text)
	}
	return list
}

func TestOrderIsKeptInEachChat(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		var want []string
		for chat := range int64(5) {
			g.srv.User(100+chat, "Ann").Private().Say("hi")
		}
		for i := range 10 {
			want = append(want, fmt.Sprintf("step %d", i))
			for chat := range int64(5) {
				g.box.post(t, 100+chat, words(want[i]))
			}
		}
		g.settle(t)
		for chat := range int64(5) {
			if got := texts(g.srv.Said(100 + chat)); !slices.Equal(got, want) {
				t.Errorf("chat %d: %q", chat, got)
			}
		}
	})
}

func TestLimitsAreKept(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		ann := g.srv.User(4, "Ann")
		g.srv.Group(-7, "Ditch", ann)
		for chat := range int64(80) {
			g.srv.User(100+chat, "Bo").Private().Say("hi")
			for range 5 {
				g.box.post(t, 100+chat, words("hold the line"))
			}
		}
		for range 60 {
			g.box.post(t, -7, words("hold the line"))
		}
		g.settle(t)
		if n := g.srv.Busiest(time.Second, apitest.Call.Speaks); n > 30 || n < 20 {
			t.Errorf("busiest second: %d messages, want at most 30 and near it", n)
		}
		inGroup := func(c apitest.Call) bool { return c.Speaks() && c.Chat() == -7 }
		if n := g.srv.Busiest(time.Minute, inGroup); n > 20 || n < 15 {
			t.Errorf("busiest minute of the group: %d messages, want at most 20 and near it", n)
		}
		one := func(c apitest.Call) bool { return c.Speaks() && c.Chat() == 100 }
		if n := g.srv.Busiest(10*time.Second, one); n > 13 {
			t.Errorf("ten seconds of one chat: %d messages, want at most 13", n)
		}
		if n := len(g.srv.Calls("sendMessage")); n != 460 {
			t.Errorf("%d messages sent, want 460", n)
		}
	})
}

func TestUrgentGoesAheadAndIsFreeOfLimits(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		ann := g.srv.User(4, "Ann")
		g.srv.Group(-7, "Ditch", ann)
		for range 60 {
			g.box.post(t, -7, words("plan"))
		}
		for range 30 {
			time.Sleep(time.Second)
		}
		stop := words("STOP. Everyone stands still.")
		stop.Urgent = true
		before := time.Now()
		g.box.post(t, -7, stop)
		g.ch.Sender().Posted("")
		synctest.Wait()
		if last := g.srv.Last(-7); last.Text != stop.Text() || time.Since(before) != 0 {
			t.Errorf("after %v the group shows %q", time.Since(before), last.Text)
		}
		g.settle(t)
	})
}

func TestUrgentDoesNotWaitForACallThatHangs(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		g.srv.User(4, "Ann").Private().Say("hi")
		g.srv.Fail(apitest.Fault{Kind: apitest.Hang, Chat: 4, Times: 1})
		g.box.post(t, 4, words("plan"))
		g.ch.Sender().Posted("")
		synctest.Wait()
		stop := words("STOP")
		stop.Urgent = true
		g.box.post(t, 4, stop)
		g.ch.Sender().Posted("")
		synctest.Wait()
		if last := g.srv.Last(4); last.Text != "STOP" {
			t.Errorf("the chat shows %q", last.Text)
		}
		g.settle(t)
		if got := texts(g.srv.Said(4)); !slices.Equal(got, []string{"STOP", overtaken("plan")}) {
			t.Errorf("%q", got)
		}
	})
}

func TestAnUrgentMessageIsSaidBeforeAnythingElse(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		g.srv.User(4, "Ann").Private().Say("hi")
		g.box.post(t, 4, question("Sure?", "q1", "Yes"))
		g.settle(t)
		stop := question("STOP", "q2", "Go on")
		stop.Urgent = true
		stop.Settles = []flow.Settle{{Slot: "q1", Text: "Sure? Stopped."}}
		g.box.post(t, 4, stop)
		g.settle(t)
		var order []string
		for _, c := range g.srv.Calls() {
			order = append(order, c.Text())
		}
		if !slices.Equal(order, []string{"Sure?", "STOP", "Sure? Stopped."}) {
			t.Errorf("called in the order %q", order)
		}
		if data, ok := g.srv.Last(4).Button("Go on"); !ok {
			t.Errorf("button %q %v", data, ok)
		}
	})
}

// TestUrgentGoesBetweenTheCallsOfAParcel: what takes several calls makes way for a stop that came while
// one of them was under way, and goes on after it from where it was.
func TestUrgentGoesBetweenTheCallsOfAParcel(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		g.srv.User(4, "Ann").Private().Say("hi")
		first, second := strings.Repeat("a", 4000), strings.Repeat("b", 4000)
		m := words(first)
		m.Parts = append(m.Parts, flow.Said{Text: second})
		g.srv.Fail(apitest.Fault{Method: "sendMessage", Kind: apitest.Slow, Pause: 5 * time.Second, Times: 1, Late: true})
		g.box.post(t, 4, m)
		g.ch.Sender().Posted("")
		synctest.Wait()
		time.Sleep(time.Second)
		stop := words("STOP")
		stop.Urgent = true
		g.box.post(t, 4, stop)
		g.ch.Sender().Posted("")
		g.settle(t)
		var order []string
		for _, c := range g.srv.Calls() {
			order = append(order, c.Text()[:1])
		}
		if !slices.Equal(order, []string{"a", "S", "b"}) {
			t.Errorf("called in the order %q", order)
		}
	})
}

func TestRevokedTokenStopsTheSenderAndLosesNothing(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		g := setUp(t)
		g.srv.User(4, "Ann").Private().Say("hi")
		g.srv.Revoke()
		g.box.post(t, 4, words("one"))
		if err := g.ch.Sender().Run(t.Context()); !errors.Is(err, ErrToken) {
			t.Errorf("ended with %v, want ErrToken", err)
		}
		if g.box.left() != 1 {
			t.Error("the parcel is gone")
		}
	})
}

func question(text, slot string, choices ...string) flow.Message {
	m := words(text)
	m.Session, m.Revision, m.Slot = "K7Q2", 3, slot
	for _, c := range choices {
		m.Choices = append(m.Choices, flow.Choice{Choice: strings.ToLower(c), Label: c})
	}
	return m
}

func TestPressedKeyboardShowsTheAnswerAndHasNoButtons(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		ann := g.srv.User(4, "Ann").Private()
		ann.Say("hi")
		g.box.post(t, 4, question("Do its wheels turn?", "q3", "Yes", "No"))
		g.settle(t)
		asked := g.srv.Last(4)
		if data, ok := asked.Button("No"); !ok || data != "1:K7Q2:3:no" {
			t.Fatalf("button carries %q", data)
		}
		press := ann.Press(asked.ID, "No")
		next := question("What ground is it on?", "q4", "Grass")
		next.Handle = press.ID
		next.Settles = []flow.Settle{{Slot: "q3", Text: "Do its wheels turn? No"}}
		for range 2 { // the second time as after a crash between the sends and the mark
			g.box.post(t, 4, next)
			g.settle(t)
		}
		said := g.srv.Said(4)
		if said[0].Text != "Do its wheels turn? No" || len(said[0].Buttons) != 0 || said[0].Edits != 1 {
			t.Errorf("the pressed question shows %+v", said[0])
		}
		if said[1].Text != "What ground is it on?" || len(said[1].Buttons) != 1 {
			t.Errorf("the next question shows %+v", said[1])
		}
		if a, ok := press.Answer(); !ok || a.Text != "" {
			t.Errorf("the press was answered %+v, %v", a, ok)
		}
	})
}

func TestSettlingWhatCannotBeEditedIsNoTrouble(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		g.srv.User(4, "Ann").Private().Say("hi")
		g.box.post(t, 4, question("Sure?", "q1", "Yes"))
		g.settle(t)
		g.srv.Freeze(4, g.srv.Last(4).ID)
		next := words("Then go on.")
		next.Settles = []flow.Settle{{Slot: "q1", Text: "Sure? Yes"}, {Slot: "never-said", Text: "x"}}
		id := g.box.post(t, 4, next)
		g.settle(t)
		if g.box.gaveUp(id) != "" || g.srv.Last(4).Text != "Then go on." {
			t.Errorf("given up %q, last %q", g.box.gaveUp(id), g.srv.Last(4).Text)
		}
	})
}

func TestNoticeIsShownInPlace(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		ann := g.srv.User(4, "Ann").Private()
		ann.Say("hi")
		g.box.post(t, 4, question("Sure?", "q1", "Yes"))
		g.settle(t)
		asked := g.srv.Last(4).ID
		notice := func(text string, press *apitest.Press) {
			n := words(text)
			n.Notice, n.Handle = true, press.ID
			g.box.post(t, 4, n)
			g.settle(t)
		}
		press := ann.Press(asked, "Yes")
		notice("That question has been answered.", press)
		if a, ok := press.Answer(); !ok || a.Text != "That question has been answered." || a.Alert {
			t.Errorf("answered %+v, %v", a, ok)
		}
		press = ann.Press(asked, "Yes")
		notice("That question has been answered already; the one that is open now stands below.", press)
		if a, _ := press.Answer(); !a.Alert {
			t.Error("a longer notice fades before it can be read")
		}
		if n := len(g.srv.Said(4)); n != 1 {
			t.Errorf("%d messages, want only the question", n)
		}
		press = ann.Press(asked, "Yes")
		press.Expire()
		notice("Too late, sorry.", press)
		if got := g.srv.Last(4).Text; got != "Too late, sorry." {
			t.Errorf("a notice to a press that is too old: the chat shows %q", got)
		}
		long := strings.Repeat("word ", 50)
		notice(long, ann.Press(asked, "Yes"))
		if got := g.srv.Last(4).Text; got != strings.TrimSpace(long) {
			t.Errorf("a long notice: the chat shows %q", got)
		}
	})
}

func TestLongTextIsCutBetweenParagraphs(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		g.srv.User(4, "Ann").Private().Say("hi")
		part := strings.Repeat("🚜 pull ", 400)
		m := question(part, "q", "Yes")
		m.Parts = append(m.Parts, flow.Said{Text: part}, flow.Said{Text: "The end."})
		g.box.post(t, 4, m)
		g.settle(t)
		said := g.srv.Said(4)
		if len(said) != 2 || len(said[0].Buttons) != 0 || len(said[1].Buttons) != 1 {
			t.Fatalf("%d messages", len(said))
		}
		if strings.TrimSpace(part) != said[0].Text {
			t.Errorf("the first ends %q", said[0].Text[len(said[0].Text)-40:])
		}
	})
}

func TestAFaultInTheMiddleOfAParcelRepeatsNoPart(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		g.srv.User(4, "Ann").Private().Say("hi")
		first, second := strings.Repeat("a", 4000), strings.Repeat("b", 4000)
		m := words(first)
		m.Parts = append(m.Parts, flow.Said{Text: second})
		g.box.post(t, 4, m)
		g.srv.Wait("the first part", func() bool { return len(g.srv.Said(4)) == 1 })
		g.srv.Fail(apitest.Fault{Kind: apitest.TooMany, Times: 1, RetryAfter: 5 * time.Second})
		g.settle(t)
		if got := texts(g.srv.Said(4)); !slices.Equal(got, []string{first, second}) {
			t.Errorf("%d messages", len(got))
		}
	})
}

func TestWhatCannotBeSentIsKeptApart(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		id := g.box.post(t, 999, words("to nobody"))
		g.box.mu.Lock()
		g.box.next++
		bad := g.box.next
		g.box.parcels = append(g.box.parcels, &due{ID: bad, Chat: ChatKey(4, 0), Body: []byte(`{"v":99}`)})
		g.box.next++
		strange := g.box.next
		g.box.parcels = append(g.box.parcels, &due{ID: strange, Chat: "terminal/here", Body: []byte(`{"v":1}`)})
		g.box.mu.Unlock()
		g.settle(t)
		if why := g.box.gaveUp(id); !strings.Contains(why, "chat not found") {
			t.Errorf("unknown chat: %q", why)
		}
		if why := g.box.gaveUp(bad); !strings.Contains(why, "another release") {
			t.Errorf("unreadable body: %q", why)
		}
		if why := g.box.gaveUp(strange); !strings.Contains(why, "no chat of the channel") {
			t.Errorf("chat of another channel: %q", why)
		}
	})
}

func TestMarkupThatIsRefusedFallsBackToPlainText(t *testing.T) {
	// The channel refuses more than our own checks do ("reply markup is too long" for many long
	// labels, say); a parcel with a label beyond all sense stands for that here.
	w := &work{message: question("Sure?", "q", "Yes")}
	w.say("Sure?")
	if !w.adapt(&trouble{kind: refused, why: "Bad Request: reply markup is too long"}) {
		t.Fatal("given up at once")
	}
	if len(w.steps) != 1 || w.steps[0].markup != nil || w.steps[0].text != "Sure?" {
		t.Errorf("left to do: %+v", w.steps)
	}
	if w.adapt(&trouble{kind: refused, why: "Bad Request: reply markup is too long"}) {
		t.Error("tried for ever")
	}
}

func TestDrainSendsWhatIsDueAndEnds(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		g := setUp(t)
		g.srv.User(4, "Ann").Private().Say("hi")
		for range 8 {
			g.box.post(t, 4, words("one"))
		}
		ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
		defer cancel()
		start := time.Now()
		if err := g.ch.Sender().Drain(ctx); err != nil || g.box.left() != 0 {
			t.Errorf("%v, %d left", err, g.box.left())
		}
		if time.Since(start) > 7*time.Second {
			t.Errorf("took %v", time.Since(start))
		}
		g.srv.Fail(apitest.Fault{Kind: apitest.Hang})
		g.box.post(t, 4, words("two"))
		ctx, cancel = context.WithTimeout(t.Context(), 3*time.Second)
		defer cancel()
		start = time.Now()
		if err := g.ch.Sender().Drain(ctx); err != nil || g.box.left() != 1 {
			t.Errorf("%v, %d left", err, g.box.left())
		}
		if d := time.Since(start); d > 3*time.Second+grace {
			t.Errorf("a call that hangs held the stop for %v", d)
		}
	})
}
