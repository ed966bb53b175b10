package flow_test

import (
	"maps"
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// told lists what was said in a chat, by key, without what is kept up to date.
func told(messages []flow.Message) string {
	var out []flow.Message
	for _, m := range messages {
		if m.Live == "" {
			out = append(out, m)
		}
	}
	return said(out)
}

// TestListGoesToWhoSeesIt: each is asked for what they see, the lead for those
// without a phone, by name; what blocks is asked of a second person; at the end
// the plan is a go and everybody knows.
func TestListGoesToWhoSeesIt(t *testing.T) {
	p := briefed(t, "Bo", "Cy", "Eve")
	for who, want := range map[string]string{
		"Ada": "Ada, go and look: The owners of vehicle", "Bo": "Bo, go and look: Every driver is out of the line", "Cy": "Cy, go and look: Nobody is under it",
	} {
		if got := p.asked(who); !strings.Contains(got, want) {
			t.Errorf("%s is asked %q, want %q", who, got, want)
		}
	}
	p.answer("Ask Di, holding line: What holds it now", "Ada", "Bo", "Cy")
	if got := p.asked("Ada"); !strings.Contains(got, "Ask Di, holding line: What holds it now") {
		t.Fatalf("the lead is not asked for Di: %q", got)
	}
	p.answer("says:", "Cy", "Ada")
	p.answer("", "Ada", "Bo", "Cy")
	if got := p.asked("Ada"); !strings.Contains(got, "Who answers for going on against it") {
		t.Fatalf("after the list the lead is asked %q", got)
	}
	p.say("Ada", "Ada Holm")
	p.say("Ada", "Di")
	p.say("Ada", "the throttle stays at idle")
	out := p.say("Ada", "yes") // Di's, aloud
	if got := text(out["test/Eve"]); !strings.Contains(got, "Signed for: When a wheel meets a stone") || !strings.Contains(got, "Ada Holm and Di answer for going on. The rule: the throttle stays at idle") {
		t.Errorf("of what was signed for the coordinator is told %q", got)
	}
	if got := text(out["test/Ada"]); !strings.Contains(got, "All checks are answered") {
		t.Errorf("at the end the lead is told %q", got)
	}
	// Somebody else takes a part: the crew is asked again as a crew, and nothing else.
	p.say("Bo", "swap with Cy")
	p.say("Bo", "[I take it]")
	p.say("Cy", "[I take it]")
	again := text(p.say("Ada", "who")["test/Ada"])
	for _, want := range []string{"sober", "said back their own job", "Signals are agreed", "outside the clear distance"} {
		if !strings.Contains(again, want) {
			t.Errorf("after a swap %q is not asked again: %q", want, again)
		}
	}
	if strings.Contains(again, "chocked") || strings.Contains(again, "padded") {
		t.Errorf("after a swap more is asked again than people: %q", again)
	}
}

// TestLeadIsHandedOver: the new lead has the leader's part, and who led gets
// the one that is left.
func TestLeadIsHandedOver(t *testing.T) {
	p := briefed(t, "Bo", "Cy")
	out := p.say("Ada", "hand over to Bo")
	if got := text(out["test/Bo"]); !strings.Contains(got, "Bo, your part: leader") {
		t.Errorf("who leads now is told %q", got)
	}
	if got := text(out["test/Ada"]); !strings.Contains(got, "Ada, your part: driver") {
		t.Errorf("who led is told %q", got)
	}
}

// TestTwoPairsOfEyes: a block that one has seen waits for the second, who is
// somebody else, and a no of the second fails it like one of the first.
func TestTwoPairsOfEyes(t *testing.T) {
	p := briefed(t, "Bo", "Cy")
	out := p.say("Cy", "[yes]") // nobody is under it
	if got := text(out["test/Ada"]) + text(out["test/Bo"]); strings.Contains(got, "Cy says") {
		t.Errorf("somebody is interrupted in their own item: %q", got)
	}
	p.answer("Cy says: Nobody is under it", "Ada", "Bo")
	who := "Ada"
	if !strings.Contains(p.asked("Ada"), "Cy says") {
		who = "Bo"
	}
	if got := p.asked(who); !strings.Contains(got, "look yourself") {
		t.Fatalf("nobody is asked to look as well: Ada %q, Bo %q", p.asked("Ada"), p.asked("Bo"))
	}
	out = p.say(who, "[no]")
	for _, other := range []string{"Ada", "Bo", "Cy"} {
		if got := text(out["test/"+other]); other != who && !strings.Contains(got, who+" says it is not so: Nobody is under it") {
			t.Errorf("%s is told %q", other, got)
		}
	}
	if got := text(out["test/Ada"]); !strings.Contains(got, "That is a no-go") || !strings.Contains(got, "What now?") {
		t.Errorf("the lead is told %q", got)
	}
	// Put right, it is asked of both again.
	p.say("Ada", "checks")
	if got := p.asked("Cy"); !strings.Contains(got, "Cy, go and look: Nobody is under it") {
		t.Errorf("put right, Cy is asked %q", got)
	}
}

// TestOnlyTheOneAskedAnswers: others who press the same button are told whose
// it is, the same press again does nothing, and an old press nothing either.
func TestOnlyTheOneAskedAnswers(t *testing.T) {
	p := briefed(t, "Bo", "Cy", "Eve")
	m := p.last["test/Cy"]
	yes := flow.Press{Session: m.Session, Revision: m.Revision, Choice: m.Choices[0].Choice}
	for _, who := range []string{"Bo", "Ada"} {
		in := p.input(who)
		in.Press = &yes
		got := p.run(in)["test/"+who]
		if told(got) != "seat.not_yours" || !got[0].Notice || !strings.Contains(text(got), "for Cy to answer") {
			t.Errorf("a press of %s on Cy's button says %s: %q", who, told(got), text(got))
		}
	}
	in := p.input("Eve")
	in.Press = &yes
	if got := told(p.run(in)["test/Eve"]); got != "item.afar" {
		t.Errorf("a press of the coordinator on Cy's button says %s", got)
	}
	if got := told(p.say("Eve", "yes")["test/Eve"]); !strings.HasPrefix(got, "item.afar") {
		t.Errorf("a yes of the coordinator says %s", got)
	}
	in = p.input("Cy")
	in.Press = &yes
	if got := told(p.run(in)["test/Cy"]); !strings.HasPrefix(got, "item.noted item.ask") {
		t.Errorf("Cy's own press says %s", got)
	}
	next := p.asked("Cy")
	in = p.input("Cy")
	in.Press = &yes
	if got := told(p.run(in)["test/Cy"]); got != "item.over" {
		t.Errorf("the same press again says %s", got)
	}
	if got := p.asked("Cy"); got != next {
		t.Errorf("the same press again moved Cy on: %q", got)
	}
}

// TestRemindersDontNag: what nobody answers is said once more after three
// minutes, told to the lead once after ten, and never again.
func TestRemindersDontNag(t *testing.T) {
	p := briefed(t, "Bo", "Cy")
	p.answer("~", "Ada", "Bo") // all but Cy
	count := map[string]int{}
	for range 60 {
		out := p.tick(30 * time.Second)
		for chat, m := range out {
			for _, k := range strings.Fields(told(m)) {
				if strings.HasPrefix(k, "remind.") {
					count[chat+" "+k]++
				}
			}
		}
	}
	want := map[string]int{"test/Cy remind.again": 1, "test/Ada remind.lead": 1, "test/Ada remind.ways": 1}
	for k, n := range want {
		if count[k] != n {
			t.Errorf("%s is said %d times, want %d; all: %v", k, count[k], n, count)
		}
	}
	if len(count) != len(want) {
		t.Errorf("reminders: %v", count)
	}
	if h := p.head(); h.Wake != "" && p.at.UTC().Format(time.RFC3339) > h.Wake {
		t.Errorf("the job still wants a turn at %s", h.Wake)
	}
}

// TestOneWhoLeaves: their part goes to those who are left, who take it on
// anew, and only what was asked of the crew as a crew is asked again.
func TestOneWhoLeaves(t *testing.T) {
	p := briefed(t, "Bo", "Cy")
	p.answer("", "Ada", "Bo", "Cy")
	out := p.say("Cy", "leave")
	if got := text(out["test/Ada"]); !strings.Contains(got, "Without Cy there are 3 people") {
		t.Errorf("the lead is told %q", got)
	}
	all := text(out["test/Ada"])
	if !strings.Contains(all, "asked again") {
		t.Errorf("nothing of the crew is asked again: %q", all)
	}
	if got := text(p.say("Ada", "who")["test/Ada"]); !strings.Contains(got, "Di: has not taken on rigger") {
		t.Errorf("who says %q", got)
	}
}

// TestSwapAndPlacing: two who swap are both asked again, the lead may place
// anybody, and nobody gets what can't be had at once.
func TestSwapAndPlacing(t *testing.T) {
	p := briefed(t, "Bo", "Cy")
	out := p.say("Bo", "swap with Cy")
	if got := text(out["test/Bo"]); !strings.Contains(got, "Bo, your part: rigger") {
		t.Errorf("after the swap Bo is told %q", got)
	}
	if got := text(out["test/Cy"]); !strings.Contains(got, "Cy, your part: driver") {
		t.Errorf("after the swap Cy is told %q", got)
	}
	out = p.say("Ada", "Bo drives")
	if got := text(out["test/Bo"]); !strings.Contains(got, "Bo, your part: driver") {
		t.Errorf("placed by the lead Bo is told %q", got)
	}
	if got := told(p.say("Cy", "Bo is rigger")["test/Cy"]); !strings.HasPrefix(got, "join.not_lead") {
		t.Errorf("placing by somebody else says %s", got)
	}
	if got := told(p.say("Ada", "Bo is also holder")["test/Ada"]); !strings.HasPrefix(got, "seat.clash") {
		t.Errorf("a driver with a second part says %s", got)
	}
	if got := told(p.say("Ada", "Ada is also holder")["test/Ada"]); !strings.HasPrefix(got, "seat.clash") {
		t.Errorf("a leader who holds says %s", got)
	}
}

// TestWhoWasNotNamed: somebody who joins under another name says which of
// those without a phone they are, or is one more.
func TestWhoWasNotNamed(t *testing.T) {
	p := planned(t, "Robert")
	out := p.say("Ada", "Ada, Bo, Cy, Di")
	if got := text(out["test/Robert"]); !strings.Contains(got, "Robert, which of these are you?") {
		t.Fatalf("Robert is asked %q", got)
	}
	if got := text(p.say("Robert", "I am Bo")["test/Robert"]); !strings.Contains(got, "Bo, your part: driver") {
		t.Errorf("as Bo, Robert is told %q", got)
	}
	p = planned(t, "Robert")
	p.say("Ada", "Ada, Bo, Cy, Di")
	out = p.say("Robert", "[one more]")
	if got := text(out["test/Robert"]); !strings.Contains(got, "Robert, your part: chocks") {
		t.Errorf("as one more, Robert is told %q", got)
	}
	if got := text(out["test/Ada"]); !strings.Contains(got, "5 people now") {
		t.Errorf("the lead is told %q", got)
	}
}

// TestCoordinatorAmends: an answer that is changed from afar while the list is
// walked reopens the plan, and what was seen for it.
func TestCoordinatorAmends(t *testing.T) {
	p := briefed(t, "Bo", "Cy", "Eve")
	p.say("Bo", "[yes]")
	p.say("Cy", "[yes]")
	out := p.say("Eve", "change weight 2.9 t weighed")
	if got := told(out["test/Ada"]); !strings.Contains(got, "join.amended") || !strings.Contains(got, "checks.again") {
		t.Errorf("the lead is told %s", got)
	}
	if h := p.head(); h.State == flow.Checks && h.Decision == "go" {
		t.Logf("the plan still holds: %s", h.Decision)
	}
	board1 := board(p.say("Ada", "who")["test/Eve"])
	if strings.Contains(board1, "Looked at: 2") {
		t.Errorf("what was seen for the plan before still counts: %q", board1)
	}
}

// TestAnAmendmentGoesWhereItSays: a change from afar goes to the answer that it names,
// whatever the crew told last of the puller, and a yes that waits counts no more after it.
func TestAnAmendmentGoesWhereItSays(t *testing.T) {
	flow.Lone(t)
	p := briefed(t, "Bo", "Cy", "Eve")
	p.say("Ada", "puller's slope level")
	p.say("Bo", "the thing by the gate has its lid on")
	before := maps.Clone(p.job().Settled)
	p.say("Bo", "yes")
	if got := p.asked("Bo"); !strings.Contains(got, "its lid on") {
		t.Fatalf("Bo's words are not put back: %q", got)
	}
	p.say("Eve", "change slope 14 deg by level")
	if d := p.job().Differs; len(d) != 1 || d[0].Path != "load.slope" {
		t.Errorf("the change differs in %+v", d)
	}
	p.say("Bo", "nothing wrong")
	for path, how := range p.job().Settled {
		if strings.HasPrefix(path, "site.") && how != before[path] {
			t.Errorf("%s is %s by a yes of before the change", path, how)
		}
	}
}

// TestGroupIsTheCrew: in a group everyone is asked by name, and each one's
// press is their own.
func TestGroupIsTheCrew(t *testing.T) {
	p := planned(t)
	say := func(who, text string) []flow.Message {
		in := p.input(who)
		in.Chat, in.Group = "test/Ada", true
		if label, ok := strings.CutPrefix(text, "["); ok {
			m := p.last[in.Chat]
			for _, c := range m.Choices {
				if c.Label == strings.TrimSuffix(label, "]") {
					in.Press = &flow.Press{Session: m.Session, Revision: m.Revision, Choice: c.Choice}
				}
			}
			if in.Press == nil {
				t.Fatalf("no button %q under %q", label, m.Text())
			}
		} else {
			in.Text = text
		}
		return p.run(in)["test/Ada"]
	}
	say("Ada", "so far")
	say("Bo", "hello all") // the lead alone names the crew
	got := text(say("Ada", "Ada, Bo, Cy, Di"))
	if !strings.Contains(got, "Ada, your part") && !strings.Contains(p.asked("Ada"), "Ada, your part") {
		t.Fatalf("in a group nobody is asked: %q", got)
	}
	if got := say("Bo", "[I take it]"); told(got) != "seat.not_yours" {
		t.Errorf("Bo's press on Ada's part says %s", told(got))
	}
	say("Ada", "[I take it]")
	if !strings.Contains(p.asked("Ada"), "Bo, driver: say it back") {
		t.Errorf("the next part is not Bo's: %q", p.asked("Ada"))
	}
	if got := say("Ada", "[I take it]"); told(got) != "seat.not_yours" {
		t.Errorf("the lead's press on Bo's part says %s", told(got))
	}
	if got := told(say("Bo", "[I take it]")); !strings.HasPrefix(got, "seat.taken ") {
		t.Errorf("Bo's own press says %s", got)
	}
}
