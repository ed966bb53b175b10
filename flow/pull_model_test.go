package flow_test

import (
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"linetender/flow"
)

// copied is a job as it stands, apart from the one it was copied from.
func (p *puller) copied(t testing.TB) *puller {
	return &puller{crew: p.crew, code: p.head().Code, phonesAt: &phonesAt{phones: p.phones.copied(t, p.engine)}}
}

// stages are the stages of a pull in the order in which alongTheWay meets them.
var alongTheWay = []flow.Stage{
	flow.StopDrill, flow.AllPlaced, flow.SlackOut, flow.SlackIsOut, flow.Tightening, flow.LightTension, flow.FirstMove, flow.Held,
	flow.Bite, flow.Proving, flow.HoldProved, flow.LineSlack, flow.Rerig,
}

var theWayOff = []flow.Stage{flow.Securing, flow.SlackOff, flow.SlackIsOff, flow.Unrig, flow.GearCheck}

// stood are jobs that stand at every stage, by who has a phone.
var (
	stoodLock sync.Mutex
	stood     = map[string]map[flow.Stage]*puller{}
)

// standing returns jobs that stand at every stage. They are played once; who asks
// gets copies, under an engine of their own.
func standing(t testing.TB, crew ...string) map[flow.Stage]*puller {
	t.Helper()
	stoodLock.Lock()
	defer stoodLock.Unlock()
	key := strings.Join(crew, " ")
	if stood[key] == nil {
		stood[key] = played(t, crew...)
	}
	engine := otherEngine()
	out := map[flow.Stage]*puller{}
	for stage, p := range stood[key] {
		out[stage] = p.copied(t)
		out[stage].engine.Random = engine.Random // one for all, so that no two jobs are called alike
	}
	return out
}

func played(t testing.TB, crew ...string) map[flow.Stage]*puller {
	p := readyToPull(t, crew...)
	out := map[flow.Stage]*puller{}
	for _, stage := range alongTheWay {
		if stage == flow.AllPlaced {
			p = readyToPull(t, crew...)
		}
		if stage == flow.Proving {
			p.press("Ada", "stands_*")
			over := p.copied(t)
			over.to(flow.Crest)
			out[flow.Crest] = over
			off := p.copied(t)
			for _, stage := range theWayOff {
				off.to(stage)
				out[stage] = off.copied(t)
			}
		}
		p.to(stage)
		out[stage] = p.copied(t)
	}
	return out
}

// words are what anybody may say in a pull, at any moment.
var words = []string{
	"stop", "hold", "it creaked", "lost signal", "not sure", "Bo is hurt", "I have to go", "wait", "held", "it slips", "the anchor moves", "it moves", "moved 1.9 m", "took in 4 m, moved 1.9 m", "it is stuck", "it runs",
	"the line creeps", "rain", "slack 20 cm", "slack 3 m", "3.2 kN at the haul line", "30 kN at the haul line", "change ground wet grass",
	"change weight 9 t", "leave", "go on", "hand over to Bo", "take the lead", "checks", "begin the pull", "plan", "so far", "a dog ran in",
	"wait a sec", "cars are coming through", "the line touches a fence post", "its on the firm ground now, all wheels", "is everybody ok?", "qwxyz", "brake failed",
	"new", "back", "so it is", "not so", "back to slack", "Di leaves", "we are only 3 now", "how far is it", "all good", "weight 3 t", "I smell gas", "secure it here", "checked, all fine",
	"back", "come back", "/start", "Bo has no phone", "Cy is holder", "Bo drives", "change weight 1.9 t weighed", "change weight 2.9 t weighed", "I take it", "swap with Cy",
	"yes", "no", "as before", "drill", "all stood", "release 1", "release", "I stand still", "nothing", "close", "Bo is lookout", "note a kite", "4",
	"the load is over", "no the SLING moved, not the puller", "sorry, it did not slip", "Di checked it, good", "Di is the driver", "change rope 1 condition damaged", "change rope 1 condition good, Cy checked it, good",
	"i have to go, Cy has my post now", "swap Bo and Cy", "Cy drives, Bo watches", "can somebody take over from me",
}

