package hear

import (
	"strings"
	"testing"
)

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

// TestLevelGround: level ground is the puller's where it is said of the puller
// or of the place that was asked about, and never the stuck vehicle's.
func TestLevelGround(t *testing.T) {
	for _, tc := range []struct {
		topic  Topic
		text   string
		puller string // known from before
		level  bool
	}{
		{TopicPuller, "tractor 4t on level gravel", "", true},
		{TopicPuller, "tractor stands on level ground", "", true},
		{TopicPuller, "it's flat where the tractor is", "", true},
		{TopicPuller, "tractor 4t on gravel, level, drawbar", "", true},
		{TopicPullerSlope, "flat", "", true},
		{TopicPullerSlope, "tractor is on the flat", "", true},
		{TopicPullerGround, "on level gravel", "", true},
		{TopicNone, "van 3 t on a 10 degree slope, tractor 5t on level gravel", "", true},
		{TopicNone, "tractor stands on level ground", "big tractor", true},
		{TopicTowPoint, "frame. the tractor is on flat ground", "tractor", true},
		{TopicNone, "puller is on level ground", "", true},
		{TopicSlope, "10 degrees where its stuck. flat where the tractor stands", "", true},

		{TopicNone, "tractor stands on level ground", "", false},
		{TopicSlope, "flat where the tractor is", "", false}, // it may be the tractor that is stuck
		{TopicSlope, "the tractor stands on level ground", "", false},
		{TopicPuller, "tractor 4t nearly level on gravel", "", false},
		{TopicPuller, "tractor 4t on gravel, not level", "", false},
		{TopicPuller, "tractor 5 t gravel, i think its level", "", false},
		{TopicPuller, "tractor 4t, flat tyre, on gravel", "", false},
		{TopicPuller, "tractor 4t, battery flat", "", false},
		{TopicPuller, "tractor 4t on gravel, 30 m flat run out", "", false},
		{TopicPuller, "tractor 5t on gravel. the van stands level", "", false},
		{TopicPuller, "tractor 5t, flat, pulls uphill", "", false},
		{TopicPuller, "tractor 4t, is it level?", "", false},
		{TopicHitchHeight, "about level with the axle", "tractor", false},
	} {
		level := false
		for _, f := range (Known{Puller: tc.puller}).Listen(tc.text, tc.topic).Facts {
			level = level || f.Field == "puller.slope" && f.Value == evenSlope
			if f.Field == "load.slope" && f.Value != "10 degrees" && f.Value != "10 degree" {
				t.Errorf("after %q, %q gives the load's slope %s", tc.topic, tc.text, f.Value)
			}
		}
		if level != tc.level {
			t.Errorf("after %q, %q: the puller is level: %v, want %v", tc.topic, tc.text, level, tc.level)
		}
	}
}

// TestWhatThePullerIs: all that is said of it in one message is read.
func TestWhatThePullerIs(t *testing.T) {
	for text, want := range map[string]string{
		"the big tractor, 5 t 4wd, stood on the track": "wheeled big tractor 5 t firm soil 1 ",
		"big tractor, 5 t, 4wd, on the track":          "wheeled big tractor 5 t firm soil 1 ",
		"tractor 5t. 4wd. gravel.":                     "wheeled tractor 5t gravel 1 ",
		"5t tractor, tow hook":                         "wheeled tractor 5t   ",
		"5t tractor, stamped tow hook":                 "wheeled tractor 5t   rated-point",
		"5t tractor, rope on the rack":                 "wheeled tractor 5t   other",
		"5 t tractor, pin hitch":                       "wheeled tractor 5 t   drawbar",
		"2.5t pickup, ball":                            "wheeled pickup 2.5t   ball",
		"tractor 6 t on the drawbar":                   "wheeled tractor 6 t   drawbar",
		"van 2t is stuck. tractor 5t, tow eye":         "wheeled tractor 5t   rated-point",
	} {
		got := map[string]string{}
		for _, f := range Listen(text, TopicPuller).Facts {
			got[f.Field] = f.Value
		}
		var words []string
		for _, field := range []string{"kind", "name", "mass", "ground", "driven", "hitch"} {
			words = append(words, got["puller."+field])
		}
		if line := strings.Join(words, " "); line != want || got["load.tow_point.kind"] != "" {
			t.Errorf("%q gives %q, want %q", text, line, want)
		}
	}
}
