package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestPieceDiffers: what somebody of the crew tells of a piece or an anchor
// otherwise than the lead did is not merely passed on: the worse counts, both are
// shown with the piece, and nothing pulls until the lead has settled it.
func TestPieceDiffers(t *testing.T) {
	flow.Lone(t)
	for words, want := range map[string][2]string{
		"the shackles say 2 t": {"shackle, rating: Cy says 2 t", "2 t"}, "the block is 2 t": {"block, rating: Cy says 2 t", "2 t"},
		"the rope tag says WLL 1.5 t": {"rope 2, rating: Cy says 1.5 t", "1.5 t"}, "oak is 30 cm thick": {"oak, anchor's thickness: Cy says 30 cm", "30 cm"},
		"the oak is dead": {"oak, anchor alive: Cy says no. Told here before: yes", "false"}, "the shackle is 8.5 t": {"shackle, rating: Cy says 8.5 t", "6.5t"},
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		out := p.say("Cy", words)
		if got := text(out["test/Ada"]); !strings.Contains(got, want[0]) || !strings.Contains(got, "nothing pulls") {
			t.Errorf("after %q the lead is told %q", words, got)
		}
		if got := text(out["test/Cy"]); !strings.Contains(got, "Two answers") {
			t.Errorf("after %q Cy is told %q", words, got)
		}
		s := p.job()
		if len(s.Differs) != 1 {
			t.Fatalf("%q makes %d that differ", words, len(s.Differs))
		}
		if now, _ := s.Sheet.Get(s.Differs[0].Path); now != want[1] {
			t.Errorf("after %q the job goes by %s", words, now)
		}
		if got := text(p.say("Ada", "begin the pull")["test/Ada"]); p.job().State == flow.Pulling {
			t.Errorf("unsettled, the pull begins: %q", got)
		}
		if p.say("Ada", "skip"); len(p.job().Differs) != 0 {
			t.Errorf("the lead can't settle %q", words)
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	pieces := len(p.job().Sheet.Gear)
	if p.say("Cy", "i found another shackle 5 t"); len(p.job().Sheet.Gear) != pieces || len(p.job().Differs) != 0 {
		t.Error("one more piece is put on the list by the crew")
	}
}

// TestMemberOfAGroupDiffers: where all speak in one group, who speaks last does
// not win: it stands side by side there too.
func TestMemberOfAGroupDiffers(t *testing.T) {
	flow.Lone(t)
	p := newPhones(t)
	say := func(who, words string) []flow.Message {
		in := p.input(who)
		in.Chat, in.Group, in.Text = "test/group", true, words
		return p.run(in)["test/group"]
	}
	for _, words := range []string{"/start", "none", "2.4 t, weighed"} {
		say("Ada", words)
	}
	job := func() *flow.Session {
		for stream := range p.log.streams {
			if code, ok := strings.CutPrefix(stream, "job/"); ok {
				s, err := flow.Load(p.log, code)
				if err != nil {
					t.Fatal(err)
				}
				return s
			}
		}
		return nil
	}
	for _, words := range []string{"no it weighs 3 t", "the truck weighs 2 t"} {
		got := text(say("Bo", words))
		if !strings.Contains(got, "nothing pulls") {
			t.Errorf("Bo's %q is answered %q", words, got)
		}
	}
	if d := job().Differs; len(d) != 1 || d[0].Was != "2.4 t" || d[0].Said != "3 t" {
		t.Errorf("what differs is %+v", d)
	}
	if now, _ := job().Sheet.Get("load.mass"); now != "2.4 t" && now != "3 t" {
		t.Errorf("who spoke last has won: %s", now)
	}
}
