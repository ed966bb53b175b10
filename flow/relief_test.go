package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestWhoStaysIsTold: who leaves and is told to stay at their post reads there every stop
// and how the line stands, is told when somebody else has taken it on, and has a true
// answer to whether they may go before and after.
func TestWhoStaysIsTold(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for who, post := range map[string]string{"Di": "holder", "Bo": "driver"} {
		p := at[flow.Held].copied(t)
		p.say(who, "leave")
		if got := told(p.say(who, "can I go now?")["test/"+who]); !strings.HasPrefix(got, "join.outside_stay") {
			t.Errorf("%s asks whether they may go and is told %s", who, got)
		}
		q := p.copied(t)
		out := q.say("Cy", "stop")["test/"+who]
		if got := told(out); len(out) == 0 || !out[0].Urgent || !strings.HasPrefix(got, "stop.called") || !strings.Contains(got, "join.still_at_post") {
			t.Errorf("%s reads of a stop %s", who, got)
		}
		q = p.copied(t)
		if got := told(q.say("Ada", "change weight 9 t")["test/"+who]); !strings.Contains(got, "join.still_at_post") {
			t.Errorf("%s reads of a job that is handed over %s", who, got)
		}
		p.join("Ada", "crew code", "Fay")
		out = nil
		for range 3 {
			if p.has("Fay", "take") {
				out = p.press("Fay", "take")["test/"+who]
			} else {
				p.say("Ada", "Fay is "+post)
			}
		}
		if got := text(out); !strings.Contains(got, "You are relieved, "+who) || !strings.Contains(got, "by Fay") {
			t.Errorf("%s is relieved by %v and told %q", who, p.job().Seats, got)
		}
		if got := told(p.say(who, "can I go now?")["test/"+who]); !strings.HasPrefix(got, "join.may_go") {
			t.Errorf("relieved %s asks whether they may go and is told %s", who, got)
		}
		if got := told(p.say("Cy", "stop")["test/"+who]); got != "" {
			t.Errorf("relieved, %s still reads %s", who, got)
		}
	}
}
