package calc

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// FuzzCase holds every text to a refusal of one line, or to a plan that can be
// written: JSON has no NaN and no infinity, so that alone proves it finite.
func FuzzCase(f *testing.F) {
	seeds := fuzzSeeds(f)
	if len(seeds) == 0 {
		f.Fatal("no case files to start from")
	}
	for _, text := range seeds {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		c, err := caseOf(text)
		if err != nil {
			if line := err.Error(); line == "" || strings.ContainsAny(line, "\n\r") || len(line) > 600 {
				t.Fatalf("a refusal of one line, not %q", line)
			}
			return
		}
		if len(c.Gear)+len(c.Anchors)+len(c.Pullers) > 40 {
			return // more is a matter of time and not of what is true
		}
		p := Reckon(c)
		if _, err := json.Marshal(p); err != nil {
			t.Fatalf("write: %v", err)
		}
		if len(p.Why) < 1 || len(p.Why) > 3 {
			t.Fatalf("%s for %d reasons", p.Decision, len(p.Why))
		}
		if p.Decision == Refer {
			noFigures(t, "fuzzed", p)
		}
	})
}

func fuzzSeeds(f *testing.F) (out [][]byte) {
	f.Helper()
	files, err := filepath.Glob(caseFolder + "/*/*.json")
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		out = append(out, text)
	}
	return out
}
