package flow_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"linetender/flow"
)

// TestTheHoldingLinesSlack: however it is said, and whatever is asked at that moment,
// it is the holding line's slack, with what it would cost, and no other rope is doubted.
func TestTheHoldingLinesSlack(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	check := func(when string, p *puller, who, words, slack, key string) {
		t.Helper()
		before := asJSON(t, p.job().Sheet)
		state := p.job().State
		out := p.say(who, words)
		s := p.job()
		if s.Slack != slack || !strings.Contains(said(out["test/"+who]), key) {
			t.Errorf("%s, %q of %s: slack %q, told %s, want %q and %s", when, words, who, s.Slack, said(out["test/"+who]), slack, key)
		}
		if now := asJSON(t, s.Sheet); now != before || len(s.Differs) > 0 || s.State != state {
			t.Errorf("%s, %q of %s changes what was told, or %s to %s: %v", when, words, who, state, s.State, s.Differs)
		}
	}
	said := map[string][2]string{
		"holdin rope got 40 cm slack":                              {"40 cm", "pull.slack_over"},
		"holding line 20 cm loose":                                 {"20 cm", "pull.slack_within"},
		"got bout a foot of slack on the hold rope":                {"1 foot", "pull.slack_over"},
		"back line sags half a metre":                              {"0.5 metre", "pull.slack_over"},
		"theres 3 m slack in the holding line":                     {"3 m", "pull.slack_over"},
		"the holding line hangs slack":                             {"not known", "pull.slack_how"},
		"slack in the holding line: a hands width":                 {"", "pull.slack_hand"},
		"holding line has a hand and a half of slack, about 20 cm": {"20 cm", "pull.slack_within"},
		"holding line has a hand and a half of slack":              {"not known", "pull.slack_how"},
		"holding line is tight":                                    {"", "pull.slack_hand"},
		"holding slack 0":                                          {"", "pull.slack_hand"},
		"holding slack 20 cm":                                      {"20 cm", "pull.slack_within"},
		"change slack 20 cm":                                       {"20 cm", "pull.slack_within"},
		"change holding slack to 3 m":                              {"3 m", "pull.slack_over"},
	}
	for words, want := range said {
		for _, at := range []flow.Stage{flow.LightTension, flow.Bite} {
			for _, who := range []string{"Di", "Ada"} {
				p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
				p.to(at)
				check(string(at), p, who, words, want[0], want[1])
				if over := want[1] == "pull.slack_over" || want[1] == "pull.slack_how"; over == (p.stage() == flow.Bite) && at == flow.Bite {
					t.Errorf("%q in a bite leads to %s", words, p.stage())
				}
			}
		}
		// While something else is asked, and in a stop.
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Held)
		p.say("Cy", "rain")
		check("rain", p, "Di", words, want[0], want[1])
		check("rain", p, "Ada", words, want[0], want[1])
	}
	// What has no number keeps the hold until it has one.
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	p.confirm()
	p.say("Di", "the holding line hangs slack")
	if p.pressed("Ada", "release."+fmt.Sprint(p.job().Hold)); p.stage() != flow.Held {
		t.Errorf("with a slack that nobody knows it goes on to %s", p.stage())
	}
	p.say("Di", "slack 10 cm")
	p.confirm()
	if p.press("Ada", "release"); p.stage() != flow.Bite {
		t.Errorf("with a slack of 10 cm it stays at %s", p.stage())
	}
	// The haul line's is no slack of what holds.
	h := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	h.to(flow.Held)
	check("haul", h, "Cy", "haul rope got 40 cm slack", "", "pull.slack_haul")
	// With the count of a bite each is what it is.
	c := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	c.to(flow.Held)
	c.say("Cy", "took in 0.6 m, moved 30 cm, slack 20 cm")
	if s := c.job(); s.Slack != "20 cm" || s.Bites[0].Moved != "30 cm" {
		t.Errorf("counts are %q and %+v", s.Slack, s.Bites)
	}
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}
