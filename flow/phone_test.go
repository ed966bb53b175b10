package flow_test

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"linetender/flow"
	"linetender/flow/script"
)

// longestMessage is what DEVELOPERS.md promises: no message holds more
// characters, however a channel gets it, and longer things come in parts. The
// board, which stays one message and changes in place, is held to a screen.
const (
	longestMessage = 350
	longestBoard   = 900
)

// A scale weighs messages by the keys of what they say.
type scale struct {
	t    *testing.T
	long map[string]int
	n    int
}

func newScale(t *testing.T) *scale { return &scale{t: t, long: map[string]int{}} }

func (s *scale) put(where string, sent []flow.Message) {
	s.t.Helper()
	for _, m := range sent {
		s.n++
		keys := make([]string, len(m.Parts))
		for i, p := range m.Parts {
			keys[i] = p.Key
		}
		key := strings.Join(slices.Compact(keys), "+")
		n, most := utf8.RuneCountInString(m.Text()), longestMessage
		if m.Live != "" {
			most = longestBoard
		}
		s.long[key] = max(s.long[key], n)
		if n > most {
			s.t.Errorf("%s: %d characters, over %d, of %s:\n%s", where, n, most, key, m.Text())
		}
		for _, show := range m.Shows {
			if n := utf8.RuneCountInString(show.Caption); n > longestMessage {
				s.t.Errorf("%s: the caption of %s has %d characters", where, show.What, n)
			}
		}
	}
}

// tell prints the longest messages, so that a run with -v shows where the room goes.
func (s *scale) tell() {
	keys := make([]string, 0, len(s.long))
	for k := range s.long {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b string) int { return cmp.Compare(s.long[b], s.long[a]) })
	s.t.Logf("%d messages of %d kinds; the longest:", s.n, len(keys))
	for _, k := range keys[:min(len(keys), 20)] {
		s.t.Logf("%4d %s", s.long[k], k)
	}
}

// TestMessagesFitAPhone measures every message of every golden conversation:
// of one person alone, in a group where each says how a stop reaches the
// program, and of whole crews.
func TestMessagesFitAPhone(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	scripts, err := script.Folder(talkDir)
	if err != nil {
		t.Fatal(err)
	}
	s := newScale(t)
	for _, one := range scripts {
		for _, partial := range []bool{false, true} {
			c := newChair(t)
			c.mode = func(in *flow.Input) { in.Partial = partial }
			for i, st := range one.Steps {
				where := fmt.Sprintf("%s, step %d, %q", one.Name, i+1, st.Input)
				label, press := st.Press()
				if !press {
					s.put(where, c.say(st.Input))
					continue
				}
				if partial && !slices.ContainsFunc(c.last.Choices, func(o flow.Choice) bool { return o.Label == label }) {
					break // a group's conversation goes another way from here: no pull begins in it
				}
				s.put(where, c.press(label))
			}
		}
	}
	parties, err := filepath.Glob(filepath.Join(partyDir, "*.txtar"))
	if err != nil || len(parties) == 0 {
		t.Fatalf("no conversations in %s: %v", partyDir, err)
	}
	for _, f := range append(parties, "../cmd/linetender/demo.txtar") {
		body, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		p, err := script.ParseParty(body)
		if err != nil {
			t.Fatal(err)
		}
		stage := stageFor(strings.TrimSuffix(f, "ar")) // demo.txtar was made from demo.txt
		for _, l := range p.Lines {
			out, err := stage.Line(l)
			if err != nil {
				t.Fatal(err)
			}
			for chat, sent := range out {
				s.put(fmt.Sprintf("%s, %s> %q, in %s", filepath.Base(f), l.Who, l.Input, chat), sent)
			}
		}
	}
	s.tell()
}
