package main

import (
	"bytes"
	"context"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"linetender/flow/telegram/apitest"
)

var update = flag.Bool("update", false, "rewrite what the README shows of the program's output")

// The README's commands stand in two kinds of fenced blocks:
//
//	sh       each line is a command; it must end with status 0
//	console  each line after "$ " is a command, and what follows up to the next
//	         one is what it prints, to the byte; -update rewrites it
//
// A command runs in a folder that has the module's testdata and nothing else,
// with a home of its own; the go command runs in the module.

const (
	readmePath = "../../README.md"
	ciPath     = "../../.ci/run"
)

// TestReadmeCommands runs every command of the README and holds the README to
// what they print.
func TestReadmeCommands(t *testing.T) {
	t.Parallel()
	text := readFile(t, readmePath)
	bench := newBench(t)
	var out strings.Builder
	ran := 0
	for _, part := range fences(text) {
		switch part.lang {
		case "sh":
			for _, line := range strings.Split(strings.TrimSpace(part.body), "\n") {
				if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "#") {
					bench.command(t, line)
					ran++
				}
			}
			out.WriteString(part.whole)
		case "console":
			body := ""
			for _, c := range consoleCalls(t, part.body) {
				got := bench.command(t, c.command)
				if got != c.shown && !*update {
					t.Errorf("$ %s\nthe README shows\n%s\nand it prints\n%s\n(go test ./cmd/linetender -run Readme -update rewrites it)", c.command, c.shown, got)
				}
				body += "$ " + c.command + "\n" + got
				ran++
			}
			out.WriteString("```console\n" + body + "```\n")
		default:
			if strings.Contains(part.body, "\nlinetender ") || strings.HasPrefix(part.body, "linetender ") {
				t.Errorf("a block of kind %q has a command that no test would run:\n%s", part.lang, part.body)
			}
			out.WriteString(part.whole)
		}
	}
	if ran < 8 {
		t.Errorf("ran %d commands; the README must show more than that", ran)
	}
	if *update && out.String() != text {
		if err := os.WriteFile(readmePath, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// A bench is the place where the README's commands run.
type bench struct {
	dir string
	env []string
}

func newBench(t *testing.T) *bench {
	t.Helper()
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.Symlink(filepath.Join(root, "testdata"), filepath.Join(dir, "testdata")); err != nil {
		t.Fatal(err)
	}
	home := filepath.Join(dir, "home")
	if err := os.Mkdir(home, 0o700); err != nil {
		t.Fatal(err)
	}
	env := append(os.Environ(), "HOME="+home, "XDG_DATA_HOME="+filepath.Join(home, "data"), "LINETENDER_DATA=", "LINETENDER_TOKEN=", "GOBIN="+filepath.Join(dir, "bin"))
	// The go command finds its caches by HOME.
	for _, name := range []string{"GOCACHE", "GOMODCACHE", "GOPATH"} {
		value, err := exec.Command("go", "env", name).Output()
		if err != nil {
			t.Fatal(err)
		}
		env = append(env, name+"="+strings.TrimSpace(string(value)))
	}
	return &bench{dir: dir, env: env}
}

// command runs one line of the README and returns what it printed.
func (b *bench) command(t *testing.T, line string) string {
	t.Helper()
	if line == testCommand {
		// This is it; that it passes is what the guarding run is for.
		if !strings.Contains(readFile(t, ciPath), "\n"+testCommand+"\n") {
			t.Errorf("%s does not run %q", ciPath, testCommand)
		}
		return ""
	}
	if strings.Contains(line, "linetender serve") {
		return b.serve(t, line)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 4*patience)
	defer cancel()
	cmd := exec.CommandContext(ctx, "bash", "-c", line)
	cmd.Dir, cmd.Env = b.dir, b.env
	if strings.HasPrefix(line, "go ") {
		cmd.Dir = filepath.Join("..", "..")
		// What is tried first leaves no job for the transcript to go on with.
		cmd.Env = append(slices.Clone(b.env), "LINETENDER_DATA="+filepath.Join(b.dir, "tried"))
	}
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	if err := cmd.Run(); err != nil {
		t.Errorf("$ %s\n%v\n%s", line, err, out.String())
	}
	return b.plain(out.String())
}

// plain takes out of an output what differs from run to run: where the bench
// stands and what chance made of the jobs' codes.
func (b *bench) plain(text string) string {
	text = strings.ReplaceAll(text, filepath.Join(b.dir, "home"), "/home/ada")
	if code := codePattern.FindString(text); code != "" { // what else looks like one is the name of a picture
		text = strings.ReplaceAll(text, code, "larch-42")
	}
	return text
}

const testCommand = "go test ./..."

type fence struct {
	lang  string // empty for text outside of a block, and for a block without one
	body  string
	whole string
}

var fencePattern = regexp.MustCompile("(?ms)^```(\\w*)\n(.*?)^```\n")

// fences splits a document into its fenced blocks and the text between them.
func fences(text string) (parts []fence) {
	at := 0
	for _, m := range fencePattern.FindAllStringSubmatchIndex(text, -1) {
		parts = append(parts, fence{body: text[at:m[0]], whole: text[at:m[0]]},
			fence{lang: text[m[2]:m[3]], body: text[m[4]:m[5]], whole: text[m[0]:m[1]]})
		at = m[1]
	}
	return append(parts, fence{body: text[at:], whole: text[at:]})
}

type consoleCall struct{ command, shown string }

func consoleCalls(t *testing.T, body string) (calls []consoleCall) {
	t.Helper()
	for _, line := range strings.SplitAfter(body, "\n") {
		if command, ok := strings.CutPrefix(line, "$ "); ok {
			calls = append(calls, consoleCall{command: strings.TrimSpace(command)})
		} else if len(calls) > 0 {
			calls[len(calls)-1].shown += line
		} else if line != "" {
			t.Errorf("a console block begins with %q, want a command", line)
		}
	}
	return calls
}

func readFile(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// serve runs a serving line against a test channel until it has begun to take
// updates, and stops it. The address of that channel is added to the line,
// and the port that it listens at is one that is free.
func (b *bench) serve(t *testing.T, line string) string {
	t.Helper()
	srv := apitest.New(t)
	if err := os.WriteFile(filepath.Join(b.dir, "token"), []byte(srv.Token()), 0o600); err != nil {
		t.Fatal(err)
	}
	line = regexp.MustCompile(`127\.0\.0\.1:\d+`).ReplaceAllString(line, "127.0.0.1:0")
	out := newWatch()
	cmd := exec.Command("bash", "-c", "exec "+line+" --api-url "+srv.URL())
	cmd.Dir, cmd.Env, cmd.Stdout, cmd.Stderr = b.dir, b.env, out, out
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	done := make(chan error, 1)
	go func() { done <- cmd.Wait() }()
	defer func() { _ = cmd.Process.Kill() }()
	srv.Wait("the program to take updates", func() bool {
		return len(srv.Calls("getUpdates")) > 0 || len(srv.Calls("setWebhook")) > 0
	})
	if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	select {
	case err := <-done:
		if err != nil {
			t.Errorf("$ %s\n%v\n%s", line, err, out)
		}
	case <-time.After(patience):
		t.Errorf("$ %s\ndid not end after SIGTERM; it printed\n%s", line, out)
	}
	return out.String()
}
