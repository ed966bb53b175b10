package flow_test

import (
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"linetender/flow"
)

// TestBoardSaysItAll: what a coordinator needs stands on one message that fits
// the screen of a phone: what is decided and on what, what is in the way, who
// signed, how long it has stood there and who has gone silent.
func TestBoardSaysItAll(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.LightTension)
	p.at = p.at.Add(7 * time.Minute)
	got := board(p.say("Ada", "so far")["test/Eve"])
	for _, want := range []string{"GO. Haul at most 6.11 kN", "there at least 7.79", "parts: 2", "Weakest piece: rope 2, holding line, 97 %", "Signed: R4 by ", "pulling since 1", "min at that", "Not heard from: ", "Bo 8 min"} {
		if !strings.Contains(got, want) {
			t.Errorf("the board has no %q:\n%s", want, got)
		}
	}
	if strings.Contains(got, "Ada 8 min") {
		t.Errorf("who speaks is silent:\n%s", got)
	}
	got = board(p.say("Cy", "weight 6 t")["test/Eve"])
	for _, want := range []string{"NO-GO", "In the way: ", "Two answers, weight: Cy says 6 t"} {
		if !strings.Contains(got, want) {
			t.Errorf("after it has turned the board has no %q:\n%s", want, got)
		}
	}
	if n := utf8.RuneCountInString(got); n > 900 {
		t.Errorf("the board has %d characters:\n%s", n, got)
	}
	if got := text(p.say("Eve", "show board")["test/Eve"]); !strings.Contains(got, "In the way: ") || !strings.Contains(got, "Not heard from: ") {
		t.Errorf("shown, it is %q", got)
	}
}

// TestLooking: words that only look are answered where they are written, to
// whoever is in the job, change nothing and are not passed on.
func TestLooking(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.LightTension)
	for word, want := range map[string]string{
		"plan": "Pull along the rope", "checks": "Checks that pass: ", "why": "Weakest piece: ", "how": "To look, from here", "jobs": "Job ", "so far": "weight 2.4 t", "show board": "Haul at most",
	} {
		for _, who := range []string{"Eve", "Cy"} {
			was := p.job()
			hold, stage := was.Hold, was.Stage
			out := p.say(who, word)
			if got := text(out["test/"+who]); !strings.Contains(got, want) {
				t.Errorf("%s writes %q and is told %q", who, word, got)
			}
			if got := told(out["test/Ada"]); got != "" {
				t.Errorf("%s writes %q and the lead is told %s", who, word, got)
			}
			if now := p.job(); now.Hold != hold || now.Stage != stage {
				t.Errorf("%q moves the pull to %s, hold %d", word, now.Stage, now.Hold)
			}
		}
	}
}

// TestWhyAtAGo: why says of a go what it has to spare and its weakest piece;
// asked again it says the sums.
func TestWhyAtAGo(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	got := text(p.say("Ada", "why")["test/Ada"])
	for _, want := range []string{"It is a go because", "The haul may need 6.11 kN", "79 % of it", "Weakest piece: rope 2, holding line, 97 %", "none blocks", "Write why again"} {
		if !strings.Contains(got, want) {
			t.Errorf("why at a go says no %q:\n%s", want, got)
		}
	}
	if got := told(p.say("Ada", "why")["test/Ada"]); !strings.HasPrefix(got, "plan.step ") {
		t.Errorf("asked again, why says %s", got)
	}
}

// TestItemsAskedAbout: how and why at an item of the list say what that item
// takes, to whoever is asked for it.
func TestItemsAskedAbout(t *testing.T) {
	p := briefed(t, "Bo", "Cy")
	for _, tc := range []struct{ who, word, want string }{
		{"Ada", "how", "Ask each owner by name"}, {"Ada", "why", "Without their yes nobody goes on. A no "}, {"Bo", "[how]", "look along it: no head in that line"},
		{"Bo", "why", "Drivers were killed at their wheel. A no needs a named person"}, {"Cy", "how", "Walk round it, uphill side first"}, {"Cy", "why", "WorkSafe Western Australia alert, 2019"},
	} {
		if got := text(p.say(tc.who, tc.word)["test/"+tc.who]); !strings.Contains(got, tc.want) {
			t.Errorf("%s, %s: %q", tc.who, tc.word, got)
		}
	}
	one := planned(t)
	one.say("Ada", "Ada, Bo, Cy, Di")
	if got := text(one.say("Ada", "how")["test/Ada"]) + text(one.say("Ada", "why")["test/Ada"]); !strings.Contains(got, "Ask each owner by name") || !strings.Contains(got, "a cracked frame") {
		t.Errorf("one phone is told %q", got)
	}
}

// TestBoardInOrder: what must be seen first stands first, and a board that would
// not fit a phone is cut from what matters least, saying how much there is more.
func TestBoardInOrder(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.LightTension)
	p.at = p.at.Add(7 * time.Minute)
	p.say("Cy", "weight 6 t")
	order := func(out map[string][]flow.Message) []string {
		for _, m := range out["test/Eve"] {
			if m.Live == "board" {
				return keys([]flow.Message{m})
			}
		}
		t.Fatal("no board")
		return nil
	}
	got := order(p.say("Bo", "stop"))
	at := -1
	for _, want := range []string{"board.head_since", "board.stop", "board.moving", "board.silent", "board.plan", "board.blocks", "board.differs", "pull.board", "nosignal.weakest", "board.seats", "board.people", "board.words", "board.at"} {
		i := slices.Index(got, want)
		if i <= at {
			t.Errorf("%s stands at %d in %v", want, i, got)
		}
		at = i
	}
}
