package flow_test

import (
	"maps"
	"strings"
	"testing"
	"time"

	"linetender/calc/job"
	"linetender/flow"
)

// onSpot is what was seen and signed on the spot.
func onSpot(s *flow.Session) (map[string]flow.How, []job.SignatureSheet) {
	out := map[string]flow.How{}
	for topic, how := range s.Settled {
		if strings.HasPrefix(topic, "site.") {
			out[topic] = how
		}
	}
	return out, s.Sheet.Signed
}

// TestBackToWhatItWas: what was told otherwise and is settled back leaves what was
// seen and signed for it as it was; over anything that happened meanwhile, or that
// hands may have done, it is looked at anew.
func TestBackToWhatItWas(t *testing.T) {
	flow.Lone(t)
	const other, back = "change weight 2.9 t weighed", "change weight 2.4 t weighed"
	for name, c := range map[string]struct {
		at     flow.Stage
		who    string
		other  string
		back   string
		do     func(p *puller)
		counts bool
	}{
		"before the pull": {flow.NotBegun, "Ada", other, back, nil, true},
		"in other words":  {flow.NotBegun, "Ada", other, "change weight 2400 kg weighed", nil, true},
		"at a hold":       {flow.Held, "Ada", other, back, nil, true},
		"of two phones":   {flow.Held, "Cy", "it weighs 2.9 t weighed", "2.4 t", nil, true},
		"a question":      {flow.NotBegun, "Ada", other, back, func(p *puller) { p.say("Ada", "so far"); p.say("Cy", "note a kite") }, true},
		"not weighed":     {flow.NotBegun, "Ada", other, "change weight 2.4 t guessed", nil, false},
		"rain":            {flow.NotBegun, "Ada", other, back, func(p *puller) { p.say("Bo", "rain") }, false},
		"a stop": {flow.NotBegun, "Ada", other, back, func(p *puller) {
			p.say("Bo", "stop")
			for _, who := range []string{"Cy", "Di"} {
				p.pressed(who, "still")
			}
			p.say("Ada", "a kite came down")
		}, false},
		"somebody went": {flow.NotBegun, "Ada", other, back, func(p *puller) { p.say("Di", "leave") }, false},
		"unloaded":      {flow.NotBegun, "Ada", "change weight 1.9 t weighed, unloaded it", back, nil, false},
		"dug":           {flow.NotBegun, "Ada", "change depth rim deep", "change depth not sunk", nil, false},
		"a slip":        {flow.Bite, "Ada", other, back, func(p *puller) { p.say("Cy", "it slips") }, false},
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(c.at)
		was, signed := onSpot(p.job())
		p.say(c.who, c.other)
		if now, _ := onSpot(p.job()); len(was) == 0 || maps.Equal(now, was) {
			t.Fatalf("%s: %q takes nothing back of %d", name, c.other, len(was))
		}
		if c.do != nil {
			c.do(p)
		}
		out := p.say("Ada", c.back)
		now, sign := onSpot(p.job())
		if same := maps.Equal(now, was) && len(sign) == len(signed); same != c.counts {
			t.Errorf("%s: what was seen counts again: %v, %d of %d, signed %d of %d; Ada is told %s", name, same, len(now), len(was), len(sign), len(signed), said(out["test/Ada"]))
		}
		if c.counts && strings.Contains(said(out["test/Ada"]), "checks.again") {
			t.Errorf("%s: it is told to be another plan", name)
		}
		if why, barred := flow.Barred(p.engine, p.job(), p.input("Ada")); c.counts && barred {
			t.Errorf("%s: it is kept by %s", name, why)
		}
	}
	// What was answered anew meanwhile stands, a no above all.
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Ada", "change weight 2.45 t weighed")
	no := ""
	for range 60 {
		for _, who := range p.crew {
			for _, c := range p.last["test/"+who].Choices {
				if no == "" && strings.HasPrefix(c.Choice, "item.") && strings.Contains(c.Choice, ".no.") {
					no = who
					p.pressed(who, c.Choice)
				}
			}
		}
		if no != "" || !p.willing() {
			break
		}
	}
	if no == "" {
		t.Fatal("nobody is asked anything anew")
	}
	p.say("Ada", back)
	if why, barred := flow.Barred(p.engine, p.job(), p.input("Ada")); !barred {
		t.Errorf("a no that was said meanwhile keeps nothing: %s", why)
	}
	// And what counts again is no younger for it.
	q := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	q.at = q.at.Add(40 * time.Minute)
	q.say("Ada", other)
	q.say("Ada", back)
	q.at = q.at.Add(30 * time.Minute)
	if q.press("Ada", "begin_pull"); q.stage() != flow.NotBegun {
		t.Error("what was seen seventy minutes ago lets a pull begin")
	}
}
