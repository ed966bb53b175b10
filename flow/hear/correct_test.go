package hear

import "testing"

func TestInstead(t *testing.T) {
	for text, want := range map[string][2]string{
		"1 in 5 not 1 in 6":                  {"1 in 5", "1 in 6"},
		"slope is 1 in 5, not 1 in 6":        {"slope is 1 in 5", "1 in 6"},
		"not 1 in 6 but 1 in 5":              {"1 in 5", "1 in 6"},
		"it's not 3 t, it's 4 t":             {"it's 4 t", "3 t"},
		"the weight is not 3 t but 4 t":      {"the weight 4 t", "3 t"},
		"instead of uphill we pull downhill": {"pull downhill", "uphill"},
		"not the oak but a stump":            {"a stump", "the oak"},
		"gravel instead of mud":              {"gravel", "mud"},
		"3 t rather than 2 t":                {"3 t", "2 t"},
		"wet grass, not sunk":                {"wet grass, not sunk", ""}, // an answer of its own
		"not sunk":                           {"not sunk", ""},
		"wheels turn fine, not locked":       {"wheels turn fine, not locked", ""},
		"2.4 t, not weighed":                 {"2.4 t, not weighed", ""},
		"oak 50 cm not dead, stands fine":    {"oak 50 cm not dead, stands fine", ""},
		"gravel":                             {"gravel", ""},
		"":                                   {"", ""},
	} {
		if said, old := Instead(text); said != want[0] || old != want[1] {
			t.Errorf("%q is %q instead of %q, want %q", text, said, old, want)
		}
	}
}

func TestCorrection(t *testing.T) {
	for _, tc := range []struct {
		text, said string
		as         Taking
	}{
		{"sorry, 1 in 5", "1 in 5", MaybeCorrection},
		{"oh no sorry - its 3 t", "its 3 t", MaybeCorrection},
		{"no wait its 2.8 t", "its 2.8 t", SureCorrection},
		{"Correction: weight 2.6 t", "weight 2.6 t", SureCorrection},
		{"actually no, the ground is mud", "the ground is mud", MaybeCorrection},
		{"wrong, gravel", "gravel", SureCorrection},
		{"i meant the bakkie is on 1 in 5", "the bakkie is on 1 in 5", SureCorrection},
		{"actually the slope is more like 1 in 5", "the slope is about 1 in 5", MaybeCorrection},
		{"5,000 lb, my mistake", "5,000 lb", MaybeCorrection},
		{"weight should be 3 t", "weight should be 3 t", MaybeCorrection},
		{"wrong", "", SureCorrection},
		{"2.4 t", "2.4 t", NoCorrection},
		{"no", "no", NoCorrection},
		{"no, it stands straight", "no, it stands straight", NoCorrection},
		{"well, about 3 t", "well, about 3 t", NoCorrection},
		{"ok", "ok", NoCorrection},
	} {
		if said, as := Correction(tc.text); said != tc.said || as != tc.as {
			t.Errorf("%q puts %q (%d), want %q (%d)", tc.text, said, as, tc.said, tc.as)
		}
	}
}

func TestNamed(t *testing.T) {
	for _, tc := range []struct{ text, object, value string }{
		{"the weight is wrong, it's 3 t", "mass", "3 t"},
		{"slope is 1 in 5", "slope", "1 in 5"},
		{"tow point rating 6 t working", "tow_point.rating", "6 t working"},
		{"puller's weight should be 2.9 t", "puller.mass", "2.9 t"},
		{"the load's slope is 1 in 5", "slope", "1 in 5"},
		{"depth", "sunk", ""},
		{"wet grass", "", ""},
		{"", "", ""},
	} {
		if object, value := Named(tc.text); object != tc.object || value != tc.value {
			t.Errorf("%q names %q and says %q, want %q and %q", tc.text, object, value, tc.object, tc.value)
		}
	}
}

func TestSubject(t *testing.T) {
	for text, want := range map[string]string{
		"the bakkie is on 1 in 5":       "bakkie",
		"the bakkie's on 1 in 5":        "bakkie",
		"our old digger stands on mud":  "old digger",
		"my wagon weighs 3 t":           "wagon",
		"the slope is 1 in 5":           "",
		"1 in 5":                        "",
		"that the truck is on a 1 in 5": "truck",
	} {
		if got := Subject(text); got != want {
			t.Errorf("%q is about %q, want %q", text, got, want)
		}
	}
}
