package calc

import (
	"fmt"
	"testing"
)

// Who does what by the number of people, as a crew has it: two only without a
// holding line and on 5 deg at most; three the least else, four with a line to
// tend; six where a road or the public is near, seven where the driver can't see
// who leads. Whoever is on the rope has no other part.
func TestCrewWorked(t *testing.T) {
	const (
		source = "common practice, crew by size"
		flat   = "load.slope=1 deg; load.slope_from=phone; load.ground=sand; load.mass=900 kg; puller.mass=6 t; " // nothing runs
		pull   = "puller=; puller.kind=people; puller.people=12; puller.run=40 m; load.mass=300 kg; "
	)
	for _, w := range []struct {
		sets   string
		crew   int
		failed string // P3 by severity, "" for none
	}{
		{"", 2, "block"}, {"", 3, "sign-off"}, {"", 4, ""},
		{flat, 2, "sign-off"}, {flat, 3, ""},
		{flat + "load.slope=6 deg; load.slope_from=level; ", 2, "block"},
		{"site.public=true; ", 5, "sign-off"}, {"site.public=true; ", 6, ""},
		{"site.leader_seen=false; ", 6, "sign-off"}, {"site.leader_seen=false; ", 7, ""},
		{pull, 12, "block"}, {pull, 13, "block"}, {pull, 14, "sign-off"}, {pull, 15, ""}, {pull, 6, "block"},
	} {
		s := changed(t, w.sets, fmt.Sprintf("crew=%d", w.crew))
		got := ""
		for _, f := range weighedBest(t, s).fs.list {
			if f.rule.id == "P3" && f.result == Fail && got != "block" {
				got = f.rule.severity
			}
		}
		if got != w.failed {
			t.Errorf("%s: %d people, %q: fails as %q, want %q", source, w.crew, w.sets, got, w.failed)
		}
	}
}
