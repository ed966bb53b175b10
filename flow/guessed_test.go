package flow_test

import (
	"strings"
	"testing"
)

// TestGuessNeverPutsRight: a guess in passing, however it is put, leaves what
// was weighed; who names what is to be changed may put it there.
func TestGuessNeverPutsRight(t *testing.T) {
	for _, guess := range []string{"no, its more like 2 ton i think", "its more like 2.3 tonnes i think", "correction, about 2 t", "sorry, i guess 2 t"} {
		p := newPhones(t)
		for _, s := range []string{"/start", "none", "5500 lb weighed", "1 in 5"} {
			p.say("Ada", s)
		}
		if got := told(p.say("Ada", guess)["test/Ada"]); !strings.HasPrefix(got, "refuse.told_before ") {
			t.Errorf("%q says %s", guess, got)
		}
		if got := text(p.say("Ada", "so far")["test/Ada"]); !strings.Contains(got, "5500 lb") || !strings.Contains(got, "weighed") {
			t.Errorf("%q leaves %q", guess, got)
		}
		if got := text(p.say("Ada", "change weight about 2.6 t")["test/Ada"]); !strings.Contains(got, "2.6 t") {
			t.Errorf("named, it is not taken: %q", got)
		}
	}
}

// TestWorseGuessCounts: a guess in passing that is the worse of the two is gone
// by, and then passes for no measurement.
func TestWorseGuessCounts(t *testing.T) {
	for say, is := range map[string]string{
		"its more like 3 tonnes i think": "weight 3 tonnes", "no, its about 3.4 t": "weight 3.4 t",
		"the slope is more like 18 deg": "slope 18 deg", "slope is prob 20 deg": "slope 20 deg",
	} {
		p := newPhones(t)
		for _, s := range []string{"/start", "none", "5500 lb weighed", "14 deg by level"} {
			p.say("Ada", s)
		}
		p.say("Ada", say)
		got := text(p.say("Ada", "so far")["test/Ada"])
		of, _, _ := strings.Cut(is, " ")
		if !strings.Contains(got, is) || of == "weight" && strings.Contains(got, "weighed") || of == "slope" && strings.Contains(got, "level") {
			t.Errorf("%q leaves %q", say, got)
		}
	}
}

// TestWhichIsNoAnswer: where it is asked which answer is meant, a message with
// figures of its own chooses none: it goes on, and what stood stands.
func TestWhichIsNoAnswer(t *testing.T) {
	for _, words := range []string{"up, and the tractor is bout 9000 lb", "the tractor is 3.3 t"} {
		c := after(t, toPullersSlope...)
		if got := textOf(c.say("the hauler is on 1 in 5")); !strings.Contains(got, "Which do you mean: ") {
			t.Fatalf("what may be of either is answered %q", got)
		}
		got := textOf(c.say(words))
		if far := known(c); strings.Contains(far, "1 in 5") || !strings.Contains(far, "slope 1 in 6") || strings.Contains(got, "Which do you mean") {
			t.Errorf("%q is taken for a choice: %q, then %q", words, got, far)
		}
	}
}
