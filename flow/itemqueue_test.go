package flow_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

// TestOneQuestionStays: what is asked of somebody stays until they have answered it;
// what others bring up meanwhile waits behind it, so that a yes on its way counts for
// what it was meant for, which is said back.
func TestOneQuestionStays(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	people := []string{"Ada", "Bo", "Cy"}
	for seed := range uint64(6) {
		p := briefed(t, "Bo", "Cy")
		dice := rand.New(rand.NewPCG(seed, 1))
		item := func(who string) string {
			for _, c := range p.last["test/"+who].Choices {
				if c.Label == "yes" && (strings.HasPrefix(c.Choice, "item.") || strings.HasPrefix(c.Choice, "eyes.")) {
					return c.Choice
				}
			}
			return ""
		}
		for {
			asked := slices.DeleteFunc(slices.Clone(people), func(who string) bool { return item(who) == "" })
			if len(asked) == 0 {
				break
			}
			who := asked[dice.IntN(len(asked))]
			stood := map[string]string{}
			for _, other := range people {
				stood[other] = item(other)
			}
			field := strings.Split(stood[who], ".")[1]
			got := p.say(who, "yes")["test/"+who]
			if s := p.job(); s.Marks["site."+field].Value == "" {
				t.Fatalf("%s's yes to %s says %s and counts for another", who, field, told(got))
			}
			if first := text(got); !strings.HasPrefix(first, "Noted, ") || !strings.Contains(first, ": yes.") {
				t.Errorf("%s's yes to %s says %q", who, field, first)
			}
			for _, other := range people {
				if other != who && stood[other] != "" && item(other) != stood[other] {
					t.Errorf("%s's yes takes %s from %s to %s", who, other, stood[other], item(other))
				}
			}
		}
		if got := p.asked("Ada"); !strings.Contains(got, "Who answers for going on against it") {
			t.Errorf("after the list Ada is asked %q", got)
		}
	}
}

// TestAnItemStandsBeforeASignature: a yes on its way to an item is no word on a
// signature that is asked for since.
func TestAnItemStandsBeforeASignature(t *testing.T) {
	p := briefed(t, "Bo", "Cy")
	for p.job().State != flow.Signing {
		if p.press1("item.leader_seen", "no", "Ada", "Bo")+p.press1("item.", "yes", "Bo", "Ada")+p.press1("eyes.", "yes", "Bo", "Ada") == "" {
			t.Fatalf("nothing is to be signed for: %s", p.asked("Ada"))
		}
	}
	p.say("Ada", "Ada Holm")
	p.say("Ada", "Cy")
	asked := p.asked("Cy")
	if !strings.Contains(asked, "Is that so?") {
		t.Fatalf("Cy is asked %q", asked)
	}
	p.say("Ada", "the throttle stays at idle")
	if s := p.job(); s.Topic != "sign_word" || len(s.Puts) == 0 {
		t.Fatalf("the signature stands at %s with %+v", s.Topic, s.Puts)
	}
	p.say("Cy", "yes")
	s := p.job()
	if i := slices.IndexFunc(s.Puts, func(put flow.Put) bool { return put.Name == "Cy" }); i < 0 || s.Puts[i].Said != "" {
		t.Errorf("Cy's yes to another question is a word on the signature: %+v", s.Puts)
	}
}
