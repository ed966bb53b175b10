package calc

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"linetender/calc/bound"
	"linetender/calc/job"
	"linetender/calc/unit"
)

// What is advised fits the kind of puller: a winch has no drawbar, a gang no
// throttle, no axle and nothing that rolls over.
func TestAdviceFitsTheKindOfPuller(t *testing.T) {
	machines := []string{"drawbar", "throttle", "driven wheels", "front wheels", "rollover", "lowest gear"}
	for _, r := range []struct {
		puller *job.PullerSheet
		never  []string
	}{
		{&job.PullerSheet{Kind: "winch", Rating: "9 t", RatingKind: "working", WinchLayer: ptr(1), Mass: "6 t", Ground: "gravel", Slope: "0 deg", Hitch: "%s", HitchHeight: "1 m", AxleHeight: "50 cm", HitchRating: "0.1 t", HitchRatingKind: "working"}, machines},
		{&job.PullerSheet{Kind: "hand-winch", Rating: "6 t", RatingKind: "working", Hitch: "%s", SideSlope: "20 deg"}, append(machines, "roll over")},
		{&job.PullerSheet{Kind: "hand-winch"}, machines},
		{&job.PullerSheet{Kind: "winch"}, machines},
		{&job.PullerSheet{Kind: "people", People: ptr(40), Run: "40 m", SideSlope: "20 deg"}, append(machines, "roll over", "winch")},
		{&job.PullerSheet{Kind: "people"}, append(machines, "winch")},
	} {
		for _, hitch := range job.Hitches {
			s := plainGo()
			p := *r.puller
			if p.Hitch != "" {
				p.Hitch = hitch
			}
			s.Puller, s.Crew, s.Gear[0].Rating = &p, ptr(60), "2.4 t"
			plan := Reckon(read(t, s))
			said := plan.Why
			for _, c := range plan.Checks {
				said = append(said, c.Text)
			}
			for _, c := range plan.Changes {
				said = append(said, c.Do)
			}
			said = append(said, plan.Cautions...)
			for _, text := range said {
				for _, w := range r.never {
					if w == "drawbar" && hitch == "drawbar" {
						continue
					}
					if strings.Contains(strings.ToLower(text), w) {
						t.Errorf("%s on a %s reads of a %s: %s", p.Kind, hitch, w, text)
					}
				}
			}
		}
	}
	for _, k := range job.PullerKinds {
		if heedsPeak[k] == "" || tellsPull[k] == "" {
			t.Errorf("nothing is said of a %s", k)
		}
	}
}

// A rope that is long enough is not to be replaced by a longer one, and what is
// missing in two places is said once.
func TestAdviceIsTrue(t *testing.T) {
	if got := eachOnce([]string{"a block", "a rope", "a block"}); !slices.Equal(got, []string{"a block, 2 times", "a rope"}) {
		t.Errorf("it says %q", got)
	}
	for _, c := range []struct {
		told  string
		short bool
	}{{"60 m", false}, {"47 m", false}, {"46 m", true}, {"", true}} {
		var length *Length
		if c.told != "" {
			read, _ := bound.ReadLength(c.told)
			length = &read.Value
		}
		p := &piece{g: job.Gear{Length: length}}
		need := bound.Exactly(unit.Metres(47))
		o := weighed{path: path{ropes: []*piece{p}}, s: strain{rope: &need}}
		if got := o.shortRope(p); got != c.short {
			t.Errorf("a rope of %q for 47 m: too short is %v", c.told, got)
		}
	}
}

// A puller of which nobody said where it stands is not said to give "only
// nothing": it is said what to tell, and told, it may do.
func TestUntoldStand(t *testing.T) {
	s := plainGo()
	s.Puller.Slope, s.Puller.SlopeFrom, s.Puller.Pull = "", "", ""
	s.Load.Slope, s.Load.SlopeFrom = "12 deg", "level"
	s.Puller.Mass = "3.4 t"
	p := Reckon(read(t, s))
	why := fmt.Sprint(p.Why)
	if p.Decision != NoGo || !strings.Contains(why, "Nobody told what slope it stands on") || strings.Contains(why, "only nothing") {
		t.Errorf("%s: %s", p.Decision, why)
	}
}

// The weakest is the weakest of pieces and anchors, as the pictures mark it.
func TestWeakestIsOfAll(t *testing.T) {
	s := plainGo()
	p := Reckon(read(t, s))
	worst, name := 0.0, ""
	for _, g := range p.Gear {
		if g.Ratio != nil && *g.Ratio > worst {
			worst, name = *g.Ratio, g.Kind
		}
	}
	for _, a := range p.Anchors {
		if a.Ratio != nil && *a.Ratio > worst {
			worst, name = *a.Ratio, a.Kind
		}
	}
	for _, c := range p.Checks {
		if c.ID == "R3" && c.Result == Pass && strings.Contains(c.Text, "weakest") && !strings.Contains(c.Text, "weakest is the "+name) {
			t.Errorf("the most strained is the %s (%.2f), and it says: %s", name, worst, c.Text)
		}
	}
}
