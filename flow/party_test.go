package flow_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// phones is several people in one job, each with a chat of their own.
type phones struct {
	t      testing.TB
	log    *memory
	engine *flow.Engine
	at     time.Time
	n      int
	last   map[string]flow.Message // with buttons, by chat
}

func newPhones(t testing.TB) *phones {
	return &phones{t: t, log: newMemory(), engine: newEngine(), at: time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC), last: map[string]flow.Message{}}
}

// copied is all of it as it stands, apart from what it was copied from.
func (p *phones) copied(t testing.TB, engine *flow.Engine) *phones {
	log := newMemory()
	p.log.mu.Lock()
	defer p.log.mu.Unlock()
	for s, list := range p.log.streams {
		log.streams[s] = slices.Clone(list)
	}
	maps.Copy(log.heads, p.log.heads)
	maps.Copy(log.done, p.log.done)
	return &phones{t: t, log: log, engine: flow.Copied(engine, p.engine, p.log, log), at: p.at, n: p.n, last: maps.Clone(p.last)}
}

// input makes the next input of a person, whose chat is called after them.
func (p *phones) input(who string) flow.Input {
	p.n++
	p.at = p.at.Add(20 * time.Second)
	return flow.Input{
		Update: fmt.Sprintf("test/%d", p.n), Chat: "test/" + who, Person: flow.Person{ID: "test/" + who, Name: who}, At: p.at, Offset: "+02:00", Direct: true,
	}
}

// run gives the input its turn and returns what was said in each chat.
func (p *phones) run(in flow.Input) map[string][]flow.Message {
	p.t.Helper()
	turn, err := p.engine.Turn(p.log, in)
	if err != nil {
		p.t.Fatalf("turn on %q of %s: %v", in.Text, in.Chat, err)
	}
	if _, err := p.log.Commit(turn); err != nil {
		p.t.Fatalf("commit on %q of %s: %v", in.Text, in.Chat, err)
	}
	out := map[string][]flow.Message{}
	for _, parcel := range turn.Outbox {
		m, err := flow.DecodeMessage(parcel.Body)
		if err != nil {
			p.t.Fatal(err)
		}
		out[parcel.Chat] = append(out[parcel.Chat], m)
		if !m.Notice && m.Live == "" && (len(m.Choices) > 0 || parcel.Chat == in.Chat) {
			p.last[parcel.Chat] = m
		}
	}
	return out
}

func (p *phones) say(who, text string) map[string][]flow.Message {
	p.t.Helper()
	in := p.input(who)
	if label, ok := strings.CutPrefix(text, "["); ok {
		label = strings.TrimSuffix(label, "]")
		for _, c := range p.last[in.Chat].Choices {
			if c.Label == label {
				m := p.last[in.Chat]
				in.Press = &flow.Press{Session: m.Session, Revision: m.Revision, Choice: c.Choice}
				return p.run(in)
			}
		}
		p.t.Fatalf("%s has no button %q under %q", who, label, p.last[in.Chat].Text())
	}
	in.Text = text
	return p.run(in)
}

// said lists what was said in a chat, by key.
func said(messages []flow.Message) string { return strings.Join(keys(messages), " ") }

// join makes somebody send a code that the lead has asked for.
func (p *phones) join(lead, what, who string) map[string][]flow.Message {
	p.t.Helper()
	for _, word := range strings.Fields(p.say(lead, what)["test/"+lead][0].Text()) {
		if strings.Count(word, "-") == 4 {
			return p.say(who, strings.Trim(word, ".,"))
		}
	}
	p.t.Fatalf("%q brings no code", what)
	return nil
}

// TestStopReachesEveryPhone: everybody is told first and ahead of all else, and
// only the lead lets the job go on, once everybody stands.
func TestStopReachesEveryPhone(t *testing.T) {
	p := newPhones(t)
	p.say("Ada", "/start")
	p.join("Ada", "crew code", "Bo")
	p.join("Ada", "crew code", "Cy")
	p.join("Ada", "coordinator code", "Eve")
	p.say("Ada", "none")
	out := p.say("Bo", "StOp!!")
	for _, who := range []string{"Ada", "Bo", "Cy", "Eve"} {
		first := out["test/"+who][0]
		if !first.Urgent || first.Parts[0].Key != "stop.called" {
			t.Errorf("%s is told %s first, urgent %v", who, said(out["test/"+who]), first.Urgent)
		}
	}
	if got := said(p.say("Cy", "go on")["test/Cy"]); strings.Contains(got, "stop.over") {
		t.Errorf("crew let the job go on: %s", got)
	}
	if got := said(p.say("Ada", "a dog ran in")["test/Ada"]); !strings.HasPrefix(got, "stop.waits") {
		t.Errorf("while Cy has not answered the lead gets %s", got)
	}
	if got := said(p.say("Cy", "[I stand still]")["test/Ada"]); !strings.Contains(got, "stop.over") {
		t.Errorf("once everybody stands the lead gets %s", got)
	}
}

// TestLeftInAStop: a job that is left in the middle of a stop is stopped when
// it is taken up again, and the reason of one stop does not end another.
func TestLeftInAStop(t *testing.T) {
	p := newPhones(t)
	p.say("Ada", "/start")
	p.join("Ada", "crew code", "Bo")
	p.join("Ada", "crew code", "Cy")
	p.say("Bo", "stop")
	p.say("Ada", "a dog") // Cy has not answered
	p.say("Ada", "leave")
	if got := said(p.say("Ada", "go on")["test/Ada"]); !strings.HasPrefix(got, "stop.waits stop.held ") { // the dog is read back
		t.Errorf("taken up again the lead is told %s", got)
	}
	p.say("Ada", "leave")
	p.say("Bo", "stop")
	if got := said(p.say("Cy", "[I stand still]")["test/Ada"]); strings.Contains(got, "stop.over") {
		t.Errorf("the reason of an earlier stop ends another: %s", got)
	}
}

// TestWordsFromBeforeAStop: what was sent before a stop and has its turn after
// it is no reason to go on.
func TestWordsFromBeforeAStop(t *testing.T) {
	p := newPhones(t)
	p.say("Ada", "/start")
	p.join("Ada", "crew code", "Bo")
	early := p.input("Ada")
	early.Text = "all good here"
	p.say("Bo", "stop")
	if got := said(p.run(early)["test/Ada"]); !strings.Contains(got, "stop.before") || strings.Contains(got, "stop.over") {
		t.Errorf("words from before the stop lead to %s", got)
	}
	if got := said(p.say("Ada", "a dog ran in, it is gone")["test/Ada"]); !strings.Contains(got, "stop.over") {
		t.Errorf("the reason leads to %s", got)
	}
}
