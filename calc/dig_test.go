package calc

import (
	"strings"
	"testing"

	"linetender/calc/job"
)

// Sunk wheels are dug free before a puller ten times as strong is sent for:
// the plan offers it though the stronger puller would do alone.
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
	stronger := false
	for _, c := range p.Changes {
		stronger = stronger || strings.HasPrefix(c.Do, "Bring a puller")
	}
	if first := p.Changes[0].Do; !strings.Contains(first, "Dig it out") || !stronger {
		t.Errorf("the changes are %v; want digging first, and the stronger puller too", p.Changes)
	}
	s.Load.Sunk = "none"
	for _, c := range Reckon(read(t, s)).Changes {
		if strings.Contains(c.Do, "Dig it out") {
			t.Errorf("wheels that are not sunk are to be dug out: %s", c.Do)
		}
	}
}
