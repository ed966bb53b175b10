package main

import (
	"bytes"
	"image"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"linetender/flow/telegram/apitest"
)

// TestTokenNowhere drives one whole run through the channel's faults, on every
// kind of call that holds the token in its address, with kills, a token that
// is refused in the end, and all the commands that look at the folder; then it
// reads all that was written, anywhere, and the token is nowhere in it.
func TestTokenNowhere(t *testing.T) {
	t.Parallel()
	srv := apitest.New(t)
	dir := t.TempDir()
	token := []string{"LINETENDER_TOKEN=" + srv.Token(), "LINETENDER_DATA=" + dir}
	var written strings.Builder
	serve := func() *process {
		p := serving(t, srv, dir, "--anyone", "--keep-photos", "--log", "json", "--metrics", "127.0.0.1:0")
		p.out.see(t, "Serving as @")
		return p
	}
	ended := func(p *process) {
		p.end()
		written.WriteString(p.out.String() + p.err.String())
	}
	var photo bytes.Buffer
	if err := png.Encode(&photo, image.NewGray(image.Rect(0, 0, 40, 30))); err != nil {
		t.Fatal(err)
	}
	const marker = "the marker in the log"
	seat := srv.User(71, "Ada").Private()
	p := serve()
	seat.Say("/start")
	srv.Wait("the first question", saidTo(srv, seat.Chat(), "Is anyone hurt"))
	before := len(srv.Said(seat.Chat()))
	seat.Say(marker)
	srv.Wait("an answer to the marker", func() bool { return len(srv.Said(seat.Chat())) > before })
	round := 0
	for _, storm := range []struct {
		method string
		kinds  []apitest.Kind
	}{
		{"getUpdates", []apitest.Kind{apitest.Broken, apitest.Reset, apitest.Garbage, apitest.Half}},
		{"sendMessage", []apitest.Kind{apitest.TooMany, apitest.Broken, apitest.Reset, apitest.Garbage, apitest.Half}},
		{"getFile", []apitest.Kind{apitest.Broken, apitest.Garbage}},
		{apitest.Download, []apitest.Kind{apitest.Half, apitest.Reset}},
	} {
		struck := func() (n int) {
			for _, c := range srv.Calls(storm.method) {
				if !c.OK() && c.Outcome != "" {
					n++
				}
			}
			return n
		}
		for i, kind := range storm.kinds {
			srv.Fail(apitest.Fault{Method: storm.method, Kind: kind, Code: 502, RetryAfter: time.Second, Times: 1})
			seat.Photo("how it stands", photo.Bytes())
			if storm.method == apitest.Download { // no call, and so in no journal
				continue
			}
			srv.Wait("a fault of "+storm.method, func() bool { return struck() > i })
		}
		if round++; round%2 == 0 {
			p.signal(syscall.SIGKILL)
			ended(p)
			p = serve()
		}
	}
	srv.Heal()
	seat.Say("stop")
	srv.Wait("the stop", saidTo(srv, seat.Chat(), "STOP"))
	for _, call := range [][]string{{"health"}, {"doctor", "--api-url", srv.URL()}, {"log", "list"}, {"backup", filepath.Join(dir, "copy.db")}} {
		_, out, err := once(t, token, "", call...)
		written.WriteString(out + err)
	}
	srv.Revoke()
	ended(p) // the channel refuses the token, and so does the program
	for _, call := range [][]string{{"doctor", "--api-url", srv.URL()}, {"doctor", "--api-url", "http://127.0.0.1:1"}, {"log", "list"}} {
		_, out, err := once(t, token, "", call...)
		written.WriteString(out + err)
	}
	// A process that is told to show its stacks shows what is in its calls.
	other := apitest.New(t)
	dump := serving(t, other, t.TempDir(), "--anyone")
	dump.out.see(t, "Serving as @")
	dump.signal(syscall.SIGQUIT)
	ended(dump)

	files, found := 0, false
	look := func(where string, text []byte) {
		for _, s := range []*apitest.Server{srv, other} {
			_, secret, _ := strings.Cut(s.Token(), ":")
			if bytes.Contains(text, []byte(secret)) {
				t.Errorf("the token is in %s", where)
			}
		}
		found = found || bytes.Contains(text, []byte(marker))
	}
	look("what was written to the terminal and the log:\n"+written.String(), []byte(written.String()))
	found = false
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		files++
		look(path, text)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if !found || files < 2 || !strings.Contains(written.String(), "poll failed") || !strings.Contains(written.String(), "not sent; trying again") {
		t.Errorf("the run is no proof: %d files, what was said found in them: %v; it wrote:\n%s", files, found, written.String())
	}
	t.Logf("%d files and %d bytes of output, the token in none", files, written.Len())
}
