package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestSwapTakesItsOffers: at the question with whom to swap the name is taken, and
// what stands under it; later the name is what it was.
func TestSwapTakesItsOffers(t *testing.T) {
	for _, words := range []string{"Cy", "with cy", "offered"} {
		p := briefed(t, "Bo", "Cy")
		if got := told(p.say("Bo", "swap")["test/Bo"]); !strings.Contains(got, "seat.swap_with") {
			t.Fatalf("swap says %s", got)
		}
		said := words
		for _, c := range p.last["test/Bo"].Choices {
			if words == "offered" && strings.HasPrefix(c.Label, "Cy, ") {
				said = c.Label
			}
		}
		in := p.input("Bo")
		in.Text = said
		out := p.run(in)
		if got := told(out["test/Cy"]); !strings.Contains(got, "seat.") {
			t.Errorf("%q says %s to Bo and %s to Cy", said, told(out["test/Bo"]), got)
		}
	}
	p := briefed(t, "Bo", "Cy")
	p.say("Bo", "swap")
	p.say("Bo", "so far")
	if got := told(p.say("Bo", "Cy")["test/Cy"]); strings.Contains(got, "seat.") {
		t.Errorf("a name said later swaps: %s", got)
	}
}

// TestWhatWasPromisedGoesBack: the lead was told that the answer goes back to who
// asked; a question that came since does not refuse it.
func TestWhatWasPromisedGoesBack(t *testing.T) {
	t.Parallel()
	p := briefed(t, "Bo", "Cy", "Eve")
	p.answer("", "Bo", "Cy")
	p.say("Eve", "Ada, what does it weigh, and from where do you have that?")
	p.answer("", "Ada", "Bo", "Cy")
	if s := p.job(); s.State != flow.Signing {
		t.Fatalf("the job stands at %s", s.State)
	}
	out := p.say("Ada", "2.7 t, from the weighbridge ticket")
	if got := text(out["test/Eve"]); !strings.Contains(got, "2.7 t, from the weighbridge ticket") {
		t.Errorf("Eve is told %q, Ada %s", got, told(out["test/Ada"]))
	}
	if s := p.job(); s.Topic != "sign_name" || s.Held["sign_name"] != "" {
		t.Errorf("the answer to Eve signs: %s, %v", s.Topic, s.Held)
	}
}

// TestWhoSaidNoSaysFixed: who said that an item is not so may say that it is put
// right; then it is looked at again. Nobody else's word from the crew does that.
func TestWhoSaidNoSaysFixed(t *testing.T) {
	p := briefed(t, "Bo", "Cy", "Eve")
	p.answer("Cy, go and look: Two wheels", "Cy")
	p.say("Cy", "[no]")
	if s := p.job(); s.Sheet.Site == nil || s.State != flow.Verdict {
		t.Fatalf("after Cy's no the job stands at %s", s.State)
	}
	p.say("Bo", "fixed")
	if s := p.job(); s.State != flow.Verdict {
		t.Errorf("Bo's fixed leads to %s", s.State)
	}
	out := p.say("Cy", "fixed")
	if s := p.job(); s.State != flow.Checks || !strings.Contains(p.asked("Cy"), "Two wheels are chocked") || !strings.Contains(text(out["test/Ada"]), "Cy") {
		t.Errorf("Cy's fixed leads to %s, Cy is asked %q, Ada told %q", s.State, p.asked("Cy"), text(out["test/Ada"]))
	}
}
