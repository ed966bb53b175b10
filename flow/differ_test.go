package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// mass is the weight of the load as the job has it.
func (p *puller) mass() string {
	v, _ := p.job().Sheet.Get("load.mass")
	return v
}

// TestLighterFromAfar: what a coordinator tells lighter than it was weighed on
// the spot is shown beside that and not gone by until the lead has said so.
func TestLighterFromAfar(t *testing.T) {
	for _, words := range []string{"weight 1.5 t", "change weight 1.5 t", "the papers say it weighs 1.5 t"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		out := p.say("Eve", words)
		if got := text(out["test/Ada"]); p.mass() != "2.4 t" || !strings.Contains(got, "Eve says 1.5 t") || !strings.Contains(got, "2.4 t = 5,290 lb, weighed") {
			t.Errorf("after %q the job goes by %s and the lead is told %q", words, p.mass(), got)
		}
		if from, _ := p.job().Sheet.Get("load.mass_from"); from != "weighed" {
			t.Errorf("after %q the weight is known by %q", words, from)
		}
		if got := text(p.say("Ada", "begin the pull")["test/Ada"]); !strings.Contains(got, "Two phones say two things") || p.job().State == flow.Pulling {
			t.Errorf("unsettled, the pull begins: %q", got)
		}
	}
}

// TestDiffersSettled: the lead alone settles it, once, by a press or in words;
// then the job goes on where it stood.
func TestDiffersSettled(t *testing.T) {
	for answer, want := range map[string]string{
		"[2.4 t = 5,290 lb]": "2.4 t", "[1.8 t = 3,970 lb]": "1.8 t", "2.4 t": "2.4 t", "2.4t": "2.4 t", "1.9 t weighed": "1.9 t", "don't know": "2.4 t", "weight 2.2 t, weighed": "2.2 t",
		"1.8": "1.8 t", "2.4": "2.4 t", "eve is right": "1.8 t", "Eve’s right": "1.8 t", "go with eve": "1.8 t", "eve is wrong": "2.4 t", "Eve is not right": "2.4 t", "mine": "2.4 t", "i'm right": "2.4 t", "as it was": "2.4 t",
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.say("Eve", "weight 1.8 t, weighed")
		asked := p.last["test/Ada"]
		for _, who := range []string{"Eve", "Cy"} {
			in := p.input(who)
			in.Press = &flow.Press{Session: asked.Session, Revision: asked.Revision, Choice: asked.Choices[0].Choice}
			if got := told(p.run(in)["test/"+who]); got != "seat.not_yours" {
				t.Errorf("%s settles it: %s", who, got)
			}
		}
		if got := told(p.say("Ada", "why")["test/Ada"]); !strings.HasPrefix(got, "differ.why ") {
			t.Errorf("why there says %s", got)
		}
		out := p.say("Ada", answer)
		if p.mass() != want || len(p.job().Differs) != 0 || !strings.Contains(told(out["test/Eve"]), "differ.settled") {
			t.Errorf("%q leaves %s, %d open, and Eve is told %s", answer, p.mass(), len(p.job().Differs), told(out["test/Eve"]))
		}
		in := p.input("Ada")
		in.Press = &flow.Press{Session: asked.Session, Revision: asked.Revision, Choice: asked.Choices[0].Choice}
		if got := told(p.run(in)["test/Ada"]); got != "refuse.stale_short" {
			t.Errorf("a late press says %s", got)
		}
	}
}

