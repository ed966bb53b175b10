package flow_test

import (
	"strings"
	"testing"
	"time"

	"linetender/calc"
	"linetender/flow"
)

// TestStopAtEveryStage: from wherever the pull stands a stop reaches every
// phone first, and it goes on from a hold point, never from where it moved.
func TestStopAtEveryStage(t *testing.T) {
	flow.Lone(t)
	for stage, p := range standing(t, "Bo", "Cy", "Di", "Eve") {
		p.t = t
		out := p.say("Di", "release "+itoa(p.job().Hold)+" no, stop")
		for _, who := range p.crew {
			got := out["test/"+who]
			if len(got) == 0 || !got[0].Urgent || got[0].Parts[0].Key != "stop.called" {
				t.Errorf("%s: %s is told %s first", stage, who, said(got))
			}
		}
		s := p.job()
		if s.State != flow.Halted || s.Stage.Moves() {
			t.Errorf("%s: stopped it stands at %s, %s", stage, s.State, s.Stage)
		}
		if got := said(p.say("Bo", "a dog ran in")["test/Bo"]); strings.Contains(got, "stop.over") {
			t.Errorf("%s: the driver lets it go on: %s", stage, got)
		}
		for _, who := range []string{"Bo", "Cy"} {
			p.pressed(who, "still")
		}
		p.say("Ada", "a dog ran in")
		s = p.job()
		if s.State == flow.Halted || s.Stage.Moves() {
			t.Errorf("%s: over it stands at %s, %s", stage, s.State, s.Stage)
		}
	}
}

func itoa(n int) string { return string(rune('0'+n/10%10)) + string(rune('0'+n%10)) }

// TestReleases: a release counts once, for its own hold, from the lead, and
// when all have confirmed.
func TestReleases(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.AllPlaced)
	if got := said(p.say("Ada", "release 1")["test/Ada"]); !strings.HasPrefix(got, "pull.waits") || p.stage() != flow.AllPlaced {
		t.Errorf("before anybody confirmed a release says %s", got)
	}
	p.confirm()
	if got := said(p.say("Ada", "release")["test/Ada"]); !strings.HasPrefix(got, "pull.which_hold") {
		t.Errorf("a release without a number says %s", got)
	}
	if got := said(p.say("Bo", "release 1")["test/Bo"]); !strings.HasPrefix(got, "join.not_lead") {
		t.Errorf("a release of the driver says %s", got)
	}
	p.pressed("Eve", "withhold.1")
	if got := said(p.say("Ada", "release 1")["test/Ada"]); !strings.HasPrefix(got, "pull.withheld") || p.stage() != flow.AllPlaced {
		t.Errorf("a withheld release says %s", got)
	}
	if p.pressed("Ada", "lift.1"); p.say("Ada", "release 1") == nil || p.stage() != flow.AllPlaced {
		t.Error("the lead lifts what a coordinator withholds")
	}
	p.pressed("Eve", "lift.1")
	p.pressed("Ada", "release.1")
	n := p.job().Last
	if got := p.pressed("Ada", "release.1")["test/Ada"]; told(got) != "pull.void_now" || !got[0].Notice || p.stage() != flow.SlackOut {
		t.Errorf("the same release again says %s and leads to %s", told(got), p.stage())
	}
	if p.job().Last < n {
		t.Error("the log lost an entry")
	}
	p.press("Ada", "stands_*")
	p.confirm()
	if got := said(p.say("Ada", "release 1")["test/Ada"]); !strings.HasPrefix(got, "pull.void") || p.stage() != flow.SlackIsOut {
		t.Errorf("a release for an older hold says %s and leads to %s", got, p.stage())
	}
	p.to(flow.LightTension)
	began := p.at
	for range 8 {
		p.willing()
	}
	in := p.input("Ada")
	in.Text, in.At = "release 3", began.Add(30*time.Second)
	if got := told(p.run(in)["test/Ada"]); !strings.HasPrefix(got, "pull.minute") || p.stage() != flow.LightTension {
		t.Errorf("after half a minute of light tension a release says %s", got)
	}
	if p.say("Ada", "release 3"); p.stage() != flow.FirstMove {
		t.Errorf("after its minute the light tension leads to %s", p.stage())
	}
}

