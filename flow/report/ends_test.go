package report

import (
	"html"
	"strings"
	"testing"
)

// What joins the ends is brought by the card, so it tells every figure of it, and
// by which rule each of them is.
func TestTheCardTellsWhatTheEndsBear(t *testing.T) {
	for _, name := range []string{"s01-pickup-and-trailer", "s14-lead-block", "x2-runs-by-itself"} {
		c := cardOf(t, name)
		page, err := c.HTML()
		if err != nil {
			t.Fatal(err)
		}
		said, ruled := 0, false
		for _, k := range c.Plan.Checks {
			if k.ID != "R1" || !strings.Contains(k.Text, "joins each end") {
				continue
			}
			said++
			if !strings.Contains(html.UnescapeString(string(page)), k.Text) {
				t.Errorf("%s: the card does not say %q", name, k.Text)
			}
			ruled = ruled || strings.Contains(k.Text, "by the signed rule")
		}
		if said != 1 {
			t.Errorf("%s: the ends are asked %d times", name, said)
		}
		if name == "s01-pickup-and-trailer" && !ruled {
			t.Errorf("%s: what rule are its figures by?", name)
		}
	}
}
