package calc

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/unit"
)

// Sunk wheels are dug free before a stronger puller is sent for, and one that no
// small crew gets hold of is not offered at all: alone it would have to weigh
// over forty tonnes here.
func TestSunkWheelsAreDugFreeFirst(t *testing.T) {
	one := 1.0
	s := job.Sheet{
		Load: job.LoadSheet{Mass: "2.4 t", Slope: "1 in 5", Pull: "uphill", Ground: "mud", Sunk: "hub", Locked: ptr(0.0),
			TowPoint: &job.TowPointSheet{Kind: "rated-eye"}},
		Puller: &job.PullerSheet{Kind: "wheeled", Mass: "3.1 t", Driven: &one, Ground: "gravel", Hitch: "drawbar"},
	}
	p := Reckon(read(t, s))
	if p.Decision != NoGo || len(p.Changes) == 0 {
		t.Fatalf("%s with changes %v", p.Decision, p.Changes)
	}
	for _, c := range p.Changes {
		if strings.HasPrefix(c.Do, "Bring a puller") {
			t.Errorf("a puller is offered that nobody has: %s", c.Do)
		}
	}
	if first := p.Changes[0].Do; !strings.Contains(first, "Dig it out") || !slices.ContainsFunc(p.Changes, func(c Change) bool { return strings.Contains(c.Do, "And: Bring a puller") }) {
		t.Errorf("the changes are %v; want digging first, and with it the stronger puller too", p.Changes)
	}
	s.Load.Sunk = "none"
	for _, c := range Reckon(read(t, s)).Changes {
		if strings.Contains(c.Do, "Dig it out") {
			t.Errorf("wheels that are not sunk are to be dug out: %s", c.Do)
		}
	}
}

// What no small crew gets hold of is not offered, alone or with something else:
// machines, winches, pieces and anchors end where the handbook says.
func TestNothingIsBroughtThatNobodyHas(t *testing.T) {
	lone(t)
	most := map[string]unit.Force{}
	heaviest, _ := handbook.HeaviestPuller()
	most["Bring a puller"] = unit.Weight(heaviest)
	most["Bring a winch"], _ = handbook.StrongestWinch(false)
	most["Bring a hand winch"], _ = handbook.StrongestWinch(true)
	most["Put a good"], _ = handbook.StrongestGear()
	most["Use an anchor"], _ = handbook.StrongestAnchor()
	met := map[string]bool{}
	figure := regexp.MustCompile(`(?:of|for|rated) at least ([0-9.,]+ (?:t|kN|kg))`)
	for _, mass := range []string{"2 t", "5 t", "9 t"} {
		for _, slope := range []string{"2 deg", "12 deg", "22 deg"} {
			bare := job.Sheet{
				Load:   job.LoadSheet{Mass: mass, Slope: slope, Pull: "uphill", Ground: "mud", Sunk: "none", Locked: ptr(0.0)},
				Puller: &job.PullerSheet{Kind: "wheeled", Mass: "3.1 t", Driven: ptr(1.0), Ground: "gravel", Hitch: "drawbar"},
			}
			winch := bare
			winch.Puller = &job.PullerSheet{Kind: "winch", Rating: "4 kN", RatingKind: "working", WinchLayer: ptr(1)}
			lever := winch
			lever.Puller = &job.PullerSheet{Kind: "hand-winch", Rating: "2 kN", RatingKind: "working", WinchLayer: ptr(1)}
			weak, loose := plainGo(), plainGo()
			weak.Load.Mass, weak.Load.Slope, weak.Gear[0].Rating = mass, slope, "1 kN"
			loose.Load.Mass, loose.Load.Slope, loose.Anchors[0].Rating = mass, slope, "1 kN"
			for _, s := range []job.Sheet{bare, winch, lever, weak, loose} {
				for _, c := range Reckon(read(t, s)).Changes {
					for _, do := range strings.Split(c.Do, " And: ") {
						for begins, limit := range most {
							m := figure.FindStringSubmatch(do)
							if !strings.HasPrefix(do, begins) || m == nil {
								continue
							}
							f, err := bound.ReadForce(m[1])
							if err != nil {
								t.Fatal(err)
							}
							if met[begins] = true; f.Value.Low > limit.Scale(1.01) {
								t.Errorf("%s from %s: %s", mass, slope, do)
							}
						}
					}
				}
			}
		}
	}
	for begins := range most {
		if !met[begins] {
			t.Errorf("%s… is nowhere offered", begins)
		}
	}
}
