package calc

import (
	"fmt"
	"slices"
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

// TestHandoverSaysWhatWasPulled: what failed while it was pulled here is a try, whatever
// was answered before, and after any pull nobody is said not to have tried.
func TestHandoverSaysWhatWasPulled(t *testing.T) {
	seen := func(n, what string) []string {
		return []string{"seen[" + n + "].what=" + what, "seen[" + n + "].parts=2", "seen[" + n + "].haul_from=moving"}
	}
	in := func(tries ...string) (out []string) {
		for i, n := range tries {
			out = append(out, fmt.Sprintf("seen[%d].try=%s", i, n))
		}
		return out
	}
	for want, told := range map[string][]string{
		"Tried already: once.":                       slices.Concat(seen("0", "stuck"), seen("1", "slip"), seen("2", "slip"), in("3", "3", "3")), // one pull, told by three
		"Tried already: 2 times.":                    append(seen("0", "slip"), seen("1", "slip")...),
		"Tried already: 3 times.":                    slices.Concat(seen("0", "stuck"), seen("1", "slip"), seen("2", "slip"), in("1", "2", "3")), // released anew each time
		"Tried already: 4 times.":                    slices.Concat(seen("0", "stuck"), seen("1", "slip"), seen("2", "slip"), seen("3", "stuck"), in("1")),
		"It was pulled here already, and has moved.": seen("0", "move"),
	} {
		c, err := changed(t, append([]string{"hazards=edge", "site.tries=0"}, told...)...).Case()
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(Reckon(c).Handover, " "); !strings.Contains(got, want) {
			t.Errorf("after %q the hand-over says %q, want %q", told, got, want)
		}
	}
}
