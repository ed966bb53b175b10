package hear

import "testing"

// TestSlopeHasAnOwner: what is said of the puller's slope is never the load's.
func TestSlopeHasAnOwner(t *testing.T) {
	for _, tc := range []struct {
		text, field, value, object string
	}{
		{"change puller's slope to 0 degrees, measured with a level", "puller.slope", "0 degrees", "puller.slope"},
		{"change the slope of the puller to 3 degrees", "puller.slope", "3 degrees", "puller.slope"},
		{"puller's slope 4 degrees", "puller.slope", "4 degrees", ""},
		{"puller slope level", "puller.slope", "0 to 2 deg", ""},
		{"the puller stands on level ground", "puller.slope", "0 to 2 deg", ""},
		{"change the tractor's slope to 2 degrees", "", "", ""},
		{"change slope 1 in 5", "load.slope", "1 in 5", "slope"},
	} {
		h := Listen(tc.text, TopicNone)
		got := map[string]string{}
		for _, f := range h.Facts {
			got[f.Field] = f.Value
		}
		if tc.field != "load.slope" && got["load.slope"] != "" {
			t.Errorf("%q takes %q for the load's slope", tc.text, got["load.slope"])
		}
		if tc.field != "" && got[tc.field] != tc.value || h.Object != tc.object {
			t.Errorf("%q is %v of %q with %v, want %s %s of %q", tc.text, h.Act, h.Object, got, tc.field, tc.value, tc.object)
		}
	}
}
