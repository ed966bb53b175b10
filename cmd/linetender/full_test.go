package main

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"linetender/flow/telegram/apitest"
	"linetender/store"
)

// fill writes a file until the disk below dir is full, and returns its path.
func fill(t *testing.T, dir string) string {
	t.Helper()
	f, err := os.Create(filepath.Join(dir, "filler"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for {
		if _, err = f.Write(make([]byte, 4096)); err != nil {
			break
		}
	}
	if !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("the disk does not fill up: %v", err)
	}
	return f.Name()
}

// TestDiskFullWhileServing: on a full disk nothing is acknowledged that is not
// kept, and a stop is passed on all the same. With room again everything goes
// on by itself, and nothing that was said is lost.
func TestDiskFullWhileServing(t *testing.T) {
	dir := small(t, "1024", "")
	srv := apitest.New(t)
	p := serving(t, srv, dir, "--anyone")
	ann := srv.User(11, "Ann").Private()
	ann.Say("/start")
	srv.Wait("the first question", saidTo(srv, ann.Chat(), "Is anyone hurt"))
	filler := fill(t, dir)
	long := strings.Repeat("nothing of note ", 250)
	for range 40 {
		ann.Say(long)
	}
	p.err.see(t, "no room to write")
	ann.Say("stop")
	srv.Wait("the stop to be passed on", saidTo(srv, ann.Chat(), "my disk fails me"))
	if err := os.Remove(filler); err != nil {
		t.Fatal(err)
	}
	kept := func() bool {
		last := srv.Last(ann.Chat())
		return srv.Pending() == 0 && saidTo(srv, ann.Chat(), "Ann called it.")() && last.Text != ""
	}
	srv.Wait("all to be kept", kept)
	finish(t, srv, p)
	// The stop went ahead of what waits; that keeps until it has its turn.
	heard, stops := jobEntries(t, dir)[chatName(ann)], 0
	for _, e := range heard {
		if e.Heard.Text == "stop" {
			stops++
		}
	}
	if n := len(heard) + waitingIn(t, dir, chatName(ann)); n != 42 || stops != 1 {
		t.Errorf("%d of 42 messages are kept, with %d stops of one", n, stops)
	}
}

// waitingIn counts what was taken in from a chat and had no turn yet.
func waitingIn(t *testing.T, dir, chat string) int {
	t.Helper()
	st, err := store.Open(dir, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	n := 0
	err = st.Waiting(func(a store.Arrival) bool {
		if a.Chat == chat {
			n++
		}
		return true
	})
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestDiskFullAtTheStart: one sentence that says what to do.
func TestDiskFullAtTheStart(t *testing.T) {
	dir := small(t, "64", "")
	fill(t, dir)
	code, _, errs := once(t, []string{"LINETENDER_DATA=" + dir}, "none\n")
	if code != exitFault {
		t.Errorf("status %d, want %d", code, exitFault)
	}
	oneSentence(t, "the conversation", errs, "free some space")
}
