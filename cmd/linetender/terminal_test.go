//go:build unix

package main

import (
	"errors"
	"io"
	"os"
	"os/exec"
	"reflect"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
	"golang.org/x/term"
)

// A seat is a person at a terminal, with the program before them.
type seat struct {
	t      *testing.T
	tty    *os.File // our side of the terminal
	cmd    *exec.Cmd
	screen *watch
	exit   chan error
}

// sit starts the program with the streams that wire puts on the terminal.
func sit(t *testing.T, args, env []string, wire func(cmd *exec.Cmd, tty *os.File)) *seat {
	t.Helper()
	ours, theirs, err := pty.Open()
	if err != nil {
		t.Fatalf("open a terminal: %v", err)
	}
	if err := pty.Setsize(ours, &pty.Winsize{Rows: 24, Cols: 80}); err != nil {
		t.Fatal(err)
	}
	s := &seat{t: t, tty: ours, cmd: exec.Command("linetender", args...), screen: newWatch(), exit: make(chan error, 1)}
	s.cmd.Env = append(os.Environ(), append([]string{
		"LINETENDER_DATA=" + t.TempDir(), "LINETENDER_TOKEN=", "NO_COLOR=", "TERM=xterm-256color", "LANG=C.UTF-8"}, env...)...)
	wire(s.cmd, theirs)
	// The controlling terminal is given by its number among the child's files.
	s.cmd.ExtraFiles = []*os.File{theirs}
	s.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true, Ctty: 3}
	if err := s.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	theirs.Close()
	go func() {
		_, _ = io.Copy(s.screen, ours) // a terminal that nobody holds any more reads as an error
		s.screen.add(nil, true)
	}()
	go func() { s.exit <- s.cmd.Wait() }()
	t.Cleanup(func() {
		_ = s.cmd.Process.Kill()
		ours.Close()
	})
	return s
}

// everything puts all three streams on the terminal.
func everything(cmd *exec.Cmd, tty *os.File) { cmd.Stdin, cmd.Stdout, cmd.Stderr = tty, tty, tty }

func (s *seat) see(text string) {
	s.t.Helper()
	s.screen.see(s.t, text)
}

func (s *seat) write(text string) {
	s.t.Helper()
	if _, err := io.WriteString(s.tty, text); err != nil {
		s.t.Fatal(err)
	}
}

// leave waits for the end and returns the exit status.
func (s *seat) leave() int {
	s.t.Helper()
	select {
	case err := <-s.exit:
		var exit *exec.ExitError
		if err != nil && !errors.As(err, &exit) {
			s.t.Fatal(err)
		}
		return s.cmd.ProcessState.ExitCode()
	case <-time.After(patience):
		s.t.Fatalf("the program did not end; the terminal showed:\n%s", s.screen)
		return 0
	}
}

// leaveAfter ends the program once another terminal of it has ended, as leave waits for.
// Its line may be counted still for a moment, and then the program asks for the key again.
func (s *seat) leaveAfter() int {
	s.t.Helper()
	s.write("\x04")
	ended := make(chan struct{})
	defer close(ended)
	go func() {
		for asked := time.NewTicker(10 * time.Millisecond); ; {
			select {
			case <-ended:
				asked.Stop()
				return
			case <-asked.C:
			}
			if strings.Contains(s.screen.String(), "again ends it") {
				_, _ = io.WriteString(s.tty, "\x04")
				asked.Stop()
				return
			}
		}
	}()
	return s.leave()
}

// TestEachShowsProgress: a bar on standard error when that is a terminal, and
// the results untouched by it.
func TestEachShowsProgress(t *testing.T) {
	cases := t.TempDir() + "/cases.jsonl"
	line := `{"load": {"mass": "2.4 t", "slope": "14 deg", "pull": "uphill", "ground": "grass"}}` + "\n"
	if err := os.WriteFile(cases, []byte(strings.Repeat(line, 200)), 0o600); err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	s := sit(t, []string{"plan", "--each", cases}, nil, func(cmd *exec.Cmd, tty *os.File) {
		cmd.Stdout, cmd.Stderr = &out, tty
	})
	if code := s.leave(); code != 0 {
		t.Errorf("exit status %d, want 0; the terminal showed %q", code, s.screen.String())
	}
	s.see("planning")
	if n := strings.Count(out.String(), "\n"); n != 200 || strings.ContainsAny(out.String(), "\r\x1b") {
		t.Errorf("%d results, want 200 with no trace of the bar", n)
	}
}

func TestConversationOnATerminal(t *testing.T) {
	for _, test := range []struct {
		name, leave string
		env         []string
		color       bool
	}{
		{"ctrl-d, colour", "\x04", nil, true},
		{"ctrl-c, NO_COLOR", "\x03", []string{"NO_COLOR=1"}, false},
		{"dumb terminal", "\x04", []string{"TERM=dumb"}, false},
	} {
		t.Run(test.name, func(t *testing.T) {
			s := sit(t, nil, test.env, everything)
			before, err := term.GetState(int(s.tty.Fd()))
			if err != nil {
				t.Fatal(err)
			}
			s.see("Is anyone hurt")
			s.write("none\r")
			s.see("What does it weigh")
			s.write(test.leave)
			if code := s.leave(); code != exitDone {
				t.Errorf("exit status %d, want %d", code, exitDone)
			}
			if got := strings.Contains(s.screen.String(), "\x1b[1"); got != test.color {
				t.Errorf("colour shown: %t, want %t; the terminal showed %q", got, test.color, s.screen)
			}
			after, err := term.GetState(int(s.tty.Fd()))
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(before, after) {
				t.Error("the terminal is not as it was before")
			}
		})
	}
}

// TestStopAboveTheLine: on a terminal a stop called elsewhere is shown while a
// line is being written, which stays as it was and can be sent after it. A
// letter goes on meaning what it stood beside.
func TestStopAboveTheLine(t *testing.T) {
	dir := t.TempDir()
	lead := sit(t, nil, []string{"LINETENDER_DATA=" + dir}, everything)
	lead.see("Is anyone hurt")
	lead.write("none\r")
	lead.see("What does it weigh")
	lead.write("crew code\r")
	lead.see("It is good for")
	code := joinPattern.FindString(lead.screen.String()) // on one line, so that it can be copied
	if code == "" {
		t.Fatalf("no code can be copied from:\n%s", lead.screen)
	}
	ben := sit(t, []string{"join", code, "--name", "Ben"}, []string{"LINETENDER_DATA=" + dir}, everything)
	ben.see("as Ben")
	lead.see("Ben has joined")
	lead.write("note half a li")
	lead.see("half a li")
	ben.write("stop\r")
	lead.see("STOP. Everybody stop and hold.")
	lead.see("Ben called it")
	lead.write("ne\r")
	ben.write("\x03")
	if code := ben.leave(); code != exitDone {
		t.Errorf("Ctrl-C leaves with status %d, want %d", code, exitDone)
	}
	lead.see("half a line")
	if code := lead.leaveAfter(); code != exitDone {
		t.Errorf("exit status %d, want %d", code, exitDone)
	}
	_, shown, err := once(t, []string{"LINETENDER_DATA=" + dir}, "", "log", "list")
	if job := codePattern.FindString(shown); job != "" {
		_, shown, err = once(t, []string{"LINETENDER_DATA=" + dir}, "", "log", "show", job)
	}
	if !strings.Contains(shown, "half a line") {
		t.Errorf("the line that was being written is not in the log: %s%s", shown, err)
	}
}
