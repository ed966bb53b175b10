package main

import (
	"errors"
	"io"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"
)

// patience bounds a wait that would otherwise never end; nothing passes or
// fails by how long it took.
const patience = 60 * time.Second

// A watch keeps what a process writes and lets a test wait for some of it.
type watch struct {
	mu   sync.Mutex
	text strings.Builder
	more chan struct{} // closed and replaced whenever there is more
	over bool
}

func newWatch() *watch { return &watch{more: make(chan struct{})} }

func (w *watch) Write(p []byte) (int, error) {
	w.add(p, false)
	return len(p), nil
}

func (w *watch) add(p []byte, over bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.text.Write(p)
	w.over = w.over || over
	close(w.more)
	w.more = make(chan struct{})
}

func (w *watch) String() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.text.String()
}

// see waits until text has been written.
func (w *watch) see(t testing.TB, text string) {
	t.Helper()
	w.seeTimes(t, text, 1)
}

// seeTimes waits until text has been written so often.
func (w *watch) seeTimes(t testing.TB, text string, times int) {
	t.Helper()
	late := time.After(patience)
	for {
		w.mu.Lock()
		found, over, more := strings.Count(w.text.String(), text) >= times, w.over, w.more
		w.mu.Unlock()
		if found {
			return
		}
		if over {
			t.Fatalf("it ended before it wrote %q; it wrote:\n%s", text, w)
		}
		select {
		case <-more:
		case <-late:
			t.Fatalf("it never wrote %q; it wrote:\n%s", text, w)
		}
	}
}

// A process is the program, run beside the test.
type process struct {
	t        testing.TB
	cmd      *exec.Cmd
	in       io.WriteCloser
	out, err *watch
	exit     chan error
}

// start runs the program with an open standard input. It is killed with the
// test if it still runs.
func start(t testing.TB, env []string, args ...string) *process {
	t.Helper()
	p := &process{t: t, cmd: exec.Command("linetender", args...), out: newWatch(), err: newWatch(), exit: make(chan error, 1)}
	p.cmd.Env = append(os.Environ(), append([]string{"LINETENDER_TOKEN=", "NO_COLOR="}, env...)...)
	p.cmd.Stdout, p.cmd.Stderr = p.out, p.err
	var err error
	if p.in, err = p.cmd.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	if err := p.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go func() {
		err := p.cmd.Wait()
		p.out.add(nil, true)
		p.err.add(nil, true)
		p.exit <- err
	}()
	t.Cleanup(func() { _ = p.cmd.Process.Kill() })
	return p
}

func (p *process) write(text string) {
	p.t.Helper()
	if _, err := io.WriteString(p.in, text); err != nil {
		p.t.Fatal(err)
	}
}

func (p *process) signal(s os.Signal) {
	p.t.Helper()
	if err := p.cmd.Process.Signal(s); err != nil {
		p.t.Fatal(err)
	}
}

// end waits for the end and returns the exit status, -1 for one by a signal.
func (p *process) end() int {
	p.t.Helper()
	select {
	case err := <-p.exit:
		var exit *exec.ExitError
		if err != nil && !errors.As(err, &exit) {
			p.t.Fatal(err)
		}
		return p.cmd.ProcessState.ExitCode()
	case <-time.After(patience):
		p.t.Fatalf("the program did not end; it wrote:\n%s%s", p.out, p.err)
		return 0
	}
}

// once runs the program to its end.
func once(t *testing.T, env []string, stdin string, args ...string) (code int, out, err string) {
	t.Helper()
	p := start(t, env, args...)
	p.write(stdin)
	if err := p.in.Close(); err != nil {
		t.Fatal(err)
	}
	return p.end(), p.out.String(), p.err.String()
}
