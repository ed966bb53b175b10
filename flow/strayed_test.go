package flow_test

import (
	"strings"
	"testing"
)

// TestWrongCodeBeginsNothing: who meant to join others and sent a wrong code is
// in no job until they say which: nothing they write begins one by itself, and
// a right code after it lets them in.
func TestWrongCodeBeginsNothing(t *testing.T) {
	p := newPhones(t)
	p.say("Ada", "/start")
	wrong := func(who, code string) {
		in := p.input(who)
		in.Text, in.Local = code, true
		if got := told(p.run(in)["test/"+who]); got != "door.wrong" {
			t.Fatalf("a wrong code says %s", got)
		}
	}
	wrong("Bo", "amber-acorn-alder-arrow-99")
	for _, words := range []string{"is anybody there", "the truck is 3 t", "yes", "hello"} {
		if got := told(p.say("Bo", words)["test/Bo"]); got != "door.not_in" {
			t.Errorf("after a wrong code %q says %s", words, got)
		}
	}
	if got := told(p.say("Bo", "stop")["test/Bo"]); !strings.HasPrefix(got, "stop.called") {
		t.Errorf("a stop there says %s", got)
	}
	if got := told(p.join("Ada", "crew code", "Bo")["test/Bo"]); !strings.HasPrefix(got, "welcome.crew") {
		t.Errorf("the right code then says %s", got)
	}
	wrong("Cy", "join ambre-acorn-alder-arrow-99") // a word of it is wrong
	if got := told(p.say("Cy", "new")["test/Cy"]); !strings.HasPrefix(got, "open.hello") {
		t.Errorf("new after a wrong code says %s", got)
	}
}
