package calc

import (
	"math"
	"testing"

	"linetender/calc/unit"
)

// The plain load of 2,060 kg at most on 7 deg draws its holding line with 20201.7 ×
// sin 7 = 2462.0 N. A line that is told to have no slack is held against three times
// that, 7385.9 N, not against the twice that a line without slack would take: 4923.9 N.
// A centimetre of slack on this rope stays under that, and five do not.
func TestNoSlackCountsAsTheSettledMultiple(t *testing.T) {
	still := unit.Weight(unit.Kilograms(2060)).Newtons() * unit.Degrees(7).Sin()
	for slack, more := range map[string]bool{"0 m": false, "1 cm": false, "5 cm": true} {
		o := weighedBest(t, changed(t, "site.holding_slack="+slack))
		for _, s := range o.path.seats {
			if got := s.tension.Newtons(); s.use == "holding" && (got < 3*still-0.1 || (math.Abs(got-3*still) > 0.1) != more) {
				t.Errorf("%s: the line takes %.1f N, and three times what draws it is %.1f", slack, got, 3*still)
			}
		}
	}
}
