package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestHatch(t *testing.T) {
	dir := t.TempDir()
	ctx := context.Background()
	if err := askHatch(ctx, dir, "/echo", io.Discard); !errors.Is(err, errNobody) {
		t.Fatalf("before: got %v, want %v", err, errNobody)
	}
	routes := http.NewServeMux()
	routes.HandleFunc("/echo", func(w http.ResponseWriter, r *http.Request) { io.WriteString(w, r.FormValue("say")) })
	routes.HandleFunc("/no", func(w http.ResponseWriter, r *http.Request) { http.Error(w, "not\nso", http.StatusNotFound) })
	h, err := openHatch(dir, routes)
	if err != nil {
		t.Fatal(err)
	}
	var got bytes.Buffer
	if err := askHatch(ctx, dir, "/echo?say=well", &got); err != nil || got.String() != "well" {
		t.Errorf("got %q, %v, want well", got.String(), err)
	}
	var refusal *hatchRefusal
	if err := askHatch(ctx, dir, "/no", io.Discard); !errors.As(err, &refusal) || refusal.status != 404 || refusal.said != "not so" {
		t.Errorf("got %v, want the refusal on one line", err)
	}

	info, err := os.Stat(filepath.Join(dir, hatchNote))
	if err != nil {
		t.Fatal(err)
	}
	if info.Mode().Perm() != 0o600 {
		t.Errorf("the note has mode %v, want it for its owner only", info.Mode().Perm())
	}
	k, err := atHatch(dir)
	if err != nil {
		t.Fatal(err)
	}
	k.Key = "another"
	if _, err := k.ask(ctx, "/echo?say=x", nil); !errors.Is(err, errNobody) {
		t.Errorf("with a wrong key: got %v, want %v", err, errNobody)
	}

	if err := h.close(); err != nil {
		t.Error(err)
	}
	if err := askHatch(ctx, dir, "/echo", io.Discard); !errors.Is(err, errNobody) {
		t.Errorf("after: got %v, want %v", err, errNobody)
	}
}

// A note that outlived its process must not make a stranger at that port pass
// for it, nor a damaged one be an error of its own.
func TestHatchStaleNote(t *testing.T) {
	dir := t.TempDir()
	l, err := listenIn(filepath.Join(dir, "strange"))
	if err != nil {
		t.Fatal(err)
	}
	stranger := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { io.WriteString(w, "[]") })}
	go func() { _ = stranger.Serve(l) }()
	defer stranger.Close()
	open := filepath.Join(dir, "open")
	if err := os.Mkdir(open, 0o755); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"a stranger at the socket":   `{"socket":"` + l.Addr().String() + `","key":"k","process":7}`,
		"nobody at the socket":       `{"socket":"` + dir + `/strange/none","key":"k","process":7}`,
		"a folder that others enter": `{"socket":"` + open + `/socket","key":"k","process":7}`,
		"of an older release":        `{"address":"127.0.0.1:1","key":"k","process":7}`,
		"half a note":                `{"socket":"/tm`,
		"no socket":                  `{"key":"k"}`,
		"nothing":                    ``,
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			if err := os.WriteFile(filepath.Join(dir, hatchNote), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			if err := askHatch(context.Background(), dir, healthQuestion, io.Discard); !errors.Is(err, errNobody) {
				t.Errorf("got %v, want %v", err, errNobody)
			}
		})
	}
}

func TestVitals(t *testing.T) {
	now := time.Date(2026, 5, 4, 12, 0, 0, 0, time.UTC)
	well := checkup{
		now:     func() time.Time { return now },
		write:   func() error { return nil },
		waiting: func() (time.Time, int, error) { return now.Add(-turnPatience), 3, nil },
		channel: func() (time.Time, error) { return now.Add(-channelSilence), nil },
	}
	if vs := well.vitals(); !vs.well() {
		t.Errorf("got %s, want well", vs.line())
	}
	broken := errors.New("broken")
	for _, test := range []struct {
		name   string
		change func(*checkup)
		want   string
	}{
		{"the disk", func(c *checkup) { c.write = func() error { return broken } }, "store: broken"},
		{"the count", func(c *checkup) { c.waiting = func() (time.Time, int, error) { return time.Time{}, 0, broken } }, "turns: broken"},
		{"a turn that hangs", func(c *checkup) {
			c.waiting = func() (time.Time, int, error) { return now.Add(-turnPatience - time.Second), 0, nil }
		}, "turns: a message has waited 2m1s for its answer"},
		{"silence", func(c *checkup) {
			c.channel = func() (time.Time, error) { return now.Add(-channelSilence - time.Second), nil }
		}, "channel: silent for 3m1s"},
		{"a closed channel", func(c *checkup) { c.channel = func() (time.Time, error) { return now, broken } }, "channel: broken"},
	} {
		t.Run(test.name, func(t *testing.T) {
			c := well
			test.change(&c)
			vs := c.vitals()
			if vs.well() || !strings.HasPrefix(vs.line(), test.want) {
				t.Errorf("got %q (well: %t), want it to begin with %q", vs.line(), vs.well(), test.want)
			}
			w := httptest.NewRecorder()
			c.answer(w, nil)
			if w.Code != http.StatusServiceUnavailable {
				t.Errorf("status %d, want %d", w.Code, http.StatusServiceUnavailable)
			}
		})
	}
}
