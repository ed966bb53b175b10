package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestDebriefIsOfThePlanThatWasPulled: what is reckoned once the line is off was never
// rigged, and is neither what was planned nor what any piece has carried.
func TestDebriefIsOfThePlanThatWasPulled(t *testing.T) {
	flow.Lone(t)
	debriefed := func(words ...string) (rows []flow.Row, gear string) {
		p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.GearCheck].copied(t)
		for _, w := range words {
			p.say("Ada", w)
		}
		p.confirm()
		p.press("Ada", "release")
		if p.job().State != flow.Debrief {
			t.Fatalf("after %q it stands at %s: %q", words, p.job().State, p.asked("Ada"))
		}
		rows = p.job().Rows
		p.press("Ada", "debrief.there")
		p.say("Ada", "on the lane, chocked both ways, in gear")
		for p.job().State != flow.Closed {
			if p.job().Past["gear"] == "" && p.job().Past["near:"+p.job().Lead.ID] != "" {
				return rows, text(p.say("Ada", "the shackle is bent")["test/Ada"])
			}
			p.press("Ada", "debrief")
		}
		t.Fatal("it never asked for the gear")
		return nil, ""
	}
	rows, gear := debriefed()
	other, gearOther := debriefed("change weight 3.4 t")
	if len(rows) != len(other) {
		t.Fatalf("%d rows and %d", len(rows), len(other))
	}
	for i, r := range rows {
		if other[i] != r {
			t.Errorf("what was reckoned after the pull stands as %v, and it was pulled by %v", other[i], r)
		}
	}
	if gear != gearOther {
		t.Errorf("the gear to be laid apart is\n%s\nand was\n%s", gearOther, gear)
	}
}

// TestAJobCountsAsItWasPulled: what is told once the load is secured decides nothing about
// the job in a list of jobs, but that others have to take it over.
func TestAJobCountsAsItWasPulled(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for words, want := range map[string]string{"change weight 9 t": "go", "change rope rating 100 kg working": "go", "the oak is dead": "go", "there is a strong smell of fuel": "refer"} {
		p := at[flow.SlackIsOff].copied(t)
		p.say("Ada", words)
		if got := p.head().Decision; got != want {
			t.Errorf("after %q the job counts as %s, want %s", words, got, want)
		}
	}
}

// TestNoPieceInTheAnswer: words on the gear in which no piece is read are no word that
// nothing is damaged: once it is asked which piece shows what; what denies any damage is one.
func TestNoPieceInTheAnswer(t *testing.T) {
	flow.Lone(t)
	p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.GearCheck].copied(t)
	p.confirm()
	p.press("Ada", "release")
	p.press("Ada", "debrief.there")
	p.say("Ada", "on the lane, chocked both ways, in gear")
	for p.job().Past["near:"+p.job().Lead.ID] == "" {
		p.press("Ada", "debrief")
	}
	late := p.copied(t)
	late.say("Ada", "none")
	late.press("Ada", "debrief.keep")
	if got := text(late.say("Ada", "oh and the rope has a melted patch near the eye")["test/Ada"]); !strings.Contains(got, "cut it up") {
		t.Errorf("of a rope that melted it is said late: %q", got)
	}
	for words, asked := range map[string]bool{"measure wheel radius before, and sling on oak 2 ready": true, "no, nothing broke": false, "all good": false, "none": false} {
		at := p.copied(t)
		if got := said(at.say("Ada", words)["test/Ada"]); strings.Contains(got, "debrief.no_piece") != asked {
			t.Errorf("%q: %s", words, got)
		}
	}
}
