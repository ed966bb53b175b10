package main

import (
	"bytes"
	"context"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"linetender/flow"
	"linetender/store"
)

// Every log command does the same while another process holds the store: the
// same words, the same exit status.
func TestLogWhileHeld(t *testing.T) {
	t.Parallel()
	free, held := t.TempDir(), t.TempDir()
	for _, dir := range []string{free, held} {
		manyJobs(t, dir, 3)
	}
	broken := filepath.Join(t.TempDir(), "broken.jsonl")
	call := func(args ...string) (int, string, string) {
		var out, errs bytes.Buffer
		code := run(context.Background(), args, strings.NewReader(""), &out, &errs)
		return code, out.String(), errs.String()
	}
	if code, out, errs := call("log", "export", "test-000001", "--data", free); code != exitDone {
		t.Fatal(code, errs)
	} else if err := os.WriteFile(broken, []byte(strings.ReplaceAll(strings.ReplaceAll(out, "test-000001", "test-000009"), "1 in 5", "1 in 6")), 0o600); err != nil {
		t.Fatal(err)
	}
	var noted string
	st, err := store.Open(held, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	head, _, err := st.Head(flow.JobStream("test-000001"))
	if err != nil {
		t.Fatal(err)
	}
	h, err := flow.DecodeHead(head)
	if err != nil {
		t.Fatal(err)
	}
	noted = h.Chain[:20]
	mux := http.NewServeMux()
	logRoutes(mux, eraser{Store: st}, held)
	hatch, err := openHatch(held, mux)
	if err != nil {
		t.Fatal(err)
	}
	defer hatch.close()
	for _, args := range [][]string{
		{"list"}, {"list", "--json", "--limit", "2"}, {"list", "--limit", "1"}, {"list", "--after", "none-00"}, {"list", "--text", "off the plate"},
		{"show", "test-000001"}, {"show", "test-000001", "--all"}, {"show", "none-00"}, {"verify"}, {"verify", "test-000001", "--head", noted},
		{"verify", "test-000001", "--head", strings.Repeat("0", 16)}, {"verify", "none-00"}, {"export"}, {"export", "test-000002"}, {"export", "none-00"},
		{"report", "none-00"}, {"replay", "--all"}, {"replay", "test-000000"}, {"import", broken}, {"import", os.DevNull},
		{"erase", "none-00", "--yes"}, {"erase", "--person", "Ada Quill"}, {"erase", "test-000000", "--yes"}, {"list"}, {"erase", "--person", "test/1", "--yes"}, {"list"},
	} {
		line := strings.Join(args, " ")
		code, out, errs := call(append(append([]string{"log"}, args...), "--data", free)...)
		heldCode, heldOut, heldErrs := call(append(append([]string{"log"}, args...), "--data", held)...)
		if code != heldCode || out != heldOut || errs != heldErrs {
			t.Errorf("log %s: status %d, held %d\n%s%s\nheld\n%s%s", line, code, heldCode, out, errs, heldOut, heldErrs)
		}
		if code == exitFault || out == "" && errs == "" {
			t.Errorf("log %s: status %d, %q, %q", line, code, out, errs)
		}
	}
	if code, out, errs := call("log", "report", "test-000002", "--data", held); code == exitDone && !strings.Contains(out, "<h1>") {
		t.Errorf("log report: status %d, %s", code, errs)
	}
}

// What does not hold ends with a status of its own.
func TestLogVerifyStatus(t *testing.T) {
	dir := t.TempDir()
	manyJobs(t, dir, 2)
	st, err := store.Open(dir, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	err = st.Redact(store.Write{Stream: flow.JobStream("test-000001"), After: 8}, map[uint64][]byte{3: []byte(`{"v":1}`)})
	if err := st.Close(); err != nil {
		t.Fatal(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	code := run(context.Background(), []string{"log", "verify", "--data", dir}, strings.NewReader(""), &out, &errs)
	if code != exitFound || !strings.Contains(out.String(), "test-000001: DOES NOT HOLD: event 3 was changed") || !strings.Contains(out.String(), "as they were written 1, changed or broken 1") {
		t.Errorf("status %d, %s%s", code, &out, &errs)
	}
}
