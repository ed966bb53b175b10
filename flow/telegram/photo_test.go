package telegram

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"linetender/flow"
	"linetender/flow/telegram/apitest"
)

// keeping polls with a folder for pictures.
func keeping(t *testing.T, body func(t *testing.T, g *ground, dir string)) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "photos")
	synctest.Test(t, func(t *testing.T) {
		g := setUp(t, func(c *Config) { c.Photos = dir })
		if err := g.ch.Start(t.Context()); err != nil {
			t.Fatal(err)
		}
		ctx, stop := context.WithCancel(t.Context())
		ended := make(chan error, 1)
		go func() { ended <- g.ch.Poll(ctx, nil) }()
		body(t, g, dir)
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
}

func sumOf(b []byte) string {
	d := sha256.Sum256(b)
	return hex.EncodeToString(d[:])
}

func names(t *testing.T, dir string) (list []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	for _, e := range entries {
		info, err := e.Info()
		if err != nil {
			t.Fatal(err)
		}
		if info.Mode().Perm() != 0o600 {
			t.Errorf("%s has mode %v", e.Name(), info.Mode())
		}
		list = append(list, e.Name())
	}
	return list
}

func TestPhotosAreKeptUnderTheirDigest(t *testing.T) {
	keeping(t, func(t *testing.T, g *ground, dir string) {
		pic := drawn(t, 64, 48).Bytes
		seat := g.srv.User(4, "Ann").Private()
		for _, sent := range []apitest.Sent{
			seat.Photo("the anchor", pic), seat.Photo("again, delivered twice", pic), seat.Document("../../etc/hitch.png", pic),
		} {
			in, _ := decoded(t, g, sent.Update)
			for range 2 {
				got := g.ch.Complete(t.Context(), in)
				if got.Files[0].Sum != sumOf(pic) || in.Files[0].Sum != "" || got.Text != in.Text {
					t.Errorf("%q: noted %+v", in.Text, got.Files)
				}
			}
		}
		if n := len(g.srv.Calls("getFile")); n != 3 {
			t.Errorf("fetched %d times, want once for each file", n)
		}
		if got := names(t, dir); len(got) != 1 || got[0] != sumOf(pic)+".png" {
			t.Fatalf("kept %v", got)
		}
		if kept, err := os.ReadFile(filepath.Join(dir, sumOf(pic)+".png")); err != nil || !bytes.Equal(kept, pic) {
			t.Errorf("kept other bytes: %v", err)
		}
		in, _ := decoded(t, g, seat.Photo("", []byte("of no known kind")).Update)
		if sum := g.ch.Complete(t.Context(), in).Files[0].Sum; !strings.Contains(strings.Join(names(t, dir), " "), sum+".bin") {
			t.Errorf("kept %v, noted %s", names(t, dir), sum)
		}
		for what, sent := range map[string]apitest.Sent{"a film": seat.Video("", []byte("film")), "a paper": seat.Document("plan.pdf", []byte("%PDF-1.7"))} {
			in, _ := decoded(t, g, sent.Update)
			if f := g.ch.Complete(t.Context(), in).Files[0]; f.Sum != "" || f.ID == "" {
				t.Errorf("%s: %+v", what, f)
			}
		}
	})
}

func TestAPhotoThatDoesNotComeLosesNothing(t *testing.T) {
	for _, fault := range []apitest.Fault{
		{Method: "getFile", Kind: apitest.Broken}, {Method: "getFile", Kind: apitest.Hang}, {Method: "getFile", Kind: apitest.Garbage},
		{Method: apitest.Download, Kind: apitest.Hang}, {Method: apitest.Download, Kind: apitest.Broken, Code: 404},
		{Method: apitest.Download, Kind: apitest.Half}, {Method: apitest.Download, Kind: apitest.Reset},
	} {
		keeping(t, func(t *testing.T, g *ground, dir string) {
			in, _ := decoded(t, g, g.srv.User(4, "Ann").Private().Photo("the anchor", drawn(t, 64, 48).Bytes).Update)
			g.srv.Fail(fault)
			began := time.Now()
			got := g.ch.Complete(t.Context(), in)
			if took := time.Since(began); took > fetchTime {
				t.Errorf("%v: the turn waits for %v", fault.Kind, took)
			}
			if f := got.Files[0]; f.Sum != "" || f.ID == "" || f.Same == "" || len(names(t, dir)) != 0 {
				t.Errorf("%v: noted %+v, kept %v", fault.Kind, f, names(t, dir))
			}
			if log := g.log.String(); !strings.Contains(log, "is not kept") || strings.Contains(log, "/file/bot") {
				t.Errorf("%v: log:\n%s", fault.Kind, log)
			}
		})
	}
}

func TestAPhotoThatIsTooLargeIsNotFetched(t *testing.T) {
	keeping(t, func(t *testing.T, g *ground, dir string) {
		in, _ := decoded(t, g, g.srv.User(4, "Ann").Private().Photo("", make([]byte, largestFetch+1)).Update)
		g.ch.Complete(t.Context(), in)
		if n := len(g.srv.Calls("getFile")); n != 0 {
			t.Errorf("asked for %d times, though its size was told", n)
		}
		in.Files[0].Size = 0 // as where the size is not told
		if f := g.ch.Complete(t.Context(), in).Files[0]; f.Sum != "" || len(names(t, dir)) != 0 {
			t.Errorf("noted %+v, kept %v", f, names(t, dir))
		}
	})
}

func TestWithoutAFolderNothingIsFetched(t *testing.T) {
	polling(t, func(t *testing.T, g *ground, _ func() error) {
		in, _ := decoded(t, g, g.srv.User(4, "Ann").Private().Photo("", []byte("x")).Update)
		if f := g.ch.Complete(t.Context(), in).Files[0]; f.Sum != "" || len(g.srv.Calls("getFile")) != 0 {
			t.Errorf("noted %+v", f)
		}
	})
}

func TestAStartRemovesWhatADeadProcessLeft(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{".new-12", "kept.jpg"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("x"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	synctest.Test(t, func(t *testing.T) {
		g := setUp(t, func(c *Config) { c.Photos = dir })
		if err := g.ch.Start(t.Context()); err != nil {
			t.Fatal(err)
		}
	})
	if got := names(t, dir); len(got) != 1 || got[0] != "kept.jpg" {
		t.Errorf("left %v", got)
	}
}

// TestPhotosOfStrangersAreNotFetched: a picture of a chat that was not let in goes into no job and onto
// no disk; a stop under a picture waits for no picture.
func TestPhotosOfStrangersAreNotFetched(t *testing.T) {
	staged(t, func(t *testing.T, st *stage) {
		asked := 0
		st.desk.Complete = func(_ context.Context, in flow.Input) flow.Input { asked++; return in }
		st.desk.Engine.Anyone = false
		seat := st.srv.User(4, "Ann").Private()
		seat.Photo("let me in", []byte("x"))
		st.quiet(t)
		if asked != 0 {
			t.Error("a stranger's picture was fetched")
		}
		st.desk.Engine.Anyone = true
		seat.Say("/start")
		st.quiet(t)
		seat.Photo("", []byte("x"))
		st.quiet(t)
		if asked != 1 {
			t.Errorf("a picture of the job was asked for %d times", asked)
		}
		seat.Photo("STOP", []byte("x"))
		st.quiet(t)
		if asked != 1 {
			t.Error("a stop has waited for a picture")
		}
		if last := st.srv.Last(4).Text; !strings.Contains(strings.Join(texts(st.srv.Said(4)), "\n"), "STOP.") {
			t.Errorf("a stop under a picture halts nothing: %q", last)
		}
	})
}
