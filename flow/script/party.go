package script

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"golang.org/x/tools/txtar"

	"linetender/flow"
)

// A Party is a golden conversation of several people in one job, each with a
// chat of their own:
//
//	Ada> none
//	Ada< ask.mass: What does it weigh ...
//	Bo> stop
//	Ada<! stop.called: STOP ...
//	  [I stand still]
//	~ 3m0s
//
// Who says something stands before >; who is told something, before <, with !
// where it went ahead of all else. ~ lets time pass, and then what the job
// waited for happens. What is kept up to date in place is left out.
type Party struct {
	Name  string // of the file, without folder and ending
	About string
	Lines []Line
}

// A Line is what one person says, or time that passes, and what is told then.
type Line struct {
	Who   string
	Input string // as in the file: words, or a label in brackets
	Wait  time.Duration
	Told  []Told
}

// Told is what one person is told in one turn.
type Told struct {
	Who    string
	Urgent bool
	Said   []flow.Said
	Label  []string // of the buttons under the last message
}

// Press returns the label of the button that the line presses.
func (l Line) Press() (label string, ok bool) { return Step{Input: l.Input}.Press() }

// Said returns what somebody is told in the line, nil for nothing.
func (l Line) Said(who string) *Told {
	for i := range l.Told {
		if l.Told[i].Who == who {
			return &l.Told[i]
		}
	}
	return nil
}

// People returns who speaks or is told something, in the order in which they
// come up.
func (p Party) People() []string {
	var out []string
	seen := map[string]bool{}
	add := func(who string) {
		if who != "" && !seen[who] {
			seen[who] = true
			out = append(out, who)
		}
	}
	for _, l := range p.Lines {
		add(l.Who)
		for _, t := range l.Told {
			add(t.Who)
		}
	}
	return out
}

// Parties reads all conversations of several people in a folder.
//
// Errors: none there, which would make a test of them pass without testing.
func Parties(dir string) ([]Party, error) {
	files, err := filepath.Glob(filepath.Join(dir, "*.txtar"))
	if err != nil {
		return nil, err
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("no conversations in %s", dir)
	}
	var out []Party
	for _, f := range files {
		body, err := os.ReadFile(f)
		if err != nil {
			return nil, err
		}
		p, err := ParseParty(body)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f, err)
		}
		p.Name = strings.TrimSuffix(filepath.Base(f), ".txtar")
		out = append(out, p)
	}
	return out, nil
}

// ParseParty reads one conversation of several people.
func ParseParty(body []byte) (Party, error) {
	a := txtar.Parse(body)
	p := Party{About: strings.TrimSpace(string(a.Comment))}
	if len(a.Files) != 1 || a.Files[0].Name != "talk" {
		return Party{}, fmt.Errorf("it has no section called talk, or more than that")
	}
	for n, line := range strings.Split(string(a.Files[0].Data), "\n") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		if err := p.line(line); err != nil {
			return Party{}, fmt.Errorf("line %d: %w", n+1, err)
		}
	}
	if len(p.Lines) == 0 {
		return Party{}, fmt.Errorf("there is no talk in it")
	}
	return p, nil
}

// line takes in one line of the file.
func (p *Party) line(line string) error {
	if wait, ok := strings.CutPrefix(line, "~ "); ok {
		d, err := time.ParseDuration(wait)
		p.Lines = append(p.Lines, Line{Wait: d})
		return err
	}
	var told *Told
	if n := len(p.Lines); n > 0 && len(p.Lines[n-1].Told) > 0 {
		told = &p.Lines[n-1].Told[len(p.Lines[n-1].Told)-1]
	}
	if more, ok := strings.CutPrefix(line, "  "); ok {
		if told == nil || len(told.Said) == 0 {
			return fmt.Errorf("it goes on with nothing")
		}
		if labels, ok := labels(more); ok {
			told.Label = labels
			return nil
		}
		told.Said[len(told.Said)-1].Text += "\n" + more
		return nil
	}
	at := strings.IndexAny(line, "<>")
	if at < 1 {
		return fmt.Errorf("%q says neither who speaks nor who is told", line)
	}
	who, rest := line[:at], line[at+1:]
	if line[at] == '>' {
		p.Lines = append(p.Lines, Line{Who: who, Input: strings.TrimPrefix(rest, " ")})
		return nil
	}
	if len(p.Lines) == 0 {
		return fmt.Errorf("somebody is told something before anything is said")
	}
	rest, urgent := strings.CutPrefix(rest, "!")
	key, said, ok := strings.Cut(strings.TrimPrefix(rest, " "), ": ")
	if !ok {
		return fmt.Errorf("what is told is NAME< key: words")
	}
	l := &p.Lines[len(p.Lines)-1]
	if told == nil || told.Who != who {
		l.Told = append(l.Told, Told{Who: who, Urgent: urgent})
		told = &l.Told[len(l.Told)-1]
	}
	told.Said = append(told.Said, flow.Said{Key: key, Text: said})
	return nil
}

// Format writes the conversation as it is kept.
func (p Party) Format() []byte {
	var b strings.Builder
	for _, l := range p.Lines {
		if l.Wait > 0 {
			fmt.Fprintf(&b, "~ %s\n", l.Wait)
		} else {
			fmt.Fprintf(&b, "%s\n", strings.TrimRight(l.Who+"> "+l.Input, " "))
		}
		for _, t := range l.Told {
			mark := "<"
			if t.Urgent {
				mark = "<!"
			}
			for _, s := range t.Said {
				fmt.Fprintf(&b, "%s%s %s: %s\n", t.Who, mark, s.Key, strings.ReplaceAll(s.Text, "\n", "\n  "))
			}
			if len(t.Label) > 0 {
				fmt.Fprintf(&b, "  [%s]\n", strings.Join(t.Label, "] ["))
			}
		}
	}
	return txtar.Format(&txtar.Archive{Comment: []byte(p.About + "\n"), Files: []txtar.File{{Name: "talk", Data: []byte(b.String())}}})
}
