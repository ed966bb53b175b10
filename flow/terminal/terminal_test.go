package terminal

import (
	"context"
	"errors"
	"io"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/mattn/go-runewidth"

	"linetender/calc"
	"linetender/flow"
	"linetender/flow/script"
	"linetender/flow/wording"
	"linetender/store"
)

// bench is a terminal over a real store.
func bench(t *testing.T, dir string) *Terminal {
	t.Helper()
	x := exchange(t, dir)
	return &Terminal{Line: sit(t, x, Chat), Person: flow.Person{ID: "local", Name: "Ada"}, Now: x.Now}
}

func sit(t *testing.T, x *Exchange, chat string) *Seat {
	t.Helper()
	s, err := x.Sit(chat)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// exchange is one over a real store, at a standing clock.
func exchange(t *testing.T, dir string) *Exchange {
	t.Helper()
	st, err := store.Open(dir, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := st.Close(); err != nil {
			t.Error(err)
		}
	})
	engine := &flow.Engine{Reckon: calc.Reckon, Words: wording.English(), Random: script.Dice()}
	x := &Exchange{
		Desk:  &flow.Desk{Log: st, Inbox: st, Engine: engine, Decode: Decode},
		Inbox: st, Outbox: st,
		Now: func() time.Time { return time.Date(2026, 5, 4, 9, 0, 0, 0, time.FixedZone("", 7200)) },
	}
	x.Desk.Posted = x.Posted
	return x
}

// ear keeps what a terminal shows.
type ear struct{ heard []flow.Message }

func (e *ear) tell(m flow.Message, _ []flow.Shown, _ int) error {
	e.heard = append(e.heard, m)
	return nil
}

// TestScripts plays the golden conversations through this channel: it says
// the same words as every other. The scripts are trusted to be right; the
// tests of flow hold them.
func TestScripts(t *testing.T) {
	scripts, err := script.Folder("../../testdata/talk")
	if err != nil {
		t.Fatal(err)
	}
	if raced {
		scripts = scripts[:1] // one goroutine: nothing for the race detector
	}
	for _, s := range scripts {
		t.Run(s.Name, func(t *testing.T) {
			x := bench(t, t.TempDir())
			steps := s.Steps
			var first ear
			if err := x.start(context.Background(), first.tell); err != nil {
				t.Fatal(err)
			}
			if steps[0].Input == begin {
				holds(t, steps[0], first.heard)
				steps = steps[1:]
			} else {
				t.Skip("begins with words of its own, and a terminal speaks first")
			}
			at := x.Now()
			x.Now = func() time.Time { return at }
			if s, ok := x.Line.(*Seat); ok {
				s.exchange.Now = x.Now
			}
			for _, st := range steps {
				at = at.Add(time.Minute) // as the scripts were written
				var got ear
				w, refusal := x.enter(st.Input)
				if refusal != "" {
					t.Fatalf("%q is refused: %s", st.Input, refusal)
				}
				if err := x.say(context.Background(), w, got.tell); err != nil {
					t.Fatalf("%q: %v", st.Input, err)
				}
				holds(t, st, got.heard)
			}
		})
	}
}

// TestNarrow: on a terminal of 24 columns no line of a whole conversation is wider, but
// for a word that is, and every choice stands whole with what picks it.
func TestNarrow(t *testing.T) {
	scripts, err := script.Folder("../../testdata/talk")
	if err != nil {
		t.Fatal(err)
	}
	narrow, lines := Style{Unicode: true, Width: func() int { return 24 }}, 0
	for _, s := range scripts {
		for _, st := range s.Steps {
			m := flow.Message{Parts: st.Said}
			for _, label := range st.Label {
				m.Choices = append(m.Choices, flow.Choice{Label: label})
			}
			text := narrow.show(m, nil, 0)
			for _, line := range strings.Split(text, "\n") {
				lines++
				if w := runewidth.StringWidth(line); w > 23 && strings.Contains(strings.TrimSpace(line), " ") {
					t.Errorf("%s: a line of %d columns: %q", s.Name, w, line)
				}
			}
			if got, want := strings.Join(strings.Fields(text), " "), strings.Join(strings.Fields(m.Text()), " "); !strings.HasPrefix(got, want) {
				t.Errorf("%s: %q becomes %q", s.Name, want, got)
			}
			for i, c := range m.Choices {
				if !strings.Contains(strings.Join(strings.Fields(text), " "), letter(i)+") "+c.Label) {
					t.Errorf("%s: the choice %q is not whole in %q", s.Name, c.Label, text)
				}
			}
		}
	}
	if lines < 1000 {
		t.Errorf("only %d lines", lines)
	}
}

