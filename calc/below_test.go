package calc

import (
	"fmt"
	"testing"
)

// Where the load runs by itself down towards the puller, that stands out of its
// way or there is no pull. By hand, with the load 16 m before the block and the
// puller 12 m past it: turned by 90° it is 12 m aside; with 150° between the lines
// 12 × sin 150° = 6 m aside and 16 + 12 × cos 30° = 26.4 m below; doubled back, at
// 16 − 12 = 4 m, it stands in the way again.
func TestWhoStandsBelow(t *testing.T) {
	const file, lead = "scenarios/x2-runs-by-itself.json", "reach=16 m; lead=12 m; tackle.lead_blocks=%d; tackle.lead_angle=%s; distance=%s"
	for _, r := range []struct {
		leads           int
		angle, distance string
		check           string
		want            Result
	}{
		{1, "90 deg", "15 m", "T5", Pass},
		{1, "60 to 120 deg", "15 m", "T5", Pass}, // 12 × sin 60° = 10.4 m
		{1, "150 deg", "15 m", "T5", Pass},       // 26.4 m below, and it comes 15 m and its run past
		{1, "120 to 170 deg", "15 m", "T5", Pass},
		{1, "10 deg", "15 m", "T5", Fail}, // doubled back: 2.1 m aside, 4.2 m below
		{1, "0 deg", "1 m", "T5", Pass},   // beyond the way all the same
		{1, "", "15 m", "T5", Unknown},
		{2, "90 deg", "15 m", "T5", Fail}, // which way the second turns it nobody tells
	} {
		p := Reckon(read(t, ownCase(t, file, fmt.Sprintf(lead, r.leads, r.angle, r.distance))))
		got := Result("")
		for _, c := range p.Checks {
			if c.ID == r.check && (c.Result != Pass || got == "") && c.Text != "" {
				got = c.Result
			}
		}
		if got != r.want {
			t.Errorf("%d blocks, %s, %s to go: %s %s, want %s: %v", r.leads, r.angle, r.distance, r.check, got, r.want, p.Why)
		}
		if r.want != Pass && p.Decision == Go {
			t.Errorf("%d blocks, %s: a go with the puller in the way", r.leads, r.angle)
		}
	}
}

// The load runs on past where it was held: by the slack of its line, and by what
// that stretches when it catches it.
func TestTheRunPastCounts(t *testing.T) {
	const file = "scenarios/x2-runs-by-itself.json"
	at := func(reach, slack string) Decision {
		return Reckon(read(t, ownCase(t, file, "gear[0].length=60 m; gear[1].length=60 m; lead=0.5 m; distance=20 m; puller.run=60 m; holding_reach=16 m; reach="+reach+"; site.holding_slack="+slack))).Decision
	}
	if d := at("30 m", "0.1 m"); d != Go {
		t.Fatalf("30 m off, it may come 20 m and a little: %s", d)
	}
	if d := at("19.6 m", "0.1 m"); d == Go {
		t.Errorf("a go with the puller 20.1 m below, where the load goes 20 m and runs past")
	}
}
