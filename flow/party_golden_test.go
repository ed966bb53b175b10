package flow_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"linetender/flow"
	"linetender/flow/script"
)

const (
	partyDir = "../testdata/party"
	stepsDir = "testdata/party"
)

// pause is what people take for the next message, so that a channel with its
// limits has said all it had to say. Every channel is played at this pace.
const pause = time.Minute

// line plays one line and returns what was told, until the next.
func (p *phones) line(l script.Line, people []string) script.Line {
	p.t.Helper()
	out := map[string][]flow.Message{}
	got := script.Line{Who: l.Who, Input: l.Input, Wait: l.Wait}
	wait := l.Wait
	if l.Who != "" {
		p.pace, wait = 0, pause
		out = p.say(l.Who, l.Input)
	}
	for chat, m := range p.pass(wait) {
		out[chat] = append(out[chat], m...)
	}
	for _, who := range people {
		var told script.Told
		for _, m := range out["test/"+who] {
			if m.Live != "" {
				continue
			}
			told.Who, told.Urgent = who, told.Urgent || m.Urgent
			told.Said = append(told.Said, m.Parts...)
			told.Label = nil
			for _, c := range m.Choices {
				told.Label = append(told.Label, c.Label)
			}
		}
		if told.Who != "" {
			got.Told = append(got.Told, told)
		}
	}
	return got
}

// pass lets time pass. Every job gets its turn at the moment it waited for.
func (p *phones) pass(d time.Duration) map[string][]flow.Message {
	p.t.Helper()
	all := map[string][]flow.Message{}
	end := p.at.Add(d)
	for range 50 {
		var due flow.Head
		at := end
		for stream, body := range p.log.heads {
			if !strings.HasPrefix(stream, "job/") {
				continue
			}
			h, err := flow.DecodeHead(body)
			if err != nil {
				p.t.Fatalf("head of %s: %v", stream, err)
			}
			if wake, err := time.Parse(time.RFC3339, h.Wake); err == nil && wake.Before(at) {
				due, at = h, wake
			}
		}
		if due.Code == "" {
			p.at = end
			return all
		}
		if at.After(p.at) {
			p.at = at
		}
		in := p.input("")
		in.Chat, in.Person, in.Tick = due.Chat, flow.Person{}, due.Code
		for chat, m := range p.run(in) {
			all[chat] = append(all[chat], m...)
		}
	}
	p.t.Fatal("a job waits for a moment that is past again and again")
	return nil
}

// A crowd composes a conversation of several people from steps:
//
//	# what the conversation protects
//	answers NAME            the lead answers from testdata/answers/NAME.txt up to the verdict
//	join WHAT WHO           the lead gets a code for a WHAT, and WHO sends it
//	WHO> words              WHO says or [presses]
//	all                     everyone presses what agrees, and the lead answers, until nobody is asked anything new
//	all but WHO             the same, WHO answers nothing
//	~ 3m                    time passes
type crowd struct {
	*phones
	people  []string
	answers *answers
	asked   map[string]string // last key said in a chat
	done    map[string]bool   // presses made, by chat, revision and choice
	got     script.Party
}

// agrees are the labels that somebody who does what was asked would press.
var agrees = []string{"I take it", "yes", "good", "I stand still"}

func (c *crowd) play(l script.Line) {
	c.t.Helper()
	if l.Who != "" && !slices.Contains(c.people, l.Who) {
		c.people = append(c.people, l.Who)
	}
	got := c.line(l, c.people)
	for _, told := range got.Told {
		if n := len(told.Said); n > 0 {
			c.asked[told.Who] = told.Said[n-1].Key
		}
	}
	c.got.Lines = append(c.got.Lines, got)
}

func (c *crowd) says(who, what string) { c.t.Helper(); c.play(script.Line{Who: who, Input: what}) }

// answer lets the lead answer what stands there, if there is an answer left.
func (c *crowd) answer(who, until string) bool {
	c.t.Helper()
	key := c.asked[who]
	if c.answers == nil || key == "" || key == until {
		return false
	}
	said, ok := c.answers.next(flow.Said{Key: key, Text: c.last["test/"+who].Text()})
	if !ok || key == "ask.check" {
		return false
	}
	c.asked[who] = ""
	c.says(who, said)
	return true
}

