package hear

import (
	"slices"
	"testing"
)

// TestWhatCameOff: what a vehicle lost is not what it weighs, and what it weighs now is told
// beside it; a weight off a weighbridge was read there.
func TestWhatCameOff(t *testing.T) {
	for text, want := range map[string][]string{
		"the delivery note says 640 kg came off, so it weighs 6.1 t": {"6.1 t"},
		"640 kg came off":                  nil,
		"we took 640 kg off it":            nil,
		"unloaded 640 kg":                  nil,
		"its 640 kg lighter":               nil,
		"the weight is down by 640 kg":     nil,
		"6.1 t less 640 kg":                nil,
		"5.4 t, 640 kg came off":           {"5.4 t"},
		"weighs 5.4 t now, 640 kg are off": {"5.4 t"},
		"640 kg came off the back":         nil,
		"7 t is off the track":             {"7 t"},
		"6.1 t off the weighbridge":        {"6.1 t"},
		"5 t or less":                      {"5 t"},
		"it rained, so it weighs 6.1 t":    {"6.1 t"},
	} {
		var got []string
		for _, f := range Listen(text, TopicNone).Facts {
			if f.Field == "load.mass" {
				got = append(got, f.Value)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q weighs %q, want %q", text, got, want)
		}
	}
}
