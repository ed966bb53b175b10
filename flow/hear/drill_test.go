package hear

import "testing"

// TestDrilled: what was late, not seen or not done is a drill that failed, whatever else of
// it was good; what is neither surely is neither.
func TestDrilled(t *testing.T) {
	for want, list := range map[DrillWent][]string{
		DrillFailed: {"he kept going about a second", "took a while till he stopped", "he didn't see it", "no", "nope he carried on", "he stopped but late", "all stood, Bo's foot stayed on",
			"bo was looking at his phone", "Di kept walking", "stopped after 2 seconds", "had to shout twice", "only when i waved", "he did not hear me", "everyone but not Cy stopped at once", "not everybody stood",
			"took him a second", "it crept on half a metre", "yes but a bit slow", "bo never looked", "the driver couldnt see the signal", "well no, he went on cranking", "he hesitated", "nobody stopped", "he let go eventually"},
		DrillStood: {"he stopped at once, all stood", "all stood, foot off", "Bo stopped immediately and we all stood", "yes, at once", "no delay, everybody stood still", "second time he stopped at once", "foot came off at once",
			"all stopped within a second", "nobody moved, he let go at once", "that worked, all stood", "he stopped dead and all stood"},
		DrillUntold: {"ok", "what now", "is the strop right", "the drill", "all stood?", "he stopped and the rope is off", "fine", "rain"},
	} {
		for _, text := range list {
			if got := Drilled(text, []string{"Ada", "Bo", "Cy", "Di"}); got != want {
				t.Errorf("%q is read as %d, not %d", text, got, want)
			}
		}
	}
}
