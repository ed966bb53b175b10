package calc

import (
	"fmt"
	"strings"
	"testing"

	"linetender/calc/job"
)

// What is advised fits the kind of puller: a winch has no drawbar, a gang no
// throttle, no axle and nothing that rolls over.
func TestAdviceFitsTheKindOfPuller(t *testing.T) {
	machines := []string{"drawbar", "throttle", "driven wheels", "front wheels", "rollover", "lowest gear"}
	for _, r := range []struct {
		puller *job.PullerSheet
		never  []string
	}{
		{&job.PullerSheet{Kind: "winch", Rating: "9 t", RatingKind: "working", WinchLayer: ptr(1), Mass: "6 t", Ground: "gravel", Slope: "0 deg", Hitch: "%s", HitchHeight: "1 m", AxleHeight: "50 cm", HitchRating: "0.1 t"}, machines},
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
			t.Error(fmt.Sprintf("nothing is said of a %s", k))
		}
	}
}
