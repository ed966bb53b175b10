package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestWhoIsHurtHoldsNoPost: once the stop is over whoever was told to be hurt has no
// post, in whatever words and by whomever it was told; it is named as empty, nobody
// gets it by themselves, and nothing pulls before somebody was placed there. Where
// nobody was named, everybody says anew that they are there.
func TestWhoIsHurtHoldsNoPost(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, tc := range []struct {
		stage     flow.Stage
		who, says string
		reason    string
		empty     string // the post; empty for all asked anew
	}{
		{flow.Held, "Cy", "Bo is hurt", "Bo cut his hand, Di looked after him", "driver"},
		{flow.Bite, "Di", "stop i hurt my hand", "it was a splinter, we bandaged it", "holder"},
		{flow.LightTension, "Cy", "stop, somebody got hurt", "Di was hurt by the rope, she was looked at", "holder"},
		{flow.Held, "Di", "Cy is bleeding", "he was bandaged, sent home", "rigger"},
		{flow.AllPlaced, "Cy", "stop, Di is hurt", "Di fell, it was looked at", "holder"},
		{flow.Held, "Cy", "somebody got hurt", "stop_cause.hurt", ""},
	} {
		p := at[tc.stage].copied(t)
		p.say(tc.who, tc.says)
		for _, who := range []string{"Bo", "Cy", "Di"} {
			if p.has(who, "still") {
				p.press(who, "still")
			}
		}
		var out map[string][]flow.Message
		if strings.HasPrefix(tc.reason, "stop_cause") {
			out = p.press("Ada", tc.reason)
		} else {
			out = p.say("Ada", tc.reason)
		}
		s := p.job()
		if s.State != flow.Referred {
			t.Errorf("%s: %q leads to %s: %s", tc.stage, tc.says, s.State, told(out["test/Ada"]))
			continue
		}
		for _, seat := range s.Seats {
			switch {
			case tc.empty == "" && (seat.Name == "" || seat.Taken):
				t.Errorf("%s: %q leaves %s with %q, taken %v", tc.stage, tc.says, seat.Post.Does, seat.Name, seat.Taken)
			case tc.empty != "" && (seat.Name == "") != (seat.Post.Does == tc.empty):
				t.Errorf("%s: %q, %q: %s is %q", tc.stage, tc.says, tc.reason, seat.Post.Does, seat.Name)
			}
		}
		for _, who := range p.crew {
			want := "seat.hurt "
			if tc.empty == "" {
				want = "seat.hurt_who "
			}
			if got := told(out["test/"+who]) + " "; !strings.Contains(got, want) || tc.empty == "" && strings.Contains(got, "pull.lost") {
				t.Errorf("%s: %q: %s is told %s", tc.stage, tc.says, who, got)
			}
		}
		if tc.empty == "" {
			continue
		}
		p.say("Ada", "change hazards none, Cy checked it, all are out and unhurt")
		p.say("Ada", "change people 4")
		for range 20 {
			p.willing()
		}
		if why, barred := flow.Barred(p.engine, p.job(), p.input("Ada")); !barred {
			t.Errorf("%s: %q: it may pull, %s", tc.stage, tc.says, why)
		}
	}
}
