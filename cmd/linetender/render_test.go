package main

import (
	"bytes"
	"errors"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"linetender/flow"
	"linetender/store"
)

// What a message shows is made from the log as it was at its entry, and made
// again it is the same.
func TestRender(t *testing.T) {
	dir := t.TempDir()
	manyJobs(t, dir, 2)
	st, err := store.Open(dir, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	d := newDraftsman(st, dir)
	const job = "test-000001"
	for _, what := range []string{flow.ShowRig, flow.ShowForce, flow.ShowCard} {
		show := flow.Show{What: what, Job: job, Entry: 8, Caption: "a caption"}
		made, err := d.render(t.Context(), show)
		if err != nil || len(made.Bytes) == 0 || made.Alt == "" || !strings.HasPrefix(made.Name, job+"-"+what) {
			t.Errorf("%s: %q, %d bytes, %q, %v", what, made.Name, len(made.Bytes), made.Alt, err)
			continue
		}
		if made.Type == "image/png" {
			if img, err := png.Decode(bytes.NewReader(made.Bytes)); err != nil || img.Bounds().Dx() != 1080 {
				t.Errorf("%s is no picture of a phone's width: %v", what, err)
			}
		}
		again, err := d.render(t.Context(), show)
		if err != nil || !bytes.Equal(made.Bytes, again.Bytes) {
			t.Errorf("%s is another when it is made again: %v", what, err)
		}
		if early, err := d.render(t.Context(), flow.Show{What: what, Job: job, Entry: 2}); err == nil {
			t.Errorf("%s before there was a plan: %d bytes", what, len(early.Bytes))
		}
	}
	report, err := d.render(t.Context(), flow.Show{What: flow.ShowReport, Job: job, Entry: 5})
	if err != nil || !bytes.Contains(report.Bytes, []byte("as the job stood after event 5 of 8")) || !bytes.Contains(report.Bytes, []byte("all as they were written")) {
		t.Errorf("the report: %v", err)
	}
	if _, err := d.render(t.Context(), flow.Show{What: flow.ShowReport, Job: "none-00"}); !errors.Is(err, flow.ErrNoJob) {
		t.Errorf("of a job that is not there: %v", err)
	}
	if _, err := d.render(t.Context(), flow.Show{What: "secrets", Job: job}); err == nil {
		t.Error("anything can be shown")
	}
}

// A kept picture is found by its digest and by nothing else that a log may hold.
func TestKeptPhotos(t *testing.T) {
	dir := t.TempDir()
	d := newDraftsman(nil, dir)
	sum := strings.Repeat("0a", 32)
	if err := os.MkdirAll(photosIn(dir), 0o700); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{filepath.Join(photosIn(dir), sum+".png"): "\x89PNG\r\n\x1a\n and so on", filepath.Join(dir, "secret"): "secret"} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if kind, bits := d.photo(flow.File{Sum: sum, Type: "text/html"}); kind != "image/png" || len(bits) == 0 {
		t.Errorf("the picture is %q with %d bytes", kind, len(bits))
	}
	for _, bad := range []string{"", "../secret", strings.Repeat("*", 64), sum[:63], strings.Repeat("0b", 32)} {
		if kind, bits := d.photo(flow.File{Sum: bad}); kind != "" || bits != nil {
			t.Errorf("%q leads to %q", bad, bits)
		}
	}
}
