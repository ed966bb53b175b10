package flow_test

import (
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// askedAll is a job whose list was reopened by rain, where Cy is asked several items at once.
func askedAll(t *testing.T) *puller {
	t.Helper()
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.AllPlaced)
	p.say("Di", "rain has started")
	for range 60 {
		if p.has("Cy", "items") {
			return p
		}
		for _, who := range p.crew {
			if !p.has("Cy", "items") {
				p.does(who)
			}
		}
	}
	t.Fatal("Cy is never asked for several items at once")
	return nil
}

// TestAPlainNoStays: a no to several items that names none keeps each of them until it has
// an answer of its own, whatever is changed meanwhile, and a no that names one is one to it.
func TestAPlainNoStays(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, between := range []string{"", "change weight 2.5 t, off the weighbridge"} {
		p := askedAll(t)
		out := p.say("Cy", "no")
		if got := told(out["test/Ada"]); !strings.Contains(got, "item.no_of_these") {
			t.Errorf("of a plain no the lead is told %s", got)
		}
		if between != "" {
			p.say("Eve", between)
			p.press("Ada", "differ.*")
		}
		for range 60 {
			if p.has("Cy", "items") {
				t.Fatalf("%q: after a plain no Cy is asked for all at once: %q", between, p.last["test/Cy"].Text())
			}
			if p.has("Cy", "item") || p.has("Cy", "alleyes") {
				break
			}
			for _, who := range p.crew {
				if !p.has("Cy", "item") {
					p.does(who)
				}
			}
		}
		p.at = p.at.Add(time.Minute)
		asked := p.last["test/Cy"].Text()
		if strings.Contains(asked, "marked at its base") {
			t.Fatalf("%q: Cy is asked first %q", between, asked)
		}
		if p.say("Cy", "no, the anchor is not marked"); p.job().Marks["site.anchor_marked"].Value != "false" || p.job().Marks["site.chocks"].Value == "false" {
			t.Errorf("%q: a no that names the anchor, to %q: %v", between, asked, p.job().Marks)
		}
	}
}

// TestANoThatComesLate: a no to items that others have just turned away is kept for them:
// each is asked by itself when the list is asked anew.
func TestANoThatComesLate(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	p := askedAll(t)
	p.say("Ada", "change ground mud") // no plan is left
	if got := told(p.say("Cy", "no")["test/Cy"]); !strings.HasPrefix(got, "item.no_kept") {
		t.Errorf("a no that comes late is told %s", got)
	}
	p.say("Ada", "change ground wet grass")
	for range 60 {
		if p.has("Cy", "item.chocks") {
			return
		}
		for _, who := range p.crew {
			if who == "Cy" && p.has("Cy", "items") && strings.Contains(p.last["test/Cy"].Text(), "chocked") {
				t.Fatalf("what Cy said no to is asked with others: %q", p.last["test/Cy"].Text())
			}
			if !p.has("Cy", "item.chocks") {
				p.does(who)
			}
		}
	}
	t.Errorf("the chocks are not asked again: %q", p.last["test/Cy"].Text())
}
