package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"linetender/flow/telegram/apitest"
	"linetender/store"
)

// TestForgetMe: what is kept of a person is gone from the file once it is
// made small, killed in the middle or not; another's is not.
func TestForgetMe(t *testing.T) {
	srv := apitest.New(t)
	dir := t.TempDir()
	p := serving(t, srv, dir, "--anyone")
	ann, bob := srv.User(11, "Annamaria").Private(), srv.User(12, "Bobolink").Private()
	for _, s := range []*apitest.Seat{ann, bob} {
		s.Say("/start")
		srv.Wait("the first question", saidTo(srv, s.Chat(), "Is anyone hurt"))
	}
	ann.Say("forget me")
	srv.Wait("what it means", saidTo(srv, ann.Chat(), "write forget me now"))
	ann.Say("forget me now")
	p.signal(syscall.SIGKILL)
	p.end()
	p = serving(t, srv, dir, "--anyone")
	srv.Wait("the end of it", saidTo(srv, ann.Chat(), "Done: what I kept"))
	finish(t, srv, p)
	entries := jobEntries(t, dir)
	if len(entries[chatName(ann)]) != 0 || len(entries[chatName(bob)]) == 0 {
		t.Errorf("%d entries of hers are left, and %d of his", len(entries[chatName(ann)]), len(entries[chatName(bob)]))
	}
	if err := store.Compact(dir, store.Options{}); err != nil {
		t.Fatal(err)
	}
	file, err := os.ReadFile(filepath.Join(dir, store.FileName))
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(file, []byte("Annamaria")) || !strings.Contains(string(file), "Bobolink") {
		t.Error("her name is in the file, or his is not")
	}
}
