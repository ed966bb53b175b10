package calc

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// checkMeeting checks a property on drawn jobs, after a series of draws that is the
// same in every run and goes on until met reports that the property came to what it
// is about. So a property that has come to say nothing is found out, and no run of
// bad luck looks like one.
func checkMeeting(t *testing.T, met func() bool, prop func(*rapid.T)) {
	t.Helper()
	const most = 1000
	for seed := range most {
		if met() {
			break
		}
		failed := ""
		rapid.Custom(func(t *rapid.T) bool {
			defer func() {
				// What the property says of a draw is told below; a draw that came
				// to nothing is drawn again.
				if r := recover(); r != nil && fmt.Sprintf("%T", r) == "rapid.stopTest" {
					failed = fmt.Sprint(r)
				} else if r != nil {
					panic(r)
				}
			}()
			prop(t)
			return true
		}).Example(seed)
		if failed != "" {
			t.Fatalf("draw %d of the series: %s", seed, failed)
		}
	}
	if !met() {
		t.Fatalf("%d draws never came to what this is about", most)
	}
	rapid.Check(t, prop)
}

func TestCheckMeetingMeetsWhatItShould(t *testing.T) {
	draws := 0
	checkMeeting(t, func() bool { return draws >= 7 }, func(t *rapid.T) { draws += min(1, rapid.IntRange(0, 1).Draw(t, "n")+1) })
	if draws < 7+1 {
		t.Errorf("%d draws, want the series and what is drawn after it", draws)
	}
}
