//go:build unix

package main

import (
	"bufio"
	"context"
	"io"
	"slices"
	"strings"
	"syscall"
	"testing"
	"testing/synctest"
	"time"

	"linetender/flow/script"
)

// TestJoinedTerminalStaysUp: on a terminal the end of the process that holds
// the jobs ends nothing, because the next stop would be typed to the shell. It
// is said at once, what is typed is kept from nobody's knowledge, a stop above
// all, and when the process is back the same person goes on.
func TestJoinedTerminalStaysUp(t *testing.T) {
	for name, end := range cutOffs {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			env := []string{dataEnv + "=" + t.TempDir()}
			lead, code := leadWithCode(t, env)
			ben := sit(t, []string{"join", code, "--name", "Ben"}, env, everything)
			ben.see("as Ben.")
			cy := sit(t, []string{"join", code, "--name", "Cy"}, env, everything)
			cy.see("as Cy.")
			lead.out.see(t, "Cy has joined")
			ben.write("I ri")
			ben.see("I ri")
			end(t, lead)
			lead.end()

			for _, s := range []*seat{ben, cy} {
				s.see("LINE LOST.")
				s.see("no line > ")
			}
			ben.write("g\r") // the line that was being written is still there
			ben.see("Not sent, the line is lost: I rig")
			ben.write("\r")
			ben.see("The line is still lost.")
			ben.write("stop, it slips\r")
			ben.see("From here it reaches NOBODY.")

			again := start(t, env)
			for _, s := range []*seat{ben, cy} {
				s.see("The line to the others is back.")
			}
			ben.see("It is called now.")
			again.out.see(t, "Ben called it")
			cy.see("Ben called it")
			ben.see("Not sent while the line was lost.")
			if strings.Contains(again.out.String(), "I rig") {
				t.Errorf("what was typed without a line is passed on as if it were new:\n%s", again.out)
			}
			cy.see("as Cy.\r\n") // where it stands, under the same name
			cy.write("stop\r")
			again.out.see(t, "Still stopped.")

			// Lost a second time, with nothing typed: where it stands says the stop first.
			again.signal(syscall.SIGKILL)
			again.end()
			for _, s := range []*seat{ben, cy} {
				s.screen.seeTimes(t, "LINE LOST.", 2)
			}
			start(t, env)
			for _, s := range []*seat{ben, cy} { // who is still away is asked once more whether to leave
				s.screen.seeTimes(t, "The line to the others is back.", 2)
			}
			ben.see("in these words: stop, it slips")
			for _, s := range []*seat{ben, cy} {
				s.write("\x03")
				if status := s.leave(); status != exitDone {
					t.Errorf("Ctrl-C leaves with status %d, want %d", status, exitDone)
				}
			}
		})
	}
}

// TestLeavingWithoutALine: who leaves then is told that nobody knows of it.
func TestLeavingWithoutALine(t *testing.T) {
	env := []string{dataEnv + "=" + t.TempDir()}
	lead, code := leadWithCode(t, env)
	ben := sit(t, []string{"join", code, "--name", "Ben"}, env, everything)
	ben.see("as Ben.")
	lead.signal(syscall.SIGKILL)
	lead.end()
	ben.see("LINE LOST.")
	ben.write("\x03")
	ben.see("nobody is told that you leave")
	ben.write("\x03")
	if status := ben.leave(); status != exitDone {
		t.Errorf("status %d, want %d", status, exitDone)
	}
}

