package flow_test

import (
	"testing"

	"linetender/flow"
)

// A rating that is told as more than before is asked again; it counts once it is the
// answer to that, and "as before" keeps the old one.
func TestStampAgain(t *testing.T) {
	flow.Lone(t)
	for _, w := range []struct {
		then string
		want string
	}{{"5t", "5t"}, {"as before", "3 t"}, {"no, 2 t", "2 t"}, {"so far", "3 t"}} {
		c, _ := asksAt(t, "crew", "block is stamped 5t")
		if got, _ := c.session().Sheet.Get("gear[1].rating"); got != "3 t" {
			t.Errorf("told as more, it is %q at once", got)
		}
		c.say(w.then)
		if got, _ := c.session().Sheet.Get("gear[1].rating"); got != w.want {
			t.Errorf("then %q: it is %q, want %q", w.then, got, w.want)
		}
	}
}
