package flow_test

import "testing"

// A hand winch counts at its weakest layer until somebody says what is on its
// drum. Where that alone makes the no-go it is asked, and never where it can't.
func TestHandWinchIsAskedForItsDrum(t *testing.T) {
	told := func(rating string) [][2]string {
		return [][2]string{{"puller.kind", "hand-winch"}, {"puller.name", "hand winch"}, {"puller.mass", ""}, {"puller.driven", ""}, {"puller.hitch", ""},
			{"puller.ground", ""}, {"puller.slope", "0 deg"}, {"puller.pull", ""}, {"puller.rating", rating}, {"puller.rating_kind", "working"}, {"load.off_line", "0 deg"}, {"gear[0].length", "120 m"}, {"distance", "4 m"}, {"tackle.parts", "2"}, {"holding_more", "true"}}
	}
	for _, row := range []struct {
		rating, answer string
		asked, open    bool // open: the answer leaves something to be found out, and no no-go
	}{
		{"0.8 t", "yes", true, true},
		{"0.8 t", "no", true, false},
		{"0.05 t", "", false, false},
	} {
		c := standing1(t, "side_slope", told(row.rating)...)
		c.say("flat")
		if at := c.session().Topic; (at == "puller.capstan") != row.asked {
			t.Errorf("%s: %q is asked, want its drum %v", row.rating, at, row.asked)
			continue
		}
		if !row.asked {
			continue
		}
		c.say(row.answer)
		if at := c.session().Topic; (at != "") != row.open || at == "puller.capstan" {
			t.Errorf("%s, %s: %q is asked next, want a question %v", row.rating, row.answer, at, row.open)
		}
	}
}
