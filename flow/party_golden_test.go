package flow_test

import (
	"os"
	"path/filepath"
	"slices"
	"strconv"
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

// newStage is where several people talk without a channel.
func newStage() *script.Stage {
	return &script.Stage{
		Engine: newEngine(), Log: newMemory(), At: time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC), Offset: "+02:00", Scheme: "test/",
	}
}

// stageFor is the stage for the steps of a file.
func stageFor(steps string) *script.Stage {
	s := newStage()
	if filepath.Base(steps) == "demo.txt" {
		s.Pace = script.DemoPace
	}
	return s
}

// A crowd composes a conversation of several people from steps:
//
//	# what the conversation protects
//	answers NAME            the lead answers from testdata/answers/NAME.txt up to the verdict; ./NAME is beside the steps
//	join WHAT WHO           the lead gets a code for a WHAT, and WHO sends it
//	WHO> words              WHO says or [presses]
//	all                     everyone presses what agrees, and the lead answers, until nobody is asked anything new
//	all but WHO             the same, WHO answers nothing
//	lead WHO                WHO leads from here on
//	on N                    N times: all, and then the lead presses what takes the pull on
//	~ 3m                    time passes
type crowd struct {
	*script.Stage
	t       *testing.T
	people  []string
	lead    string
	answers *answers
	asked   map[string]string // last key said in a chat
	done    map[string]bool   // presses made, by chat, revision and choice
	got     script.Party
}

// agrees are the labels that somebody who does what was asked would press.
var agrees = []string{"I take it", "as before", "yes, all of them", "yes", "so it is", "nothing wrong", "I stand still", "it stands"}

func (c *crowd) play(l script.Line) {
	c.t.Helper()
	if c.lead == "" {
		c.lead = l.Who // who begins it
	}
	if l.Who != "" && !slices.Contains(c.people, l.Who) {
		c.people = append(c.people, l.Who)
	}
	out, err := c.Line(l)
	if err != nil {
		c.t.Fatal(err)
	}
	got := l
	got.Told = c.Tell(out, c.people)
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
	said, ok := c.answers.next(flow.Said{Key: key, Text: c.Last(who).Text()})
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
	m := c.Last(who)
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
			moved = who != but && (c.agree(who) || who == c.lead && c.answer(who, "ask.verdict")) || moved
		}
		if !moved {
			return
		}
	}
	c.t.Fatal("everybody agrees and it has no end")
}

// ahead are the beginnings of the labels that take the pull on.
var ahead = []string{"tighten again", "release ", "slack is out", "tension is on", "HELD", "it did not move", "line is slack", "gear is off"}

// on takes the pull one step on.
func (c *crowd) on() {
	c.t.Helper()
	c.all("")
	lead := c.lead
	for _, start := range ahead {
		for _, o := range c.Last(lead).Choices {
			if strings.HasPrefix(o.Label, start) {
				c.says(lead, "["+o.Label+"]")
				return
			}
		}
	}
	c.t.Fatalf("%s has no button that takes the pull on under %q", lead, c.Last(lead).Text())
}

// composeParty plays the steps of a file.
func composeParty(t *testing.T, path string) script.Party {
	t.Helper()
	body, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	c := &crowd{Stage: stageFor(path), t: t, asked: map[string]string{}, done: map[string]bool{}}
	var about []string
	for _, step := range strings.Split(string(body), "\n") {
		word, rest, _ := strings.Cut(step, " ")
		switch {
		case strings.TrimSpace(step) == "":
		case word == "#":
			about = append(about, rest)
		case word == "answers":
			path := filepath.Join(answersDir, rest+".txt")
			if own, ok := strings.CutPrefix(rest, "./"); ok {
				path = filepath.Join(stepsDir, own)
			}
			c.answers = readAnswers(t, path)
			if c.lead == "" {
				c.says("Ada", "/start")
			}
			for c.answer(c.lead, "ask.verdict") {
			}
		case word == "join":
			what, who, _ := strings.Cut(rest, " ")
			c.says(c.lead, what+" code")
			c.says(who, c.code())
		case word == "lead":
			c.lead = rest
		case word == "all":
			c.all(strings.TrimPrefix(rest, "but "))
		case word == "on":
			n, err := strconv.Atoi(rest)
			if err != nil {
				t.Fatal(err)
			}
			for range n {
				c.on()
			}
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
	flow.Lone(t)
	t.Parallel()
	files, err := filepath.Glob(filepath.Join(stepsDir, "*.txt"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no steps in %s: %v", stepsDir, err)
	}
	for _, f := range files {
		name := strings.TrimSuffix(filepath.Base(f), ".txt")
		golden := filepath.Join(partyDir, name+".txtar")
		if name == "demo" {
			golden = "../cmd/linetender/demo.txtar" // what the program plays to who wants to try it
		}
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
			stage := stageFor(f)
			got := script.Party{About: want.About}
			for _, l := range want.Lines {
				out, err := stage.Line(l)
				if err != nil {
					t.Fatal(err)
				}
				l.Told = stage.Tell(out, want.People())
				got.Lines = append(got.Lines, l)
			}
			if d := cmp.Diff(string(want.Format()), string(got.Format())); d != "" {
				t.Errorf("the conversation went another way (-kept +now):\n%s", d)
			}
		})
	}
}
