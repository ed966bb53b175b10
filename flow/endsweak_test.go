package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAYesStandsAgainstNoWeakJoiner: while all that was told and could join an end is
// too weak for it, no yes to what joins the ends settles it, however many say it: they
// read which figure is asked and which pieces are too weak, and the stamp of one that
// bears it is what settles it.
func TestAYesStandsAgainstNoWeakJoiner(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, crew := range [][]string{nil, {"Bo", "Cy"}} {
		p := &puller{phonesAt: planned(t, crew...), crew: append([]string{"Ada"}, crew...)}
		p.say("Ada", "change the shackle to 2.55 t working limit")
		p.say("Ada", "yes")
		for range 4 {
			switch topic := p.job().Topic; {
			case strings.HasSuffix(topic, ".sling_angle"):
				p.say("Ada", "straight")
			case strings.HasSuffix(topic, ".sling_hitch"):
				p.say("Ada", "basket")
			case strings.HasSuffix(topic, ".side_angle"):
				p.say("Ada", "in line")
			}
		}
		p.say("Ada", "checks")
		p.say("Ada", "Ada, Bo, Cy, Di")
		refused := 0
		for range 400 {
			if p.has("Ada", "begin_pull") {
				break
			}
			for _, who := range p.crew {
				if !strings.Contains(p.asked(who), "joins each end of each line") || !p.has(who, "yes") {
					p.does(who)
					continue
				}
				_, needs, _ := strings.Cut(p.asked(who), "joins each end of each line, for ")
				needs, _, _ = strings.Cut(needs, " tow point") // the ends of the haul line need less than 25 kN
				got := text(p.press(who, "yes")["test/"+who])
				if strings.Contains(got, "A yes does not count for that yet. What joins the line must bear "+needs+" tow point and 28.5 kN (6,400 lbf) on the holding line.") &&
					strings.Contains(got, "Too weak of what was told: shackle, 25") {
					refused++
				}
			}
			if s := p.job(); s.Settled["site.ends_joined"] != "" || s.Marks["site.ends_joined"].Value != "" {
				t.Fatalf("%d phones: a yes counts with shackles of 2.55 t told", len(p.crew))
			}
			if refused >= 3 {
				break
			}
		}
		if refused < 3 {
			t.Fatalf("%d phones: of the yeses %d were turned down; Ada is asked %q", len(p.crew), refused, p.asked("Ada"))
		}
		for _, told := range []string{"change the shackle to 12 t working limit", "yes", "in line"} {
			p.say("Ada", told)
		}
		p.until("choice begin_pull", func() bool { return p.has("Ada", "begin_pull") })
		if s := p.job(); s.Settled["site.ends_joined"] == "" {
			t.Errorf("%d phones: with a shackle of 12 t told the ends are %+v", len(p.crew), s.Marks["site.ends_joined"])
		}
	}
}