// TestTheLessTakesHowItIsKnown: that somebody is right, or a press, is no figure: a lighter
// load is taken from another phone once it is told how that is known, and where it is less by
// a good part only when it was asked back.
func TestTheLessTakesHowItIsKnown(t *testing.T) {
	for _, answer := range []string{"eve is right", "[1.8 t = 3,970 lb]", "1.8", "1.8 t", "go with eve"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.say("Eve", "weight 1.8 t")
		if got := told(p.say("Ada", answer)["test/Ada"]); p.mass() != "2.4 t" || len(p.job().Differs) != 1 || !strings.Contains(got, "differ.how_known") {
			t.Errorf("%q leaves %s, %d open, and says %s", answer, p.mass(), len(p.job().Differs), got)
		}
		if p.say("Ada", "1.8 t weighed"); p.mass() != "1.8 t" || len(p.job().Differs) != 0 {
			t.Errorf("with how it is known, it is %s", p.mass())
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Eve", "weight 640 kg, weighed")
	for i, want := range []string{"2.4 t", "640 kg"} {
		if p.say("Ada", "eve is right"); p.mass() != want {
			t.Errorf("said %d times, it is %s", i+1, p.mass())
		}
	}
	p = readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Eve", "the delivery note says 640 kg came off, so it weighs 6.1 t")
	if p.mass() != "6.1 t" {
		t.Errorf("what came off leaves %s", p.mass())
	}
}

// TestHeavierFromTheCrew: what somebody of the crew tells heavier is gone by at
// once, the puller holds first, and nothing pulls until it is settled.
func TestHeavierFromTheCrew(t *testing.T) {
	for _, words := range []string{"the pickup is 3 t with the load", "the truck is 3 t with the load", "its more like 3 tonnes i think", "weight 3 t"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.FirstMove)
		out := p.say("Cy", words)
		for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
			if got := told(out["test/"+who]); strings.Count(got, "pull.hold_now") != 1 || !strings.HasPrefix(got, "pull.hold_now") {
				t.Errorf("%q: %s is told %s", words, who, got)
			}
		}
		if got := text(out["test/Ada"]); !strings.HasPrefix(p.mass(), "3 t") || !strings.Contains(got, "Cy says 3 t") || p.stage().Moves() {
			t.Errorf("after %q the job goes by %s at %s and the lead is told %q", words, p.mass(), p.stage(), got)
		}
		p.say("Ada", "[2.4 t = 5,290 lb]")
		if from, _ := p.job().Sheet.Get("load.mass_from"); p.mass() != "2.4 t" || from != "weighed" {
			t.Errorf("settled, it is %s by %q", p.mass(), from)
		}
		if p.job().State == flow.Pulling && p.stage().Moves() {
			t.Error("settling it moves the puller")
		}
	}
}

// TestThirdValue: whoever agrees with one of the two asks nothing anew, and a
// worse third is gone by against what the lead told.
func TestThirdValue(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Cy", "weight 3 t")
	p.say("Di", "weight 2.4 t")
	if n := len(p.job().Differs); n != 1 || p.job().Differs[0].Number != 1 || p.mass() != "3 t" {
		t.Errorf("who agrees with the lead makes %d of it and %s", n, p.mass())
	}
	p.say("Eve", "weight 2 t")
	if p.mass() != "3 t" || p.job().Differs[0].Number != 1 {
		t.Errorf("a lighter third makes it %s", p.mass())
	}
	p.say("Bo", "weight 3.5 t")
	if d := p.job().Differs; p.mass() != "3.5 t" || len(d) != 1 || d[0].Was != "2.4 t" || d[0].Said != "3.5 t" {
		t.Errorf("a worse third makes it %s: %+v", p.mass(), d)
	}
}

// TestWorseCondition: what is damaged is worse than what nobody knows, and that worse
// than what is good, whoever told it first and whether or not a plan can be reckoned.
func TestWorseCondition(t *testing.T) {
	ranks := []string{"damaged", "unknown", "good"}
	for name, s := range map[string]*flow.Session{"with a plan": readyToPull(t, "Bo", "Cy").job(), "without one": {}} {
		for _, path := range []string{"load.tow_point.condition", "gear[0].condition"} {
			if strings.HasPrefix(path, "gear") && len(s.Sheet.Gear) == 0 {
				if err := s.Sheet.Set("gear[0].kind", "rope"); err != nil {
					t.Fatal(err)
				}
			}
			for i, was := range append(ranks, "") {
				for j, said := range ranks {
					if err := s.Sheet.Set(path, was); err != nil {
						t.Fatal(err)
					}
					rank := i
					if was == "" {
						rank = 1
					}
					if rank != j && flow.Worse(newEngine(), s, path, said) != (j < rank) {
						t.Errorf("%s, %s: %q against %q is not ranked", name, path, said, was)
					}
				}
			}
		}
	}
}
