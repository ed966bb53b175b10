package flow_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// otherRigAt is a pull that stands at a stage while the plan asks for another rig:
// the load is lighter and the block, read again, is too weak for two parts.
func otherRigAt(t *testing.T, stage flow.Stage) *puller {
	t.Helper()
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(stage)
	p.say("Ada", "change weight 1.2 t weighed")
	p.say("Ada", "change block rating 200 kg")
	p.until("back", func() bool { return p.job().State == flow.Pulling })
	for range 30 {
		p.tick(time.Minute + time.Second)
		if !p.willing() {
			break
		}
	}
	return p
}

// choices are the names of the last buttons in a chat, without their numbers.
func (p *puller) choices(who string) (out []string) {
	for _, c := range p.last["test/"+who].Choices {
		name, _, _ := strings.Cut(c.Choice, ".")
		out = append(out, name)
	}
	return out
}

// TestRerigIsTheOnlyWayOn: a re-rig that the plan demands has nothing offered beside
// it that pulls or tightens by the rig as it lies, and no words do either.
func TestRerigIsTheOnlyWayOn(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, c := range []struct {
		at, to  flow.Stage // where it is found out, and where it is looked at
		offered []string
		refused []string // by their words
	}{
		{flow.Held, flow.Held, []string{"rerig", "secure", "report", "stop"}, []string{"release", "crest"}},
		{flow.Held, flow.HoldProved, []string{"release", "secure", "report", "stop"}, []string{"tighten again"}},
		{flow.Held, flow.LineSlack, []string{"release", "secure", "report", "stop"}, []string{"tighten again"}},
	} {
		p := otherRigAt(t, c.at)
		if s := p.job(); s.Stage != c.at || !strings.HasPrefix(s.Rig[0], "1 ") || !strings.HasPrefix(s.Rove, "2 ") {
			t.Fatalf("at %s the plan asks for %v, rove is %s, it stands at %s", c.at, s.Rig, s.Rove, s.Stage)
		}
		p.to(c.to)
		p.confirm1()
		if got := p.choices("Ada"); !slices.Equal(got, c.offered) {
			t.Errorf("%s: under a demanded re-rig is offered %v under %q", c.to, got, p.last["test/Ada"].Text())
		}
		if text := p.last["test/Ada"].Text(); strings.Contains(text, "tighten again") || strings.Contains(text, "Next bite") {
			t.Errorf("%s: it says %q", c.to, text)
		}
		for _, words := range c.refused {
			q := p.copied(t)
			q.say("Ada", fmt.Sprintf("%s %d", words, p.job().Hold))
			if q.stage() != c.to && q.stage() != flow.Proving { // eased to be proved, which is the way
				t.Errorf("%s: %q leads to %s", c.to, words, q.stage())
			}
		}
	}
	p := otherRigAt(t, flow.Held)
	p.to(flow.Rerig)
	p.press("Ada", "done_*")
	p.until("placed again", func() bool { return p.stage() == flow.AllPlaced && p.has("Ada", "release") })
	if p.to(flow.FirstMove); !strings.HasPrefix(p.job().Rove, "1 ") {
		t.Errorf("rigged anew it pulls by %s", p.job().Rove)
	}
}

// confirm1 has everybody confirm what the hold waits for and lets a minute pass.
func (p *puller) confirm1() {
	for range 20 {
		p.tick(time.Minute + time.Second)
		if !p.willing() {
			return
		}
	}
}

// TestRerigInWords: a re-rig can be written, with the number of its hold; without
// it says so and moves nothing.
func TestRerigInWords(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	p.confirm()
	n := p.job().Hold
	for _, words := range []string{"re-rig", "rerig", "lets re-rig now", "we need to rerig"} {
		if got := told(p.say("Ada", words)["test/Ada"]); !strings.HasPrefix(got, "pull.which_hold") || p.stage() != flow.Held {
			t.Errorf("%q says %s and leads to %s", words, got, p.stage())
		}
	}
	for words, to := range map[string]flow.Stage{
		fmt.Sprint("re-rig ", n): flow.Proving, fmt.Sprint("ok re rig hold ", n): flow.Proving, fmt.Sprint("re-rig ", n-1): flow.Held, fmt.Sprint("tighten again ", n): flow.Held,
	} {
		q := p.copied(t)
		if q.say("Ada", words); q.stage() != to {
			t.Errorf("%q leads to %s", words, q.stage())
		}
		r := p.copied(t)
		if r.say("Cy", words); r.stage() != flow.Held {
			t.Errorf("%q of Cy leads to %s", words, r.stage())
		}
	}
	p.to(flow.HoldProved)
	p.confirm()
	for words, to := range map[string]flow.Stage{"tighten again %d": flow.AllPlaced, "tighten again %d, nothing shifted": flow.AllPlaced, "re-rig %d": flow.LineSlack} {
		q := p.copied(t)
		if q.say("Ada", fmt.Sprintf(words, p.job().Hold)); q.stage() != to {
			t.Errorf("%q at a proved hold leads to %s", words, q.stage())
		}
	}
	l := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	l.to(flow.LightTension)
	if l.say("Ada", "back to slack"); l.stage() != flow.AllPlaced {
		t.Errorf("back to slack leads to %s", l.stage())
	}
}

// TestTheHoldingLineIsMoved: a holding line that the plan has at another anchor is never let
// off for that while it keeps the load: how it gets there is said where hands go in, and
// where it stays nothing of it is.
func TestTheHoldingLineIsMoved(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	p := readyToPull(t)
	p.to(flow.Held)
	for _, words := range []string{"without rated point", "rope 2 to a rated ground anchor WLL 5 t", "yes", "none of these, a chain to the wall", "change way to the holding anchor 30 m"} {
		p.say("Ada", words)
	}
	for _, stage := range []flow.Stage{flow.Held, flow.HoldProved, flow.LineSlack} {
		p.to(stage)
		p.confirm1()
		if got := p.last["test/Ada"].Text(); stage != flow.LineSlack && strings.Contains(got, "never let it off") {
			t.Errorf("at %s it is said how the holding line moves", stage)
		}
	}
	if got := text(p.press("Ada", "release")["test/Ada"]); p.stage() != flow.Rerig || !strings.Contains(got, "never let it off for that. First take a second rope tight to rated point 2") {
		t.Errorf("at %s Ada reads %q", p.stage(), got)
	}
	p = otherRigAt(t, flow.Held)
	if p.to(flow.Rerig); strings.Contains(p.last["test/Ada"].Text(), "never let it off") {
		t.Errorf("the holding line stays, and Ada reads %q", p.last["test/Ada"].Text())
	}
}
