package main

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"
	"strings"
	"testing"
)

// What turns a no-go into a go that somebody must sign for is told from what makes
// a plain go of it, in the JSON as in words.
func TestPlanSaysWhichChangeIsSignedFor(t *testing.T) {
	t.Parallel()
	sheet := strings.Replace(readFile(t, "../../testdata/cases/scenarios/s14-lead-block.json"), `"run": "40 m"`, `"run": "5 m"`, 1)
	plan := func(args ...string) string {
		var out, trouble bytes.Buffer
		if code := run(context.Background(), append([]string{"plan"}, args...), strings.NewReader(sheet), &out, &trouble); code != 0 {
			t.Fatalf("status %d: %s", code, trouble.String())
		}
		return out.String()
	}
	type change struct {
		Do, Then string
		SignOffs []string `json:"sign_offs"`
	}
	var got struct{ Changes []change }
	if err := json.Unmarshal([]byte(plan("-")), &got); err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(got.Changes, func(c change) bool { return strings.Contains(c.Do, "straight free ground") })
	if i < 0 || got.Changes[i].Then != "go" || !slices.Contains(got.Changes[i].SignOffs, "L3") {
		t.Fatalf("%+v", got)
	}
	if said := plan("--text", "-"); !strings.Contains(said, strings.TrimSuffix(got.Changes[i].Do, ".")+". Then it can be a go, on paper, but only if somebody signs for it.") {
		t.Errorf("it is not said:\n%s", said)
	}
}
