package calc

import (
	"math"
	"testing"

	"linetender/calc/unit"
)

// The plain load of 2,060 kg at most on 7 deg draws its holding line with 20201.7 ×
// sin 7 = 2462.0 N. A line that is told to have no slack has a hand's width of it, 10 cm,
// and is held against what catching the load after that puts on it, if that is over three
// times what draws it, 7385.9 N.
func TestNoSlackCountsAsAHandsWidth(t *testing.T) {
	still := unit.Weight(unit.Kilograms(2060)).Newtons() * unit.Degrees(7).Sin()
	for slack, counts := range map[string]float64{"0 m": 0.1, "1 cm": 0.1, "10 cm": 0.1, "20 cm": 0.2, "0 to 5 cm": 0.1, "0 to 30 cm": 0.3} {
		o := weighedBest(t, changed(t, "site.holding_slack="+slack))
		line := o.path.hold.line
		want := max(3*still, still+math.Sqrt(still*still+2*still*counts*line.Stiffness.High.Newtons()/line.Length.Low.Metres()))
		for _, s := range o.path.seats {
			if got := s.tension.Newtons(); s.use == "holding" && math.Abs(got-want) > 0.1 {
				t.Errorf("%s: the line takes %.1f N, want %.1f", slack, got, want)
			}
		}
	}
}

// A line of a metre and a half is so stiff that three times what draws the load would not
// have covered a hand's width.
func TestAShortStiffLineHasSomeSlack(t *testing.T) {
	o := weighedBest(t, changed(t, "site.holding_slack=0 m; distance=8 m +/- 0 m; holding_reach=9.5 m +/- 0 m"))
	if over := float64(o.path.hold.check / o.path.hold.Static.High); over <= 3 {
		t.Errorf("it is held against %.2f times what draws it", over)
	}
}
