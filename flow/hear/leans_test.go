package hear

import "testing"

// TestAnAngleIsOfWhatItsClauseSpeaksOf: how the vehicle or a tree leans, or how ground
// lies, is no angle of a sling's legs or of the pull on a shackle.
func TestAnAngleIsOfWhatItsClauseSpeaksOf(t *testing.T) {
	for text, want := range map[string]string{
		"slid sideways, side to side it leans to the right about 10 degrees by phone": "load.side_slope",
		"the truck leans 10 degrees to the right by phone":                            "load.side_slope",
		"it leans about 10 degrees to the left":                                       "load.side_slope",
		"side to side its 10 degrees by level":                                        "load.side_slope",
		"left to right the truck is tilted 10 degrees":                                "load.side_slope",
		"leaning right 10 degrees":                                                    "load.side_slope",
		"the van is tilted 10 degrees":                                                "load.side_slope",
		"slope across is 10 degrees":                                                  "load.side_slope",
		"the slope is 10 degrees":                                                     "",
		"the ground slopes 10 degrees":                                                "",
		"it leans about 10 degrees":                                                   "",
		"the oak leans 10 degrees":                                                    "",
		"sling legs at 10 degrees":                                                    "gear[0].sling_angle",
		"legs lean out 10 degrees each":                                               "gear[0].sling_angle",
		"10 degrees between legs":                                                     "gear[0].sling_angle",
		"about 10 degrees to each side":                                               "gear[0].sling_angle",
		"10 degrees by phone":                                                         "gear[0].sling_angle",
	} {
		got := ""
		for _, f := range Listen(text, "gear[0].sling_angle").Facts {
			if f.Value == "10 degrees" {
				got += f.Field
			}
		}
		if got != want {
			t.Errorf("%q tells %q, want %q", text, got, want)
		}
	}
}
