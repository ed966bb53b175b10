package calc

import (
	"slices"
	"testing"
)

// Nothing holds at the puller's most that nobody knows the strength of, nor
// where nobody knows that most or what is to lie in the line.
func TestPeaksNotKnownPassNothing(t *testing.T) {
	const with = "anchors[0].rating_kind=working; load.tow_point.rating_kind=working"
	for _, c := range []struct{ sets, field string }{
		{"puller.mass=", "puller.mass"},
		{"puller.ground=", "puller.ground"},
		{"gear[0].rating=", "gear[0].rating"},
		{"gear[3].rating_kind=", "gear[3].rating_kind"},
		{"anchors[0].rating=", "anchors[0].rating"},
		{"load.tow_point.rating=", "load.tow_point.rating"},
		{"puller.hitch_rating=", "puller.hitch_rating"},
		{"gear[3].use=spare; gear[3].kind=rope", "gear"},
	} {
		p := Reckon(read(t, changed(t, with, c.sets)))
		for _, variant := range []string{"break", "half"} {
			k := rules[key("R4", variant)]
			found := checksAt(p, "R4", k.severity)
			if len(found) != 1 || found[0].Result != Unknown || !slices.Contains(found[0].Fields, c.field) {
				t.Errorf("%s: R4/%s comes out %+v, want unknown for %s", c.sets, variant, found, c.field)
			}
		}
		if p.Decision == Go {
			t.Errorf("%s: a go", c.sets)
		}
		if !slices.ContainsFunc(p.Measure, func(m Measure) bool { return m.Field == c.field && m.Narrows != "" }) {
			t.Errorf("%s: %s is not asked for", c.sets, c.field)
		}
		for _, m := range p.Measure { // the check that asks has the better words
			if slices.ContainsFunc(checksAt(p, "R4", "block"), func(k Check) bool { return k.Text == m.Narrows }) {
				t.Errorf("%s: %s is asked for with %q", c.sets, m.Field, m.Narrows)
			}
		}
	}
}

func checksAt(p Plan, id, severity string) []Check {
	return slices.DeleteFunc(slices.Clone(p.Checks), func(c Check) bool { return c.ID != id || string(c.Severity) != severity })
}
