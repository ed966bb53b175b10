package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestWithheldInWords: whoever withholds says so with or without the number, and
// why; everybody reads the reason. What lets it go on is read by itself only.
func TestWithheldInWords(t *testing.T) {
	flow.Lone(t)
	for words, reason := range map[string]string{
		"withhold 1, tree looks dead on the photo": "tree looks dead on the photo", "Withhold 1 because The Oak leans": "The Oak leans", "withhold hold 1": "",
		"withhold": "", "withold 1 - no photo yet": "no photo yet", "don't release 1, i can't see the anchor": "i can't see the anchor", "dont release yet": "", "i withhold 1: wait for the farmer": "wait for the farmer",
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.AllPlaced)
		p.confirm()
		out := p.say("Eve", words)
		for _, who := range []string{"Ada", "Bo", "Cy", "Di"} {
			got := text(out["test/"+who])
			if !strings.Contains(got, "Eve withholds hold 1") || !strings.Contains(got, reason) {
				t.Errorf("after %q %s is told %q", words, who, got)
			}
		}
		if got := text(p.say("Ada", "release 1")["test/Ada"]); p.stage() != flow.AllPlaced || !strings.Contains(got, reason) {
			t.Errorf("after %q it is released: %q", words, got)
		}
		if got := text(p.say("Eve", "lift 1 once the chock is in")["test/Eve"]); !strings.Contains(got, "lift") || len(p.job().Holds[0].Withheld) == 0 {
			t.Errorf("a lift with a condition is told %q", got)
		}
		if p.say("Eve", "lift 1"); len(p.job().Holds[0].Withheld) != 0 {
			t.Error("lift 1 lifts nothing")
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.SlackOut)
	p.say("Eve", "withhold 1, i don't see it")
	if s := p.job(); s.Stage.Moves() || len(s.Holds[len(s.Holds)-1].Withheld) != 1 {
		t.Errorf("withheld while it moves: %s, %+v", s.Stage, s.Holds)
	}
}

// TestWithheldAnyTime: who watches from afar withholds before there is a hold
// point: the pull does not begin, or stays at the next one, until they lift it.
func TestWithheldAnyTime(t *testing.T) {
	for _, words := range []string{"i withhold. wim had a beer didnt he?", "withhold", "I withhold go, Wim has been drinking", "i withhold 1"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		out := p.say("Eve", words)
		for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
			if got := text(out["test/"+who]); !strings.Contains(got, "Eve withholds the pull") || strings.Contains(words, "eer") && !strings.Contains(got, "wim had a beer") {
				t.Errorf("after %q %s is told %q", words, who, got)
			}
		}
		p.say("Ada", "lift it")
		if got := text(p.say("Ada", "begin the pull")["test/Ada"]); p.job().State == flow.Pulling || !strings.Contains(got, "Eve") {
			t.Errorf("after %q the pull begins: %q", words, got)
		}
		p.say("Eve", "lift")
		if p.say("Ada", "begin the pull"); p.job().State != flow.Pulling && len(p.job().Vetoes) != 0 {
			t.Errorf("after %q and lift it is still withheld", words)
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.StopDrill)
	p.say("Eve", "withhold, no photo yet")
	p.say("Ada", "drill")
	p.say("Bo", "stop")
	for _, who := range []string{"Ada", "Cy", "Di"} {
		p.pressed(who, "still")
	}
	p.pressed("Ada", "drill_ok")
	p.say("Ada", "release 1")
	if s := p.job(); s.Stage != flow.AllPlaced || len(s.Holds[0].Withheld) != 1 || s.Holds[0].Reasons[s.Holds[0].Withheld[0].ID] != "no photo yet" {
		t.Errorf("what was withheld in the drill is no more: %s, %+v", s.Stage, s.Holds)
	}
}