// TestSilenceIsHeld: nobody answering at a hold is told once to lead and
// coordinator, and releases nothing.
func TestSilenceIsHeld(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.AllPlaced)
	count := map[string]int{}
	for range 4 {
		for chat, list := range p.tick(3 * time.Minute) {
			count[chat] += strings.Count(said(list)+" ", "pull.quiet ")
		}
	}
	if count["test/Ada"] != 1 || count["test/Eve"] != 1 || count["test/Bo"] != 0 {
		t.Errorf("that Bo is silent is told %v times", count)
	}
	if p.stage() != flow.AllPlaced {
		t.Errorf("silence led to %s", p.stage())
	}
}

// TestLeavingHolds: who leaves in a bite makes everybody hold, and the pull
// waits until their post is taken; a lead who hands over holds it as well.
func TestLeavingHolds(t *testing.T) {
	for _, text := range []string{"leave", "hand over to Cy", "change weight 3 t"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.FirstMove)
		who := map[string]string{"leave": "Di", "hand over to Cy": "Ada", "change weight 3 t": "Eve"}[text]
		out := p.say(who, text)
		if s := p.job(); s.Stage != flow.Held {
			t.Errorf("%q leaves the pull at %s", text, s.Stage)
		}
		if got := out["test/Bo"]; len(got) == 0 || !got[0].Urgent || !strings.HasPrefix(said(got), "pull.hold_now") && !strings.HasPrefix(said(got), "pull.lost") && !strings.HasPrefix(said(got), "pull.passed") {
			t.Errorf("%q: Bo is told %s first", text, said(got))
		}
		if why, barred := flow.Barred(p.engine, p.job(), p.input("Ada")); !barred {
			t.Errorf("%q keeps nothing from going on: %s", text, why)
		}
	}
}

// TestGroundTeaches: a slip holds, says what it did to the figures, and asks
// again only what a slip makes doubtful; slack over the limit keeps the hold.
func TestGroundTeaches(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.FirstMove)
	out := p.say("Cy", "the wheels slip")
	got := said(out["test/Ada"])
	s := p.job()
	if !strings.HasPrefix(got, "pull.hold_now") || !strings.Contains(got, "look.slips") || s.Stage != flow.Held {
		t.Errorf("a slip says %s and leads to %s", got, s.Stage)
	}
	if len(s.Sheet.Seen) != 1 || s.Sheet.Seen[0].What != "slip" || !strings.Contains(said(out["test/Cy"]), "pull.learnt") {
		t.Errorf("a slip teaches %+v and says %s", s.Sheet.Seen, said(out["test/Cy"]))
	}
	if len(s.Again) == 0 || s.Settled["site.consent"] == "" || s.Settled["site.chocks"] != "" {
		t.Errorf("after a slip is asked again %+v; consent %q, chocks %q", s.Again, s.Settled["site.consent"], s.Settled["site.chocks"])
	}
}

func planOf(t *testing.T, s *flow.Session) calc.Plan {
	t.Helper()
	c, err := s.Sheet.Case()
	if err != nil {
		t.Fatal(err)
	}
	return calc.Reckon(c)
}

// TestLightTensionTeaches: a puller that slips or stalls while no more than the
// light load was asked of it gives no more than that, and the plan is no go any
// longer; that the load stands there is as it should be.
func TestLightTensionTeaches(t *testing.T) {
	flow.Lone(t)
	for _, at := range []flow.Stage{flow.Tightening, flow.LightTension} {
		for words, learns := range map[string]bool{"it slips": true, "the winch stalled": true, "nothing moves": false} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(at)
			light, _ := calc.LightLoad(planOf(t, p.job()))
			p.say("Cy", words)
			s := p.job()
			after := planOf(t, s)
			if !learns {
				if len(s.Sheet.Seen) > 0 || after.Decision != calc.Go {
					t.Errorf("%s, %q: teaches %+v and leads to %s", at, words, s.Sheet.Seen, after.Decision)
				}
				continue
			}
			if len(s.Sheet.Seen) != 1 || s.Sheet.Seen[0].What != "slip" {
				t.Fatalf("%s, %q: teaches %+v", at, words, s.Sheet.Seen)
			}
			if most := after.Seen[0].Pull; most == nil || *most > light.Haul.High.Scale(1.05) {
				t.Errorf("%s, %q: the puller was to give %v and is taken to give %v", at, words, light.Haul, most)
			}
			if after.Decision == calc.Go {
				t.Errorf("%s, %q: it is still a go", at, words)
			}
		}
	}
}

