package flow_test

import (
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// TestBackInThePullSaysTheHold: what was asked again in a pull is answered with that
// and the hold, and not with how a rig is begun.
func TestBackInThePullSaysTheHold(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.LightTension)
	p.say("Cy", "rain")
	p.press("Bo", "sure") // the line is eased first
	seen := ""
	for range 80 {
		if p.job().State == flow.Pulling {
			break
		}
		for _, who := range p.crew {
			m := p.last["test/"+who]
			for _, begins := range []string{"take", "as_before", "yes", "checks", "item.", "eyes."} {
				if c := p.choice(who, begins); c != "" || p.has(who, begins+"*") {
					if c == "" {
						c = p.choice(who, begins+"*")
					}
					in := p.input(who)
					in.Press = &flow.Press{Session: m.Session, Revision: m.Revision, Choice: c}
					seen += " " + text(p.run(in)["test/Ada"])
					break
				}
			}
		}
	}
	if !strings.Contains(seen, "All that was to be looked at again is answered.") || strings.Contains(seen, "Rig it as said") || !strings.Contains(seen, "Back to the pull") {
		t.Errorf("back in the pull the lead is told %q", seen)
	}
}

// TestAStopAtTheDrillIsOver: that a stop at the drill is over is told when what it
// asks for was looked at: no release comes there.
func TestAStopAtTheDrillIsOver(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.StopDrill)
	p.say("Cy", "stop, a kid ran in")
	for _, who := range []string{"Bo", "Di"} {
		p.press(who, "still")
	}
	p.say("Ada", "the kid was taken back to its mother")
	told := map[string]string{}
	for range 60 {
		if p.job().State == flow.Pulling {
			break
		}
		for _, who := range p.crew {
			m := p.last["test/"+who]
			for _, begins := range []string{"item.*", "eyes.*", "checks", "as_before"} {
				if c := p.choice(who, begins); c != "" {
					in := p.input(who)
					in.Press = &flow.Press{Session: m.Session, Revision: m.Revision, Choice: c}
					for chat, list := range p.run(in) {
						told[chat] += text(list)
					}
					break
				}
			}
		}
	}
	for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
		if !strings.Contains(told["test/"+who], "The stop is over, Ada says: the kid was taken back") {
			t.Errorf("%s is not told that the stop is over: %q", who, told["test/"+who])
		}
	}
}

// TestNoSuchHoldYet: a release for a hold that has not come is told so.
func TestNoSuchHoldYet(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.StopDrill)
	if got := told(p.say("Ada", "release 1")["test/Ada"]); !strings.HasPrefix(got, "pull.void_yet") {
		t.Errorf("before the first hold its release says %s", got)
	}
}

// TestWithheldWhy: who withholds is asked why in a line, which everybody reads.
func TestWithheldWhy(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.AllPlaced)
	if got := told(p.say("Eve", "withhold 1")["test/Eve"]); !strings.Contains(got, "pull.why_withheld") {
		t.Errorf("withholding without a reason says %s", got)
	}
	out := p.say("Eve", "I want the plan read out first")
	for _, who := range []string{"Ada", "Bo", "Cy"} {
		if got := text(out["test/"+who]); !strings.Contains(got, "withholds hold 1: I want the plan read out first") {
			t.Errorf("%s reads of the reason %q", who, got)
		}
	}
	if got := told(p.say("Eve", "withhold 1, the anchor is not marked")["test/Eve"]); strings.Contains(got, "why_withheld") {
		t.Errorf("with a reason it is asked again: %s", got)
	}
}

// TestSeenToStandIsCounted: what the lead's button says, typed when all stand
// already, is counted and no reason that ends nothing; it is no drill done either.
func TestSeenToStandIsCounted(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.AllPlaced)
	p.say("Cy", "stop")
	p.press("Bo", "still")
	p.press("Di", "still")
	for _, words := range []string{"I see them all stand still", "[I see them all stand still]"} {
		in := p.input("Ada")
		in.Text = words
		if got := told(p.run(in)["test/Ada"]); !strings.HasPrefix(got, "stop.counted") || p.job().State != flow.Halted {
			t.Errorf("%q says %s", words, got)
		}
	}
}

// TestCloseSaysWhatIsToCome: who wants to close while the gear is on the load is
// told what comes first.
func TestCloseSaysWhatIsToCome(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.FirstMove)
	p.press("Ada", "stands_*")
	p.to(flow.Unrig)
	for _, words := range []string{"close", "close the job"} {
		got := text(p.say("Ada", words)["test/Ada"])
		if !strings.Contains(got, "unrig, look the gear over and look back") || strings.Contains(got, "secure the load") {
			t.Errorf("%q while unrigging says %q", words, got)
		}
	}
}

// TestOnlyWhoIsThereStands: a coordinator who calls a stop is not shown as standing.
func TestOnlyWhoIsThereStands(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.AllPlaced)
	p.say("Eve", "stop")
	p.press("Bo", "still")
	p.tick(time.Minute)
	if got := text(p.say("Eve", "board")["test/Eve"]); !strings.Contains(got, "Standing still: Bo") || strings.Contains(got, "Eve.") && strings.Contains(got, "still: Eve") {
		t.Errorf("the board says %q", got)
	}
}

// TestWhatAReportLeadsTo: what a report teaches, and that it is still a go with other
// figures, reaches who leads and who watches, whoever told it.
func TestWhatAReportLeadsTo(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.FirstMove)
	out := p.say("Cy", "the wheels slip")
	for _, who := range []string{"Ada", "Cy", "Eve"} {
		if got := told(out["test/"+who]); strings.Count(got, "pull.learnt") != 1 {
			t.Errorf("of what a slip teaches %s is told %s", who, got)
		}
	}
	q := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	q.to(flow.FirstMove)
	out = q.say("Cy", "took in 1 m, moved 0.5 m")
	if go1 := told(out["test/Cy"]); strings.Contains(go1, "pull.still_go") {
		for _, who := range []string{"Ada", "Eve"} {
			if got := told(out["test/"+who]); !strings.Contains(got, "pull.still_go") {
				t.Errorf("that it is still a go %s is not told: %s", who, got)
			}
		}
	} else {
		t.Errorf("a move within the plan says %s", go1)
	}
}
