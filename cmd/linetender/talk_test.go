package main

import (
	"context"
	"os"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"

	"linetender/flow/script"
	"linetender/flow/wording"
	"linetender/store"
)

// codePattern finds the code of a job: chance makes it.
var codePattern = regexp.MustCompile(`\b[a-z]+-\d\d\b`)

// callerPattern finds who called a stop: in the scripts it is Ada, in the
// program whoever is at the machine.
var callerPattern = regexp.MustCompile(`(?m)^.* called it\.$`)

// shownPattern finds what a terminal says of a picture: caption, words, path.
// The scripts are of the words; pictures are looked at in TestPicturesOfAPlan.
var shownPattern = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?ms)^(?:` + strings.Join(captions(), "|") + `)$.*?^Picture: .*?$`)
})

func captions() []string {
	var out []string
	for _, k := range []wording.Key{wording.ShowRig, wording.ShowForce} {
		text, err := wording.English().Say(0, k, nil)
		if err != nil {
			panic(err)
		}
		out = append(out, regexp.QuoteMeta(text))
	}
	return out
}

// words returns the lines of a transcript that are not blank, as a terminal
// may show them, without codes and pictures.
func words(text string) []string {
	var lines []string
	text = shownPattern().ReplaceAllString(text, "")
	text = agePattern.ReplaceAllString(text, "reckoned N min ago")
	text = callerPattern.ReplaceAllString(codePattern.ReplaceAllString(text, "CODE"), "PERSON called it.")
	for _, line := range strings.Split(text, "\n") {
		if strings.TrimSpace(line) != "" {
			lines = append(lines, oneLine(strings.TrimSpace(line)))
		}
	}
	return lines
}

// byTheClock are the conversations in which real time must pass, each with the
// reason; the channels play them on a clock of their own.
var byTheClock = map[string]string{"t-pull-one-phone": "the light tension stands for a minute"}

// agePattern is how old a plan is.
var agePattern = regexp.MustCompile(`reckoned \d+ min ago`)

// TestGoldenTalks feeds every golden conversation to the program as piped
// input: it must print the same words that the conversation itself is held to.
func TestGoldenTalks(t *testing.T) {
	scripts, err := script.Folder("../../testdata/talk")
	if err != nil {
		t.Fatal(err)
	}
	if raced {
		scripts = scripts[:4] // each is one goroutine: the wiring is what the race detector is for
	}
	played := 0
	for _, s := range scripts {
		if s.Steps[0].Input != "/start" {
			continue // the program itself says that first for the person
		}
		if byTheClock[s.Name] != "" {
			continue
		}
		played++
		t.Run(s.Name, func(t *testing.T) {
			t.Parallel()
			var said, want strings.Builder
			for i, step := range s.Steps {
				if i > 0 {
					said.WriteString(step.Input + "\n")
					want.WriteString("> " + step.Input + "\n")
				}
				want.WriteString(step.Text() + "\n")
				if len(step.Label) > 0 {
					want.WriteString("[" + strings.Join(step.Label, "] [") + "]\n")
				}
			}
			var out, errs strings.Builder
			dir := t.TempDir()
			if code := run(context.Background(), []string{"--data", dir, "--name", "Ada"}, strings.NewReader(said.String()), &out, &errs); code != exitDone {
				t.Fatalf("exit status %d, %s", code, errs.String())
			}
			got, wanted := words(out.String()), words(want.String())
			for i := range max(len(got), len(wanted)) {
				var g, w string
				if i < len(got) {
					g = got[i]
				}
				if i < len(wanted) {
					w = wanted[i]
				}
				if g != w {
					t.Fatalf("line %d of the transcript is\n%q\nwant\n%q", i+1, g, w)
				}
			}
			soundStore(t, dir)
		})
	}
	if played < len(scripts)/2 {
		t.Errorf("only %d of %d conversations could be played", played, len(scripts))
	}
}

// soundStore holds a store that nobody has open to its own invariants.
func soundStore(t *testing.T, dir string) {
	t.Helper()
	st, err := store.Open(dir, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	if err := st.Check(); err != nil {
		t.Error(err)
	}
}

func TestKillAndResume(t *testing.T) {
	data := []string{"LINETENDER_DATA=" + t.TempDir()}
	p := start(t, data)
	p.write("none of that, all are out\n")
	p.out.see(t, "What does it weigh")
	p.write("5200 lbs, off the plate\n")
	p.out.see(t, "How steep is the ground")
	p.signal(syscall.SIGKILL)
	if code := p.end(); code == exitDone {
		t.Fatalf("exit status %d of a killed process", code)
	}

	code, out, errs := once(t, data, "[go on]\n1 in 5 by eye\n")
	if code != exitDone {
		t.Fatalf("exit status %d, %s", code, errs)
	}
	for _, want := range []string{"is where you left it", "> [go on]\nHow steep is the ground", "What is it standing on"} {
		if !strings.Contains(out, want) {
			t.Errorf("after the kill it did not print %q; it printed:\n%s", want, out)
		}
	}

	job := codePattern.FindString(out)
	code, list, errs := once(t, data, "", "log", "list")
	if code != exitDone || !strings.Contains(list, job) || !strings.Contains(list, "5200 lbs") {
		t.Errorf("log list: status %d, %s%s, want job %s and its weight", code, list, errs, job)
	}
	code, shown, errs := once(t, data, "", "log", "show", strings.ToUpper(job), "--all")
	if code != exitDone {
		t.Errorf("log show: status %d, %s", code, errs)
	}
	for _, want := range []string{"heard    none of that, all are out", "heard    5200 lbs, off the plate", "heard    1 in 5 by eye", "load.mass = "} {
		if strings.Count(shown, want) != 1 {
			t.Errorf("the log has %q %d times, want once:\n%s", want, strings.Count(shown, want), shown)
		}
	}
	soundStore(t, strings.TrimPrefix(data[0], "LINETENDER_DATA="))
}

func TestSignalsLeaveCleanly(t *testing.T) {
	for _, s := range []os.Signal{syscall.SIGINT, syscall.SIGTERM} {
		t.Run(s.String(), func(t *testing.T) {
			p := start(t, []string{"LINETENDER_DATA=" + t.TempDir()})
			p.out.see(t, "Is anyone hurt")
			p.signal(s) // standard input stays open
			if code := p.end(); code != exitDone {
				t.Errorf("exit status %d, want %d; %s", code, exitDone, p.err)
			}
		})
	}
}

func TestOneProcessAtATime(t *testing.T) {
	data := []string{"LINETENDER_DATA=" + t.TempDir()}
	p := start(t, data)
	p.out.see(t, "Is anyone hurt")
	code, _, errs := once(t, data, "")
	if code != exitFault || strings.Count(errs, "\n") != 1 || !strings.Contains(errs, "in use by another process") {
		t.Errorf("a second one: status %d, %q, want %d and one line that says why", code, errs, exitFault)
	}
	if code, out, errs := once(t, data, "", "log", "list"); code != exitDone || len(words(out)) != 2 {
		t.Errorf("log list meanwhile: status %d, %q, %q, want one job", code, out, errs)
	}
	if code, out, errs := once(t, data, "", "health"); code != exitDone || !strings.HasPrefix(out, "well:") {
		t.Errorf("health meanwhile: status %d, %q, %q, want well", code, out, errs)
	}
	if err := p.in.Close(); err != nil {
		t.Fatal(err)
	}
	if code := p.end(); code != exitDone {
		t.Errorf("exit status %d at the end of input, want %d", code, exitDone)
	}
}
