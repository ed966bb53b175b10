package flow_test

import (
	"maps"
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// TestWordsOfAnotherItem: a yes with words that tell of what another item asks does
// not count for the one that stands; a yes with its own words does.
func TestWordsOfAnotherItem(t *testing.T) {
	flow.Lone(t)
	p := briefed(t, "Bo", "Cy", "Eve")
	for _, row := range []struct {
		words string
		path  string // what it counts for; empty for none
	}{
		{"yes nobody sits in it", ""}, {"yes see her", ""}, {"good, shackles are screwed shut", ""}, {"yes nobody is under it", "site.under"}, {"yes", "site.under"}, {"yes all clear", "site.under"},
	} {
		q := &phonesAt{phones: p.copied(t, p.engine)}
		if got := q.asked("Cy"); !strings.Contains(got, "under") {
			t.Fatalf("Cy is asked %q", got)
		}
		out := q.say("Cy", row.words)
		if got := q.job().Marks["site.under"].Value != ""; got != (row.path == "site.under") {
			t.Errorf("%q answers what is under it: %v: %s", row.words, got, text(out["test/Cy"]))
		}
		if got := q.job().Marks["site.driver_shielded"].Value; got != "" {
			t.Errorf("%q answers shields", row.words)
		}
	}
}

// TestQuestionTurned: where others have ended the question that somebody is asked, and
// another stands there since, a bare yes on its way is asked back about once, and they
// are told that the old one needs no answer.
func TestQuestionTurned(t *testing.T) {
	flow.Lone(t)
	soon := func(p *phonesAt, who, words string) string {
		in := p.input(who)
		p.at = p.at.Add(-18 * time.Second)
		in.At, in.Text = p.at, words
		return told(p.run(in)["test/"+who])
	}
	for _, words := range []string{"good", "yes", "no"} {
		p := briefed(t, "Bo", "Cy", "Eve")
		p.say("Ada", "change drivers shielded no") // Bo is asked that, and another one now
		asked := p.job().Wants["test/Bo"]
		if got := soon(p, "Bo", words); !strings.HasPrefix(got, "item.turned ") || p.job().Wants["test/Bo"] != asked {
			t.Errorf("%q to the question before leads to %s", words, got)
		}
		if len(p.job().Marks) > 0 {
			t.Errorf("%q to the question before counts for %v", words, p.job().Marks)
		}
		if got := soon(p, "Bo", "no"); !strings.HasPrefix(got, "item.noted ") {
			t.Errorf("said again it leads to %s", got)
		}
	}
	p := briefed(t, "Bo", "Cy", "Eve")
	if got := told(p.say("Ada", "Di is rigger")["test/Cy"]); !strings.HasPrefix(got, "item.lapsed ") {
		t.Errorf("who is asked no more what they were asked is told %s", got)
	}
}

// TestChangingBlocksNobody: while one person changes an answer, or names one that
// nobody knows, the others' answers to the list count.
func TestChangingBlocksNobody(t *testing.T) {
	flow.Lone(t)
	for _, who := range []string{"Ada", "Eve"} {
		for _, words := range []string{"change blubber 4", "change weight", "change under no"} {
			p := briefed(t, "Bo", "Cy", "Eve")
			out := p.say(who, words)
			if got := told(out["test/Ada"]); who == "Eve" && (strings.Contains(got, "ask.which") || strings.Contains(got, "refuse")) {
				t.Errorf("Eve's %q asks the lead %s", words, got)
			}
			if words == "change under no" && p.job().Parts["site.under"].Value == "" {
				t.Errorf("%s's %q is lost: %s", who, words, told(out["test/"+who]))
			}
			if p.say("Bo", "yes"); p.job().Marks["site.driver_shielded"].Value == "" {
				t.Errorf("after %s's %q Bo's yes counts for nothing", who, words)
			}
			if p.say("Bo", "no"); p.job().Marks["site.running_start"].Value == "" {
				t.Errorf("after %s's %q Bo's no counts for nothing", who, words)
			}
			p.say("Ada", "back")
			if s := p.job(); s.State == flow.Pulling || s.Found.Decision == "go" {
				t.Errorf("after Bo's no and back it stands at %s, %s", s.State, s.Found.Decision)
			}
		}
	}
}

// TestYesBeforeTheQuestion: a yes that was on its way when others' answers brought the
// question up, where nothing was asked before, is no answer to it.
func TestYesBeforeTheQuestion(t *testing.T) {
	flow.Lone(t)
	tried := 0
	p := briefed(t, "Bo", "Cy", "Di", "Eve")
	for range 60 {
		who := ""
		for _, w := range []string{"Ada", "Bo", "Cy", "Di"} {
			if strings.HasPrefix(p.job().Wants["test/"+w], "item-") {
				who = w
				break
			}
		}
		if who == "" {
			break
		}
		was := maps.Clone(p.job().Wants)
		p.say(who, "yes")
		for _, w := range []string{"Ada", "Bo", "Cy", "Di"} {
			now := p.job().Wants["test/"+w]
			if w == who || was["test/"+w] != "" || !strings.HasPrefix(now, "item-") {
				continue
			}
			tried++
			in := p.input(w)
			p.at = p.at.Add(-20 * time.Second)
			in.At, in.Text = p.at, "yes"
			marks, parts := len(p.job().Marks), len(p.job().Parts)
			if got := told(p.run(in)["test/"+w]); !strings.HasPrefix(got, "item.turned") || len(p.job().Marks) != marks || len(p.job().Parts) != parts {
				t.Errorf("%s's yes to %s came before it was asked and leads to %s", w, now, got)
			}
		}
	}
	if tried == 0 {
		t.Fatal("nobody was asked while they waited")
	}
}
