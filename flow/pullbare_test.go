package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestBareWords: no short word of the lead's, or of anybody's, takes the pull
// on from anywhere; each is told what would.
func TestBareWords(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for stage, at := range standing(t, "Bo", "Cy", "Di", "Eve") {
		for _, who := range []string{"Ada", "Bo"} {
			for _, text := range []string{"go", "ok", "yes", "ready", "pull", "start", "done", "go on"} {
				p := at.copied(t)
				before := p.job()
				got := told(p.say(who, text)["test/"+who])
				s := p.job()
				if s.Stage != before.Stage || s.State != before.State || s.Hold != before.Hold {
					t.Errorf("%s: %q of %s leads to %s, %s", stage, text, who, s.State, s.Stage)
				}
				if h := s.Holds; len(h) > 0 && len(h[len(h)-1].Sure) > len(before.Holds[len(h)-1].Sure) {
					t.Errorf("%s: %q of %s confirms", stage, text, who)
				}
				if !strings.HasPrefix(got, "pull.bare") {
					t.Errorf("%s: %q of %s is told %s", stage, text, who, got)
				}
			}
		}
	}
}

// TestReleaseIsSpelledOut: where all have confirmed the lead who says go is
// told the word that releases, and that word does.
func TestReleaseIsSpelledOut(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.AllPlaced)
	p.confirm()
	if got := text(p.say("Ada", "go")["test/Ada"]); !strings.Contains(got, "To go on write: release 1.") || p.stage() != flow.AllPlaced {
		t.Errorf("go is told %q and leads to %s", got, p.stage())
	}
	if p.say("Ada", "release 1"); p.stage() != flow.SlackOut {
		t.Errorf("the release leads to %s", p.stage())
	}
}

// TestConfirmedInWords: what the button says counts in words where it was asked
// last, or with its number; another number changes nothing.
func TestConfirmedInWords(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.AllPlaced)
	sure := func() int { return len(p.job().Holds[0].Sure) }
	n := sure()
	if p.say("Bo", "so it is 7"); sure() != n {
		t.Error("a confirmation for another hold counts")
	}
	if p.say("Bo", "so it is"); sure() != n+1 {
		t.Error("what the button says does not count in words")
	}
	if p.say("Bo", "not so 1"); sure() != n+1 {
		t.Error("what is confirmed already is asked of them again")
	}
	if p.say("Cy", "not so"); len(p.job().Holds[0].Doubt) == 0 {
		t.Error("that it is not so is not heard in words")
	}
}
