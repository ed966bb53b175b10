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

// TestSaidInPassing: words that would be read as another thing, or not at all.
func TestSaidInPassing(t *testing.T) {
	for _, tc := range []struct {
		topic              Topic
		text, field, value string
		never              string
	}{
		{TopicMass, "3.1 t weighed on the axle scale this morning, van with gear", "load.mass", "3.1 t", "tow_point.kind"},
		{TopicGround, "one of the back ones is jammed i think", "load.locked", "0.5", ""},
		{TopicNone, "a rear wheel is seized", "load.locked", "", ""},
		{TopicPeople, "its only a farm track no traffic, no water no fuel no nothing", "", "", "hazards"},
	} {
		h := Listen(tc.text, tc.topic)
		got := map[string]string{}
		for _, f := range h.Facts {
			got[f.Field] = f.Value
			if tc.never != "" && (f.Field == tc.never || f.Field == "load."+tc.never) {
				t.Errorf("%q gives %s %s", tc.text, f.Field, f.Value)
			}
		}
		if v, ok := got[tc.field]; tc.field != "" && (!ok || tc.value != "" && v != tc.value) {
			t.Errorf("%q gives %v, want %s %s", tc.text, got, tc.field, tc.value)
		}
		if tc.topic == TopicPeople && len(h.Cleared) > 3 {
			t.Errorf("%q clears %v", tc.text, h.Cleared)
		}
	}
}
