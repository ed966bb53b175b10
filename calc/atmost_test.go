package calc

import "testing"

// TestBoundFromAbove: a figure of whatever kind is the most that a puller gives, so
// one under the need fails the plan before it is known what kind it is.
func TestBoundFromAbove(t *testing.T) {
	for _, tc := range []struct {
		sets string
		want Result
	}{
		{"puller.rating=0.2 t; puller.rating_kind=", Fail},
		{"puller.rating=0.2 t; puller.rating_kind=working", Fail},
		{"puller.rating=1 t; puller.rating_kind=", Unknown},
		{"puller.rating=1 t; puller.rating_kind=working", Pass},
	} {
		p := Reckon(read(t, ownCase(t, "scenarios/s02-hand-winch.json", tc.sets)))
		for _, c := range p.Checks {
			if c.ID == "U1" && c.Severity == Block {
				if c.Result != tc.want {
					t.Errorf("%q: U1 %s, want %s: %s", tc.sets, c.Result, tc.want, c.Text)
				}
				break
			}
		}
		if no := p.Decision == NoGo; no != (tc.want == Fail) {
			t.Errorf("%q: %s", tc.sets, p.Decision)
		}
	}
}
