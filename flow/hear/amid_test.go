package hear

import "testing"

// A figure put right in the same breath is the one that counts; two figures side by side
// stay two.
func TestAmended(t *testing.T) {
	for text, want := range map[string]string{
		"block wll 4 t no sorry 3 t":        "block wll 3 t",
		"2.3 no wait 3.2t":                  "3.2 t",
		"3.2 t no wait 2.3":                 "2.3 t",
		"no wait 3.2 not 2.3":               "no wait 3.2 not 2.3",
		"15 degrees no sorry 15 percent":    "15 percent",
		"12m sorry, its 14m, flat":          "14 m, flat",
		"2.3 sorry 3.2 not 2.3":             "3.2",
		"60 m rope, no 2 is 40 m":           "60 m rope, no 2 is 40 m",
		"rope 60m 24mm":                     "rope 60m 24mm",
		"2 shackles 3.25t no hooks":         "2 shackles 3.25t no hooks",
		"wait for 2 of us, 3 t van":         "wait for 2 of us, 3 t van",
		"5 of us. sorry for the wait. 3 in": "5 of us. sorry for the wait. 3 in",
		"20%, i mean 20°":                   "20 °",
	} {
		if got := Amended(text); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}
