package calc

import (
	"slices"
	"strings"
	"testing"

	"linetender/calc/job"
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
		{"puller.hitch_rating_kind=", "puller.hitch_rating_kind"},
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

// Every piece that the signed rule for the puller is about is named with its figures,
// and a signature covers just these: neither one of them, nor others, nor another figure.
func TestASignatureIsForItsPieces(t *testing.T) {
	const two = "gear[3].rating=4 t; load.tow_point.rating=3 t"
	check := func(sets string) Check {
		found := checksAt(Reckon(read(t, changed(t, "", sets))), "R4", string(SignOff))
		if len(found) != 1 || found[0].Result != Fail {
			t.Fatalf("%s: %+v, want one that fails", sets, found)
		}
		return found[0]
	}
	k := check(two)
	if len(k.Pieces) < 2 || !strings.HasPrefix(k.Pieces[0], "strop ") || !strings.HasPrefix(k.Pieces[1], "tow point ") {
		t.Fatalf("the pieces are %q, want strop and tow point", k.Pieces)
	}
	// Nobody lists what joins the ends, and it bears as much.
	if n := len(k.Pieces); n != 3 || !strings.HasPrefix(k.Pieces[2], "what joins the line's ends up to 100 % at ") {
		t.Errorf("the pieces are %q, and nothing of what joins the ends", k.Pieces)
	}
	for _, p := range k.Pieces {
		if !strings.Contains(k.Text, p) || !strings.Contains(p, "kN") || !strings.Contains(p, " % at ") {
			t.Errorf("%q does not say %q with its figures", k.Text, p)
		}
	}
	other := check(strings.Replace(two, "3 t", "3.1 t", 1)).Pieces
	for _, c := range []struct {
		pieces []string
		covers bool
	}{
		{k.Pieces, true},
		{slices.Concat(k.Pieces[1:], k.Pieces[:1]), true},
		{nil, false},
		{k.Pieces[:1], false},
		{append(slices.Clone(k.Pieces), "line"), false},
		{other, false},
	} {
		s := changed(t, "", two)
		s.Signed = []job.SignatureSheet{{Check: "R4", By: "A. Rigger", Second: "B. Holder", Reason: "seen", Pieces: c.pieces}}
		if p := Reckon(read(t, s)); p.Decision != Go || slices.Contains(p.SignOffs, "R4") == c.covers {
			t.Errorf("signed for %q: %s, still to sign: %q", c.pieces, p.Decision, p.SignOffs)
		}
	}
}

// A line that the puller's most would damage for good takes no signature, though it
// would not break; nor does a point of which a breaking strength is told.
func TestNobodySignsForWhatIsDamaged(t *testing.T) {
	for sets, want := range map[string]Decision{
		"gear[0].rating_kind=breaking; gear[0].rating=3.4 t":               Go, // 72 % of it
		"gear[0].rating_kind=breaking; gear[0].rating=2.6 t":               NoGo,
		"load.tow_point.rating_kind=breaking; load.tow_point.rating=6.6 t": Go,
		"load.tow_point.rating_kind=breaking; load.tow_point.rating=6.2 t": NoGo,
		"load.tow_point.rating_kind=working; load.tow_point.rating=2.5 t":  Go, // proved at twice that
		"load.tow_point.rating_kind=working; load.tow_point.rating=1 t":    NoGo,
	} {
		s := changed(t, "", sets)
		if p := Reckon(read(t, s)); p.Decision != want {
			t.Errorf("%s: %s, want %s: %v", sets, p.Decision, want, p.Why)
		}
	}
}
