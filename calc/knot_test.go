package calc

import "testing"

// A knot that has no row of its own may be one that spills, misspelt or not: it is asked
// after, and never a go. One that is known to spill fails, however its name is written.
func TestAKnotNobodyKnowsIsNoGo(t *testing.T) {
	for name, want := range map[string]Decision{
		"bowline": Go, "Figure-Eight knot": Go, "eye splice": Go,
		"sqare": Open, "reefknot": Open, "slip knot": Open, "sheet bend": Open, "joined to another rope": Open, "knot": Open, "other": Open,
		"reef knot": NoGo, "granny": NoGo,
	} {
		for _, rope := range []string{"gear[0].knots", "gear[1].knots"} {
			if p := Reckon(read(t, changed(t, rope+"="+name))); p.Decision != want {
				t.Errorf("%s=%s: %s, want %s", rope, name, p.Decision, want)
			}
		}
	}
}
