package flow_test

import "testing"

// TestSkipSaysWhatCounts: only where a figure was asked for is there a span to reckon
// with; what is there or not stays open, and a name is left out.
func TestSkipSaysWhatCounts(t *testing.T) {
	for topic, want := range map[string]string{
		"gear_sound": "read.unasked_open", "lip": "read.unasked_open", "tow_point": "read.unasked_open", "gear[0].knots": "read.unasked_open",
		"distance": "read.unasked", "off_line": "read.unasked",
	} {
		found := ""
		for _, m := range standing1(t, topic).say("skip") {
			for _, p := range m.Parts {
				if found == "" && len(p.Key) >= 12 && p.Key[:12] == "read.unasked" {
					found = p.Key
				}
			}
		}
		if found != want {
			t.Errorf("at %s a skip is answered %q, want %q", topic, found, want)
		}
	}
}
