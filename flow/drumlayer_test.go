package flow_test

import (
	"testing"

	"linetender/flow"
)

// Fewer layers on the drum that are told in passing do not take the place of more: they
// are asked again. For which layer the plate gives its pull says nothing of them.
func TestFewerLayersAreAskedAgain(t *testing.T) {
	flow.Lone(t)
	for _, w := range []struct{ text, then, asked, want string }{
		{"9500 lb first layer yes", "", "crew", "4"},
		{"is the winch rating first layer, 9500 lb first layer yes", "", "crew", "4"},
		{"2 layers on the drum", "", "puller.winch_layer", "4"},
		{"2 layers on the drum", "2", "", "2"},
		{"2 layers on the drum", "4", "", "4"},
		{"5 layers on the drum", "", "crew", "5"},
	} {
		c := standing1(t, "crew", [2]string{"puller.kind", "winch"}, [2]string{"puller.name", "winch"}, [2]string{"puller.rating", "9500 lb"},
			[2]string{"puller.rating_kind", "working"}, [2]string{"puller.winch_layer", "4"}, [2]string{"crew", ""})
		c.say(w.text)
		if at := c.session().Topic; w.asked != "" && at != w.asked {
			t.Errorf("%q: %q is asked, want %q", w.text, at, w.asked)
		}
		if w.then != "" {
			c.say(w.then)
		}
		if got, _ := c.session().Sheet.Get("puller.winch_layer"); got != w.want {
			t.Errorf("%q, then %q: %q layers, want %q", w.text, w.then, got, w.want)
		}
	}
}
