package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestHurtByWhoseEye: an eye that is somebody's is hurt, wherever the pull stands
// and before it; the eye of a hitch is not.
func TestHurtByWhoseEye(t *testing.T) {
	flow.Lone(t)
	held := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held]
	for _, text := range []string{"I got the rope in my eye", "cut my hand on the wire", "rope hit Di in the face"} {
		for _, p := range []*puller{held.copied(t), readyToPull(t, "Bo", "Cy", "Di", "Eve")} {
			p.say("Cy", text)
			if s := p.job(); s.State != flow.Halted || s.Stops[len(s.Stops)-1].Cause != "hurt" {
				t.Errorf("%q leads to %s", text, s.State)
			}
		}
	}
	p := held.copied(t)
	p.say("Cy", "there's a crack in the tow eye")
	if s := p.job(); s.State != flow.Halted || s.Stops[len(s.Stops)-1].Cause == "hurt" {
		t.Errorf("a crack in the tow eye leads to %s", s.State)
	}
}

// TestGoneIsNoNewStop: words that somebody is there no more call no stop, and add
// nothing to one; that they went to the rig does.
func TestGoneIsNoNewStop(t *testing.T) {
	flow.Lone(t)
	held := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held]
	for _, text := range []string{"kid is with his mum in the car now", "a dog, gone now", "he's fine now", "there was a kid by the rope but he's gone"} {
		p := held.copied(t)
		if p.say("Ada", text); p.job().State == flow.Halted {
			t.Errorf("%q stops it", text)
		}
		p = held.copied(t)
		p.say("Ada", "a kid by the rope")
		n := p.job().Stops[len(p.job().Stops)-1].Calls
		p.say("Ada", text)
		if s := p.job(); s.Stops[len(s.Stops)-1].Calls != n {
			t.Errorf("%q in a stop calls another", text)
		}
	}
	for _, text := range []string{"the kid has gone under the rope", "kid by the rope, keep him away", "kids gone but a dog is under the rope now"} {
		p := held.copied(t)
		if p.say("Ada", text); p.job().State != flow.Halted {
			t.Errorf("%q leads to %s", text, p.job().State)
		}
	}
}

// TestUnfitLosesThePost: who is told to be under age in a pull holds it, and has no
// post from then on.
func TestUnfitLosesThePost(t *testing.T) {
	flow.Lone(t)
	for _, text := range []string{"Di is 15", "Di had three beers"} {
		p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held].copied(t)
		if !seated(p.job(), "Di") {
			t.Fatal("Di has no post")
		}
		out := p.say("Cy", text)
		if s := p.job(); s.State == flow.Pulling || seated(s, "Di") {
			t.Errorf("%q leaves the job at %s, %+v", text, s.State, s.Seats)
		}
		for _, who := range []string{"test/Ada", "test/Bo"} {
			if len(out[who]) == 0 {
				t.Errorf("%q is not told to %s", text, who)
			}
		}
	}
}

// TestRopeTakesSomebodyWithIt: what a rope has hold of, a rope out of its block and a load
// that tips stop it, and say what is to be looked at; rain that is tipping down is rain.
func TestRopeTakesSomebodyWithIt(t *testing.T) {
	flow.Lone(t)
	held := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held]
	for text, cause := range map[string]string{
		"hand wrapped round the rope": "inside", "rope looped around bos wrist": "inside", "his jacket is caught in the winch": "inside", "foot in a loop of the rope": "inside",
		"rope jumped off the pulley": "jerked", "the rope came off the sheave": "jerked", "line is off the block": "jerked",
		"the trailer is tipping a bit": "tips", "it is tipping a bit": "tips",
	} {
		p := held.copied(t)
		got := p.say("Cy", text)
		s := p.job()
		if s.State != flow.Halted || s.Stops[len(s.Stops)-1].Cause != cause {
			t.Errorf("%q leads to %s, %+v", text, s.State, s.Stops)
		}
		if all := said(got["test/Cy"]); !strings.Contains(all, "look."+cause) {
			t.Errorf("%q is told %s", text, all)
		}
	}
	for _, text := range []string{"its tipping it down", "it's tipping down now", "tipping it down here"} {
		p := held.copied(t)
		p.say("Cy", text)
		if s := p.job(); s.State == flow.Halted {
			t.Errorf("%q stops it", text)
		}
	}
}