// TestStopTeaches: a slip that was told with a stop, or that the lead names as
// its reason, teaches as one that was reported.
func TestStopTeaches(t *testing.T) {
	for _, words := range []string{"stop, the wheels spin", "stop"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.FirstMove)
		p.say("Cy", words)
		for _, who := range []string{"Bo", "Di", "Eve"} {
			p.pressed(who, "still")
		}
		p.pressed("Ada", "stop_cause.slips")
		if seen := p.job().Sheet.Seen; len(seen) != 1 || seen[0].What != "slip" {
			t.Errorf("%q for a slip teaches %+v; it stands at %s, %s", words, seen, p.job().State, p.job().Stage)
		}
	}
}

// TestSpunWheelsAreASlip: wheels that spun are a slip, whatever stands beside it, and
// told after the load was reported stuck, or only as the lead's reason for a stop.
func TestSpunWheelsAreASlip(t *testing.T) {
	flow.Lone(t)
	slips := func(s *flow.Session) (n int) {
		for _, w := range s.Sheet.Seen {
			if w.What == "slip" {
				n++
			}
		}
		return n
	}
	for _, said := range [][]string{
		{"wheels are spinning a bit, it didnt move"},
		{"it didnt move", "puller slipped i mean, wheels spun, load stood"},
		{"stop", "load settled 1 cm on the chocks thats all. and before that the puller slipped, wheels spun on the gravel"},
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Bite)
		p.say("Cy", said[0])
		switch {
		case said[0] == "stop":
			for _, who := range []string{"Bo", "Di", "Eve"} {
				p.pressed(who, "still")
			}
			p.say("Ada", said[1])
		case len(said) > 1:
			p.say("Cy", said[1])
		}
		if s := p.job(); slips(s) != 1 {
			t.Errorf("%q teaches %+v; it stands at %s, %s", said, s.Sheet.Seen, s.State, s.Stage)
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Bite)
	if p.say("Cy", "no wheelspin, its just stuck"); slips(p.job()) != 0 {
		t.Errorf("no wheelspin teaches %+v", p.job().Sheet.Seen)
	}
}

// TestTwoStopsForOneReason: the second asks all of the list again and reads
// the plan back.
func TestTwoStopsForOneReason(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.AllPlaced)
	for n := range 2 {
		p.say("Bo", "stop")
		for _, who := range []string{"Cy", "Di"} {
			p.pressed(who, "still")
		}
		out := p.pressed("Ada", "stop_cause.unsure")
		s := p.job()
		if twice := strings.Contains(said(out["test/Ada"]), "stop.twice"); twice != (n == 1) || (s.Settled["site.consent"] == "") != (n == 1) {
			t.Errorf("stop %d: read back %v, consent %q", n+1, twice, s.Settled["site.consent"])
		}
		if s.Settled["site.clear"] != "" || s.Stops[len(s.Stops)-1].Cause != "unsure" {
			t.Errorf("stop %d: who stands clear is not asked again: %+v", n+1, s.Stops)
		}
		p.until("back", func() bool { return n == 1 || p.job().State == flow.Pulling })
	}
}

// TestPullByOnePhone: the lead answers for everybody by name.
func TestPullByOnePhone(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t)
	p.to(flow.AllPlaced)
	if text := p.last["test/Ada"].Text(); !strings.Contains(text, "Hold 1") {
		t.Errorf("the one phone is asked %q", text)
	}
	p.to(flow.Held)
	p.say("Ada", "took in 0.6 m, moved 30 cm")
	if b := p.job().Bites; len(b) != 1 || b[0].Moved != "30 cm" {
		t.Errorf("the bites are %+v", b)
	}
	p.say("Ada", "stop")
	p.pressed("Ada", "stop_cause.weather")
	if s := p.job(); s.State == flow.Halted || len(s.Again) == 0 {
		t.Errorf("after rain it stands at %s and asks again %+v", s.State, s.Again)
	}
}
