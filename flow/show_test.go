package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestPlanIsShown: a plan that is a go comes with its pictures, where they can
// be made, and the card and the report come when they are asked for.
func TestPlanIsShown(t *testing.T) {
	c := newChair(t)
	c.engine.Pictures = true
	a := readAnswers(t, answersDir+"/s01-go-two-parts.txt")
	sent := c.say("/start")
	var shows []flow.Show
	for range mostSteps {
		parts := sent[len(sent)-1].Parts
		if parts[len(parts)-1].Key == "ask.verdict" {
			break
		}
		answer, ok := a.next(parts[len(parts)-1])
		if !ok {
			t.Fatalf("no answer to %s", parts[len(parts)-1].Key)
		}
		if strings.HasPrefix(answer, "[") {
			sent = c.press(strings.Trim(answer, "[]"))
		} else {
			sent = c.say(answer)
		}
		for _, m := range sent {
			shows = append(shows, m.Shows...)
		}
	}
	if len(shows) != 2 || shows[0].What != flow.ShowRig || shows[1].What != flow.ShowForce || shows[0].Caption == "" || shows[0].Entry == 0 {
		t.Fatalf("with the plan comes %+v", shows)
	}
	for text, what := range map[string]string{"report": flow.ShowReport, "plan card": flow.ShowCard, "pictures": flow.ShowRig} {
		sent := c.say(text)
		if last := sent[len(sent)-1]; len(last.Shows) == 0 || last.Shows[0].What != what {
			t.Errorf("%q brings %+v", text, last.Shows)
		}
	}
}