// TestLeavingAPart: who has a part in the pull is told what leaving does to it
// before it does, and then the lead is told; who holds the jobs for others is
// told what becomes of their lines.
func TestLeavingAPart(t *testing.T) {
	t.Parallel()
	scripts, err := script.Folder("../../testdata/talk")
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(scripts, func(s script.Script) bool { return s.Name == "s01-go-two-parts" })
	if at < 0 {
		t.Fatal("the conversation that ends in a go is gone")
	}
	env := []string{dataEnv + "=" + t.TempDir()}
	lead, code := leadWithCode(t, env)
	bo := sit(t, []string{"join", code, "--name", "Bo"}, env, everything)
	bo.see("as Bo.")
	lead.out.see(t, "Bo has joined")
	for _, step := range scripts[at].Steps[2:] { // start and hazards are said
		lead.write(step.Input + "\n")
		if strings.HasPrefix(step.Input, "Ada, Bo") {
			break
		}
	}
	bo.see("your part: driver")
	bo.write("\x04")
	bo.see("You have a part in this job: driver.")
	bo.write("\r") // thought better of it
	bo.write("\x03")
	bo.screen.seeTimes(t, "You have a part in this job: driver.", 2)
	if strings.Contains(lead.out.String(), "Bo has left the job.") {
		t.Fatal("Bo left before they said so twice")
	}
	bo.write("\x03")
	bo.see("You have left job")
	if status := bo.leave(); status != exitDone {
		t.Errorf("status %d, want %d", status, exitDone)
	}
	lead.out.see(t, "Bo has left the job.")
	lead.out.see(t, "Without Bo there are")
}

// TestWindowClosed: the lead is told when a terminal whose person has a part is
// gone without a word, and when it is back.
func TestWindowClosed(t *testing.T) {
	t.Parallel()
	scripts, err := script.Folder("../../testdata/talk")
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(scripts, func(s script.Script) bool { return s.Name == "s01-go-two-parts" })
	env := []string{dataEnv + "=" + t.TempDir()}
	lead, code := leadWithCode(t, env)
	bo := start(t, env, "join", code, "--name", "Bo")
	name := seatOf(t, bo)
	bo.out.see(t, "as Bo.")
	lead.out.see(t, "Bo has joined")
	for _, step := range scripts[at].Steps[2:] { // start and hazards are said
		lead.write(step.Input + "\n")
		if strings.HasPrefix(step.Input, "Ada, Bo") {
			break
		}
	}
	bo.out.see(t, "your part: driver")
	bo.signal(syscall.SIGKILL)
	bo.end()
	lead.out.see(t, "Bo's terminal has closed: nothing reaches Bo, whose part is: driver.")
	bo = start(t, env, "join", "--as", name)
	bo.out.see(t, "as Bo.")
	lead.out.see(t, "Bo is back at the terminal.")
}

// TestHolderLeaves: the terminal that holds the jobs says that others hang on it.
func TestHolderLeaves(t *testing.T) {
	env := []string{dataEnv + "=" + t.TempDir()}
	lead := sit(t, nil, env, everything)
	lead.see("Is anyone hurt")
	lead.write("none\r")
	lead.see("What does it weigh")
	lead.write("crew code\r")
	lead.see("It is good for")
	ben := start(t, env, "join", joinPattern.FindString(lead.screen.String()), "--name", "Ben")
	ben.out.see(t, "as Ben.")
	lead.see("Ben has joined")
	lead.write("\x04")
	lead.see("Other terminals that speak through this one: 1.")
	lead.write("\x04")
	if status := lead.leave(); status != exitDone {
		t.Errorf("status %d, want %d", status, exitDone)
	}
}

// TestSilentLine: a process that is there and says nothing any more counts as
// gone: it would pass on no stop. One that says now and then that it is there
// does not.
func TestSilentLine(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		r, w := io.Pipe()
		f := &far{stirs: make(chan struct{}, 1)}
		f.silent, f.leave = context.WithCancel(t.Context())
		context.AfterFunc(f.silent, func() { r.CloseWithError(io.ErrUnexpectedEOF) })
		go f.listen(bufio.NewScanner(r), time.AfterFunc(longestSilence, f.leave))
		began := time.Now()
		say := func(what string) {
			if _, err := io.WriteString(w, `"`+what+`"`+"\n"); err != nil {
				t.Fatal(err)
			}
		}
		for range 10 {
			time.Sleep(longestSilence - time.Second) // of the bubble's clock
			say(sayHere)
		}
		say(sayNew)
		if _, there := <-f.stirs; !there {
			t.Fatal("a line on which something is heard counts as lost")
		}
		if _, there := <-f.stirs; there {
			t.Error("that somebody is there is told as something new")
		}
		if took, want := time.Since(began), 10*(longestSilence-time.Second)+longestSilence; took != want {
			t.Errorf("it was counted as lost after %s, want %s", took, want)
		}
	})
}
