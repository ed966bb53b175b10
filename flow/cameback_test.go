package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestTakenOffAndToldAgain: a piece that was taken off as damaged is not good by being
// told again; another one is, and so is that one once somebody else has looked.
func TestTakenOffAndToldAgain(t *testing.T) {
	flow.Lone(t)
	for _, tc := range []struct {
		again string
		good  bool
	}{
		{"rope 60 m polyester 24 mm wll 2.2 t, good", false},
		{"i have a rope 60 m polyester 24 mm wll 2.2 t, sound", false},
		{"another rope, 60 m polyester 24 mm wll 2.2 t, good", true},
	} {
		c := after(t, withGear...)
		c.say("change rope condition damaged")
		c.say("remove the rope")
		said := textOf(c.say(tc.again))
		got := known(c)
		_, rope, ok := strings.Cut(got, "rope")
		if !ok {
			t.Errorf("%q brings no rope\n%s\n%s", tc.again, said, got)
			continue
		}
		rope, _, _ = strings.Cut(rope, ")")
		if good := strings.Contains(rope, ", good"); good != tc.good {
			t.Errorf("%q is good: %v, want %v\n%s\n%s", tc.again, good, tc.good, said, rope)
		}
	}
}

// TestWhoLookedIsOfTheCrew: nobody makes good what was told to be bad by naming
// somebody who is none of the crew.
func TestWhoLookedIsOfTheCrew(t *testing.T) {
	flow.Lone(t)
	at := standing(t)[flow.Held]
	for words, want := range map[string]bool{
		"change block condition good, Zed checked it": false, "change block condition good, Ada checked it": false, "change block condition good, Di checked it": true,
	} {
		p := at.copied(t)
		p.say("Ada", "change block condition damaged")
		p.say("Ada", words)
		block := p.job().Sheet.Gear[1]
		if block.Kind != "block" {
			t.Fatalf("the second piece is %+v", block)
		}
		if got := block.Condition == "good"; got != want {
			t.Errorf("%q: the block is %s; Ada is told %s", words, block.Condition, p.last["test/Ada"].Text())
		}
	}
}

// TestOthersOfItsKindStayAsTheyAre: what was taken off as bad says nothing of those of its
// kind that were on the list beside it, nor of a tree of another name; one that is told
// after it may be that one.
func TestOthersOfItsKindStayAsTheyAre(t *testing.T) {
	flow.Lone(t)
	with := [][2]string{{"anchors[0].lean", ""}, {"anchors[1].kind", "tree"}, {"anchors[1].name", "oak"}, {"anchors[1].diameter", "40 cm"}, {"anchors[1].lean", "true"},
		{"gear[3].kind", "shackle"}, {"gear[3].improvised", "true"}, {"gear[2].count", ""}}
	for _, tc := range []struct {
		says       []string
		path, want string
	}{
		{[]string{"remove shackle 2", "the shackle is made for it"}, "gear[2].improvised", "false"},
		{[]string{"remove shackle 2", "change rope condition damaged", "remove rope", "shackle made for it"}, "gear[1].improvised", "false"},
		{[]string{"remove shackle 2", "another shackle wll 3.25 t", "shackle 3 is made for it"}, "gear[3].improvised", "false"},
		{[]string{"remove shackle 2", "also a shackle wll 4 t, made for it"}, "gear[3].improvised", ""},
		{[]string{"remove shackle 2", "remove shackle", "also a shackle wll 4 t, made for it"}, "gear[2].improvised", ""},
		{[]string{"remove shackle 2, that was the bolt one"}, "gear[3].kind", ""},
		{[]string{"remove shackle 2, it has a bolt for a pin"}, "gear[3].kind", ""},
		{[]string{"remove shackle 2, because its only a bolt with wire"}, "gear[3].kind", ""},
		{[]string{"remove shackle 2, the ground is mud"}, "load.ground", "mud"},
		{[]string{"remove shackle 2, we have another rope 40 m 20 mm polyester"}, "gear[3].kind", "rope"},
		{[]string{"remove oak 2", "the oak is upright"}, "anchors[0].lean", "false"},
		{[]string{"remove oak 2", "theres also a big ash 55 cm, upright"}, "anchors[1].lean", "false"},
		{[]string{"remove oak 2", "theres also a big ash 55 cm", "the ash is upright, doesnt lean"}, "anchors[1].lean", "false"},
		{[]string{"remove oak 2", "theres also an oak 40 cm, upright"}, "anchors[1].lean", ""},
		{[]string{"remove oak 2", "theres also a tree 40 cm, upright"}, "anchors[1].lean", ""},
	} {
		c := newChair(t)
		c.say("/start")
		c.standOn("puller.run", with...)
		said := ""
		for _, s := range tc.says {
			said = textOf(c.say(s))
		}
		if got, _ := c.session().Sheet.Get(tc.path); got != tc.want {
			t.Errorf("%q: %s is %q, want %q; they are told %s\n%v", tc.says, tc.path, got, tc.want, said, c.session().Held)
		}
	}
}

// TestTakenOffByTheWordsOfTheList: a piece goes by its label, whatever that is made of, by
// the whole line of the list, and named before "take it off".
func TestTakenOffByTheWordsOfTheList(t *testing.T) {
	flow.Lone(t)
	for _, says := range []string{
		"remove rope with weird bits", "remove rope with weird bits and bobs", "take the rope with weird bits off", "rope with weird bits, take it off the list",
		"rope with weird bits, dont use it", "remove rope with weird bits (25 m = 82 ft, no stamp)",
	} {
		c := newChair(t)
		c.say("/start")
		c.standOn("reach", [2]string{"gear[3].kind", "rope"}, [2]string{"gear[3].name", "rope with weird bits"}, [2]string{"gear[3].length", "25 m"}, [2]string{"gear[3].rating_kind", "unmarked"})
		said := textOf(c.say(says))
		if gear := c.session().Sheet.Gear; len(gear) != 3 || gear[0].Condition != "" || gear[0].Length != "60 m" {
			t.Errorf("%q leaves %+v; they are told %s", says, gear, said)
		}
	}
}
