package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
	"linetender/flow/hear"
)

// TestStoppedByItself: what has come to its end by itself calls no stop; whatever
// may be one is one.
func TestStoppedByItself(t *testing.T) {
	for _, words := range []string{"its ok it stopped leaking", "no i just meant the leak stopped", "the rain has stopped", "it stopped raining", "we stopped by the barn on the way"} {
		if hear.Stops(words) {
			t.Errorf("%q is a stop", words)
		}
	}
	for _, words := range []string{"stop", "stopped", "stop it stopped leaking", "it stopped", "stop the leak", "it stopped moving", "stop by the tree", "stopped by the rope", "rain stop"} {
		if !hear.Stops(words) {
			t.Errorf("%q is no stop", words)
		}
	}
}

// TestStopByMistake: a stop where nothing is rigged ends by the lead's plain words,
// that it was a mistake or what was found and put right; a bare ok ends none, nor
// does a mistake that tells of something else.
func TestStopByMistake(t *testing.T) {
	for _, words := range []string{"mistake", "there was no reason i typed stopped by mistake, all sorted", "by accident, sorry", "nothing was wrong", "nothing broke, all quiet, you misread me",
		"bob tightened the fuel pipe and we put sand on the diesel, checked no drip now", "leak fixed, the pipe was loose", "someone walked in, hes gone now"} {
		p := planned(t)
		p.say("Ada", "stop")
		if p.job().State != flow.Halted {
			t.Fatal("a stop stops nothing")
		}
		if out := p.say("Ada", words); p.job().State == flow.Halted {
			t.Errorf("%q ends no stop: %s", words, text(out["test/Ada"]))
		}
		if strings.Contains(words, "fuel") && p.job().State != flow.Referred {
			t.Errorf("after %q the job goes on at %s", words, p.job().State)
		}
	}
	for _, words := range []string{"ok", "ok go on", "no mistake, stop", "stop, a kid by the rope", "fuel is leaking"} {
		p := planned(t)
		p.say("Ada", "stop")
		if p.say("Ada", words); p.job().State != flow.Halted {
			t.Errorf("%q ends a stop", words)
		}
	}
	p := readyToPull(t)
	p.to(flow.Held)
	p.say("Ada", "stop")
	if p.say("Ada", "stop was a mistake"); p.job().State == flow.Halted || p.job().State == flow.Pulling && p.has("Ada", "release") {
		t.Errorf("in a pull a mistake leads to %s", p.job().State)
	}
}

// TestSmoker: who smokes is told to put it out, and it is no leak; what is in the
// back and nobody is no person inside.
func TestSmoker(t *testing.T) {
	for _, words := range []string{"Bo is smoking", "hes having a cigarette", "someones smoking"} {
		p := planned(t)
		if out := p.say("Ada", words); p.job().State == flow.Referred || !strings.Contains(said(out["test/Ada"]), "stop.smoker") {
			t.Errorf("%q: %s", words, said(out["test/Ada"]))
		}
	}
	for words, want := range map[string]string{
		"theres feed in the back": "", "we got hay and a ton of feed in the back": "", "bags of sand in the back": "",
		"theres a kid in the back": "people-inside", "my nephew is in the back with the feed": "people-inside", "in the back": "people-inside",
		"the engine is smoking": "fuel", "smoke": "fuel",
	} {
		got := ""
		for _, f := range hear.Listen(words, hear.TopicPeople).Facts {
			if f.Field == "hazards" {
				got = f.Value
			}
		}
		if got != want {
			t.Errorf("%q is %q, want %q", words, got, want)
		}
	}
}

// TestHazardsWord: what is named of a hazard counts or is asked back, and a
// hesitating no after it is none.
func TestHazardsWord(t *testing.T) {
	for _, words := range []string{"nah all good, just some diesel on the grass", "all good, bit of petrol on the floor", "puddle of oil under it"} {
		c := newChair(t)
		c.say("/start")
		if out := c.say(words); !strings.Contains(said(out), "hazard.fuel") {
			t.Errorf("%q: %s", words, said(out))
		}
	}
	c := newChair(t)
	c.say("/start")
	c.say("some diesel about")
	if out := c.say("none really"); !strings.Contains(said(out), "ask.hazard_word") {
		t.Errorf("after diesel none really is %s", said(out))
	}
	if out := c.say("none"); !strings.Contains(said(out), "ask.mass") {
		t.Errorf("a plain none is %s", said(out))
	}
}

// TestHazardTakenBack: who takes a hazard back that handed the job over is told
// what counts, and that counts.
func TestHazardTakenBack(t *testing.T) {
	for _, words := range []string{"nobody is inside. theres feed in the back", "nephew got out. nobody in it", "none of the others"} {
		c := newChair(t)
		c.say("/start")
		c.say("somebody is in the cab")
		if out := c.say(words); !strings.Contains(said(out), "refuse.hurt_stays") {
			t.Errorf("%q: %s", words, said(out))
		}
		if out := c.say("Bo looked, nobody in it, none of the others"); !strings.Contains(said(out), "ask.mass") {
			t.Errorf("what is asked for is not taken after %q: %s", words, said(out))
		}
	}
}
