package flow

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// crewSays is what people with phones do once the crew is named.
var crewSays = []string{
	"yes", "no", "who", "card", "swap", "swap with Bo", "swap with Di", "I am Di", "Bo drives", "Cy is lookout", "Ada is also holder", "Di is rigger",
	"leave", "Bo has no phone", "checks", "change weight 2.5 t weighed", "so far", "hello", "why", "how", "one wheel", "somebody is under it", "plan",
}

// TestCrewProperties plays a random crew with phones. Whatever they do, replay
// gives what was live, nobody has parts that can't be had at once, the list is
// never done while what blocks lacks a second person other than the first, and
// nobody answers for somebody else's phone.
func TestCrewProperties(t *testing.T) {
	Lone(t)
	fewer(t, "15") // a game is long
	begin := planSteps(t)
	done := 0
	base, baseUp := crewBase(t, begin)
	rapid.Check(t, func(r *rapid.T) {
		e, log := testEngine(), shelf{}
		die := 5000 // codes other than those that are taken
		e.Random = func(k int) int { die++; return (die * 7919) % k }
		for stream, entries := range base {
			log[stream] = slices.Clone(entries)
		}
		up := maps.Clone(baseUp)
		at := time.Date(2026, 5, 4, 11, 0, 0, 0, time.UTC)
		n := 0
		run := func(in Input) *turn {
			n++
			in.Update, in.At, in.Direct = fmt.Sprint("p", n), at.Add(time.Duration(n)*20*time.Second), true
			x, out, err := e.work(log, in)
			if err != nil {
				r.Fatalf("turn on %q %v of %s: %v", in.Text, in.Press, in.Chat, err)
			}
			if _, err := log.Commit(out); err != nil {
				r.Fatalf("commit on %q: %v", in.Text, err)
			}
			buttons(out, up)
			return x
		}
		people := []string{"Ada", "Bo", "Cy", "Eve"}
		from := func(who string) Input { return Input{Chat: who, Person: Person{ID: who, Name: who}} }
		say := func(who, text string) *turn {
			in := from(who)
			in.Text = text
			return run(in)
		}
		press := func(who string, m Message, c Choice) *turn {
			in := from(who)
			in.Press = &Press{Session: m.Session, Revision: m.Revision, Choice: c.Choice}
			return run(in)
		}
		x := say("Ada", "Ada, Bo, Cy, Di")
		code := x.s.Code
		calm := rapid.SampledFrom([]int{0, 60, 90, 100, 100}).Draw(r, "calm")
		for range rapid.IntRange(1, 160).Draw(r, "turns") {
			who := rapid.SampledFrom(people).Draw(r, "who")
			kind := rapid.IntRange(0, 9).Draw(r, "kind")
			if rapid.IntRange(0, 99).Draw(r, "now") < calm {
				if kind = 2; len(up[who]) == 0 {
					continue
				}
			}
			switch {
			case kind < 7 && len(up[who]) > 0:
				m := up[who][len(up[who])-1]
				c := m.Choices[0] // people want to get on
				if kind == 0 {
					m = rapid.SampledFrom(up[who]).Draw(r, "message")
					c = rapid.SampledFrom(m.Choices).Draw(r, "button")
				}
				if kind == 1 { // somebody else's button
					who = rapid.SampledFrom(people).Draw(r, "other")
				}
				if c.Choice == "stop" {
					continue
				}
				x = press(who, m, c)
			case kind == 7:
				x = run(Input{Chat: "Ada", Tick: code})
			default:
				x = say(who, rapid.SampledFrom(crewSays).Draw(r, "text"))
			}
			if x.s == nil {
				return
			}
			if x.s.Code == code {
				held(r, x)
			}
		}
		same(r, log, x)
		if x.s.State != Checks && len(x.s.Seconds) > 0 && len(x.openItems()) == 0 {
			done++
		}
	})
	t.Logf("lists that came to their end: %d", done)
}

