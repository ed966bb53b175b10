package hear

import (
	"strings"
	"testing"
)

// TestMarks: what a message says that the gear shows is read of the piece it names, and of
// nothing that is no piece.
func TestMarks(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"rope glazed":                                       "rope glazed",
		"rope glazed, shackle 2 bent":                       "rope glazed, shackle 2 bent",
		"nothing broken":                                    "",
		"no cuts, bends or cracks":                          "",
		"all good nothing cut or bent":                      "",
		"checked all of it, no damage, rope was wet":        "",
		"the rope isn't frayed but the block is cracked":    "block cracked",
		"the rope got a bit glazed near the eye":            "rope glazed",
		"one of the slings has a small cut on the edge":     "slings cut",
		"shackle pin is bent, rest fine":                    "shackle bent",
		"slightly frayed strop":                             "strop cut",
		"pin wont turn on one shackle":                      "shackle bent",
		"one shackle's bent":                                "shackles bent",
		"rope has a nick n the block wobbles":               "rope cut, block wobbles",
		"left hand strop, stitching torn":                   "strop cut",
		"my gloves are torn":                                "? cut",
		"Cy cut his finger on the wire":                     "",
		"the rope cut a groove in the block":                "block wobbles",
		"tow eye bent":                                      "tow eye bent",
		"block was overloaded":                              "block doubted",
		"sling cut, shackle lost":                           "sling cut",
		"not sure, rope looks stiff":                        "rope glazed",
		"everything there, one sling has a cut, rest is ok": "sling cut",
		"something cracked":                                 "? cracked",
	} {
		var got []string
		for _, m := range Marks(text) {
			said := m.Said
			if said == "" {
				said = "?"
			}
			got = append(got, said+" "+m.What)
		}
		if s := strings.Join(got, ", "); s != want {
			t.Errorf("%q: %q, want %q", text, s, want)
		}
	}
}
