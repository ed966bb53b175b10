package flow_test

import (
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// TestSilenceIsToldByTheClock: with nobody writing anything, lead and coordinator are
// told once of a lead who does not release, of a stop that nobody ends and of a
// question that stands in the middle of a pull, and nothing goes on.
func TestSilenceIsToldByTheClock(t *testing.T) {
	for name, make := range map[string]func(p *puller){
		"all have confirmed": func(p *puller) { p.confirm() },
		"a stop":             func(p *puller) { p.say("Di", "stop") },
		"a question":         func(p *puller) { p.say("Cy", "the load does not move, stuck") },
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Held)
		make(p)
		stage, count := p.stage(), map[string]int{}
		for range 10 {
			for chat, list := range p.tick(2 * time.Minute) {
				count[chat] += strings.Count(said(list)+" ", "pull.quiet ")
			}
		}
		if count["test/Ada"] != 1 || count["test/Eve"] != 1 || count["test/Bo"] != 0 {
			t.Errorf("%s: the silence is told %v times", name, count)
		}
		if p.stage() != stage {
			t.Errorf("%s: silence leads from %s to %s", name, stage, p.stage())
		}
	}
}
