package flow_test

import (
	"linetender/flow"
	"os"
	"strings"
	"testing"
)

// toItem walks the list of a job that is a go on paper to an item.
func toItem(t *testing.T, claim string) *chair {
	t.Helper()
	c := listed1(t)
	for range 30 {
		if strings.Contains(c.last.Text(), claim) {
			return c
		}
		c.say("yes")
	}
	t.Fatalf("the list has no %q", claim)
	return nil
}

// TestItemAnswers: a list is answered as people answer; what was only thought
// or heard of is no yes.
func TestItemAnswers(t *testing.T) {
	for _, tc := range []struct {
		at, say string
		taken   bool
	}{
		{"Nobody sits", "y all fine", true},
		{"Nobody sits", "all yes", true},
		{"Nobody sits", "i think so", false},
		{"Nobody sits", "y boss said ok", false},
		{"Nobody sits", "yes probably", false},
		{"Nobody has tried", "pete tried once w the tractor, it spun", true},
	} {
		c := toItem(t, tc.at)
		c.say(tc.say)
		if taken := !strings.Contains(c.last.Text(), tc.at); taken != tc.taken {
			t.Errorf("at %q, %q is taken %v:\n%s", tc.at, tc.say, taken, c.last.Text())
		}
	}
}

// TestPutRight: what failed on the spot is named, and asked again once
// somebody says that it is put right; the words alone pass nothing.
func TestPutRight(t *testing.T) {
	flow.Lone(t)
	for _, say := range []string{"yes fixed now", "pins are secured now", "change pins", "fixed"} {
		c := toItem(t, "pins secured")
		if said := textOf(c.say("no")); !strings.Contains(said, "pins secured, hook mouths closed: no") {
			t.Fatalf("a no does not say what it means:\n%s", said)
		}
		said := textOf(c.say(say))
		if !strings.Contains(said, "pins secured") || !strings.Contains(said, "look once more") {
			t.Errorf("after %q:\n%s", say, said)
		}
		c.say("no")
		if said := textOf(c.say("the pins are not secured now")); strings.Contains(said, "look once more") {
			t.Errorf("a no puts it right:\n%s", said)
		}
	}
	c := toItem(t, "Nobody sits")
	c.say("yes")
	if said := textOf(c.say("back")); strings.Contains(said, "false") || strings.Contains(said, "true") || !strings.Contains(said, "Nobody sits in the stuck vehicle: yes") {
		t.Errorf("back says:\n%s", said)
	}
}

// TestNoAnchors: what is said not to be there is no anchor any more.
func TestNoAnchors(t *testing.T) {
	for _, say := range []string{"no anchors there at all", "change anchor: none", "no trees here"} {
		c := newChair(t)
		c.say("/start")
		c.standAt(texted{base: "job", topic: "verdict"})
		if got := textOf(c.say(say)); !strings.Contains(got, "Taken off the list: oak") || len(c.session().Sheet.Anchors) > 0 {
			t.Errorf("%q is answered %q", say, got)
		}
	}
}

// TestHubWords: under the plan people ask for what is next, and say that they
// are ready, in their own words; what comes before the pull still comes first.
func TestHubWords(t *testing.T) {
	for say, want := range map[string]string{
		"so what do i need then": "The sums", "so what else": "The sums", "what now": "The sums",
		"ready": "What are they called", "begin": "What are they called",
	} {
		c := told1(t, "What now?")
		if got := textOf(c.say(say)); !strings.Contains(got, want) || strings.Contains(got, "I can't read") {
			t.Errorf("%q is answered %q", say, got)
		}
	}
}

// listed1 is the plain job of one phone as its list on the spot begins.
func listed1(t *testing.T) *chair { return told1(t, "owners of vehicle") }

// told1 is the same where it first says some words.
func told1(t *testing.T, words string) *chair {
	t.Helper()
	text, err := os.ReadFile("../testdata/talk/t-pull-one-phone.txtar")
	if err != nil {
		t.Fatal(err)
	}
	c := newChair(t)
	for line := range strings.Lines(string(text)) {
		said, ok := strings.CutPrefix(strings.TrimSpace(line), "> ")
		switch label, button := strings.CutPrefix(said, "["); {
		case !ok:
			continue
		case button:
			c.press(strings.TrimSuffix(label, "]"))
		default:
			c.say(said)
		}
		if strings.Contains(c.last.Text(), words) {
			return c
		}
	}
	t.Fatalf("the job never says %q", words)
	return nil
}
