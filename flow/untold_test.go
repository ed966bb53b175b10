package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/flow"
	"linetender/flow/script"
)

// What only people on the spot see is asked before a plan is said to be a go,
// and where nobody can say it nothing is pulled: it counts at its worst, or the
// pull does not begin before it is told.
func TestNoPullBeforeItIsTold(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for topic, want := range map[string]string{
		"off_line":              "plan.open",
		"tow_point_condition":   "plan.open",
		"puller_side_slope":     "plan.no_go",
		"puller_rollover_frame": "plan.go_signed", // it counts as missing, and the signature names it
		"gear_side_angle":       "plan.go_signed", // pulled square to its line
	} {
		a := readAnswers(t, answersDir+"/s01-go-two-parts.txt")
		a.byKey[topic] = []string{"skip", "skip", "skip"}
		s := compose(t, a)
		at := func(key string) int {
			return slices.IndexFunc(s.Steps, func(s script.Step) bool {
				return slices.ContainsFunc(s.Said, func(p flow.Said) bool { return p.Key == key })
			})
		}
		if asked, said := at("ask."+topic), at(want); asked < 0 || said < asked {
			t.Errorf("%s skipped: asked in step %d, %s said in step %d of %d", topic, asked, want, said, len(s.Steps))
		}
		if want == "plan.go_signed" {
			continue
		}
		if slices.ContainsFunc(s.Steps, func(s script.Step) bool { return slices.Contains(s.Label, "begin the pull") }) {
			t.Errorf("%s skipped: the pull may begin", topic)
		}
	}
}

// With fewer people than it takes for one to watch a road, or to pass signals
// on, the list asks whether that is needed, and a yes wants a signature.
func TestRoadAndSignalsAreAsked(t *testing.T) {
	for claim, want := range map[string]string{
		"No road, path or people":           "A road or the public is near",
		"The driver can see the leader all": "The driver can't see whoever leads",
	} {
		a := readAnswers(t, answersDir+"/s01-go-two-parts.txt")
		a.byWord = append(a.byWord, [2]string{claim, "[no]"})
		s := compose(t, a)
		said := slices.ContainsFunc(s.Steps, func(s script.Step) bool {
			return slices.ContainsFunc(s.Said, func(p flow.Said) bool { return strings.Contains(p.Text, want) })
		})
		begins := slices.ContainsFunc(s.Steps, func(s script.Step) bool { return slices.Contains(s.Label, "begin the pull") })
		if !said || begins {
			t.Errorf("no to %q: %q said %v, the pull may begin %v", claim, want, said, begins)
		}
	}
}

// TestUntoldComesBeforeTheList: what bars the pull by not being told is asked before
// the list begins, and not after all of it was walked.
func TestUntoldComesBeforeTheList(t *testing.T) {
	flow.Lone(t)
	p := planned(t)
	turn, err := flow.StandAt(p.engine, p.log, p.input("Ada"), p.head().Code, "", [][2]string{{"gear[2].side_angle", ""}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.log.Commit(turn); err != nil {
		t.Fatal(err)
	}
	got := text(p.say("Ada", "checks")["test/Ada"])
	if s := p.job(); !strings.HasPrefix(got, "No pull before this is told: How far is the pull on the shackle out of its line") || s.Topic != "gear[2].side_angle" {
		t.Fatalf("the list begins with %q, at %s %s", got, s.State, s.Topic)
	}
	p.say("Ada", "in line")
	if p.say("Ada", "checks"); p.job().Topic != "names" {
		t.Errorf("once it is told the list begins at %s %s", p.job().State, p.job().Topic)
	}
}

// TestNothingIsAskedOfGearThatIsOff: once the load is secured and the line is let off,
// whatever is told opens no question for a plan and no item of the list: nothing is
// pulled on that gear any more.
func TestNothingIsAskedOfGearThatIsOff(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, stage := range []flow.Stage{flow.SlackIsOff, flow.Unrig, flow.GearCheck} {
		for _, words := range []string{"rain has started", "one sling is cut", "the shackle is bent", "the rope is glazed", "change weight 3 t", "the tree moved", "drop the block"} {
			p := at[stage].copied(t)
			p.say("Ada", words)
			for range 30 {
				s := p.job()
				if s.State == flow.Halted {
					p.say("Ada", "it is sorted, all stand")
				}
				if s.State == flow.Debrief {
					break
				}
				for _, who := range p.crew {
					for _, c := range p.last["test/"+who].Choices {
						if strings.HasPrefix(c.Choice, "item") || strings.HasPrefix(c.Choice, "eyes") || strings.HasPrefix(c.Choice, "alleyes") {
							t.Fatalf("%q at %s: %s is asked for %s", words, stage, who, c.Choice)
						}
					}
					p.does(who)
				}
			}
			if s := p.job(); s.State != flow.Pulling && s.State != flow.Debrief && s.State != flow.Referred {
				t.Errorf("%q at %s: it stands at %s %s", words, stage, s.State, s.Topic)
			}
		}
	}
}
