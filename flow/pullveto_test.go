package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestWithheldInWords: whoever withholds says so with or without the number, and
// why; everybody reads the reason. What lets it go on is read by itself only.
func TestWithheldInWords(t *testing.T) {
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
		for _, no := range []string{"lift", "lift 1 once the chock is in"} {
			if got := text(p.say("Eve", no)["test/Eve"]); !strings.Contains(got, "lift 1") || len(p.job().Holds[0].Withheld) == 0 {
				t.Errorf("%q of who withholds is told %q", no, got)
			}
		}
		if p.say("Eve", "lift 1"); len(p.job().Holds[0].Withheld) != 0 {
			t.Error("lift 1 lifts nothing")
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.SlackOut)
	if got := told(p.say("Eve", "withhold 1, i don't see it")["test/Eve"]); !strings.HasPrefix(got, "pull.none_to_withhold") && !strings.Contains(got, "stop.") {
		t.Errorf("while it moves withhold is told %s", got)
	}
}
