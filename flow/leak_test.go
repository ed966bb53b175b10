package flow_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// leaks are what no message may hold: names of data, an article before an
// article, a gap, an argument that was not there.
var leaks = regexp.MustCompile(`\[[a-z_]+\.[a-z_]+\]|\b[a-z]+\[\d+\]|\b(?i:the|a|an|your|of) (?:a|an|the)\b (?:[a-z])|\S  +\S|<no value>|%!|<nil>|\bNaN\b|\bInf\b|\{\{|\}\}|\b[a-z]+_[a-z_]+\b|[,;:]\.|\.,|,,|\( | \)| ,| \.(?:\s|$)`)

// fine are such that are meant.
var fine = regexp.MustCompile(`\bof (?:a|an|the)\b`)

// TestNothingLeaks reads all that the golden conversations say.
func TestNothingLeaks(t *testing.T) {
	read := 0
	for _, pattern := range []string{"../testdata/talk/*.txtar", "../testdata/party/*.txtar"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatalf("no conversations at %s: %v", pattern, err)
		}
		for _, f := range files {
			body, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			for n, line := range strings.Split(string(body), "\n") {
				_, text, ok := strings.Cut(line, "< ")
				if who, after, party := strings.Cut(line, "<! "); party && !strings.Contains(who, " ") {
					text, ok = after, true
				}
				switch {
				case ok && !strings.Contains(line[:min(len(line), 12)], ">"):
					_, text, _ = strings.Cut(text, ": ")
				case strings.HasPrefix(line, "  ") && !strings.HasPrefix(line, "  ["): // a list goes on
					text = strings.TrimSpace(line)
				default:
					continue
				}
				read++
				if m := leaks.FindString(fine.ReplaceAllString(text, "of")); m != "" {
					t.Errorf("%s:%d: %q in %s", filepath.Base(f), n+1, m, text)
				}
			}
		}
	}
	if read < 5000 {
		t.Errorf("only %d lines were read", read)
	}
}
