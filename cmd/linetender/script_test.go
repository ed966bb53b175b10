package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets the test binary stand in for the program, so that scripts run
// it as a process of its own. Under the race detector each such process would
// wait for a second at its end for what still runs to show a race; a tenth does.
func TestMain(m *testing.M) {
	if os.Getenv(raceOptions) == "" {
		_ = os.Setenv(raceOptions, "atexit_sleep_ms=100")
	}
	// What runs side by side here mostly waits, for processes and for a channel that fails.
	if !raced {
		if err := flag.Set("test.parallel", strconv.Itoa(3*runtime.GOMAXPROCS(0))); err != nil {
			panic(err)
		}
	}
	testscript.Main(m, map[string]func(){"linetender": main})
}

const raceOptions = "GORACE"

// TestScript runs what only a process shows: flags, exit statuses, streams.
//
// Besides the usual commands the scripts have
//
//	exits N PROGRAM ARG...   run it and want exit status N
//	oneline stdout|stderr    want exactly one line in the latest output
//	lines FILE N             want N lines in a file
//	head FILE N OUT          write the first N lines of a file to another
//	megabyte FILE SIZE       write a case padded with blanks to so many bytes
func TestScript(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup:               quietHome,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits, "oneline": oneLineOf, "lines": lines, "head": head, "megabyte": megabyte,
		},
	})
}

// quietHome gives a script a home of its own, so that no data of the machine's
// user is read or written.
func quietHome(env *testscript.Env) error {
	home := filepath.Join(env.WorkDir, "home")
	env.Setenv("HOME", home)
	env.Setenv("XDG_DATA_HOME", filepath.Join(home, "data"))
	env.Setenv("LINETENDER_DATA", "")
	env.Setenv("LINETENDER_TOKEN", "")
	env.Setenv(raceOptions, os.Getenv(raceOptions))
	return os.MkdirAll(home, 0o700)
}

func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits STATUS PROGRAM ARG...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	err = ts.Exec(args[1], args[2:]...)
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

func oneLineOf(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: oneline stdout|stderr")
	}
	if text := ts.ReadFile(args[0]); strings.Count(text, "\n") != 1 || !strings.HasSuffix(text, "\n") || strings.TrimSpace(text) == "" {
		ts.Fatalf("%s is not one line: %q", args[0], text)
	}
}

func lines(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: lines FILE N")
	}
	if got := strings.Count(ts.ReadFile(args[0]), "\n"); fmt.Sprint(got) != args[1] {
		ts.Fatalf("%s has %d lines, want %s", args[0], got, args[1])
	}
}

func head(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: head FILE N OUT")
	}
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	all := strings.SplitAfter(ts.ReadFile(args[0]), "\n")
	ts.Check(os.WriteFile(ts.MkAbs(args[2]), []byte(strings.Join(all[:min(n, len(all))], "")), 0o600))
}

func megabyte(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: megabyte FILE SIZE")
	}
	size, err := strconv.Atoi(args[1])
	ts.Check(err)
	const text = `{"load": {"mass": "2 t", "slope": "10 deg", "pull": "uphill", "ground": "grass"}}`
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text+strings.Repeat(" ", size-len(text))), 0o600))
}
