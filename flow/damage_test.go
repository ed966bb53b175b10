package flow_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/calc/job"
	"linetender/flow"
)

// TestDamageNeedsTwo: damage that is told takes the piece out, in the pull it
// stops it; the lead who waves it away brings it back only with somebody else who
// has looked.
func TestDamageNeedsTwo(t *testing.T) {
	for _, wave := range []string{"its just paint", "good", "[good]"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.say("Cy", "theres a nick in the rope")
		out := p.say("Ada", wave)
		if s := p.job(); len(s.Differs) != 1 || s.Sheet.Gear[0].Condition != "damaged" || !strings.Contains(said(out["test/Di"]), "differ.second") {
			t.Errorf("%q brings it back: %+v, Di is told %s", wave, s.Differs, said(out["test/Di"]))
		}
		if p.press("Di", "differ.1.was"); len(p.job().Differs) != 0 || p.job().Sheet.Gear[0].Condition != "good" {
			t.Errorf("%q, and Di has looked: %+v", wave, p.job().Differs)
		}
	}
	for _, who := range []string{"Cy", "Ada"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Held)
		p.say(who, "theres a nick in the rope")
		if s := p.job(); s.State != flow.Halted || len(s.Differs) != 1 {
			t.Errorf("%s tells of a nick in the pull and it stands at %s: %+v", who, s.State, s.Differs)
		}
		if p.say("Ada", "its just paint"); p.job().State != flow.Halted {
			t.Error("its just paint ends the stop")
		}
	}
	p := readyToPull(t)
	p.to(flow.Held)
	if p.say("Ada", "theres a nick in the rope"); p.job().State != flow.Halted || !slices.ContainsFunc(p.job().Sheet.Gear, gearDamaged) {
		t.Error("on one phone a nick that is told in the pull is no more than a remark")
	}
}

// TestAShockIsOfAllThatWasLoaded: after a jerk all of the loaded path is looked
// at again, not the slings alone.
func TestAShockIsOfAllThatWasLoaded(t *testing.T) {
	flow.Lone(t)
	for _, text := range []string{"there was a big jerk", "the rope jerked hard", "it snatched", "shock load on the rope"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Bite)
		p.say("Cy", text)
		p.pressed("Bo", "still")
		p.pressed("Di", "still")
		p.say("Ada", "it was the clutch, we talked it over")
		s := p.job()
		for _, topic := range []string{"gear_sound", "tow_point.condition", "puller.hitch", "anchors[0].alive"} {
			if !slices.ContainsFunc(s.Again, func(g flow.Again) bool { return g.Topic == topic }) {
				t.Errorf("%q: %s is not asked again: %+v", text, topic, s.Again)
			}
		}
	}
}

// TestTensionIsAFact: that the line is tight ends the stage that takes it up, and
// releases nothing.
func TestTensionIsAFact(t *testing.T) {
	for _, row := range []struct {
		text   string
		at, to flow.Stage
	}{
		{"tension is on", flow.SlackOut, flow.SlackIsOut}, {"line is tight, braked", flow.SlackOut, flow.SlackIsOut},
		{"line is tight, braked", flow.Tightening, flow.LightTension}, {"tension on", flow.Tightening, flow.LightTension},
		{"tension is on", flow.AllPlaced, flow.AllPlaced}, {"tension is on", flow.SlackIsOut, flow.SlackIsOut}, {"tension is on", flow.LightTension, flow.LightTension},
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(row.at)
		was := p.job()
		p.say("Bo", row.text)
		s := p.job()
		if s.Stage != row.to || s.State != flow.Pulling {
			t.Errorf("%s, %q: it stands at %s", row.at, row.text, s.Stage)
		}
		if row.at.Holds() && was.Holds[len(was.Holds)-1].Released == "" && len(s.Holds[len(s.Holds)-1].Sure) > 0 {
			t.Errorf("%s, %q confirms", row.at, row.text)
		}
	}
}

