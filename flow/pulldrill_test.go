package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

// TestADangerIsNoDrill: while the drill is on, a stop with words, or for something
// that was seen, is a real one: nobody is told that it is the drill, it opens what
// it makes doubtful, and the drill is done anew.
func TestADangerIsNoDrill(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, text := range []string{"stop!! strop is sliding up the tree", "STOP a kid ran in", "stop, Di is behind the van", "the anchor is moving, stop"} {
		for _, after := range []bool{false, true} { // the drill's own stop was called before
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(flow.StopDrill)
			p.press("Ada", "drill")
			if after {
				p.say("Di", "stop")
			}
			out := p.say("Cy", text)
			for who, list := range out {
				if got := said(list); strings.Contains(got, "drill.is_one") || strings.Contains(got, "drill.done") {
					t.Errorf("%q: %s is told %s", text, who, got)
				}
			}
			if stop := p.job().Stops[len(p.job().Stops)-1]; stop.Drill {
				t.Errorf("%q counts as the drill", text)
			}
			for _, who := range []string{"Bo", "Di"} {
				if p.has(who, "still") {
					p.press(who, "still")
				}
			}
			p.say("Ada", "foot off, all stood")
			if p.stage() != flow.StopDrill {
				t.Errorf("%q and all stood leads to %s", text, p.stage())
			}
			p.say("Ada", "looked at it and put right")
			if s := p.job(); s.Stage != flow.StopDrill || s.State == flow.Pulling || s.State == flow.Halted || s.Settled["site.line_free"] != "" && strings.Contains(text, "strop") {
				t.Errorf("%q put right leads to %s, %s, with the line %q", text, s.State, s.Stage, s.Settled["site.line_free"])
			}
			p.until("the drill again", func() bool { return p.job().State == flow.Pulling })
			if !p.has("Ada", "drill") || p.stage() != flow.StopDrill {
				t.Errorf("%q: after it Ada is asked %s at %s", text, p.last["test/Ada"].Text(), p.stage())
			}
		}
	}
}

// TestABareStopIsTheDrill: the bare word, shouted or typed in haste, is the drill's.
func TestABareStopIsTheDrill(t *testing.T) {
	for _, text := range []string{"STOP", "stop!!", "Stop stop", "s t o p", "stpo", "everybody stop!", "stop (drill)", "/stop"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.StopDrill)
		p.press("Ada", "drill")
		p.say("Cy", text)
		if stops := p.job().Stops; !slices.ContainsFunc(stops, func(s flow.Stop) bool { return s.Drill }) {
			t.Errorf("%q is not the drill: %+v", text, stops)
		}
	}
}
