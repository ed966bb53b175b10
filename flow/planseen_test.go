package flow_test

import (
	"path/filepath"
	"strings"
	"testing"
)

// With one phone among four, everyone is asked to have seen the plan. A no is
// advice: it is said, keeps nothing from going on and wants no signature.
func TestThePlanIsSeenByAll(t *testing.T) {
	const question = "The plan stands on one card"
	for answer, advised := range map[string]bool{"[yes]": false, "[no]": true} {
		a := readAnswers(t, filepath.Join(answersDir, "x2-downhill-runs.txt"))
		a.byWord = append([][2]string{{question, answer}}, a.byWord...)
		asked, said, done, signed := false, false, false, false
		for _, step := range compose(t, a).Steps {
			for _, p := range step.Said {
				asked = asked || p.Key == "ask.check" && strings.Contains(p.Text, question)
				said = said || p.Key == "checks.failed_advice"
				done = done || p.Key == "plan.cleared"
				signed = signed || p.Key == "ask.sign_name"
			}
		}
		if !asked || said != advised || !done || signed {
			t.Errorf("%s: asked %v, advised %v, gone on with %v, signed for %v", answer, asked, said, done, signed)
		}
	}
}