// TestAnAnswerIsAnAnswer: what the lead answers somebody is no answer of the job;
// only what makes it worse off counts.
func TestAnAnswerIsAnAnswer(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Eve", "Ada, what does it weigh?")
	if p.say("Ada", "the load weighs 2 t"); p.job().Sheet.Load.Mass != "2.4 t" {
		t.Errorf("an answer to Eve lightens the load to %s", p.job().Sheet.Load.Mass)
	}
	p.say("Eve", "Ada, what does it weigh?")
	if p.say("Ada", "the load weighs 9 t"); p.job().Sheet.Load.Mass != "9 t" {
		t.Errorf("a heavier load told to Eve is lost: %s", p.job().Sheet.Load.Mass)
	}
}

// TestADangerBehindANo: a no with a danger told behind it is a danger.
func TestADangerBehindANo(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	if p.say("Cy", "no wim was stood in front of it"); p.job().State != flow.Halted {
		t.Errorf("it stands at %s", p.job().State)
	}
	p = readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	if p.say("Cy", "nobody was standing in front of it"); p.job().State == flow.Halted {
		t.Error("that nobody stood there is a stop")
	}
}

// TestTheWayOn: who wants to go on after a stop, while the list is asked again, is
// told what that waits for, and nothing moves.
func TestTheWayOn(t *testing.T) {
	for _, crew := range [][]string{nil, {"Bo", "Cy", "Di", "Eve"}} {
		p := readyToPull(t, crew...)
		p.to(flow.Held)
		p.say("Ada", "stop")
		for _, who := range []string{"Bo", "Cy", "Di"} {
			if p.has(who, "still") {
				p.press(who, "still")
			}
		}
		p.say("Ada", "a dog ran in, it is gone")
		for _, text := range []string{"go on", "resume", "checks"} {
			got := said(p.say("Ada", text)["test/Ada"])
			if !strings.HasPrefix(got, "pull.bare item.wait_all") && !strings.HasPrefix(got, "pull.bare pull.open") || p.job().State != flow.Checks {
				t.Errorf("%q is told %s at %s", text, got, p.job().State)
			}
		}
		if got := text(p.say("Ada", "board")["test/Ada"]) + text(p.say("Ada", "overview")["test/Ada"]); strings.Contains(got, "\nGO. ") {
			t.Errorf("with the list open the board says go: %s", got)
		}
	}
}

func gearDamaged(g job.GearSheet) bool { return g.Condition == "damaged" }

// TestDamageNeedsTwoOnOnePhone: with nobody else's phone on the spot it takes
// somebody else's eyes as well, by name: in the pull, and of what is told from afar.
func TestDamageNeedsTwoOnOnePhone(t *testing.T) {
	flow.Lone(t)
	for _, try := range []string{"change block condition good", "change block wll 3 t, good", "the block is good", "its only paint"} {
		p := readyToPull(t)
		p.to(flow.LightTension)
		p.say("Ada", "the block is damaged")
		p.say("Ada", "a cheek is bent, we talked it over, nobody was near")
		if out := p.say("Ada", try); p.job().Sheet.Gear[1].Condition != "damaged" {
			t.Errorf("in the pull %q brings the block back: %s", try, text(out["test/Ada"]))
		}
	}
	for _, try := range []string{"[good]", "good", "its just paint"} {
		p := readyToPull(t, "Eve")
		p.say("Eve", "the block is damaged")
		if out := p.say("Ada", try); p.job().Sheet.Gear[1].Condition != "damaged" || len(p.job().Differs) != 1 {
			t.Errorf("from afar, %q brings it back: %s", try, text(out["test/Ada"]))
		}
		if out := p.say("Ada", "good, Di checked it"); p.job().Sheet.Gear[1].Condition != "good" || len(p.job().Differs) != 0 {
			t.Errorf("from afar, Di has looked, and it stays: %s", text(out["test/Ada"]))
		}
	}
}

