// Package script reads and writes golden conversations: text files that say
// what a person writes and what the program answers, key and words both. They
// name no channel, so every channel can be held to the same files.
//
//	What it protects, in a sentence or two.
//	-- talk --
//	> bout 2.4 ton w/ the trailer
//	< read.ton: 2.4 ton: which ton is not said ...
//	< ask.slope: How steep is the ground ...
//	  [level and ruler] [don't know]
//	> [don't know]
//
// A line that begins with > is said; one wholly in brackets is a press of the
// button with that label. Lines that begin with two blanks go on with the one
// above; the last of them, when it is all brackets, lists the buttons. A
// section called log may follow: what the job's log must come to.
package script

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"golang.org/x/tools/txtar"

	"linetender/flow"
)

// A Script is one golden conversation.
type Script struct {
	Name  string // of the file, without folder and ending
	About string
	Steps []Step
	Log   string // empty when the file has no such section
}

// A Step is what a person says and what is answered.
type Step struct {
	Input string // as in the file: words, or a label in brackets
	Said  []flow.Said
	Label []string // of the buttons under the last message
}

// Press returns the label of the button that the step presses.
func (s Step) Press() (label string, ok bool) {
	if strings.HasPrefix(s.Input, "[") && strings.HasSuffix(s.Input, "]") {
		return s.Input[1 : len(s.Input)-1], true
	}
	return "", false
}

// Text returns all that is answered, paragraphs apart, as [flow.Message.Text]
// joins them.
func (s Step) Text() string {
	parts := make([]string, len(s.Said))
	for i, p := range s.Said {
		parts[i] = p.Text
	}
	return strings.Join(parts, "\n\n")
}

// Folder reads all scripts of a folder.
//
// Errors: none there, which would make a test of them pass without testing.
func Folder(dir string) ([]Script, error) {
	files, err := filepath.Glob(filepath.Join(dir, "*.txtar"))
	if err != nil {
		return nil, err
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("no scripts in %s", dir)
	}
	var out []Script
	for _, f := range files {
		body, err := os.ReadFile(f)
		if err != nil {
			return nil, err
		}
		s, err := Parse(body)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f, err)
		}
		s.Name = strings.TrimSuffix(filepath.Base(f), ".txtar")
		out = append(out, s)
	}
	return out, nil
}

// Parse reads one script.
func Parse(body []byte) (Script, error) {
	a := txtar.Parse(body)
	s := Script{About: strings.TrimSpace(string(a.Comment))}
	seen := false
	for _, f := range a.Files {
		switch f.Name {
		case "talk":
			seen = true
			steps, err := parseTalk(string(f.Data))
			if err != nil {
				return Script{}, err
			}
			s.Steps = steps
		case "log":
			s.Log = string(f.Data)
		default:
			return Script{}, fmt.Errorf("section %q is neither talk nor log", f.Name)
		}
	}
	if !seen || len(s.Steps) == 0 {
		return Script{}, fmt.Errorf("there is no talk in it")
	}
	return s, nil
}

func parseTalk(text string) ([]Step, error) {
	var steps []Step
	for n, line := range strings.Split(text, "\n") {
		switch {
		case strings.TrimSpace(line) == "":
		case line == ">" || strings.HasPrefix(line, "> "):
			steps = append(steps, Step{Input: strings.TrimPrefix(strings.TrimPrefix(line, ">"), " ")})
		case len(steps) == 0:
			return nil, fmt.Errorf("line %d: something is answered before anything is said", n+1)
		case strings.HasPrefix(line, "< "):
			key, said, ok := strings.Cut(line[2:], ": ")
			if !ok {
				return nil, fmt.Errorf("line %d: an answer is < key: words", n+1)
			}
			s := &steps[len(steps)-1]
			s.Said = append(s.Said, flow.Said{Key: key, Text: said})
		case strings.HasPrefix(line, "  "):
			s := &steps[len(steps)-1]
			if labels, ok := labels(line[2:]); ok {
				s.Label = labels
				continue
			}
			if len(s.Said) == 0 {
				return nil, fmt.Errorf("line %d: it goes on with nothing", n+1)
			}
			s.Said[len(s.Said)-1].Text += "\n" + line[2:]
		default:
			return nil, fmt.Errorf("line %d: %q begins with none of >, < and two blanks", n+1, line)
		}
	}
	return steps, nil
}

func labels(line string) ([]string, bool) {
	if !strings.HasPrefix(line, "[") || !strings.HasSuffix(line, "]") {
		return nil, false
	}
	return strings.Split(line[1:len(line)-1], "] ["), true
}

// Format writes the script as it is kept.
func (s Script) Format() []byte {
	var b strings.Builder
	for _, st := range s.Steps {
		fmt.Fprintf(&b, "%s\n", strings.TrimRight("> "+st.Input, " "))
		for _, p := range st.Said {
			fmt.Fprintf(&b, "< %s: %s\n", p.Key, strings.ReplaceAll(p.Text, "\n", "\n  "))
		}
		if len(st.Label) > 0 {
			fmt.Fprintf(&b, "  [%s]\n", strings.Join(st.Label, "] ["))
		}
	}
	a := &txtar.Archive{Comment: []byte(s.About + "\n"), Files: []txtar.File{{Name: "talk", Data: []byte(b.String())}}}
	if s.Log != "" {
		a.Files = append(a.Files, txtar.File{Name: "log", Data: []byte(s.Log)})
	}
	return txtar.Format(a)
}

// Dice returns a source of numbers for [flow.Engine.Random] that is the same
// in every run, so that every channel's job has the same code.
func Dice() func(n int) int {
	at := uint64(0)
	var mu sync.Mutex // turns of several chats run at once
	return func(n int) int {
		mu.Lock()
		defer mu.Unlock()
		at = at*6364136223846793005 + 1442695040888963407
		return int((at >> 33) % uint64(n))
	}
}
