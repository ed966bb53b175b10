package flow_test

import (
	"fmt"
	"strings"
	"testing"

	"linetender/flow"
)

// TestTieOutlivesNothing: an anchor is tied back no longer once what it hangs on, or the
// tie, is taken out or told to be bad; what speaks of neither leaves it.
func TestTieOutlivesNothing(t *testing.T) {
	flow.Lone(t)
	was := knownJob
	defer func() { knownJob = was }()
	knownJob = append(was[:len(was):len(was)], [2]string{"anchors[0].tied_back", "true"}, [2]string{"anchors[1].kind", "tree"}, [2]string{"anchors[1].name", "birch"},
		[2]string{"anchors[1].diameter", "40 cm"}, [2]string{"anchors[1].alive", "true"}, [2]string{"anchors[1].lean", "false"})
	for text, stays := range map[string]bool{
		"take out the birch":                           false,
		"the birch is dead":                            false,
		"the birch leans":                              false,
		"an elm, dead":                                 false,
		"take out the chain":                           false,
		"we wont use the chain":                        false,
		"the chain on the oak is broken":               false,
		"the chain came off":                           false,
		"chain's gone":                                 false,
		"its not tied back any more":                   false,
		"the oak isnt tied back to anything now":       false,
		"take out the rope":                            false,
		"the chain is not loose":                       true,
		"take out the block":                           true,
		"the birch is 45 cm":                           true,
		"is the chain broken?":                         true,
		"the oak is tied back to the birch with chain": true,
	} {
		c := newChair(t)
		c.say("/start")
		c.standAt(texted{base: "job", topic: "crew"})
		said := textOf(c.say(text))
		back := c.session().Sheet.Anchors[0].TiedBack
		if (back != nil) != stays || strings.Contains(said, "tied back no more") == stays {
			t.Errorf("%q: tied back %v, told\n%s", text, back, said)
		}
	}
}

// TestTieBreaksInAPull: a tie that is told to be gone while the line lies holds the job,
// whoever's phone says so.
func TestTieBreaksInAPull(t *testing.T) {
	flow.Lone(t)
	for _, who := range []string{"Ada", "Eve"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Held)
		if back := p.job().Sheet.Anchors[0].TiedBack; back == nil || !*back {
			t.Fatalf("the anchor of this job is not tied back: %+v", p.job().Sheet.Anchors[0])
		}
		p.say(who, "stop, the chain of the tie snapped")
		if back := p.job().Sheet.Anchors[0].TiedBack; back != nil {
			t.Errorf("%s: the tie stands after it snapped", who)
		}
	}
}

// TestTieTakesItsPiece: what ties an anchor back is asked where a piece of the list may be
// it, is none that the rig has, one of several alike as well, and is free again once
// nothing is tied back.
func TestTieTakesItsPiece(t *testing.T) {
	flow.Lone(t)
	uses := func(c *chair) (out []string) {
		for _, g := range c.session().Sheet.Gear {
			count := 1
			if g.Count != nil {
				count = *g.Count
			}
			out = append(out, fmt.Sprintf("%s %d %s", g.Kind, count, g.Use))
		}
		return out
	}
	slings := [][2]string{{"gear[3].kind", "sling"}, {"gear[3].count", "2"}, {"gear[3].rating", "3 t"}, {"gear[3].rating_kind", "working"}, {"anchors[0].tied_back", "true"}}
	for text, want := range map[string]string{
		"the sling": "rope 1 ,block 1 ,shackle 2 ,sling 1 ,sling 1 tie-back", "one of the slings": "rope 1 ,block 1 ,shackle 2 ,sling 1 ,sling 1 tie-back",
		"the sling and two shackles": "rope 1 ,block 1 ,shackle 2 tie-back,sling 1 ,sling 1 tie-back", "the sling and a shackle": "rope 1 ,block 1 ,shackle 1 ,sling 1 ,sling 1 tie-back,shackle 1 tie-back",
		"none of these": "rope 1 ,block 1 ,shackle 2 ,sling 2 ", "a chain of the farmer's": "rope 1 ,block 1 ,shackle 2 ,sling 2 ",
	} {
		c := standing1(t, "anchors[0].tied_with", slings...)
		said := textOf(c.say(text))
		if got := strings.Join(uses(c), ","); got != want || c.session().Settled["anchors[0].tied_with"] == "" {
			t.Errorf("%q: %s, want %s\n%s", text, got, want, said)
		}
	}
	c := standing1(t, "anchors[0].tied_with", slings...)
	c.say("the sling")
	c.say("change tie-back no")
	if got := strings.Join(uses(c), ","); strings.Contains(got, "tie-back") {
		t.Errorf("nothing is tied back, and there is %s", got)
	}
}

// TestAnImprovisedTieIsNone: what is not made to hold ties nothing back, told with the yes
// or behind it.
func TestAnImprovisedTieIsNone(t *testing.T) {
	flow.Lone(t)
	for _, told := range [][2]string{
		{"anchors[0].tied_back", "yes with a ratchet strap to another tree"}, {"anchors[0].tied_with", "a ratchet strap"},
	} {
		c := standing1(t, told[0], [2]string{"anchors[0].tied_back", map[bool]string{true: "true"}[strings.HasSuffix(told[0], "with")]}, [2]string{"gear[3].kind", "sling"}, [2]string{"gear[3].rating", "3 t"})
		said := textOf(c.say(told[1]))
		if back := c.session().Sheet.Anchors[0].TiedBack; back == nil || *back || !strings.Contains(said, "not tied back") {
			t.Errorf("%q: tied back %v\n%s", told[1], back, said)
		}
	}
}

// TestATieToAnAnchorOfTheList: what it is tied to may go by its name and number alone.
func TestATieToAnAnchorOfTheList(t *testing.T) {
	flow.Lone(t)
	for _, text := range []string{"tied back to oak 2 with a tagged 4 t sling", "yes, to oak 2, with the sling"} {
		c := standing1(t, "anchors[0].tied_back", [2]string{"anchors[1].kind", "tree"}, [2]string{"anchors[1].diameter", "60 cm"}, [2]string{"anchors[1].name", "oak"},
			[2]string{"gear[3].kind", "sling"}, [2]string{"gear[3].rating", "4 t"}, [2]string{"gear[3].rating_kind", "working"}, [2]string{"anchors[0].tied_back", ""})
		said := textOf(c.say(text))
		if s := c.session().Sheet; s.Anchors[0].TiedBack == nil || !*s.Anchors[0].TiedBack || len(s.Anchors) != 2 || s.Gear[3].RatingKind != "working" {
			t.Errorf("%q: %+v, %+v\n%s", text, s.Anchors, s.Gear[3], said)
		}
	}
}
