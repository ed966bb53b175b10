package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// until answers as somebody would until a question stands, and returns what was sent last.
func (c *chair) until(a *answers, topic string) []flow.Message {
	c.t.Helper()
	sent := c.say("/start")
	for range mostSteps {
		parts := sent[len(sent)-1].Parts
		at := parts[len(parts)-1]
		if at.Key == "ask."+topic {
			return sent
		}
		answer, ok := a.next(at)
		if !ok {
			c.t.Fatalf("no answer to %s on the way to %s", at.Key, topic)
		}
		if strings.HasPrefix(answer, "[") {
			sent = c.press(strings.Trim(answer, "[]"))
		} else {
			sent = c.say(answer)
		}
	}
	c.t.Fatalf("%s is never asked", topic)
	return nil
}

// TestHoldingAnchorsDistance: where the holding line would not bear the catch from an
// anchor close by, it is asked how far that stands, and not knowing it is no go.
func TestHoldingAnchorsDistance(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, row := range []struct{ told, key, sheet string }{
		{"30 m", "plan.go_signed", "30 m"},
		{"100 ft", "plan.go_signed", "100 ft"},
		{"14 m", "plan.no_go", "14 m"}, // 12 m are to go
		{"9 m", "plan.no_go", "9 m"},   // which it passes
		{"80 m", "plan.no_go", "80 m"}, // the rope has 60
		{"don't know", "plan.open", ""},
	} {
		a := readAnswers(t, answersDir+"/s01-go-two-parts.txt")
		a.byKey["holding_reach"] = []string{row.told}
		c := newChair(t)
		c.until(a, "holding_reach")
		if v, told := c.session().Sheet.Get("holding_reach"); told {
			t.Fatalf("it is %q before it is asked", v)
		}
		for help, key := range map[string]string{"how": "how.holding_reach", "why": "why.holding_reach"} {
			if sent := c.say(help); !saysKey(sent, key) || !saysKey(sent, "ask.holding_reach") {
				t.Errorf("%q is answered %s", help, textOf(sent))
			}
		}
		for _, bad := range []string{"-4 m", "0 m", "near", "up to 20 m"} {
			if c.say(bad); c.session().Topic != "holding_reach" || c.session().Sheet.HoldReach != "" {
				t.Errorf("%q is taken as %q", bad, c.session().Sheet.HoldReach)
			}
		}
		sent := c.say(row.told)
		if v, _ := c.session().Sheet.Get("holding_reach"); v != row.sheet || row.sheet != "" && !strings.Contains(textOf(sent), "way to the holding anchor "+row.sheet) {
			t.Errorf("%q: %q, read back %s", row.told, v, textOf(sent))
		}
		for range mostSteps {
			parts := sent[len(sent)-1].Parts
			if parts[len(parts)-1].Key == "ask.verdict" {
				break
			}
			answer, ok := a.next(parts[len(parts)-1])
			if !ok {
				t.Fatalf("%q: no answer to %s", row.told, parts[len(parts)-1].Key)
			}
			if sent = c.say(answer); saysKey(sent, "plan.go") && row.key != "plan.go" {
				t.Errorf("%q: a go that nobody signs for", row.told)
			}
		}
		if !saysKey(sent, row.key) {
			t.Errorf("%q comes to %s, want %s", row.told, textOf(sent), row.key)
		}
		// Told anew, it is what was told last.
		if sent = c.say("change way to the holding anchor 29 m"); c.session().Sheet.HoldReach != "29 m" || saysKey(sent, "plan.no_go") || saysKey(sent, "plan.go_signed") == (row.key == "plan.no_go") {
			t.Errorf("after %q: changed to %q, %s", row.told, c.session().Sheet.HoldReach, textOf(sent))
		}
	}
}

// TestAnotherHoldingAnchorStandsElsewhere: how far it is was told of the one that was
// there, not of what takes its place.
func TestAnotherHoldingAnchorStandsElsewhere(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	a := readAnswers(t, answersDir+"/s01-go-two-parts.txt")
	c := newChair(t)
	c.until(a, "verdict")
	if c.session().Sheet.HoldReach != "30 m" {
		t.Fatalf("it is %q", c.session().Sheet.HoldReach)
	}
	sent := c.say("use the loader for the holding line not the rated point")
	if v := c.session().Sheet.HoldReach; v != "" || saysKey(sent, "plan.go_signed") {
		t.Errorf("of the loader it is %q: %s", v, textOf(sent))
	}
}

// TestAnotherAnchorStandsElsewhere: with another anchor for the pull, or another way
// out, nobody has said how far it is; with the same words told again everybody has.
func TestAnotherAnchorStandsElsewhere(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, row := range []struct {
		says string
		gone []string
		kept []string
	}{
		{"change anchor to a stump", []string{"reach", "lead", "load.off_line"}, []string{"holding_reach", "distance"}},
		{"change direction downhill", []string{"distance", "reach", "lead", "load.off_line", "holding_reach"}, nil},
		{"change weight 2.4 t", nil, []string{"distance", "reach", "lead", "load.off_line", "holding_reach"}},
	} {
		a := readAnswers(t, answersDir+"/s01-go-two-parts.txt")
		c := newChair(t)
		c.until(a, "verdict")
		sent := c.say(row.says)
		if saysKey(sent, "ask.which") {
			sent = c.say("the oak")
		}
		for _, f := range row.gone {
			if v, told := c.session().Sheet.Get(f); told {
				t.Errorf("%q: %s is still %q: %s", row.says, f, v, textOf(sent))
			}
		}
		for _, f := range row.kept {
			if _, told := c.session().Sheet.Get(f); !told {
				t.Errorf("%q: %s is gone: %s", row.says, f, textOf(sent))
			}
		}
		if saysKey(sent, "plan.go_signed") && row.gone != nil {
			t.Errorf("%q: a go all the same: %s", row.says, textOf(sent))
		}
	}
}

func saysKey(sent []flow.Message, key string) bool {
	for _, m := range sent {
		for _, p := range m.Parts {
			if p.Key == key {
				return true
			}
		}
	}
	return false
}
