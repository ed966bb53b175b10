package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// How a sling goes on is asked where a choke would be too little, and heard in the
// crew's own words: choked it is no go, with the basket as the way out, and as a
// basket it goes on.
func TestHowASlingGoesOnIsAsked(t *testing.T) {
	flow.Lone(t)
	p := planned(t)
	turn, err := flow.StandAt(p.engine, p.log, p.input("Ada"), p.head().Code, "", [][2]string{{"gear[3].use", "anchor"}, {"gear[3].sling_hitch", ""}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.log.Commit(turn); err != nil {
		t.Fatal(err)
	}
	got := text(p.say("Ada", "change sling rating 1.9 t working limit")["test/Ada"])
	if strings.HasSuffix(p.job().Topic, ".sling_angle") {
		got = text(p.say("Ada", "straight")["test/Ada"])
	}
	const asked = "both eyes to the shackle, or choked, through its own eye?"
	if !strings.Contains(got, "OPEN") || !strings.Contains(got, asked) {
		t.Fatalf("untold: %q", got)
	}
	if got = text(p.say("Ada", "change sling hitch")["test/Ada"]); p.job().Topic != "gear[3].sling_hitch" || !strings.Contains(got, asked) {
		t.Fatalf("asked at %s: %q", p.job().Topic, got)
	}
	got = text(p.say("Ada", "choker, round the oak")["test/Ada"])
	if !strings.Contains(got, "NO-GO") || !strings.Contains(got, "then the sling takes") || !strings.Contains(got, "Put the sling round as a basket, both eyes to the shackle.") {
		t.Errorf("choked: %q", got)
	}
	got = text(p.say("Ada", "the sling goes round as a basket now, both eyes to the shackle")["test/Ada"])
	if g := p.job().Sheet.Gear[3]; g.SlingHitch != "basket" || strings.Contains(got, "NO-GO") {
		t.Errorf("as a basket: %s, %q", g.SlingHitch, got)
	}
}