// TestFirstScreenFits: what is said first fits a terminal of 24 lines of 80, with the
// line that says where jobs are kept and the one that is written.
func TestFirstScreenFits(t *testing.T) {
	x := bench(t, t.TempDir())
	style, lines := Style{Unicode: true, Width: func() int { return 80 }}, 0
	err := x.start(context.Background(), func(m flow.Message, made []flow.Shown, first int) error {
		lines += 1 + strings.Count(style.show(m, made, first), "\n") // a line apart
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if kept, written := 1, 2; lines == 0 || kept+lines+written > 24 {
		t.Errorf("the first screen has %d lines", kept+lines+written)
	}
}

// holds compares what was said with what a step of a script says.
func holds(t *testing.T, want script.Step, got []flow.Message) {
	t.Helper()
	var parts []string
	for _, m := range got {
		parts = append(parts, m.Text())
	}
	if text := strings.Join(parts, "\n\n"); text != want.Text() {
		t.Errorf("to %q it says\n%s\nwhere the script has\n%s", want.Input, text, want.Text())
	}
}

// TestPlainTranscript: one answer a line in, the plain transcript out.
func TestPlainTranscript(t *testing.T) {
	x := bench(t, t.TempDir())
	var out strings.Builder
	if err := x.Plain(context.Background(), strings.NewReader("none\n2.4 t\n[don't know]"), &out); err != nil {
		t.Fatal(err)
	}
	got := out.String()
	for _, want := range []string{"Nobody hooks anything up yet", "\n> none\n", "[none of these] [somebody hurt", "\n> 2.4 t\n2.4 t: I reckon with", "\n> [don't know]\n"} {
		if !strings.Contains(got, want) {
			t.Errorf("the transcript lacks %q:\n%s", want, got)
		}
	}
	if strings.ContainsAny(got, "\x1b\r") {
		t.Error("the transcript holds control signs")
	}
}

// TestGoesOnWhereItStopped: left at any point and begun again, it offers to
// go on, and the next answer is taken.
func TestGoesOnWhereItStopped(t *testing.T) {
	lines := []string{"none", "2.4 t", "1 in 5", "gravel, not sunk, wheels turn"}
	for n := 1; n <= len(lines); n++ {
		dir := filepath.Join(t.TempDir(), "data")
		func() {
			x := benchOnce(t, dir)
			defer x.close()
			if err := x.Plain(context.Background(), strings.NewReader(strings.Join(lines[:n], "\n")), io.Discard); err != nil {
				t.Fatal(err)
			}
		}()
		x := benchOnce(t, dir)
		var out strings.Builder
		if err := x.Plain(context.Background(), strings.NewReader("go on\nso far\n"), &out); err != nil {
			t.Fatal(err)
		}
		x.close()
		if got := out.String(); !strings.Contains(got, "is where you left it") || !strings.Contains(got, "hazards none") {
			t.Errorf("after %d answers and a new start it says\n%s", n, got)
		}
	}
}

// once is a bench whose store is closed by hand.
type once struct {
	*Terminal
	close func()
}

func benchOnce(t *testing.T, dir string) once {
	t.Helper()
	st, err := store.Open(dir, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	engine := &flow.Engine{Reckon: calc.Reckon, Words: wording.English(), Random: script.Dice()}
	x := &Exchange{Desk: &flow.Desk{Log: st, Inbox: st, Engine: engine, Decode: Decode}, Inbox: st, Outbox: st, Now: time.Now}
	return once{&Terminal{Line: sit(t, x, Chat), Person: flow.Person{ID: "local"}, Now: time.Now}, func() {
		if err := st.Close(); err != nil {
			t.Error(err)
		}
	}}
}

// TestNothingSteersTheTerminal: what a person wrote and gets back can't move
// the cursor, change colours or turn the writing.
func TestNothingSteersTheTerminal(t *testing.T) {
	for in, want := range map[string]string{
		"plain ½ 🚜":      "plain ½ 🚜",
		"\x1b]0;title\a": `\u001b]0;title\u0007`,
		"a\u202eb":       `a\u202eb`,
		"line\nline":     "line\nline",
		"tab\tand\rback": `tab and\u000dback`,
	} {
		if got := visible(in); got != want {
			t.Errorf("visible(%q) = %q, want %q", in, got, want)
		}
	}
	x := bench(t, t.TempDir())
	var out strings.Builder
	if err := x.Plain(context.Background(), strings.NewReader("\x1b[2Jnone\nnote \x1b[31m\u202etxt\n\xff\xfe\n"), &out); err != nil {
		t.Fatal(err)
	}
	if strings.ContainsAny(out.String(), "\x1b\u202e") {
		t.Errorf("the transcript steers the terminal: %q", out.String())
	}
}

// TestStyle: colour only where wanted, lines no wider than the terminal, and
// nothing but ASCII where Unicode can't be shown.
func TestStyle(t *testing.T) {
	m := flow.Message{Parts: []flow.Said{{Key: "plan.no_go", Text: "NO-GO."}, {Key: "ask.slope", Text: strings.Repeat("steep ", 40) + "14° » 1½ Ø"}},
		Choices: []flow.Choice{{Choice: "up", Label: "uphill"}, {Choice: "down", Label: "down the hill"}}}
	bare := Style{Width: func() int { return 40 }}
	text := bare.show(m, nil, 0)
	if strings.Contains(text, "\x1b") {
		t.Error("colour where none is wanted")
	}
	for _, line := range strings.Split(text, "\n") {
		if len([]rune(line)) > 40 {
			t.Errorf("a line of %d columns on a terminal of 40: %q", len([]rune(line)), line)
		}
		for _, r := range line {
			if r > '~' {
				t.Errorf("%q on a terminal without Unicode", r)
			}
		}
	}
	code := flow.Message{Parts: []flow.Said{{Text: "Crew join by sending this: kettle-lemon-saffron-nutmeg-84. It is good for long."}}}
	if text := bare.show(code, nil, 0); !strings.Contains(text, "\nkettle-lemon-saffron-nutmeg-84.") {
		t.Errorf("a code is broken: %q", text)
	}
	narrow := Style{Width: func() int { return 24 }}
	if text := narrow.show(m, nil, 0); !strings.Contains(text, "b) down the hill") {
		t.Errorf("a letter is parted from its choice: %q", text)
	}
	piece := flow.Message{Choices: []flow.Choice{{Choice: "which.1", Label: "rope (60 m = 197 ft, 24 mm, polyester)"}, {Choice: "back", Label: "back"}}}
	if text, want := narrow.show(piece, nil, 0), "\na) rope (60 m = 197\n   ft, 24 mm,\n   polyester)\nb) back\n"; text != want {
		t.Errorf("a long choice looks like %q, want %q", text, want)
	}
	if !strings.Contains(text, "a) uphill") || !strings.Contains(text, "b) down the hill") {
		t.Errorf("the choices look like %q", text)
	}
	rich := Style{Color: true, Unicode: true, Width: func() int { return 80 }}
	if text := rich.show(m, nil, 0); !strings.Contains(text, red+"NO-GO."+off) || !strings.Contains(text, "14° ») 1½ Ø") && !strings.Contains(text, "14° » 1½ Ø") {
		t.Errorf("with colour and Unicode it looks like %q", text)
	}
}

// TestLetters: on a terminal a letter picks a choice, and only one that is up.
// A message that comes in by itself takes letters of its own, so that one typed
// a moment too late never means a button that was not there.
func TestLetters(t *testing.T) {
	x := &Terminal{fresh: true}
	question := flow.Message{Revision: 1, Choices: []flow.Choice{{Choice: "up", Label: "uphill"}, {Choice: "down", Label: "downhill"}}}
	hold := flow.Message{Revision: 2, Choices: []flow.Choice{{Choice: "go", Label: "go on"}}}
	if at := x.letter(question); at != 0 {
		t.Errorf("an answer begins at letter %d", at)
	}
	if at := x.letter(hold); at != 2 {
		t.Errorf("what comes in by itself begins at letter %d, want the third", at)
	}
	for in, want := range map[string]flow.Press{"a": {Revision: 1, Choice: "up"}, "b": {Revision: 1, Choice: "down"}, "c": {Revision: 2, Choice: "go"}, "d": {}, "ab": {}, "": {}} {
		if got, ok := x.byLetter(in); got != want || ok != (want.Choice != "") {
			t.Errorf("%q means %v, want %v", in, got, want)
		}
	}
	x.fresh = true
	if at := x.letter(hold); at != 0 {
		t.Errorf("after a line of the person's own the letters begin at %d", at)
	}
	if _, ok := x.byLetter("b"); ok {
		t.Error("a letter of a question that is over still means something")
	}
	for i := range 200 {
		m := flow.Message{Revision: uint64(i), Choices: hold.Choices}
		if p, ok := x.byLetter(letter(x.letter(m))); !ok || p.Revision != uint64(i) {
			t.Fatalf("the letter of message %d means %v", i, p)
		}
	}
}

// TestNumbers: a number picks a choice where the choices are numbered, and only while
// they are all that can be picked.
func TestNumbers(t *testing.T) {
	x := &Terminal{fresh: true}
	way := flow.Message{Revision: 1, Numbered: true, Choices: []flow.Choice{{Choice: "up", Label: "uphill"}, {Choice: "down", Label: "downhill"}}}
	crew := flow.Message{Revision: 2, Choices: []flow.Choice{{Choice: "n1", Label: "1"}, {Choice: "n2", Label: "2"}}}
	style := Style{Width: func() int { return 80 }}
	if text := style.show(way, nil, x.letter(way)); !strings.Contains(text, "1) uphill   2) downhill") {
		t.Errorf("the choices look like %q", text)
	}
	for in, want := range map[string]string{"1": "up", "2": "down", "2)": "down", "b": "down", "B": "down", "3": "", "0": "", "12": "", "1 in 4": "", "-1": ""} {
		if got, ok := x.byLetter(in); got.Choice != want || ok != (want != "") {
			t.Errorf("%q means %q, want %q", in, got.Choice, want)
		}
	}
	x.letter(crew) // comes in by itself
	if p, ok := x.byLetter("2"); ok {
		t.Errorf("where it could be a figure, 2 means %v", p)
	}
	if text := style.show(way, nil, x.letter(way)); strings.Contains(text, "1)") {
		t.Errorf("numbers are shown that pick nothing: %q", text)
	}
	x.fresh = true
	if text := style.show(crew, nil, x.letter(crew)); strings.Contains(text, "1) 1") {
		t.Errorf("figures are numbered: %q", text)
	}
	if p, ok := x.byLetter("2"); ok {
		t.Errorf("a figure picks %v", p)
	}
}

// TestLongLine: a line of any length is read, and no more of it kept than is sense.
func TestLongLine(t *testing.T) {
	l := newLines(io.MultiReader(strings.NewReader(strings.Repeat("x", 1<<20)+"\nshort\r\nlast"), errorReader{}))
	if line, ok := l.next(); !ok || len(line) != longestLine {
		t.Errorf("a long line is kept at %d bytes, %v", len(line), ok)
	}
	if line, ok := l.next(); !ok || line != "short" {
		t.Errorf("the line after it is %q, %v", line, ok)
	}
	if _, ok := l.next(); ok || l.err == nil {
		t.Error("a failing reader is no error")
	}
}

type errorReader struct{}

func (errorReader) Read([]byte) (int, error) { return 0, errors.New("gone") }
