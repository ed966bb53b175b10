package main

import (
	"bytes"
	"context"
	"strings"
	"testing"
)

// Where nothing fails no piece is called too weak: of a holding line whose anchor may
// stand anywhere it is said what is not told.
func TestPlanCallsNothingTooWeakWhereNothingFails(t *testing.T) {
	t.Parallel()
	sheet := readFile(t, "../../testdata/cases/scenarios/s14-lead-block.json")
	for _, swap := range [][2]string{{`, "holding_reach": "15 m"`, ""}, {`"name": "second rope, to hold", "rating": "5 t"`, `"name": "second rope, to hold", "rating": "2.5 t"`}} {
		if !strings.Contains(sheet, swap[0]) {
			t.Fatalf("the case has no %s", swap[0])
		}
		sheet = strings.Replace(sheet, swap[0], swap[1], 1)
	}
	var out, trouble bytes.Buffer
	if code := run(context.Background(), []string{"plan", "--text", "-"}, strings.NewReader(sheet), &out, &trouble); code != 0 {
		t.Fatalf("status %d: %s", code, trouble.String())
	}
	said := out.String()
	if !strings.Contains(said, "OPEN: nothing fails") || !strings.Contains(said, "may be too weak until it is told how far off its anchor is") || strings.Contains(said, ": too weak") {
		t.Errorf("it says\n%s", said)
	}
}
