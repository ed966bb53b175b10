package flow_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// askedAfter answers all that a stop for a reason asks for, until the lead may
// release the hold, and counts what was asked.
func askedAfter(t *testing.T, p *puller, cause string) map[string]int {
	p.say("Cy", "stop")
	for _, who := range []string{"Bo", "Di"} {
		p.pressed(who, "still")
	}
	if cause == "mistake" {
		p.say("Cy", "by mistake")
		p.say("Ada", "by mistake, nothing was wrong")
	} else if cause == "words" {
		p.say("Ada", "the block was wrong way round, put right")
	} else {
		p.pressed("Ada", "stop_cause."+cause)
	}
	n := map[string]int{}
	for range 120 {
		if p.has("Ada", "release") {
			return n
		}
		did := false
		for _, who := range p.crew {
			m := p.last["test/"+who]
			kind := ""
			for _, c := range m.Choices {
				name, _, _ := strings.Cut(c.Choice, ".")
				if kind == "" && (slices.Contains([]string{"item", "items", "eyes", "alleyes"}, name) || name == "as_before" || name == "sure" || name == "take" || name == "word") {
					kind = name
				}
			}
			if p.does(who) {
				did = true
				if kind == "" {
					kind = told([]flow.Message{m})
				}
				n[kind]++
				n["all"]++
			}
		}
		if !did {
			p.tick(61e9)
			if p.has("Ada", "begin_pull") {
				p.press("Ada", "begin_pull")
			}
		}
	}
	t.Errorf("%s: never released; Ada has %s", cause, p.last["test/Ada"].Text())
	return n
}

// TestStopReopens: a stop reopens that people have moved, and what its reason makes
// doubtful; where nothing was seen no more than that, and where no reason is certain
// all that could be.
func TestStopReopens(t *testing.T) {
	flow.Lone(t)
	held := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held]
	unclear := "between chocks clear hands_off hold_stays signals under"
	for _, c := range []struct{ words, reason, want string }{
		{"stop", "by mistake, nothing was wrong", "clear under"},
		{"stop", "the block was wrong way round, put right", unclear},
		{"stop", "a dog ran in, it is tied up now", "aboard between clear public under"},
		{"stop", "someone dropped the block, put right", "aboard public " + unclear},
		{"stop", "a dog ran in and hit a chock, put right", "aboard between chocks clear public under"},
		{"stop, the block was wrong way round", "by mistake", unclear},
		{"stop", "[line was jerked]", "between chocks clear hands_off hold_stays under anchor_marked line_free edges_padded"},
		{"stop", "[person or animal inside]", "aboard between clear public under"},
	} {
		p := held.copied(t)
		was := p.job()
		p.say("Cy", c.words)
		for _, who := range []string{"Bo", "Di"} {
			p.pressed(who, "still")
		}
		if strings.HasPrefix(c.reason, "by mistake") {
			p.say("Cy", "by mistake") // it was called by Cy
		}
		p.say("Ada", c.reason)
		var got []string
		for path := range was.Marks {
			if field, ok := strings.CutPrefix(path, "site."); ok && p.job().Marks[path].Value == "" {
				got = append(got, field)
			}
		}
		want := strings.Fields(c.want)
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%q, %q reopens %v, want %v", c.words, c.reason, got, want)
		}
	}
}

// TestAfterStopAsks: what a stop asks for comes in few questions, each to whoever can
// see it; what blocks was seen by two.
func TestAfterStopAsks(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	held := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held]
	for cause, most := range map[string]int{"mistake": 8, "words": 15, "jerked": 13} {
		p := held.copied(t)
		if n := askedAfter(t, p, cause); n["all"] > most || n["sure"] < 4 {
			t.Errorf("after %s %v are asked, at most %d may be", cause, n, most)
		}
		for _, field := range []string{"clear", "under"} {
			first, second := p.job().Marks["site."+field], p.job().Seconds["site."+field]
			if first.Name == "" || second.Name == "" || first.Name == second.Name {
				t.Errorf("after %s %s was seen by %q and %q", cause, field, first.Name, second.Name)
			}
		}
	}
}

// TestAllOfThese: a yes to several items counts for each of them and no more; a no
// counts for the one that is named, and one that names none answers nothing; a press
// for what is asked no more as it was does nothing, nor does a yes sooner than all of
// them can be looked at.
func TestAllOfThese(t *testing.T) {
	flow.Lone(t)
	p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held].copied(t)
	p.say("Cy", "stop")
	for _, who := range []string{"Bo", "Di"} {
		p.pressed(who, "still")
	}
	p.say("Ada", "the block was wrong way round, put right")
	who := ""
	for _, n := range p.crew {
		if p.has(n, "items") && strings.Contains(p.last["test/"+n].Text(), "chocked") {
			who = n
		}
	}
	if who == "" {
		t.Fatal("nobody is asked several things")
	}
	asked := p.last["test/"+who]
	marks := func(p *puller) (n int) {
		for _, m := range p.job().Marks {
			if m.Value != "" {
				n++
			}
		}
		return n
	}
	was := marks(p)
	fields := strings.Count(p.choice(who, "items"), "_")
	for text, want := range map[string]struct {
		keys string
		more int
	}{
		"yes": {"item.noted_all", fields}, "[yes, all of them]": {"item.noted_all", fields}, "yes all of them": {"item.noted_all", fields},
		"no": {"item.which_not", 0}, "I think so": {"checks.unseen", 0}, "not yet": {"item.which_not", 0},
		"no, the chocks are out": {"checks.failed", 1}, "[not so: chocks]": {"checks.failed", 1}, "chocks not yet": {"item.waits", 0},
	} {
		p := p.copied(t)
		got := told(p.say(who, text)["test/"+who])
		if who != "Ada" && want.keys == "checks.failed" {
			want.keys = "item.noted"
		}
		if !strings.Contains(got, want.keys) || marks(p)-was != want.more {
			t.Errorf("%s's %q to %q is answered %s and marks %d", who, text, asked.Text(), got, marks(p)-was)
		}
		if strings.Contains(text, "not so") || strings.HasPrefix(text, "no, ") {
			if v := p.job().Marks["site.chocks"].Value; v != "0" {
				t.Errorf("%q marks the chocks %q", text, v)
			}
		}
		if want.keys == "item.noted_all" {
			before := marks(p)
			in := p.input(who)
			in.Press = &flow.Press{Session: asked.Session, Revision: asked.Revision, Choice: asked.Choices[0].Choice}
			if p.run(in); marks(p) != before {
				t.Error("a late press counts")
			}
		}
	}
	quick := p.copied(t)
	in := quick.input(who)
	in.At = in.At.Add(-11 * time.Second) // nine seconds after it was asked
	in.Text = "yes"
	if got := told(quick.run(in)["test/"+who]); !strings.Contains(got, "item.quick") || marks(quick) != was {
		t.Errorf("a yes to %d items after nine seconds is answered %s", fields, got)
	}
}
