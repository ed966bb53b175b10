package flow_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"linetender/flow"
	"linetender/flow/script"
	"linetender/flow/wording"
)

const talkDir = "../testdata/talk"

// chair is one person at one chat, with a log of their own.
type chair struct {
	t      testing.TB
	log    *memory
	engine *flow.Engine
	chat   string
	who    flow.Person
	at     time.Time
	n      int
	last   flow.Message // with buttons
	mode   func(*flow.Input)
}

func newChair(t testing.TB) *chair {
	return &chair{
		t: t, log: newMemory(), chat: "test/1", who: flow.Person{ID: "1", Name: "Ada"},
		engine: newEngine(), at: time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC),
	}
}

// english is read once: it says the same to every engine.
var english = sync.OnceValue(wording.English)

func newEngine() *flow.Engine {
	return &flow.Engine{Reckon: reckon, Words: english(), Random: script.Dice(), Anyone: true}
}

// input makes the next input of the chair.
func (c *chair) input() flow.Input {
	c.n++
	c.at = c.at.Add(time.Minute)
	in := flow.Input{Update: fmt.Sprintf("test/%d", c.n), Chat: c.chat, Person: c.who, At: c.at, Offset: "+02:00", Direct: true}
	if c.mode != nil {
		c.mode(&in)
	}
	return in
}

func (c *chair) run(in flow.Input) []flow.Message {
	c.t.Helper()
	turn, err := c.engine.Turn(c.log, in)
	if err != nil {
		c.t.Fatalf("turn on %q: %v", in.Text, err)
	}
	if _, err := c.log.Commit(turn); err != nil {
		c.t.Fatalf("commit on %q: %v", in.Text, err)
	}
	sent := c.log.sent()
	if len(sent) > 0 && !sent[len(sent)-1].Notice {
		c.last = sent[len(sent)-1]
	}
	return sent
}

func (c *chair) say(text string) []flow.Message {
	c.t.Helper()
	in := c.input()
	in.Text = text
	return c.run(in)
}

// press presses the button with a label under the last message.
func (c *chair) press(label string) []flow.Message {
	c.t.Helper()
	for _, o := range c.last.Choices {
		if o.Label == label {
			in := c.input()
			in.Press = &flow.Press{Session: c.last.Session, Revision: c.last.Revision, Choice: o.Choice}
			return c.run(in)
		}
	}
	c.t.Fatalf("there is no button %q under %q", label, c.last.Text())
	return nil
}

// play runs a script and returns what really was answered.
func play(t testing.TB, s script.Script) (script.Script, *chair) {
	t.Helper()
	c := newChair(t)
	got := s
	got.Steps = nil
	for _, st := range s.Steps {
		var sent []flow.Message
		if label, ok := st.Press(); ok {
			sent = c.press(label)
		} else {
			sent = c.say(st.Input)
		}
		got.Steps = append(got.Steps, stepOf(st.Input, sent))
	}
	if s.Log != "" {
		got.Log = logOf(t, c.log)
	}
	return got, c
}

// logOf writes the jobs of a log down, one line an entry.
func logOf(t testing.TB, m *memory) string {
	t.Helper()
	var b strings.Builder
	for stream, entries := range m.streams {
		if !strings.HasPrefix(stream, "job/") {
			continue
		}
		for i, body := range entries {
			e, err := flow.DecodeEntry(body)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(&b, "%d %s %q", i+1, e.Who.Name, e.Heard.Text+e.Heard.Press+e.Heard.Other)
			for _, a := range e.Acts {
				fmt.Fprintf(&b, " | %s", strings.Join(strings.Fields(fmt.Sprint(a.Do, " ", a.Event, " ", a.Topic, " ", a.Path, " ", a.Value, " ", a.How)), " "))
			}
			fmt.Fprintf(&b, " => %s %s", e.State, e.Topic)
			if e.Decided != nil {
				fmt.Fprintf(&b, " (%s)", e.Decided.Decision)
			}
			b.WriteString("\n")
		}
	}
	return b.String()
}

func TestGoldenConversations(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	scripts, err := script.Folder(talkDir)
	if err != nil {
		t.Fatal(err)
	}
	stood := map[flow.State]bool{}
	for _, s := range scripts {
		t.Run(s.Name, func(t *testing.T) {
			got, c := play(t, s)
			for stream, entries := range c.log.streams {
				for _, body := range entries {
					if e, err := flow.DecodeEntry(body); err == nil && strings.HasPrefix(stream, "job/") {
						stood[e.State] = true
					}
				}
			}
			if flow.Rewrite() {
				if err := os.WriteFile(filepath.Join(talkDir, s.Name+".txtar"), got.Format(), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if d := cmp.Diff(string(s.Format()), string(got.Format())); d != "" {
				t.Errorf("the conversation went another way (-kept +now):\n%s", d)
			}
		})
	}
	for _, m := range flow.Moves() {
		if !stood[m.To] {
			t.Errorf("no golden conversation stands at %s", m.To)
		}
	}
}

// A share that comes to nothing is said as that, and no figure of nought with it.
func TestNoShareOfNought(t *testing.T) {
	for _, folder := range []string{"talk", "party"} {
		files, err := filepath.Glob("../testdata/" + folder + "/*.txtar")
		if err != nil || len(files) == 0 {
			t.Fatal("no goldens", err)
		}
		for _, f := range files {
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			if m := regexp.MustCompile(`(?m)^< .*[^\d.,]0 %.*$`).Find(text); m != nil {
				t.Errorf("%s: %s", f, m)
			}
		}
	}
}
