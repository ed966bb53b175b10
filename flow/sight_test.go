package flow_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// seen is what somebody reports, and whether it is a stop by itself.
var seen = []struct {
	text  string
	stops bool
}{
	{"it slips", false}, {"the line creeps", false}, {"it is stuck", false}, {"lever got hard after 1 metre, Bo let go", false}, {"theres a stone before the left wheel", false}, {"the front wheel is up against a rock", false}, {"rope over the wheel", false}, {"it rains", false},
	{"I have to go", false}, {"leave", false},
	{"it runs", true}, {"the anchor moves", true}, {"I heard a crack", true}, {"the rope is singing", true}, {"lost signal", true},
	{"can't see Bo", true}, {"not sure", true}, {"I didn't like that", true}, {"Bo is hurt", true}, {"a kid ran in", true},
	{"front is lifting", true}, {"it tips", true}, {"thunder", true},
}

// TestReportsHoldFirst: whatever anybody reports, from every stage of a pull
// nothing moves after it, and where something moved everybody is told that
// before all else.
func TestReportsHoldFirst(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for stage, at := range standing(t, "Bo", "Cy", "Di", "Eve") {
		for _, see := range seen {
			p := at.copied(t)
			out := p.say("Cy", see.text)
			s := p.job()
			if s.Stage.Moves() {
				t.Errorf("%s, %q: it still moves: %s", stage, see.text, s.Stage)
			}
			if off := stage == flow.GearCheck; see.stops && !(off && strings.Contains(see.text, "crack")) && !(off && strings.Contains(see.text, "singing")) {
				if s.State != flow.Halted {
					t.Errorf("%s, %q: the job stands at %s", stage, see.text, s.State)
				}
				for _, who := range p.crew {
					if got := out["test/"+who]; len(got) == 0 || !got[0].Urgent || got[0].Parts[0].Key != "stop.called" || !strings.Contains(said(got), "look.") {
						t.Errorf("%s, %q: %s is told %s first", stage, see.text, who, said(got))
					}
				}
				continue
			}
			if !stage.Moves() {
				continue
			}
			for _, who := range p.crew {
				if got := out["test/"+who]; len(got) == 0 || !got[0].Urgent || got[0].Parts[0].Key != "pull.hold_now" && !strings.HasPrefix(got[0].Parts[0].Key, "pull.lost") {
					t.Errorf("%s, %q: %s is told %s first", stage, see.text, who, said(got))
				}
			}
		}
	}
}

// TestHoldWords: who wants it to hold and has no better word for it is obeyed.
func TestHoldWords(t *testing.T) {
	flow.Lone(t)
	for _, text := range []string{"hold", "wait", "whoa", "no", "careful", "hold on"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.FirstMove)
		if out := p.say("Di", text); p.stage() != flow.Held || !strings.HasPrefix(said(out["test/Bo"]), "pull.hold_now") {
			t.Errorf("%q leaves it at %s and tells the driver %s", text, p.stage(), said(out["test/Bo"]))
		}
	}
}

// TestReportsOutsideThePull: somebody hurt stops the job wherever it stands,
// and while something is asked again in a pull so does what is seen.
func TestReportsOutsideThePull(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Cy", "Di is hurt")
	if s := p.job(); s.State != flow.Halted || s.Stops[0].Cause != "hurt" {
		t.Fatalf("before the pull the job stands at %s, %+v", s.State, s.Stops)
	}
	for _, who := range []string{"Bo", "Di"} {
		p.pressed(who, "still")
	}
	if out := p.say("Ada", "Di cut her hand"); p.job().State != flow.Referred || !strings.Contains(said(out["test/Ada"]), "hazard.people_inside") {
		t.Errorf("after somebody was hurt it stands at %s and says %s", p.job().State, said(out["test/Ada"]))
	}
	p = readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	p.say("Cy", "it slips")
	p.say("Di", "the anchor moved")
	if s := p.job(); s.State != flow.Halted || s.Stops[len(s.Stops)-1].Cause != "anchor" {
		t.Errorf("while it is asked again what slipped the job stands at %s", s.State)
	}
	p.say("Cy", "Bo is hurt") // and in the stop another thing
	for _, who := range []string{"Bo"} {
		p.pressed(who, "still")
	}
	p.say("Ada", "[anchor moved]")
	if s := p.job(); s.State != flow.Referred {
		t.Errorf("what was told second in a stop is lost: %s, %+v", s.State, s.Stops[len(s.Stops)-1])
	}
}

