package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestANamedWeakPieceIsANo: whoever is asked what joins the ends and names a piece that
// carries less than its end needs has said no, whatever they ask or say beside it; one
// that bears it is none.
func TestANamedWeakPieceIsANo(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for words, weak := range map[string]bool{
		"we use the small 500 kg shackle at the tow point thats ok?": true,
		"yes, shackle 500 kg at the tow eye":                         true,
		"yes, the 500kg shackle":                                     true,
		"yes, shackle 12 t at the tow point":                         false,
		"yes, we took the 500 kg shackle off":                        false,
	} {
		for _, crew := range [][]string{nil, {"Bo", "Cy"}} {
			p := &puller{phonesAt: planned(t, crew...), crew: append([]string{"Ada"}, crew...)}
			p.say("Ada", "change the shackle to 12 t working limit")
			p.say("Ada", "yes")
			p.say("Ada", "in line")
			p.say("Ada", "checks")
			p.say("Ada", "Ada, Bo, Cy, Di")
			met := false
			for range 200 {
				for _, who := range p.crew {
					if met || !strings.Contains(p.asked(who), "joins each end of each line") || !p.has(who, "yes") {
						p.does(who)
						continue
					}
					met = true
					got := text(p.say(who, words)["test/"+who])
					site := p.job().Sheet.Site
					no := site != nil && site.EndsJoined != nil && !*site.EndsJoined
					if no != weak || strings.Contains(got, "Too weak: the shackle carries") != weak {
						t.Errorf("%d phones, %q: a no is %v\n%s", len(p.crew), words, no, got)
					}
				}
				if met {
					break
				}
			}
			if !met {
				t.Errorf("%d phones: what joins the ends is asked of nobody", len(p.crew))
			}
		}
	}
}