// What is told of damage where the gear is looked over has the piece laid apart, whoever
// tells it, and makes no other plan.
func TestDamageAtTheGear(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, who := range []string{"Ada", "Cy"} {
		p := at[flow.GearCheck].copied(t)
		hold := p.job().Hold
		p.say(who, "the sling got a cut, rest fine")
		for _, r := range flow.Retired(p.engine, p.job()) {
			if scrap := r.Do == "scrap"; scrap != (r.Kind == "sling") {
				t.Errorf("%s tells of the sling: %s %s is %s", who, r.Kind, r.Name, r.Do)
			}
		}
		if s := p.job(); s.Hold != hold || s.Stage != flow.GearCheck || len(s.Differs) != 0 {
			t.Errorf("%s tells of the sling, and it stands at hold %d, %s", who, s.Hold, s.Stage)
		}
	}
}

// TestALookWaitsForTheSlackLine: what is told to be wrong with a piece of a tight line
// sends nobody to it: who wants to put it right by hand is told to stay out, nobody is
// asked how it is before the driver has said that the line lies slack, and no good of
// anybody settles it before. Then somebody else looks, and not sooner than anybody can.
func TestALookWaitsForTheSlackLine(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, text := range []string{"the shackle is cross loaded, ill tap it straight", "the shackle is cross loaded, let me knock it round", "the shackle is cross loaded. i will just straighten it", "the shackle is side loaded", "shackle sits sideways in the eye"} {
		p := at[flow.LightTension].copied(t)
		out := p.say("Cy", text)
		for _, who := range []string{"Ada", "Bo", "Cy", "Di"} {
			if m := out["test/"+who]; !strings.Contains(said(m), "pull.stay_out") || !m[0].Urgent {
				t.Errorf("%q tells %s %s", text, who, said(m))
			}
		}
		if s := p.job(); len(s.Differs) != 1 {
			t.Fatalf("%q: it is not kept that the shackle is doubtful: %s, %s", text, s.State, s.Stage)
		}
		for _, good := range []struct{ who, words string }{{"Ada", "good"}, {"Bo", "good"}, {"Ada", "its fine"}, {"Di", "its good"}, {"Cy", "good now"}} {
			p.say(good.who, good.words)
			if s := p.job(); len(s.Differs) != 1 || s.Stage.Moves() {
				t.Fatalf("%q: %s of %s settles it on a tight line: %s", text, good.words, good.who, s.Stage)
			}
		}
		p.pressed("Ada", "differ.1.was")
		p.pressed("Di", "differ.1.was")
		for _, who := range []string{"Ada", "Bo", "Cy", "Di"} {
			if len(p.job().Differs) != 1 || p.has(who, "differ.1.was") {
				t.Fatalf("%q: %s is asked how it is on a tight line", text, who)
			}
		}
		p.press("Bo", "sure")
		p.press("Ada", "differ.1.was")
		if p.has("Cy", "differ.1.was") || !p.has("Di", "differ.1.was") || len(p.job().Differs) != 1 {
			t.Fatalf("%q: with the line slack it is asked of Cy, who told it, or not of Di", text)
		}
		in := p.input("Di")
		p.at = p.at.Add(-19 * time.Second)
		in.At, in.Text = p.at, "good"
		if got := said(p.run(in)["test/Di"]); !strings.Contains(got, "item.quick") || len(p.job().Differs) != 1 {
			t.Errorf("%q: a good sooner than anybody can look leads to %s", text, got)
		}
		if p.say("Di", "good"); len(p.job().Differs) != 0 {
			t.Errorf("%q: looked at by Di with the line slack it is open: %+v", text, p.job().Differs)
		}
	}
	for _, text := range []string{"ill tap the pin in once the line is slack", "ill tell the coordinator", "i will pull it when you say"} {
		p := at[flow.LightTension].copied(t)
		if got := said(p.say("Cy", text)["test/Cy"]); strings.Contains(got, "pull.stay_out") {
			t.Errorf("%q is answered %s", text, got)
		}
	}
}