// TestLiftedInWords: the word that lifts what somebody withholds lifts it in whatever company
// it comes, with nothing that it waits for; approval without it is put back, and a yes to
// that lifts. Everybody who is told that it is withheld reads the word, and nobody else's
// lifts it.
func TestLiftedInWords(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, stood := range []flow.Stage{flow.AllPlaced, flow.Held, flow.NotBegun} {
		if at[stood] == nil {
			continue
		}
		withheld := func(p *puller) int { return len(p.job().Vetoes) + len(p.holdNow().Withheld) }
		begin := func(words string) *puller {
			p := at[stood].copied(t)
			out := p.say("Eve", words)
			if got := text(out["test/Ada"]); withheld(p) != 1 || !strings.Contains(got, "lift") {
				t.Errorf("%q at %s withholds %d, and Ada reads %q", words, stood, withheld(p), got)
			}
			return p
		}
		for _, words := range []string{"lift", "all good, lift", "ok lift it now", "happy with the photo thanks, lifted", "I lift it", "ok i no longer withhold", "withhold is off", "i take my withhold back, carry on"} {
			if p := begin("withhold, no photo yet"); withheld(p) == 1 {
				if p.say("Ada", words); withheld(p) != 1 {
					t.Errorf("Ada lifts by %q what Eve withholds", words)
				}
				if out := p.say("Eve", words); withheld(p) != 0 {
					t.Errorf("%q at %s lifts nothing: %s", words, stood, said(out["test/Eve"]))
				}
			}
		}
		for _, words := range []string{"lift once the chock is in", "dont lift yet", "not lifted", "when do i lift?", "lift the block a bit"} {
			if p := begin("withhold, no photo yet"); withheld(p) == 1 {
				if p.say("Eve", words); withheld(p) != 1 {
					t.Errorf("%q at %s lifts it", words, stood)
				}
			}
		}
		p := begin("withhold, no photo yet")
		if out := said(p.say("Eve", "ok happy now, carry on")["test/Eve"]); !strings.Contains(out, "pull.lift_ask") || withheld(p) != 1 {
			t.Errorf("approval at %s is answered %s", stood, out)
		}
		if p.say("Eve", "yes"); withheld(p) != 0 {
			t.Errorf("a yes at %s lifts nothing", stood)
		}
		if stood != flow.NotBegun {
			begin("not happy with the anchor, dont go")
			begin("wait for the photo")
		}
	}
}

// holdNow is the hold point where the pull stands; an empty one where there is none.
func (p *puller) holdNow() flow.Hold {
	if s := p.job(); len(s.Holds) > 0 {
		return s.Holds[len(s.Holds)-1]
	}
	return flow.Hold{}
}

// TestAYesIsNoReason: words that all is well, or how it is to be pulled, are no reason
// for what is withheld and lift nothing: it is asked which of the two is meant, and
// nobody on the spot reads them as a reason.
func TestAYesIsNoReason(t *testing.T) {
	flow.Lone(t)
	at := func() *puller {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.AllPlaced)
		p.confirm()
		return p
	}
	for _, words := range []string{"ok happy, go on", "yes go ahead", "Happy now, carry on please", "all good from me", "ok happy, go on with the low gear", "throttle max idle, marked on the pedal", "idle only, as agreed"} {
		for _, once := range []bool{false, true} {
			p := at()
			var out map[string][]flow.Message
			if once {
				out = p.say("Eve", "withhold 1, "+words)
			} else {
				p.say("Eve", "withhold 1")
				out = p.say("Eve", words)
			}
			if got := text(out["test/Eve"]); !strings.Contains(got, "says nothing of what is wrong") || !strings.Contains(got, "lift 1") {
				t.Errorf("%q is answered %q", words, got)
			}
			h := p.job().Holds[0]
			if len(h.Withheld) != 1 || h.Reasons[h.Withheld[0].ID] != "" {
				t.Errorf("%q leaves it withheld by %v for %v", words, h.Withheld, h.Reasons)
			}
			p.say("Eve", "no photo of the hitch yet")
			if h := p.job().Holds[0]; h.Reasons[h.Withheld[0].ID] != "no photo of the hitch yet" {
				t.Errorf("after %q the reason is %v", words, h.Reasons)
			}
			if p.say("Eve", "lift 1"); len(p.job().Holds[0].Withheld) != 0 {
				t.Errorf("after %q it can't be lifted", words)
			}
		}
	}
	for _, words := range []string{"ok once the chock is in", "throttle is not marked", "happy if wim gets out of the cab", "no photo yet", "i see nothing of it", "too much throttle"} {
		p := at()
		p.say("Eve", "withhold 1")
		p.say("Eve", words)
		if h := p.job().Holds[0]; h.Reasons[h.Withheld[0].ID] != words {
			t.Errorf("%q is not the reason, but %v", words, h.Reasons)
		}
	}
}