// TestPullModel: random people do random things from every stage of a pull.
func TestPullModel(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	var stages []flow.Stage
	for s := range at {
		stages = append(stages, s)
	}
	slices.Sort(stages)
	reached := map[flow.Stage]int{}
	states := map[flow.State]int{}
	defer func() { t.Logf("turns that ended at each stage: %v, in each state: %v", reached, states) }()
	people := []string{"Ada", "Bo", "Cy", "Di", "Eve"}
	rapid.Check(t, func(r *rapid.T) {
		p := at[rapid.SampledFrom(stages).Draw(r, "stage")].copied(t)
		willing := rapid.IntRange(0, 90).Draw(r, "willing")
		for range rapid.IntRange(1, 14).Draw(r, "turns") {
			who := rapid.SampledFrom(people).Draw(r, "who")
			in := p.input(who)
			last := p.last[in.Chat]
			switch kind := rapid.IntRange(0, 99).Draw(r, "kind"); {
			case kind < willing && len(last.Choices) > 0:
				// Mostly the first button: what was asked for.
				n := min(rapid.IntRange(0, 3).Draw(r, "button"), len(last.Choices)-1)
				in.Press = &flow.Press{Session: last.Session, Revision: last.Revision, Choice: last.Choices[n].Choice}
			case kind < 92 && kind >= 80 && len(last.Choices) > 0:
				c := rapid.SampledFrom(last.Choices).Draw(r, "any")
				in.Press = &flow.Press{Session: last.Session, Revision: last.Revision, Choice: c.Choice}
			case kind >= 95 && kind < 96:
				in.Away = true
			case kind >= 96:
				p.at = p.at.Add(rapid.SampledFrom([]time.Duration{time.Minute, 6 * time.Minute, 65 * time.Minute}).Draw(r, "later"))
				h := p.head()
				if h.Wake == "" || h.Wake > p.at.UTC().Format(time.RFC3339) {
					continue
				}
				in = flow.Input{Update: "tick/" + in.Update, Chat: h.Chat, At: p.at, Tick: h.Code}
			case kind >= 92:
				name := rapid.SampledFrom([]string{"release", "crest", "rerig", "secure", "sure", "withhold", "lift", "stands_bite", "slid", "done_re_rig", "begin_pull", "secure_here", "drill_ok"}).Draw(r, "stale")
				in.Press = &flow.Press{Session: p.head().Code, Choice: name + "." + rapid.SampledFrom([]string{"1", "2", "3", "4", "5"}).Draw(r, "number") + ".driver"}
			default:
				in.Text = rapid.SampledFrom(words).Draw(r, "text")
			}
			p.step(r, in, reached, states)
			if s := p.job(); s.State == flow.Closed || len(s.Party) == 0 {
				return
			}
		}
		p.leads(r, reached, states)
	})
}

