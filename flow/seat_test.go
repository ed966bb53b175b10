package flow_test

import (
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"linetender/flow"
	"linetender/flow/script"
)

// plans are jobs whose crew is to be named, by who has a phone.
var (
	plansLock sync.Mutex
	plans     = map[string]*phonesAt{}
)

// planned brings a job of several phones to where the crew is named: a plain
// plan that is a go, with a holding line, for four people. It is played once; who
// asks gets a copy.
func planned(t testing.TB, phones ...string) *phonesAt {
	t.Helper()
	plansLock.Lock()
	defer plansLock.Unlock()
	key := strings.Join(phones, " ")
	if plans[key] == nil {
		plans[key] = plannedAnew(t, phones...)
	}
	return &phonesAt{phones: plans[key].copied(t, otherEngine())}
}

func plannedAnew(t testing.TB, phones ...string) *phonesAt {
	t.Helper()
	scripts, err := script.Folder(talkDir)
	if err != nil {
		t.Fatal(err)
	}
	p := &phonesAt{phones: newPhones(t)}
	for _, s := range scripts {
		if filepath.Base(s.Name) != "s01-go-two-parts" {
			continue
		}
		for i, st := range s.Steps {
			if st.Input == "Ada, Bo, Cy, Di" {
				break
			}
			p.say("Ada", st.Input)
			if i == 0 {
				for _, who := range phones {
					what := "crew code"
					if who == "Eve" {
						what = "coordinator code"
					}
					p.join("Ada", what, who)
				}
			}
		}
		return p
	}
	t.Fatal("the plain job is gone")
	return nil
}

// phonesAt is phones with what is asked in each.
type phonesAt struct{ *phones }

// tick gives the job a turn of its own after a while, if it wants one by then.
func (p *phonesAt) tick(after time.Duration) map[string][]flow.Message {
	p.t.Helper()
	p.at = p.at.Add(after)
	h := p.head()
	if h.Wake == "" || h.Wake > p.at.UTC().Format(time.RFC3339) {
		return nil
	}
	p.n++
	return p.run(flow.Input{Update: "tick/" + h.Code + "/" + h.Wake, Chat: h.Chat, At: p.at, Tick: h.Code})
}

// head is the summary of the job that was begun first, by its code where two were
// at once.
func (p *phonesAt) head() flow.Head {
	p.t.Helper()
	var first flow.Head
	for _, stream := range slices.Sorted(maps.Keys(p.log.heads)) {
		if !strings.HasPrefix(stream, "job/") {
			continue
		}
		h, err := flow.DecodeHead(p.log.heads[stream])
		if err != nil {
			p.t.Fatal(err)
		}
		if first.Code == "" || h.Began < first.Began {
			first = h
		}
	}
	if first.Code == "" {
		p.t.Fatal("there is no job")
	}
	return first
}

// all joins what was said in a chat.
func text(messages []flow.Message) string {
	var b strings.Builder
	for _, m := range messages {
		if m.Live == "" {
			b.WriteString(m.Text() + "\n")
		}
	}
	return b.String()
}

// board is what stands on the board of a chat.
func board(messages []flow.Message) string {
	out := ""
	for _, m := range messages {
		if m.Live != "" {
			out = m.Text()
		}
	}
	return out
}

// TestEachGetsTheirOwnCard: once the crew is named everyone is offered their
// own part and no other; who has no phone is asked for through the lead, by
// name; whoever watches from afar gets none.
func TestEachGetsTheirOwnCard(t *testing.T) {
	p := planned(t, "Bo", "Cy", "Eve")
	out := p.say("Ada", "Ada, Bo, Cy, Di")
	for who, want := range map[string]string{"Bo": "your part: driver", "Cy": "your part: rigger", "Ada": "your part: leader"} {
		got := text(out["test/"+who])
		if !strings.Contains(got, who+", "+want) {
			t.Errorf("%s is told %q, want %q", who, got, want)
		}
		if who != "Ada" && strings.Count(got, "your part") != 1 {
			t.Errorf("%s is given more than one part: %q", who, got)
		}
		if !strings.Contains(got, "one short horn") || !strings.Contains(got, "Confirms:") {
			t.Errorf("the card of %s has no stop signals or nothing to confirm: %q", who, got)
		}
	}
	if got := text(out["test/Eve"]); strings.Contains(got, "your part") {
		t.Errorf("the coordinator is given a part: %q", got)
	}
	if got := said(p.say("Bo", "[I take it]")["test/Bo"]); !strings.HasPrefix(got, "seat.taken ") {
		t.Errorf("taking it on says %s", got)
	}
	if got := text(p.say("Bo", "/start")["test/Bo"]); !strings.Contains(got, "as Bo. Your part: driver.") {
		t.Errorf("who comes back to a part is told %q", got)
	}
	if got := text(p.say("Ada", "[I take it]")["test/Ada"]); !strings.Contains(got, "Di has no phone here") {
		t.Errorf("the lead is not asked for Di: %q", got)
	}
	if got := text(p.say("Ada", "[I take it]")["test/Ada"]); !strings.Contains(got, "Di takes it on: holding line") {
		t.Errorf("the lead's word for Di says %q", got)
	}
	out = p.say("Cy", "I take it")
	if got := board(out["test/Eve"]); !strings.Contains(got, "Parts taken on: 4 of 4") {
		t.Errorf("the board says %q", got)
	}
	for _, who := range []string{"Ada", "Bo", "Cy"} {
		if got := text(out["test/"+who]); !strings.Contains(got, "card for when there is no signal") || !strings.Contains(got, "held. It never means carry on") {
			t.Errorf("%s gets no card for want of a signal: %q", who, got)
		}
	}
}

// briefed brings a job on to the list: parts taken on, the lead's own questions
// answered. Of the crew of four Di has no phone.
func briefed(t testing.TB, phones ...string) *phonesAt {
	t.Helper()
	p := planned(t, phones...)
	p.say("Ada", "Ada, Bo, Cy, Di")
	for _, who := range phones {
		if who != "Eve" {
			p.say(who, "[I take it]")
		}
	}
	for range 4 - len(phones) {
		p.say("Ada", "[I take it]")
	}
	if len(phones) == 3 && phones[2] == "Eve" {
		p.say("Ada", "[I take it]")
	}
	return p
}

// who is asked what: the question that stands in a chat.
func (p *phonesAt) asked(who string) string { return p.last["test/"+who].Text() }

// answer has everyone answer what they are asked until nobody is asked any
// more, or somebody is asked for what until says.
func (p *phonesAt) answer(until string, people ...string) {
	p.t.Helper()
	for range 80 {
		moved := false
		for _, who := range people {
			if until != "" && strings.Contains(p.asked(who), until) {
				return
			}
			for _, c := range p.last["test/"+who].Choices {
				if c.Label == "yes" && (strings.HasPrefix(c.Choice, "item.") || strings.HasPrefix(c.Choice, "eyes.")) {
					p.say(who, "[yes]")
					moved = true
					break
				}
			}
		}
		if !moved {
			return
		}
	}
	p.t.Fatal("the list never ends")
}
