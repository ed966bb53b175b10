package flow_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/flow"
)

// reckoned remembers plans: a test of the pull asks for few, and often.
var reckoned sync.Map

func reckon(c job.Case) calc.Plan {
	key, err := json.Marshal(c)
	if err != nil {
		return calc.Reckon(c)
	}
	if p, ok := reckoned.Load(string(key)); ok {
		return p.(calc.Plan)
	}
	p := calc.Reckon(c)
	reckoned.Store(string(key), p)
	return p
}

// puller plays a crew through the pull.
type puller struct {
	*phonesAt
	crew []string
	code string
	was  *flow.Session // the job after so many entries
	read *flow.Session // the job as it was last replayed
}

// head is the summary of the job that is pulled, whatever others begin.
func (p *puller) head() flow.Head {
	p.t.Helper()
	if p.code == "" {
		p.code = p.phonesAt.head().Code
	}
	h, err := flow.DecodeHead(p.log.heads["job/"+p.code])
	if err != nil {
		p.t.Fatal(err)
	}
	return h
}

// tick gives the job a turn of its own after a while, if it wants one by then.
func (p *puller) tick(after time.Duration) map[string][]flow.Message {
	p.t.Helper()
	p.at = p.at.Add(after)
	h := p.head()
	if h.Wake == "" || h.Wake > p.at.UTC().Format(time.RFC3339) {
		return nil
	}
	p.n++
	return p.run(flow.Input{Update: "tick/" + h.Code + "/" + h.Wake, Chat: h.Chat, At: p.at, Tick: h.Code})
}

// ready are jobs that stand where the pull can begin, by who has a phone.
var (
	readyLock sync.Mutex
	ready     = map[string]*puller{}
)

// readyToPull returns a job of Ada who leads, Bo who drives, Cy who rigs and Di
// who holds, those named with phones; Eve coordinates. The plan is a go, signed
// and looked at.
func readyToPull(t testing.TB, crew ...string) *puller {
	t.Helper()
	readyLock.Lock()
	defer readyLock.Unlock()
	key := strings.Join(crew, " ")
	if ready[key] == nil {
		p := &puller{phonesAt: planned(t, crew...), crew: append([]string{"Ada"}, crew...)}
		p.say("Ada", "Ada, Bo, Cy, Di")
		p.until("choice begin_pull", func() bool { return p.has("Ada", "begin_pull") })
		ready[key] = p
	}
	was := ready[key]
	return &puller{crew: was.crew, code: was.head().Code, phonesAt: &phonesAt{phones: was.phones.copied(t, otherEngine())}}
}

// otherEngine is one that calls its jobs otherwise than the one that played them.
func otherEngine() *flow.Engine {
	engine := newEngine()
	dice := 0
	engine.Random = func(n int) int { dice += 7919; return dice % n }
	return engine
}

// has reports whether the last buttons of a chat have one whose choice begins so.
func (p *puller) has(who, choice string) bool { return p.choice(who, choice) != "" }

func (p *puller) choice(who, begins string) string {
	for _, c := range p.last["test/"+who].Choices {
		if c.Choice == begins || strings.HasPrefix(c.Choice, begins+".") || begins == "yes" && strings.Contains(c.Choice, ".yes.") || strings.HasSuffix(begins, "*") && strings.HasPrefix(c.Choice, strings.TrimSuffix(begins, "*")) {
			return c.Choice
		}
	}
	return ""
}

// press presses the button whose choice begins so.
func (p *puller) press(who, begins string) map[string][]flow.Message {
	p.t.Helper()
	choice := p.choice(who, begins)
	if choice == "" {
		p.t.Fatalf("%s has no button %s under %q: %v", who, begins, p.last["test/"+who].Text(), p.last["test/"+who].Choices)
	}
	return p.pressed(who, choice)
}

// pressed presses a button by its choice, whether or not it is up.
func (p *puller) pressed(who, choice string) map[string][]flow.Message {
	p.t.Helper()
	m := p.last["test/"+who]
	in := p.input(who)
	in.Press = &flow.Press{Session: p.head().Code, Revision: m.Revision, Choice: p.ofStop(choice)}
	return p.run(in)
}

// ofStop puts to the choice of a button of a stop which stop it is for, where it
// does not say so.
func (p *puller) ofStop(choice string) string {
	of, cause := strings.CutPrefix(choice, "stop_cause.")
	stops := p.job().Stops
	if len(stops) == 0 || strings.Contains(of, ".") || !cause && !slices.Contains([]string{"still", "all_still", "drill_ok", "drill_again"}, choice) {
		return choice
	}
	last := stops[len(stops)-1]
	return fmt.Sprintf("%s.%d-%d", choice, last.Number, last.Calls)
}

// willing has everybody do what they are asked, once, and reports whether
// anybody was asked anything.
func (p *puller) willing() bool {
	did := false
	for _, who := range p.crew {
		if p.does(who) {
			did = true
		}
	}
	return did
}

var signs = map[string]string{"ask.sign_name": "Eve Holm", "ask.sign_second": "Di", "ask.sign_reason": "idle only, marked on the pedal", "ask.second_look": "Bo"}

func (p *puller) does(who string) bool {
	p.t.Helper()
	m := p.last["test/"+who]
	if n := len(m.Parts); n > 0 {
		for _, part := range m.Parts {
			if text := signs[part.Key]; text != "" {
				if part.Key == "ask.second_look" && p.has(who, "looked") {
					break
				}
				delete(p.last, "test/"+who)
				p.say(who, text)
				return true
			}
		}
	}
	for _, c := range []string{"take", "as_before", "sure", "still", "nothing_wrong", "mark_stands", "yes", "word", "good", "flat", "checks"} {
		if c == "checks" && p.has(who, "begin_pull") {
			continue
		}
		if choice := p.choice(who, c); choice != "" {
			delete(p.last, "test/"+who)
			in := p.input(who)
			in.Press = &flow.Press{Session: m.Session, Revision: m.Revision, Choice: choice}
			p.run(in)
			return true
		}
	}
	return false
}