// TestCausesOfTheirOwn: what was heard, lost or not liked is looked at by those
// whose part it is before anything goes on, and all that was told of a stop
// counts, not what was said last.
func TestCausesOfTheirOwn(t *testing.T) {
	flow.Lone(t)
	for _, row := range []struct {
		reason, cause string
		asked         []string // of the list
		again         []string // of the plan
	}{
		{"heard a bang", "sound", []string{"anchor_marked", "line_free", "edges_padded", "hold_stays"}, []string{"gear_sound", "anchors[0].alive"}},
		{"the radio went", "signal", []string{"signals", "light", "briefed", "aid"}, nil},
		{"Bo was not sure", "unsure", []string{"signals", "line_free", "light", "sober", "briefed", "driver_shielded", "anchor_marked"}, []string{"gear_sound"}},
		{"he didn't like it", "unsure", []string{"sober", "clear"}, []string{"gear_sound"}},
		{"a walker came by", "inside", []string{"clear", "under", "between", "aboard"}, nil},
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Held)
		p.say("Bo", "stop")
		p.pressed("Cy", "still")
		p.pressed("Di", "still")
		out := p.say("Ada", row.reason)
		s := p.job()
		if got := s.Stops[len(s.Stops)-1].Cause; got != row.cause {
			t.Errorf("%q is taken for %q", row.reason, got)
		}
		for _, who := range p.crew {
			if !strings.Contains(said(out["test/"+who]), "look."+row.cause) {
				t.Errorf("%q: %s is not told what to look at: %s", row.reason, who, said(out["test/"+who]))
			}
		}
		for _, field := range row.asked {
			if s.Settled["site."+field] != "" {
				t.Errorf("%q: %s is not asked again", row.reason, field)
			}
		}
		for _, topic := range row.again {
			if !slices.ContainsFunc(s.Again, func(g flow.Again) bool { return g.Topic == topic }) {
				t.Errorf("%q: %s is not asked again: %+v", row.reason, topic, s.Again)
			}
		}
		if s.Settled["site.consent"] == "" {
			t.Errorf("%q: who agreed to the pull is asked again", row.reason)
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	p.say("Cy", "I heard a crack")
	p.pressed("Bo", "still")
	p.pressed("Di", "still")
	p.pressed("Ada", "stop_cause.inside")
	s := p.job()
	if !slices.ContainsFunc(s.Again, func(g flow.Again) bool { return g.Topic == "gear_sound" }) || s.Settled["site.aboard"] != "" {
		t.Errorf("of two reasons one is lost: %+v", s.Again)
	}
}

// TestStopWithItsCause: what is written with a stop is what it is for.
func TestStopWithItsCause(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	out := p.say("Bo", "STOP something cracked")
	if s := p.job(); s.Stops[len(s.Stops)-1].Cause != "sound" || !strings.HasPrefix(said(out["test/Ada"]), "stop.called") || !strings.Contains(said(out["test/Ada"]), "look.sound") {
		t.Errorf("it is a stop for %q, and the lead is told %s", s.Stops[len(s.Stops)-1].Cause, said(out["test/Ada"]))
	}
}

// TestGearThatIsNotSound: a no to the gear after a sound asks each piece, and
// a piece that is damaged holds the pull.
func TestGearThatIsNotSound(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	p.say("Cy", "I heard a crack")
	for _, who := range []string{"Bo", "Di"} {
		p.pressed(who, "still")
	}
	p.say("Ada", "the sling cracked")
	for range 60 { // the line is eased first: nobody reads gear beside a tight one
		switch s := p.job(); {
		case strings.HasPrefix(s.Topic, "gear["):
		case s.Topic == "gear_sound":
			p.say("Ada", "no")
		case s.Stage == flow.Proving:
			p.press("Ada", "stands_proving")
		case p.has("Ada", "walk"):
			p.press("Ada", "walk")
		case p.has("Ada", "release"):
			p.press("Ada", "release")
		default:
			p.willing()
		}
	}
	if s := p.job(); !strings.HasSuffix(s.Topic, ".condition") {
		t.Fatalf("after a no the lead is asked for %s at %s", s.Topic, s.State)
	}
	if why, barred := flow.Barred(p.engine, p.job(), p.input("Ada")); !barred {
		t.Errorf("gear that is not sound keeps nothing: %s", why)
	}
}

// TestStopIsWalkedAgain: from every stage in which the line was loaded or
// handled, nothing pulls after a stop, or after what could have jerked the rig,
// before it has stood under light tension and was walked again.
func TestStopIsWalkedAgain(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for stage, at := range standing(t, "Bo", "Cy", "Di", "Eve") {
		if slices.Contains(theWayOff, stage) || stage == flow.StopDrill {
			continue
		}
		for _, text := range []string{"stop", "the line creeps"} {
			p := at.copied(t)
			p.t = t
			p.say("Cy", text)
			if text == "stop" {
				p.pressed("Bo", "still")
				p.pressed("Di", "still")
				p.say("Ada", "a kite came down")
			}
			since := p.at
			p.until("the pull", func() bool { return p.job().State == flow.Pulling })
			if p.stage() == flow.RerigHeld {
				p.confirm()
				p.press("Ada", "release")
			}
			if p.stage() == flow.Rerig {
				p.press("Ada", "done_*")
				p.until("the pull", func() bool { return p.job().State == flow.Pulling })
			}
			if p.stage() == flow.Held {
				p.confirm()
				if p.say("Ada", "crest "+itoa(p.job().Hold)); p.stage() != flow.Held {
					t.Errorf("%s, %q: it goes on over a crest", stage, text)
				}
				p.confirm()
				if p.press("Ada", "release"); p.stage() != flow.Proving {
					t.Fatalf("%s, %q: held it goes on to %s", stage, text, p.stage())
				}
				p.press("Ada", "stands_*")
			}
			if p.stage() == flow.HoldProved || p.stage() == flow.LineSlack {
				p.confirm()
				p.press("Ada", "walk")
			}
			if got := p.stage(); got != flow.AllPlaced && got != flow.SlackIsOut && got != flow.LightTension {
				t.Fatalf("%s, %q: it goes on from %s", stage, text, got)
			}
			p.to(flow.FirstMove)
			h := p.job().Holds
			if last := h[len(h)-1]; last.Stage != flow.LightTension || last.Released != flow.FirstMove || last.Over < since.UTC().Format(time.RFC3339) {
				t.Errorf("%s, %q: it pulls from %+v", stage, text, last)
			}
		}
	}
}

// TestOutOfHurt: a job that stands referred because somebody was hurt while the
// line lay comes back to the hold point once nobody is, and no further.
func TestOutOfHurt(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	p.say("Cy", "Bo is hurt")
	p.pressed("Bo", "still")
	p.pressed("Di", "still")
	p.say("Ada", "Bo cut his hand")
	if s := p.job(); s.State != flow.Referred {
		t.Fatalf("it stands at %s", s.State)
	}
	if p.say("Ada", "change people none"); p.job().State != flow.Referred {
		t.Errorf("one word ends it: it stands at %s", p.job().State)
	}
	p.say("Ada", "change hazards none, Di checked it, all are out and unhurt")
	p.say("Di", "[none]") // by her own word
	p.say("Ada", "4")     // Bo is well again
	p.say("Ada", "Bo drives")
	p.until("the names", func() bool { return p.job().Topic == "names" })
	p.say("Ada", "Ada, Bo, Cy, Di")
	p.until("the pull", func() bool { return p.job().State == flow.Pulling })
	if s := p.job(); s.Stage != flow.Held || s.Hold < 5 {
		t.Errorf("it comes back to %s, hold %d", s.Stage, s.Hold)
	}
}