// fewer plays fewer games than the usual hundred, unless a number was asked for.
func fewer(t *testing.T, games string) {
	t.Helper()
	f := flag.Lookup("rapid.checks")
	if f == nil || f.Value.String() != f.DefValue {
		return
	}
	if err := flag.Set(f.Name, games); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := flag.Set(f.Name, f.DefValue); err != nil {
			t.Error(err)
		}
	})
}

// buttons keeps which are up after a turn.
func buttons(out Turn, up map[string][]Message) {
	for _, p := range out.Outbox {
		m, err := DecodeMessage(p.Body)
		if err == nil && len(m.Choices) > 0 && m.Live == "" && !m.Notice {
			up[p.Chat] = append(up[p.Chat], m)
		}
	}
}

// crewBase is a job of four phones that has come to where the crew is named.
func crewBase(t *testing.T, begin []string) (shelf, map[string][]Message) {
	t.Helper()
	e, log, up := testEngine(), shelf{}, map[string][]Message{}
	at := time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)
	n := 0
	say := func(who, text string) *turn {
		n++
		in := Input{Update: fmt.Sprint(n), At: at.Add(time.Duration(n) * time.Second), Direct: true, Chat: who, Person: Person{ID: who, Name: who}, Text: text}
		if label, ok := strings.CutPrefix(text, "["); ok {
			m := up[who][len(up[who])-1]
			i := slices.IndexFunc(m.Choices, func(c Choice) bool { return c.Label == strings.TrimSuffix(label, "]") })
			in.Text, in.Press = "", &Press{Session: m.Session, Revision: m.Revision, Choice: m.Choices[i].Choice}
		}
		x, out, err := e.work(log, in)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := log.Commit(out); err != nil {
			t.Fatal(err)
		}
		buttons(out, up)
		return x
	}
	for _, step := range begin {
		say("Ada", step)
	}
	for who, what := range map[string]string{"Bo": "crew code", "Cy": "crew code", "Eve": "coordinator code"} {
		for _, reply := range say("Ada", what).mails[0].replies {
			if code, ok := reply.args["Secret"].(string); ok {
				say(who, code)
			}
		}
	}
	return log, up
}

// held holds a job to what may never be.
func held(r *rapid.T, x *turn) {
	if a, b, is := clash(x.s.Seats); is {
		r.Fatalf("%s is %s and %s", a.Name, a.Post.Does, b.Post.Does)
	}
	for _, c := range siteChecks {
		first, second := x.s.Marks[c.path()], x.s.Seconds[c.path()]
		if second.Value != "" && sameName(first.Name, second.Name) {
			r.Fatalf("%s looked twice at %s", first.Name, c.field)
		}
		if x.s.Settled[c.path()] != "" && c.two && !c.fails(x.s.Sheet) && second.Value == "" {
			r.Fatalf("%s is settled by %+v alone", c.field, first)
		}
		for _, m := range []Mark{first, second} {
			by, seat := x.s.member(m.By.ID), x.seatNamed(m.Name)
			if m.Value == "" || by == nil || seat == nil {
				continue
			}
			if by.As == AsCoordinator {
				r.Fatalf("the coordinator answered %s", c.field)
			}
		}
	}
	for _, s := range x.s.Seats {
		if m := x.s.member(s.Member); m != nil && (m.As == AsCoordinator || m.As == AsObserver) {
			r.Fatalf("%s, from afar, is %s", s.Name, s.Post.Does)
		}
	}
}

// planSteps are what a lead says up to where the crew is named.
func planSteps(t *testing.T) []string {
	t.Helper()
	body, err := os.ReadFile("../testdata/talk/s01-go-two-parts.txtar")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, line := range strings.Split(string(body), "\n") {
		step, ok := strings.CutPrefix(line, "> ")
		if step == "Ada, Bo, Cy, Di" {
			return out
		}
		if ok {
			out = append(out, step)
		}
	}
	t.Fatal("the plain job does not name its crew")
	return nil
}
