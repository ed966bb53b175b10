package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/calc/job"
	"linetender/flow"
)

// moving are the stages in which the puller or the line moves.
var moving = []flow.Stage{flow.SlackOut, flow.Tightening, flow.FirstMove, flow.Bite, flow.Crest, flow.Proving, flow.SlackOff}

// warnings are words for a danger, and others that nobody has thought of: what
// fits nothing holds the puller too.
var warnings = []string{
	"whoa", "wait", "wait a sec", "hold on", "Bo says hold on", "hang on", "stahp", "halt", "no no no", "careful", "dont stop now",
	"cars are coming through", "car coming", "chocks slipping", "the line touches a fence post", "there is a power line above us",
	"Bo's hand is in the block", "brake failed", "brakes gone", "wheel lifts", "she is tilting", "cant hold it", "holding line slack",
	"nothing moves", "the holding line slips", "is that smoke?", "is everybody ok?", "did you hear that", "should it do that?",
	"the tractor moved 2 m", "Bo moved 2 m back", "moved 1 m and the rope is fraying", "it is coming apart", "it comes out of the ground",
	"qwxyz", "the cheese has melted away", "no", "nothing", "that was not agreed", "its going the wrong way", "somebody is behind the tractor",
	"ground mud", "anchor oak 50 cm", "the rope is on a post",
}

// TestWordsHold: no words from anybody on the spot are only passed on or not
// read while the puller moves. It holds, everybody is told that first, and
// nothing is learnt or changed by a warning.
func TestWordsHold(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, crew := range [][]string{nil, {"Bo", "Cy", "Di", "Eve"}} {
		at := standing(t, crew...)
		for _, stage := range moving {
			for n, text := range warnings {
				who := "Ada"
				if len(crew) > 0 && n%2 == 0 {
					who = "Cy"
				}
				p := at[stage].copied(t)
				before := p.job()
				out := p.say(who, text)
				s := p.job()
				if s.State == flow.Pulling && s.Stage.Moves() {
					t.Errorf("%s, %q of %s: it moves on, and they are told %s", stage, text, who, said(out["test/"+who]))
					continue
				}
				for _, m := range s.Party {
					got := out[m.Chat]
					if len(got) == 0 || !got[0].Urgent || got[0].Parts[0].Key != "pull.hold_now" && got[0].Parts[0].Key != "stop.called" {
						t.Errorf("%s, %q of %s: %s is told %s first", stage, text, who, m.Name, said(got))
					}
				}
				if slices.ContainsFunc(s.Sheet.Seen[len(before.Sheet.Seen):], func(w job.SeenSheet) bool { return w.What == "move" }) {
					t.Errorf("%s, %q: a warning is taken for a move", stage, text)
				}
				if len(s.Sheet.Anchors) != len(before.Sheet.Anchors) || len(s.Sheet.Gear) != len(before.Sheet.Gear) || s.Sheet.Load.Ground != before.Sheet.Load.Ground {
					t.Errorf("%s, %q: a remark changes the plan", stage, text)
				}
			}
		}
	}
}

// TestWordsThatGoOn: a count, that all is well, a note, a question how far it
// is and the words that help go on.
func TestWordsThatGoOn(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, text := range []string{"it's coming up nicely", "all good", "note a kite", "how far is it", "so far", "how", "keep going", "moved 10 cm", "took in 0.4 m, moved 0.2 m", "it moves"} {
		for _, who := range []string{"Ada", "Cy"} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(flow.FirstMove)
			out := p.say(who, text)
			if s := p.job(); s.Stage != flow.FirstMove && s.State == flow.Pulling {
				t.Errorf("%q of %s holds it at %s", text, who, s.Stage)
			}
			if got := said(out["test/"+who]); got == "" || strings.HasPrefix(got, "refuse.miss") || strings.HasPrefix(got, "join.passed") {
				t.Errorf("%q of %s is told %s", text, who, got)
			}
		}
	}
}

// TestHoldIsToldFirst: whatever takes the job out of a pull that moves tells
// everybody to hold first, who wrote it among them.
func TestHoldIsToldFirst(t *testing.T) {
	flow.Lone(t)
	for _, text := range []string{"new", "leave", "back", "change weight", "weight 9 t", "there is a power line above us", "I smell gas"} {
		for _, crew := range [][]string{nil, {"Bo", "Cy", "Di", "Eve"}} {
			p := readyToPull(t, crew...)
			p.to(flow.SlackOut)
			out := p.say("Ada", text)
			for _, who := range p.crew {
				if got := out["test/"+who]; len(got) == 0 || !got[0].Urgent || got[0].Parts[0].Key != "pull.hold_now" && got[0].Parts[0].Key != "stop.called" {
					t.Errorf("%q: %s is told %s first", text, who, said(got))
				}
			}
			if p.stage().Moves() {
				t.Errorf("%q: it still moves", text)
			}
		}
	}
}

// TestHazardFromAnybody: a hazard is heard from whoever names it, at any time.
func TestHazardFromAnybody(t *testing.T) {
	for _, stage := range []flow.Stage{flow.NotBegun, flow.AllPlaced, flow.SlackOut, flow.Held} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.join("Ada", "observer code", "Olga")
		p.to(stage)
		p.say("Olga", "I smell gas")
		if s := p.job(); s.State != flow.Referred && s.State != flow.Halted {
			t.Errorf("%s: an observer smells gas, and the job stands at %s", stage, s.State)
		}
		if s := p.job(); s.Sheet.Hazards == nil || !slices.Contains(*s.Sheet.Hazards, "fuel") {
			t.Errorf("%s: the gas is on no sheet: %v", stage, s.Sheet.Hazards)
		}
		if why, barred := flow.Barred(p.engine, p.job(), p.input("Ada")); !barred {
			t.Errorf("%s: nothing bars the pull: %s", stage, why)
		}
	}
}

// TestArrival: that it stands on the firm ground is no change of ground.
func TestArrival(t *testing.T) {
	for _, text := range []string{"its on the firm ground now, all wheels", "it's out", "wagon is up and stands on the flat"} {
		p := readyToPull(t)
		p.to(flow.FirstMove)
		was := p.job().Sheet.Load.Ground
		p.say("Ada", text)
		s := p.job()
		if s.Stage != flow.Held || s.Sheet.Load.Ground != was {
			t.Errorf("%q leads to %s on %q", text, s.Stage, s.Sheet.Load.Ground)
		}
		p.until("secure", func() bool { return p.has("Ada", "secure") && p.has("Ada", "release") })
		if first := p.last["test/Ada"].Choices[0].Choice; !strings.HasPrefix(first, "secure") {
			t.Errorf("%q: the first way on is %s", text, first)
		}
	}
}