// step gives an input its turn and holds what it led to to what must be so.
func (p *puller) step(r *rapid.T, in flow.Input, reached map[flow.Stage]int, states map[flow.State]int) *flow.Session {
	code := p.head().Code
	before := p.job()
	jobs := p.jobsBegun()
	s, turn, err := flow.Work(p.engine, p.log, in)
	what := in.Text
	if in.Away {
		what = "(window closes)"
	}
	if in.Press != nil {
		what = "[" + in.Press.Choice + "]"
	}
	if err != nil {
		r.Fatalf("turn on %q of %s at %s, %s: %v", what, in.Chat, before.State, before.Stage, err)
	}
	if _, err := p.log.Commit(turn); err != nil {
		r.Fatalf("commit on %q: %v", what, err)
	}
	first, answer := map[string]flow.Message{}, []flow.Message(nil)
	for _, parcel := range turn.Outbox {
		m, err := flow.DecodeMessage(parcel.Body)
		if err != nil {
			r.Fatal(err)
		}
		if m.Text() == "" && len(m.Shows) == 0 {
			r.Fatalf("to %q an empty message is sent to %s", what, parcel.Chat)
		}
		if parcel.Chat == in.Chat {
			answer = append(answer, m)
		}
		if _, ok := first[parcel.Chat]; !ok {
			first[parcel.Chat] = m
		}
		if !m.Notice && m.Live == "" && (len(m.Choices) > 0 || parcel.Chat == in.Chat) {
			p.last[parcel.Chat] = m
		}
	}
	replayed, err := p.replayed(code)
	if err != nil {
		r.Fatalf("replay after %q at %s, %s: %v", what, before.State, before.Stage, err)
	}
	if s != nil && s.Code == code {
		if d := cmp.Diff(s, replayed, cmpopts.EquateEmpty()); d != "" {
			r.Fatalf("after %q at %s, %s replay is not live (-live +replayed):\n%s", what, before.State, before.Stage, d)
		}
	}
	s, p.was = replayed, replayed
	if in.Text != "" && s.Code == code {
		heeded(r, in, before, s, answer)
	}
	r.Logf("%s of %s: %s, %s", what, in.Chat, s.State, s.Stage)
	reached[s.Stage]++
	states[s.State]++
	if s.Stage.Pulls() {
		if s.State != flow.Pulling {
			r.Fatalf("after %q at %s the pull moves (%s) while the job is at %s", what, before.Stage, s.Stage, s.State)
		}
		if why, barred := flow.Barred(p.engine, s, in); barred {
			r.Fatalf("after %q of %s at %s, %s the pull moves (%s) against %s", what, in.Chat, before.State, before.Stage, s.Stage, why)
		}
	}
	if s.Stage == flow.FirstMove || s.Stage == flow.Bite || s.Stage == flow.Crest {
		walked := ""
		for _, h := range s.Holds {
			if h.Stage == flow.LightTension && h.Released == flow.FirstMove {
				walked = h.Over
			}
		}
		for _, stop := range s.Stops {
			if !stop.Drill && stop.Over > walked {
				r.Fatalf("after %q of %s at %s, %s it pulls (%s), and since stop %d was over at %s the rig was not walked: %s", what, in.Chat, before.State, before.Stage, s.Stage, stop.Number, stop.Over, walked)
			}
		}
	}
	if slices.Contains([]flow.Stage{flow.LineSlack, flow.SlackOff, flow.Rerig, flow.Unrig}, s.Stage) && s.Stage != before.Stage && flow.NobodyHolds(p.engine, before, in) {
		r.Fatalf("%q of %s eases or lets off the line at %s with nobody at the holding line", what, in.Chat, before.Stage)
	}
	unreadHeld(r, in, what, before, s)
	p.manned(r, in, what, before, s, first)
	p.reaches(r, in, what, before, s, answer, first)
	if n := p.jobsBegun(); n > jobs && before.State != flow.Closed && what != "new" && what != "[new]" && before.Held["parting"] != "new" && slices.ContainsFunc(before.Party, func(m flow.Member) bool { return m.Chat == in.Chat }) {
		r.Fatalf("%q of %s at %s, %s begins another job", what, in.Chat, before.State, before.Stage)
	}
	if len(s.Stops) > len(before.Stops) || in.Text == "stop" && before.State != flow.Closed {
		for _, m := range before.Party {
			got, told := first[m.Chat]
			if again := len(s.Stops) == len(before.Stops); m.Gone || again && m.Chat != in.Chat {
				continue
			}
			if !told || !got.Urgent || got.Parts[0].Key != "stop.called" {
				r.Fatalf("a stop by %q of %s at %s, %s: %s is told first %q, urgent %v", what, in.Chat, before.State, before.Stage, m.Name, got.Text(), got.Urgent)
			}
		}
	}
	return s
}

// replayed is the job as its log has it: read on from where the test itself read it
// before, and from its beginning when it has left that, and once in a while.
func (p *puller) replayed(code string) (*flow.Session, error) {
	if p.read == nil || p.read.Code != code || p.read.Last%replayEvery == 0 {
		s, err := flow.Load(p.log, code)
		p.read = s
		return s, err
	}
	s, err := flow.ReadOn(p.log, code, p.read)
	p.read = s
	return s, err
}

// replayEvery is after how many entries a job is read from its beginning.
const replayEvery = 8

// endsNoStop are words that end no stop, whoever says them.
var endsNoStop = []string{"hold", "wait", "wait a sec", "go on", "yes", "no", "nothing", "release 1", "release", "is everybody ok?", "so it is", "moved 1.9 m", "weight 3 t", "qwxyz", "begin the pull", "4", "all good"}

