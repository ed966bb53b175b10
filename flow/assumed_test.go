package flow_test

import (
	"os"
	"strings"
	"testing"
)

// TestWhatIsTakenIsSaidByWeight: of what nobody told, the plan says first what could turn
// it, how many there are, and by which word all of them are read.
func TestWhatIsTakenIsSaidByWeight(t *testing.T) {
	text, err := os.ReadFile("../testdata/talk/t-seven-answers.txtar")
	if err != nil {
		t.Fatal(err)
	}
	c, plan := newChair(t), ""
	for line := range strings.Lines(string(text)) {
		said, ok := strings.CutPrefix(strings.TrimSpace(line), "> ")
		if !ok {
			continue
		}
		if label, button := strings.CutPrefix(said, "["); button {
			c.press(strings.TrimSuffix(label, "]"))
		} else if got := textOf(c.say(said)); strings.Contains(got, "Taken without being told:") {
			plan = got
		}
	}
	ground, guess := strings.Index(plan, "ground mud (not known, taken)"), strings.Index(plan, "weight taken: by guess")
	if ground < 0 || guess < ground || !strings.Contains(plan, "6 are taken in all. To read them all write: so far") {
		t.Fatalf("the plan says of what was taken:\n%s", plan)
	}
	_, all, _ := strings.Cut(textOf(c.say("so far")), "Taken without being told:")
	if n := strings.Count(all, "taken)") + strings.Count(all, "(nobody"); n < 6 {
		t.Errorf("so far tells %d of 6:\n%s", n, all)
	}
}
