package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestWhatStoppedIsTold: that it came so far and then stopped is a report where everything
// stands, and while the puller moves a count that has it stand; the verb, a shout, a danger
// beside it and what may be a stop while it moves are one.
func TestWhatStoppedIsTold(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, row := range []struct {
		stage      flow.Stage
		who, words string
		stop       bool
		says       string
	}{
		{flow.Held, "Ada", "come about 30 cm then stopped", false, "pull.moves"},
		{flow.Held, "Bo", "then it stopped", false, "pull.stop_told"},
		{flow.Held, "Ada", "he stopped dead and we all stood", false, "pull.stop_told"},
		{flow.LightTension, "Bo", "stopped once the line was tight", false, "pull.stop_told"},
		{flow.Bite, "Bo", "come about 30 cm then stopped", false, "pull.moves"},
		{flow.Held, "Ada", "stop", true, ""}, {flow.Held, "Cy", "stopp", true, ""}, {flow.Held, "Cy", "sotp", true, ""}, {flow.Held, "Cy", "it has to stop", true, ""},
		{flow.Held, "Cy", "stopped!", true, ""}, {flow.Held, "Cy", "it stopped and now its rolling", true, ""}, {flow.Held, "Cy", "he stopped, stop it", true, ""},
		{flow.Bite, "Bo", "stopped", true, ""}, {flow.Bite, "Cy", "it stopped", true, ""}, {flow.Bite, "Cy", "came 30 cm then stopped, rope is fraying", true, ""},
	} {
		p := at[row.stage].copied(t)
		out := p.say(row.who, row.words)
		if got := said(out["test/"+row.who]); p.job().State == flow.Halted != row.stop || !strings.Contains(got, row.says) {
			t.Errorf("at %s %q of %s leads to %s: %s", row.stage, row.words, row.who, p.job().State, got)
		}
		if row.stage == flow.Bite && !row.stop && p.stage() != flow.Held {
			t.Errorf("%q leaves the puller at %s", row.words, p.stage())
		}
	}
	// Looked back on, it is what happened.
	p := at[flow.GearCheck].copied(t)
	p.confirm()
	p.press("Ada", "release")
	for words, stop := range map[string]bool{"the driver stopped late once": false, "it jerked once when we stopped": false, "stop": true} {
		p := p.copied(t)
		if p.say("Bo", words); p.job().State == flow.Halted != stop {
			t.Errorf("looking back %q leads to %s", words, p.job().State)
		}
	}
	// A rule that is told before it is asked for is none; what is called out is one.
	for words, stop := range map[string]bool{"idle only, and stop when it goes hard": false, "we crank slowly, stop now": true} {
		p := readyToPull(t)
		if p.say("Ada", words); p.job().State == flow.Halted != stop {
			t.Errorf("before the pull %q leads to %s", words, p.job().State)
		}
	}
}

// TestWhatIsWellIsNoDanger: what denies a danger, or says that all is as it should be, stops
// nothing, begins no hold over and is put back to nobody; what is denied only in part is seen.
func TestWhatIsWellIsNoDanger(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held]
	for words, well := range map[string]bool{
		"the load's flat, not twisted": true, "load is level, not leaning or tipping": true, "anchor is not moving, all good": true, "the tree didnt move at all": true,
		"rope is straight, nothing twisted": true, "it's not leaning any more": false, "tree has not moved but the strop slid a bit": false, "load leans, not much": false,
		"walked round it, all ok": true, "Bo is in the seat, belt on, low gear": true, "it stands by itself": true, "creeping nicely": true, "the sling is creeping nicely": false, "brake is off": false,
		"the load is not straight": false, "the anchor is moving": false, "its not level, its tipping": false,
	} {
		for _, who := range []string{"Ada", "Cy"} {
			p := at.copied(t)
			p.say(who, words)
			if s := p.job(); (s.State == flow.Pulling && s.Hold == at.job().Hold && len(s.Unread) == 0) != well {
				t.Errorf("%q of %s leads to %s, hold %d, %d unread", words, who, s.State, s.Hold, len(s.Unread))
			}
		}
	}
}

// TestBrakedWhereItStays: that a load which is secured stands braked and in gear is what is
// asked for there, and locks no wheel of a load that is pulled no more.
func TestBrakedWhereItStays(t *testing.T) {
	flow.Lone(t)
	p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Securing].copied(t)
	hold := p.job().Hold
	p.say("Ada", "handbrake on and in gear")
	if s := p.job(); s.Hold != hold || *s.Sheet.Load.Locked != 0 {
		t.Errorf("it leads to hold %d, wheels locked %v", s.Hold, *s.Sheet.Load.Locked)
	}
}

// TestNothingMovedUnderLightTension: under the light tension the load is to stand: that
// nothing moved is what is looked for there, and no stuck load.
func TestNothingMovedUnderLightTension(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, who := range []string{"Ada", "Cy"} {
		p := at[flow.LightTension].copied(t)
		hold := p.job().Hold
		if got := said(p.say(who, "nothing moved")["test/"+who]); p.stage() != flow.LightTension || p.job().Hold != hold || strings.Contains(got, "look.stuck") {
			t.Errorf("of %s it leads to %s: %s", who, p.stage(), got)
		}
	}
}