// heeded holds what became of words to what must be so: while the puller moves
// none of anybody on the spot are only passed on or not read, no remark changes
// what the plan stands on, a stop ends by its reason alone, and a line that was
// taken up is eased before anything else is confirmed at it.
func heeded(r *rapid.T, in flow.Input, before, s *flow.Session, answer []flow.Message) {
	i := slices.IndexFunc(before.Party, func(m flow.Member) bool { return m.ID == in.Person.ID && !m.Gone })
	if i < 0 {
		return
	}
	spot := before.Party[i].As == flow.AsLead || before.Party[i].As == flow.AsCrew
	if before.State == flow.Pulling && before.Stage.Moves() && spot && s.State == flow.Pulling && s.Stage.Moves() {
		heard := false
		for _, k := range keys(answer) {
			heard = heard || !strings.HasPrefix(k, "refuse.miss") && !strings.HasPrefix(k, "going.") && k != "join.passed" && k != "join.only_sees" && k != "join.idle" && !strings.HasPrefix(k, "board.")
		}
		if !heard {
			r.Fatalf("%q at %s is told only %v, and it moves on", in.Text, before.Stage, keys(answer))
		}
	}
	if before.State == flow.Pulling && !strings.HasPrefix(in.Text, "change") &&
		(len(s.Sheet.Anchors) != len(before.Sheet.Anchors) || len(s.Sheet.Gear) != len(before.Sheet.Gear) || s.Sheet.Load.Ground != before.Sheet.Load.Ground) {
		r.Fatalf("%q at %s changes anchors, gear or ground", in.Text, before.Stage)
	}
	if n := len(before.Stops); before.State == flow.Halted && n > 0 && before.Stops[n-1].Over == "" && slices.Contains(endsNoStop, in.Text) && s.Stops[n-1].Over != "" {
		r.Fatalf("%q ends a stop", in.Text)
	}
	if n := len(s.Holds); n > 0 && (s.Stage == flow.AllPlaced || s.Stage == flow.LineSlack) {
		h := s.Holds[n-1]
		taut := slices.Contains([]flow.Stage{flow.SlackOut, flow.SlackIsOut, flow.Tightening, flow.LightTension, flow.HoldProved}, h.After)
		eased := slices.ContainsFunc(h.Sure, func(y flow.Sure) bool { return y.Duty == "easing" })
		if taut && !eased && len(h.Sure) > 0 {
			r.Fatalf("at a taut line is confirmed %+v", h.Sure)
		}
	}
}

// leads shows that nobody is kept: a stop halts from wherever the job is, it
// ends when everybody stands and the lead says what it was, and the job can be
// left.
func (p *puller) leads(r *rapid.T, reached map[flow.Stage]int, states map[flow.State]int) {
	say := func(who, text string) *flow.Session {
		in := p.input(who)
		in.Text = text
		return p.step(r, in, reached, states)
	}
	s := p.job()
	lead := strings.TrimPrefix(s.Lead.ID, "test/")
	say(lead, "open "+s.Code) // who leads may have gone on to another job
	if s = say("Bo", "stop"); s.State != flow.Halted && slices.ContainsFunc(s.Party, func(m flow.Member) bool { return m.Name == "Bo" && !m.Gone }) {
		r.Fatalf("after a stop the job stands at %s, %s", s.State, s.Stage)
	}
	if s = say(lead, "stop"); s.State != flow.Halted {
		r.Fatalf("after the lead's stop the job stands at %s, %s", s.State, s.Stage)
	}
	for _, m := range s.Party {
		if !m.Gone && m.ID != s.Lead.ID {
			in := p.input(m.Name)
			in.Press = &flow.Press{Session: s.Code, Choice: p.ofStop("still")}
			p.step(r, in, reached, states)
		}
	}
	if s = say(lead, "a kite came down"); s.State == flow.Halted {
		r.Fatalf("the stop does not end; the lead is asked %q", p.last["test/"+lead].Text())
	}
	if s = say(lead, "leave"); s.State != flow.Away && s.State != flow.Debrief {
		r.Fatalf("after leave the job stands at %s, %s", s.State, s.Stage)
	}
}
