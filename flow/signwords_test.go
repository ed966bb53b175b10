package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestASignatureSaysWhat: a bare word is no reason to sign for, whoever is on the spot
// signs first, and what is signed for is said with its rule and its pieces' figures.
func TestASignatureSaysWhat(t *testing.T) {
	flow.Lone(t)
	p := toSign(t, "", "", "Bo", "Cy", "Di", "Eve")
	p.say("Ada", "Eve")
	if out := text(p.say("Ada", "Cy")["test/Ada"]); p.job().Held["sign_name"] != "Cy" || p.job().Held["sign_second"] != "Eve" || !strings.Contains(out, "on the spot answers for it first: Cy") {
		t.Fatalf("first %q, second %q: %q", p.job().Held["sign_name"], p.job().Held["sign_second"], out)
	}
	for _, words := range []string{"ok", "k", "fine", "sure", "banana", "its fine really", "good good good", "trust them", "yes it will be fine"} {
		if p.say("Ada", words); p.job().Topic != "sign_reason" {
			t.Fatalf("%q is a reason", words)
		}
	}
	p.say("Ada", "throttle at idle, marked on the pedal")
	if put := p.job().Puts[0].Text; !strings.Contains(put, "tow point 88 % at ") {
		t.Errorf("Cy is asked %q", put)
	}
	p.press("Cy", "word")
	out := p.press("Eve", "word")
	if got := text(out["test/Ada"]); !strings.Contains(got, "The rule: throttle at idle, marked on the pedal") || !strings.Contains(got, "tow point 88 % at ") {
		t.Errorf("signed the lead is told %q", got)
	}
	if signed := p.job().Sheet.Signed; len(signed) != 1 || signed[0].By != "Cy" || signed[0].Second != "Eve" {
		t.Errorf("signed by %+v", signed)
	}
}
