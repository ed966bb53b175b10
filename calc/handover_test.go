package calc

import (
	"strings"
	"testing"
)

// TestHandoverSaysTries: how often it was tried is said as people say it, and none is
// not "0 times".
func TestHandoverSaysTries(t *testing.T) {
	for tries, want := range map[string]string{"0": "Nobody has tried to pull it out yet.", "1": "Tried already: once.", "3": "Tried already: 3 times."} {
		c, err := changed(t, "hazards=edge", "site.tries="+tries).Case()
		if err != nil {
			t.Fatal(err)
		}
		p := Reckon(c)
		if got := strings.Join(p.Handover, " "); p.Decision != Refer || !strings.Contains(got, want) {
			t.Errorf("after %s tries the hand-over of a %s says %q, want %q", tries, p.Decision, got, want)
		}
	}
}
