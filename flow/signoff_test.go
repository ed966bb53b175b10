package flow_test

import (
	"linetender/flow"
	"strings"
	"testing"
)

// toSign plays the list up to the reason of a signature by two of the crew.
func toSign(t *testing.T, name, second string, crew ...string) *puller {
	t.Helper()
	p := &puller{phonesAt: planned(t, crew...), crew: append([]string{"Ada"}, crew...)}
	p.say("Ada", "Ada, Bo, Cy, Di")
	asked := func(key string) bool {
		for _, part := range p.last["test/Ada"].Parts {
			if string(part.Key) == key {
				return true
			}
		}
		return false
	}
	p.until("a signature", func() bool { return asked("ask.sign_name") })
	if name == "" {
		return p
	}
	p.say("Ada", name)
	p.say("Ada", second)
	if second != "" && asked("ask.sign_reason") {
		p.say("Ada", "throttle at idle")
	}
	return p
}

// TestSignedOnTheirOwnPhone: whoever is named to sign and has a phone is asked
// there. Nothing is signed before both have said yes, a no of either leaves it
// unsigned, and the report has the text that was put to each.
func TestSignedOnTheirOwnPhone(t *testing.T) {
	t.Parallel()
	p := toSign(t, "Cy", "Di", "Bo", "Cy", "Di", "Eve")
	for i, who := range []string{"Cy", "Di"} { // all of it may be more than one message holds
		got := p.last["test/"+who].Text()
		if put := p.job().Puts[i].Text; !strings.HasPrefix(put, who+", your own word is asked for") || !strings.HasSuffix(put, got) || !strings.Contains(got, "throttle at idle") {
			t.Fatalf("%s is asked %q of %q", who, got, put)
		}
	}
	yes := p.choice("Di", "word")
	if p.pressed("Ada", yes); len(p.job().Sheet.Signed) > 0 || p.job().Puts[1].Said != "" {
		t.Fatal("the lead's press counts for Di")
	}
	p.say("Ada", "yes")
	put := p.last["test/Cy"].Text() // its end
	p.say("Cy", "yes")
	if len(p.job().Sheet.Signed) > 0 {
		t.Fatal("signed before Di has said yes")
	}
	p.press("Di", "word")
	if signed := p.job().Sheet.Signed; len(signed) != 1 || signed[0].By != "Cy" || signed[0].Second != "Di" {
		t.Fatalf("both have said yes: %v", signed)
	}
	h, err := p.engine.History(p.log, p.head().Code, 0)
	if err != nil {
		t.Fatal(err)
	}
	if len(h.Overrides) != 1 || len(h.Overrides[0].Put) != 2 || h.Overrides[0].Put[0].Name != "Cy" || !strings.HasSuffix(h.Overrides[0].Put[0].Text, put) || h.Overrides[0].Put[0].Text == "" {
		t.Errorf("the report has %+v, put to Cy was %q", h.Overrides, put)
	}
}

// TestSignerIsShownEveryPiece: whoever is to sign for what the puller's most loads past
// half reads each piece with its figure, and the signature names just those.
func TestSignerIsShownEveryPiece(t *testing.T) {
	flow.Lone(t)
	p := toSign(t, "Cy", "Di", "Bo", "Cy", "Di", "Eve")
	puts := p.job().Puts
	p.say("Cy", "yes")
	p.say("Di", "yes")
	s := p.job()
	if len(s.Sheet.Signed) != 1 || len(s.Sheet.Signed[0].Pieces) < 2 {
		t.Fatalf("signed: %+v", s.Sheet.Signed)
	}
	for _, piece := range s.Sheet.Signed[0].Pieces {
		for _, put := range puts {
			if !strings.Contains(put.Text, piece) {
				t.Errorf("%s was not shown %q: %q", put.Name, piece, put.Text)
			}
		}
	}
	if len(puts) != 2 {
		t.Errorf("it was put to %d", len(puts))
	}
}

func TestNoWordNoSignature(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	p := toSign(t, "me", "Di", "Bo", "Cy", "Di", "Eve")
	if strings.Contains(p.last["test/Ada"].Text(), "your own word") {
		t.Error("who typed their own name is asked again")
	}
	p.say("Di", "yes but only if it idles")
	if len(p.job().Sheet.Signed) > 0 {
		t.Fatal("half a yes signed")
	}
	old := p.choice("Di", "word")
	got := ""
	for _, m := range p.say("Di", "no")["test/Ada"] {
		got += m.Text() + " "
	}
	if len(p.job().Sheet.Signed) > 0 || !strings.Contains(got, "Di says no") {
		t.Fatalf("the lead reads %q", got)
	}
	if old != "" {
		if p.pressed("Di", old); len(p.job().Sheet.Signed) > 0 {
			t.Error("an old button signed")
		}
	}
}

// TestWhoHasGoneSignsNothing: who leaves while they are asked has not said yes.
func TestWhoHasGoneSignsNothing(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	p := toSign(t, "me", "Di", "Bo", "Cy", "Di", "Eve")
	p.say("Di", "leave")
	p.say("Ada", "go on")
	if len(p.job().Sheet.Signed) > 0 {
		t.Error("who has gone signed")
	}
	// Without a phone the lead's word is all there is.
	p = toSign(t, "Hal Berg", "me", "Bo", "Cy", "Di", "Eve")
	if len(p.job().Sheet.Signed) != 1 {
		t.Error("who has no phone and who speaks were asked on one")
	}
}

// TestOneSignsOnce: two names of one phone are one person.
func TestOneSignsOnce(t *testing.T) {
	t.Parallel()
	p := toSign(t, "Cy Holm, coordinator", "Cy", "Bo", "Cy", "Di", "Eve")
	if got := p.last["test/Ada"].Text(); !strings.Contains(got, "second person") {
		t.Errorf("Cy was taken twice: %q", got)
	}
}
