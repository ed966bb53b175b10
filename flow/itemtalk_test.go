package flow

import (
	"testing"

	"linetender/flow/wording"
)

// TestItemsTellThemselves: each item of the list on the spot says how to look
// and what it changes, in words of its own, and the source of its own check.
func TestItemsTellThemselves(t *testing.T) {
	for _, c := range siteChecks {
		for _, section := range []string{"itemhow.", "itemwhy.", "itemname."} {
			k := wording.Key(section + c.field)
			if !wording.English().Has(k) {
				t.Errorf("nothing says %s", k)
			}
		}
		if c.source() == "" {
			t.Errorf("%s has no source", c.field)
		}
	}
	if free, _ := siteCheckOf("line_free"); free.source() != "Oregon FACE 03OR007; MAIB 2021" {
		t.Errorf("a line that runs free is from %s", free.source())
	}
	if padded, _ := siteCheckOf("edges_padded"); padded.source() != "29 CFR 1910.184" {
		t.Errorf("padded edges are from %s", padded.source())
	}
}
