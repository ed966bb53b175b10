package calc

import (
	"slices"
	"strings"
	"testing"

	"linetender/calc/job"
)

// resultOf is the worst that a check came to, "" where it was not made.
func resultOf(p Plan, id, words string) (Result, string) {
	var out Result
	text := ""
	for _, c := range p.Checks {
		if c.ID == id && strings.Contains(c.Text, words) && (out == "" || c.Result == Fail) {
			out, text = c.Result, c.Text
		}
	}
	return out, text
}

// A holding line that is paid out is there for the distance too: with 20 m of
// reach and 100 m to go (20 + 100) × 1.1 + 3 = 135 m. One that is taken in
// needs 20 × 1.1 + 3 = 25 m.
func TestHoldingLineReachesTheWholeWay(t *testing.T) {
	job1 := func(pull, length string) job.Sheet {
		s := plainGo()
		s.Load.Mass, s.Load.Slope, s.Load.SlopeFrom, s.Load.Pull = "2.1 t", "14 deg", "level", pull
		s.Distance, s.Reach, s.HoldReach, s.Puller.Run = "100 m", "20 m", "20 m", "250 m"
		s.Tackle = &job.TackleSheet{Parts: ptr(1), HaulFrom: "moving"}
		s.Gear[1].Length = length
		return s
	}
	for _, c := range []struct {
		pull, length string
		want         Result
	}{
		{"downhill", "26 m", Fail}, {"downhill", "134.9 m", Fail}, {"downhill", "135 m", Pass},
		{"level", "134 m", Fail}, {"level", "135 m", Pass},
		{"uphill", "24.9 m", Fail}, {"uphill", "25 m", Pass},
	} {
		p := Reckon(read(t, job1(c.pull, c.length)))
		if got, text := resultOf(p, "T3", "holding line"); got != c.want || got == Fail && p.Decision == Go {
			t.Errorf("%s with %s: %s (%s), %s; want %s", c.pull, c.length, got, text, p.Decision, c.want)
		}
	}
	s := job1("downhill", "400 m")
	s.Distance = ""
	if p := Reckon(read(t, s)); p.Decision == Go || !slices.ContainsFunc(p.Measure, func(m Measure) bool { return m.Field == "distance" }) {
		t.Errorf("with no distance told: %s, %v", p.Decision, p.Measure)
	}
	// Three turns round a post of 40 cm are 3 × π × 0.4 = 3.77 m more: 138.77 m.
	for length, want := range map[string]Result{"138.7 m": Fail, "138.8 m": Pass} {
		s := job1("downhill", length)
		s.Anchors[1].Diameter = "40 cm"
		if got, text := resultOf(Reckon(read(t, s)), "T3", "holding line"); got != want {
			t.Errorf("round a post, %s: %s (%s)", length, got, text)
		}
	}
}

// With the tackle's anchor 25 m ahead and blocks kept 1 m apart the load gets
// 24 m. One part to a machine has no anchor to meet; one part to a winch that
// stays ends at reach and lead, 25 + 10 − 1 = 34 m.
func TestLoadStopsBeforeItsAnchor(t *testing.T) {
	for _, c := range []struct {
		distance, kind string
		parts          int
		want           Result
	}{
		{"24 m", "wheeled", 2, Pass}, {"24.1 m", "wheeled", 2, Fail}, {"60 m", "wheeled", 3, Fail},
		{"60 m", "wheeled", 1, ""}, {"34 m", "winch", 1, Pass}, {"34.1 m", "winch", 1, Fail},
	} {
		s := plainGo()
		s.Distance, s.Puller.Kind, s.Puller.Run = c.distance, c.kind, "400 m"
		if c.kind == "winch" {
			s.Puller.Rating, s.Puller.RatingKind, s.Puller.WinchLayer = "5 t", "working", ptr(1)
		}
		s.Gear[0].Length, s.Gear[1].Length = "500 m", "500 m"
		s.Tackle = &job.TackleSheet{Parts: &c.parts, HaulFrom: "moving"}
		p := Reckon(read(t, s))
		got, text := resultOf(p, "T5", "")
		if got != c.want || got == Fail && p.Decision != NoGo {
			t.Errorf("%s by %d parts to a %s: %s (%s), %s", c.distance, c.parts, c.kind, got, text, p.Decision)
		}
		if got == Fail && !slices.ContainsFunc(p.Changes, func(g Change) bool { return strings.Contains(g.Do, "anchor") }) {
			t.Errorf("%s by %d parts: changes %v", c.distance, c.parts, p.Changes)
		}
	}
}