// until has everybody do what they are asked until something is so.
func (p *puller) until(what string, is func() bool) {
	p.t.Helper()
	for range 200 {
		if is() {
			return
		}
		if !p.willing() {
			break
		}
	}
	if !is() {
		for _, who := range p.crew {
			p.t.Logf("%s is asked %q %v", who, p.last["test/"+who].Text(), p.last["test/"+who].Choices)
		}
		p.t.Fatalf("it never came to %s", what)
	}
}

// job is the job as it stands.
func (p *puller) job() *flow.Session {
	p.t.Helper()
	h := p.head()
	if p.was != nil && p.was.Last == h.N {
		return p.was
	}
	s, err := flow.Recall(p.engine, p.log, h.Code)
	if err != nil {
		p.t.Fatal(err)
	}
	p.was = s
	return s
}

func (p *puller) stage() flow.Stage { return p.job().Stage }

// confirm has everybody confirm what the hold waits for until the lead can
// release it.
func (p *puller) confirm() {
	p.t.Helper()
	p.until("release", func() bool {
		if p.stage() == flow.LightTension && !p.has("Ada", "release") {
			p.tick(time.Minute + time.Second)
		}
		return p.has("Ada", "release") || p.has("Ada", "rerig")
	})
}

// drill goes through the stop drill.
func (p *puller) drill() {
	p.t.Helper()
	p.press("Ada", "begin_pull")
	if len(p.crew) == 1 {
		p.press("Ada", "drill_ok")
		return
	}
	p.press("Ada", "drill")
	p.say(p.crew[len(p.crew)-1], "stop")
	for _, who := range p.crew {
		if p.has(who, "still") {
			p.press(who, "still")
		}
	}
	p.press("Ada", "drill_ok")
}

// to takes the pull to a stage by the straight way.
func (p *puller) to(stage flow.Stage) {
	p.t.Helper()
	if p.stage() == flow.NotBegun && stage != flow.NotBegun {
		if stage == flow.StopDrill {
			p.press("Ada", "begin_pull")
			return
		}
		p.drill()
	}
	for range 40 {
		at := p.stage()
		if at == stage {
			return
		}
		switch {
		case at.Holds():
			p.confirm()
			switch {
			case at == flow.Held && stage == flow.Crest:
				p.press("Ada", "crest")
			case at == flow.Held && (stage == flow.Proving || stage == flow.HoldProved || stage == flow.LineSlack || stage == flow.Rerig):
				p.press("Ada", "rerig")
			case at == flow.Held && stage != flow.Bite:
				if p.press("Ada", "secure"); p.stage() != flow.Securing {
					p.press("Ada", "secure_sure")
				}
			default:
				p.press("Ada", "release")
			}
		case at == flow.Rerig || at == flow.Unrig:
			p.press("Ada", "done_*")
		default:
			p.press("Ada", "stands_*")
		}
	}
	p.t.Fatalf("the pull never came to %s, it stands at %s", stage, p.stage())
}

// TestPullByThePhones: four people and a coordinator take a load up, through
// every hold, and close the job with a line for the next crew.
func TestPullByThePhones(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	for _, stage := range []flow.Stage{flow.AllPlaced, flow.SlackOut, flow.SlackIsOut, flow.Tightening, flow.LightTension, flow.FirstMove, flow.Held, flow.Bite} {
		p.to(stage)
	}
	p.press("Ada", "stands_*")
	p.say("Cy", "took in 4 m, moved 1.9 m")
	p.to(flow.Crest)
	p.press("Ada", "stands_*")
	for _, stage := range []flow.Stage{flow.Proving, flow.HoldProved, flow.LineSlack, flow.Rerig} {
		p.to(stage)
	}
	p.press("Ada", "done_*")
	p.until("placed again", func() bool { return p.stage() == flow.AllPlaced && p.has("Ada", "release") })
	p.to(flow.FirstMove)
	p.press("Ada", "stands_*")
	for _, stage := range []flow.Stage{flow.Securing, flow.SlackOff, flow.SlackIsOff, flow.Unrig, flow.GearCheck} {
		p.to(stage)
	}
	p.confirm()
	p.press("Ada", "release")
	s := p.job()
	if s.State != flow.Debrief || s.Stage != flow.PullOver {
		t.Fatalf("after the gear check the job stands at %s, %s", s.State, s.Stage)
	}
	if len(s.Bites) != 4 || s.Rerigs != 1 || s.Bites[1].Moved != "1.9 m" {
		t.Errorf("the bites are %+v with %d re-rigs", s.Bites, s.Rerigs)
	}
	p.say("Bo", "a dog nearly got under the line")
	p.press("Ada", "debrief.there")
	p.say("Ada", "on the lane, chocked both ways, in gear")
	for range 6 {
		p.press("Ada", "debrief")
	}
	p.say("Ada", "bring a second chock for the crest")
	p.engine.Pictures = true
	out := p.press("Ada", "debrief.close")
	if p.job().State != flow.Closed || p.head().Lesson != "bring a second chock for the crest" {
		t.Errorf("closed it stands at %s with the lesson %q", p.job().State, p.head().Lesson)
	}
	if last := out["test/Ada"]; !slices.ContainsFunc(last, func(m flow.Message) bool { return len(m.Shows) == 2 }) {
		t.Errorf("report and card are not shown: %+v", last)
	}
	if n := p.job().Near; len(n) != 1 || n[0].By.Name != "Bo" {
		t.Errorf("near misses are %+v", n)
	}
}
