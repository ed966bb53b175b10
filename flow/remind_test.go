package flow_test

import (
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// TestRemindersInAGroup: what waits for one of a group is said again to them:
// in the chat of their own where they have one, else in the group by name; and
// what nobody answers is told to the lead in time.
func TestRemindersInAGroup(t *testing.T) {
	for _, own := range []bool{false, true} {
		p := planned(t)
		group := func(who, text string) {
			in := p.input(who)
			in.Chat, in.Group = "test/Ada", true
			if text == "[I take it]" {
				m := p.last[in.Chat]
				in.Press = &flow.Press{Session: m.Session, Revision: m.Revision, Choice: m.Choices[0].Choice}
			} else {
				in.Text = text
			}
			p.run(in)
		}
		group("Bo", "hello all")
		if own {
			p.say("Bo", "kettle-lemon-saffron-nutmeg-84") // heard there, and let in nowhere
		}
		group("Ada", "Ada, Bo, Cy, Di")
		group("Ada", "[I take it]") // now it is Bo's part that is asked
		said := map[string]string{}
		for range 40 {
			for chat, m := range p.tick(30 * time.Second) {
				for _, one := range m {
					if strings.Contains(one.Parts[0].Key, "remind.") {
						said[chat] += one.Text() + "\n"
					}
				}
			}
		}
		if got := said["test/Bo"]; own != strings.Contains(got, "Bo, in the group of job") {
			t.Errorf("with a chat of their own %v Bo is reminded there by %q", own, got)
		}
		if got := said["test/Ada"]; own == strings.Contains(got, "Bo, this is still open for you") || !strings.Contains(got, "No answer for ten minutes from: Bo") {
			t.Errorf("with a chat of their own %v the group reads %q", own, got)
		}
	}
}
