package hear

import (
	"fmt"
	"strings"
	"testing"
)

// TestTally: what people say of the gear that has come off is read as a count.
func TestTally(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"gears off, counted 2 shackles":                        "shackle 2",
		"2 shackles, 1 block, 2 slings and both ropes, all ok": "shackle 2, block 1, sling 2, rope all",
		"got 2 of 3 shackles, cant find the other one":         "shackle 2",
		"two out of the three shackles":                        "shackle 2",
		"one shackle missing":                                  "shackle -1",
		"we lost a shackle":                                    "shackle -1",
		"cant find the block":                                  "block -1",
		"the shackles are gone":                                "shackle -0",
		"all 3 shackles n the block":                           "shackle 3",
		"all the shackles are here":                            "shackle all",
		"three of the big bow shackles n two strops":           "shackle 3, sling 2",
		"shackles 3 block 1":                                   "shackle 3, block 1",
		"rope off, block off":                                  "",
		"one sling has a cut":                                  "sling 1",
		"nothing broken":                                       "",
	} {
		var got []string
		for _, c := range Tally(text) {
			n := fmt.Sprint(c.Number)
			if c.All {
				n = "all"
			}
			if c.Missing {
				n = "-" + n
			}
			got = append(got, c.Kind+" "+n)
		}
		if s := strings.Join(got, ", "); s != want {
			t.Errorf("%q: %q, want %q", text, s, want)
		}
	}
}
