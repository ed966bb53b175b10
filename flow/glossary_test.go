package flow_test

import (
	"strings"
	"testing"
)

// TestTermsAreExplained: a word of the trade is explained when somebody asks,
// the question that stands is asked again, and nothing is taken from it.
func TestTermsAreExplained(t *testing.T) {
	for _, tc := range []struct{ ask, says string }{
		{"whats a holding line", "Holding line: a second rope"},
		{"what is a snatch block?", "Block: a pulley"},
		{"what does WLL mean", "Working limit, WLL"},
		{"what's a deadman", "deadman"},
		{"what are line parts?", "Line parts"},
		{"what is kN", "kilonewton"},
	} {
		for i := range basics {
			c := after(t, basics[:i]...)
			before := known(c)
			lines := strings.Split(strings.TrimSpace(textOf(c.say("so far"))), "\n")
			asked := lines[len(lines)-1]
			said := textOf(c.say(tc.ask))
			if !strings.Contains(said, tc.says) || !strings.Contains(said, asked) {
				t.Errorf("after %v, %q says\n%s\nand not %q and the question again", basics[:i], tc.ask, said, tc.says)
			}
			if got := known(c); got != before {
				t.Errorf("after %q it is known\n%s\nand not\n%s", tc.ask, got, before)
			}
		}
	}
	for _, other := range []string{"what is the weather", "what is 3 t in lb", "what"} {
		c := after(t, basics...)
		if said := textOf(c.say(other)); strings.Contains(said, ": a ") {
			t.Errorf("%q is explained:\n%s", other, said)
		}
	}
}
