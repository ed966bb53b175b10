package flow_test

import (
	"slices"
	"testing"

	"linetender/flow"
)

// TestWhoHasAPostIsNamed: who came in at a tight line, has a phone of their own and was
// given a post is known by that name when the crew is counted anew.
func TestWhoHasAPostIsNamed(t *testing.T) {
	flow.Lone(t)
	p := standing(t, "Bo", "Cy", "Eve")[flow.LightTension].copied(t)
	p.say("Ada", "Cy has gone home")
	p.say("Ada", "3")
	p.join("Ada", "crew code", "Fay")
	p.say("Ada", "Fay is rigger")
	p.say("Ada", "change people 4")
	if s := p.job(); s.Settled["names"] == "" || len(s.Crew) != 4 || !slices.Contains(s.Crew, "Fay") {
		t.Errorf("the crew is %v, %d people, its names settled %q", s.Crew, *s.Sheet.Crew, s.Settled["names"])
	}
	p.crew = []string{"Ada", "Bo", "Fay", "Eve"}
	p.until("a hold that can be released", func() bool {
		if s := p.job(); s.State == flow.Pulling && p.has("Bo", "sure") {
			p.press("Bo", "sure")
		}
		return p.job().State == flow.Pulling && p.has("Ada", "release") || p.has("Ada", "begin_pull")
	})
}

// TestNamesAreAskedBeforeThePull: where only what the crew are called is missing once the
// list is answered, that is asked, and is not only what keeps the pull.
func TestNamesAreAskedBeforeThePull(t *testing.T) {
	flow.Lone(t)
	p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.LightTension].copied(t)
	p.say("Ada", "change people 5")
	p.until("the question", func() bool {
		if s := p.job(); s.State == flow.Pulling {
			for _, who := range []string{"Bo", "Cy", "Di", "Ada"} {
				if p.has(who, "sure") {
					p.press(who, "sure")
				}
			}
		}
		if p.has("Ada", "checks") {
			t.Fatalf("nothing asks for the names: %q", p.last["test/Ada"].Text())
		}
		return p.job().Topic == "names"
	})
	p.say("Ada", "Gus")
	if s := p.job(); s.Settled["names"] == "" || !slices.Contains(s.Crew, "Gus") {
		t.Errorf("told, the crew is %v", s.Crew)
	}
}
