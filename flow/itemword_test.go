package flow_test

import (
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// job returns the one job as its log has it.
func (p *phonesAt) job() *flow.Session {
	p.t.Helper()
	s, err := flow.Recall(p.engine, p.log, p.head().Code)
	if err != nil {
		p.t.Fatal(err)
	}
	return s
}

// TestItemInPart: half a yes is none. The item stays open with the words, the
// lead is told, the rest goes on, and it is asked again.
func TestItemInPart(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, words := range []string{"not yet", "nearly", "one of two", "1/2", "almost done", "yes but only one", "yes apart from the left one", "yep, in a minute", "still doing it", "half done", "not sure", "will do", "yes?"} {
		p := briefed(t, "Bo", "Cy", "Eve")
		first := p.asked("Cy")
		out := p.say("Cy", words)
		s := p.job()
		if s.Marks["site.under"].Value != "" || s.Settled["site.under"] != "" || s.Parts["site.under"].Value == "" {
			t.Errorf("%q leaves the item at %q, settled %q", words, s.Marks["site.under"].Value, s.Settled["site.under"])
		}
		if got := text(out["test/Ada"]); !strings.Contains(got, "Cy: "+words) {
			t.Errorf("of %q the lead is told %q", words, got)
		}
		if got := p.asked("Cy"); got == first || strings.HasSuffix(got, "Nobody is under it, in front of it or in the way. Is that so?") {
			t.Errorf("after %q Cy is asked %q", words, got)
		}
		p.answer("look: Nobody is under it", "Cy")
		if got := p.asked("Cy"); !strings.Contains(got, "look: Nobody is under it") {
			t.Errorf("after the rest Cy is asked %q", got)
		}
		p.say("Cy", "yes")
		if s := p.job(); s.Marks["site.under"].Value == "" || s.Parts["site.under"].Value != "" {
			t.Errorf("a yes after %q does not count", words)
		}
	}
	for _, words := range []string{"yes", "yup", "aye", "all good", "done that", "yes no problem", "yes, nobody there", "two of two"} {
		p := briefed(t, "Bo", "Cy", "Eve")
		if p.say("Cy", words); words != "two of two" && p.job().Marks["site.under"].Value == "" {
			t.Errorf("%q is no yes to what is asked", words)
		}
		if p.job().Parts["site.under"].Value != "" {
			t.Errorf("%q is taken for a part", words)
		}
	}
}

// TestItemInPartUnasked: that another item is not so yet counts from whoever sees
// it, though it was answered with yes before.
func TestItemInPartUnasked(t *testing.T) {
	flow.Lone(t)
	p := briefed(t, "Bo", "Cy", "Eve")
	p.answer("marked at its base", "Cy")
	if p.job().Marks["site.chocks"].Value != "2" {
		t.Fatal("the chocks were not answered")
	}
	out := p.say("Bo", "only one chock yet")
	if s := p.job(); s.Marks["site.chocks"].Value != "" || s.Parts["site.chocks"].Value != "only one chock yet" || s.Marks["site.driver_shielded"].Value != "" {
		t.Errorf("the chocks stand at %+v", s.Marks["site.chocks"])
	}
	if got := text(out["test/Ada"]); !strings.Contains(got, "Bo: only one chock yet") {
		t.Errorf("the lead is told %q", got)
	}
	if got := text(p.say("Ada", "who")["test/Ada"]); !strings.Contains(got, "(said so far: only one chock yet)") {
		t.Errorf("who is open says %q", got)
	}
}

// TestNobodyAnswersAnothersItem: no word of the lead's answers what somebody else
// was asked, nor a no to a part an item that was not asked yet.
func TestNobodyAnswersAnothersItem(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, words := range []string{"all good", "done that", "it's all fine", "yes all of it is done", "all clear", "yes"} {
		p := briefed(t, "Bo", "Cy", "Eve")
		p.answer("", "Ada")
		before := p.job()
		p.say("Ada", words)
		if now := p.job(); len(now.Marks) != len(before.Marks) || len(now.Settled) != len(before.Settled) {
			t.Errorf("the lead's %q answers what others are asked: %v", words, now.Marks)
		}
	}
	p := planned(t, "Bo", "Cy", "Eve")
	p.say("Ada", "Ada, Bo, Cy, Di")
	for range 2 {
		p.say("Ada", "[I take it]")
	}
	if p.say("Bo", "nah"); p.job().Marks["site.driver_shielded"].Value != "" {
		t.Error("a no to a part answers an item")
	}
}

// TestItemAndPiece: what is said of a piece while an item is asked is not lost, and
// no yes in front of it answers the item.
func TestItemAndPiece(t *testing.T) {
	flow.Lone(t)
	for _, words := range []string{"shackle says 2t on it", "yes but the shackle is 2 t"} {
		p := briefed(t, "Bo", "Cy", "Eve")
		out := p.say("Cy", words)
		if s := p.job(); len(s.Differs) != 1 || s.Marks["site.under"].Value != "" {
			t.Errorf("after %q %d differ, the item stands at %q, and Cy is told %s", words, len(s.Differs), s.Marks["site.under"].Value, told(out["test/Cy"]))
		}
	}
}

// TestQuickAnswers: a yes to what blocks that comes sooner than anybody can look is
// asked back about once; who does it again is somebody to go and see.
func TestQuickAnswers(t *testing.T) {
	flow.Lone(t)
	p := briefed(t, "Bo", "Cy", "Eve")
	quick := func(who, words string) map[string][]flow.Message {
		in := p.input(who)
		p.at = p.at.Add(-20*time.Second + 500*time.Millisecond)
		in.At, in.Text = p.at, words
		return p.run(in)
	}
	p.say("Cy", "yes")
	asked, hasty := 0, false
	for range 13 {
		out := quick("Cy", "yes")
		if strings.Contains(told(out["test/Cy"]), "item.quick") {
			asked++
		}
		hasty = hasty || strings.Contains(told(out["test/Ada"]), "item.hasty")
	}
	if asked < 2 || !hasty {
		t.Errorf("13 times yes in 6 seconds is asked back about %d times, the lead told %v", asked, hasty)
	}
	p = briefed(t, "Bo", "Cy", "Eve")
	p.say("Cy", "yes")
	if got := told(quick("Cy", "no")["test/Cy"]); strings.Contains(got, "item.quick") {
		t.Errorf("a quick no is asked back about: %s", got)
	}
}

// TestQuickAnswersAlone: where one phone walks the list, a yes to what blocks
// that comes sooner than anybody can look is asked back about once as well; out of
// a pipe no time is known.
func TestQuickAnswersAlone(t *testing.T) {
	flow.Lone(t)
	for _, piped := range []bool{false, true} {
		p := planned(t)
		p.say("Ada", "Ada, Bo, Cy, Di")
		asked, said, list := 0, 0, 0
		for p.job().State == flow.Checks && said < 60 {
			in := p.input("Ada")
			p.at = p.at.Add(-20*time.Second + 500*time.Millisecond)
			in.At, in.Text, in.Piped = p.at, "yes", piped
			said++
			got := told(p.run(in)["test/Ada"])
			if strings.Contains(got, "item.quick") {
				asked++
			}
			if strings.Contains(got, "item.list_quick") {
				list++
			}
		}
		if want := map[bool]int{false: 1, true: 0}[piped]; list != want {
			t.Errorf("piped %v: of the list as a whole it is asked %d times whether it was looked at", piped, list)
		}
		blocking := 0
		for _, m := range p.job().Quick {
			if m != "" {
				blocking++
			}
		}
		if piped && asked > 0 || !piped && (asked < 10 || asked != blocking) {
			t.Errorf("piped %v: %d times yes at once is asked back about %d times, of %d", piped, said, asked, blocking)
		}
		if s := p.job(); s.State != flow.Checks && s.Settled["site.clear"] == "" {
			t.Errorf("piped %v: the list ends at %s without its last item", piped, s.State)
		}
		if p.say("Ada", "chocks no"); !piped && p.job().Marks["site.chocks"].Value != "0" {
			t.Errorf("an item that was not looked at can't be answered with no by its name: %+v", p.job().Marks["site.chocks"])
		}
	}
}