// agree lets somebody press what agrees, once for each asking.
func (c *crowd) agree(who string) bool {
	c.t.Helper()
	m := c.last["test/"+who]
	for _, label := range agrees {
		for _, o := range m.Choices {
			id := who + "/" + m.Slot + "/" + o.Choice
			if o.Label == label && !c.done[id] {
				c.done[id] = true
				c.says(who, "["+label+"]")
				return true
			}
		}
	}
	return false
}

func (c *crowd) all(but string) {
	c.t.Helper()
	for range 400 {
		moved := false
		for _, who := range slices.Clone(c.people) {
			moved = who != but && (c.agree(who) || who == c.people[0] && c.answer(who, "ask.verdict")) || moved
		}
		if !moved {
			return
		}
	}
	c.t.Fatal("everybody agrees and it has no end")
}

// composeParty plays the steps of a file.
func composeParty(t *testing.T, path string) script.Party {
	t.Helper()
	body, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	c := &crowd{phones: newPhones(t), asked: map[string]string{}, done: map[string]bool{}}
	var about []string
	for _, step := range strings.Split(string(body), "\n") {
		word, rest, _ := strings.Cut(step, " ")
		switch {
		case strings.TrimSpace(step) == "":
		case word == "#":
			about = append(about, rest)
		case word == "answers":
			c.answers = readAnswers(t, filepath.Join(answersDir, rest+".txt"))
			c.says("Ada", "/start")
			for c.answer("Ada", "ask.verdict") {
			}
		case word == "join":
			what, who, _ := strings.Cut(rest, " ")
			c.says(c.people[0], what+" code")
			c.says(who, c.code())
		case word == "all":
			c.all(strings.TrimPrefix(rest, "but "))
		case word == "~":
			d, err := time.ParseDuration(rest)
			if err != nil {
				t.Fatal(err)
			}
			c.play(script.Line{Wait: d})
		case strings.HasSuffix(word, ">"):
			c.says(strings.TrimSuffix(word, ">"), rest)
		default:
			t.Fatalf("%s: %q is no step", path, step)
		}
	}
	c.got.About = strings.Join(about, "\n")
	return c.got
}

// code finds the code in what was told last.
func (c *crowd) code() string {
	c.t.Helper()
	for _, told := range c.got.Lines[len(c.got.Lines)-1].Told {
		for _, s := range told.Said {
			for _, word := range strings.Fields(s.Text) {
				if word = strings.Trim(word, ".,"); strings.Count(word, "-") == 4 {
					return word
				}
			}
		}
	}
	c.t.Fatal("nobody was told a code")
	return ""
}

// TestPartyConversations holds what several people are told in one job to what
// it was. With -update the conversations are composed anew from their steps.
func TestPartyConversations(t *testing.T) {
	if flow.Raced {
		t.Skip("one goroutine: nothing for the race detector")
	}
	files, err := filepath.Glob(filepath.Join(stepsDir, "*.txt"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no steps in %s: %v", stepsDir, err)
	}
	for _, f := range files {
		name := strings.TrimSuffix(filepath.Base(f), ".txt")
		golden := filepath.Join(partyDir, name+".txtar")
		t.Run(name, func(t *testing.T) {
			if flow.Rewrite() {
				if err := os.WriteFile(golden, composeParty(t, f).Format(), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			body, err := os.ReadFile(golden)
			if err != nil {
				t.Fatalf("%s has no conversation: %v", f, err)
			}
			want, err := script.ParseParty(body)
			if err != nil {
				t.Fatal(err)
			}
			p := newPhones(t)
			got := script.Party{About: want.About}
			for _, l := range want.Lines {
				got.Lines = append(got.Lines, p.line(l, want.People()))
			}
			if d := cmp.Diff(string(want.Format()), string(got.Format())); d != "" {
				t.Errorf("the conversation went another way (-kept +now):\n%s", d)
			}
		})
	}
}
