package terminal

import (
	"errors"
	"io"
	"os"
	"unicode/utf8"

	"golang.org/x/term"
)

// An editor is the line that a person writes, with what is told above it. The
// keys that leave come by themselves and leave the line as it is: the library
// ends a line with them, and gives the same key again at the next.
type editor struct {
	*term.Terminal
	out    *os.File
	leaves chan struct{} // yields when somebody wants to leave

	reading chan entered // not nil while a line is read
	gap     bool         // an empty line stands above the one that is written
}

// apart puts an empty line above the one that is written, if there is none.
func (e *editor) apart() error {
	if e.gap {
		return nil
	}
	e.gap = true
	_, err := io.WriteString(e, "\n")
	return err
}

// entered is a line, or why there is none any more.
type entered struct {
	line string
	err  error
}

// The keys that leave, and what they are made before the library sees them:
// control characters that it has no use for.
const (
	ctrlC, ctrlD       = 0x03, 0x04
	leaveAny, leaveAll = 0x1c, 0x1d
)

func newEditor(in, out *os.File) *editor {
	e := &editor{out: out, leaves: make(chan struct{}, 1)}
	e.Terminal = term.NewTerminal(struct {
		io.Reader
		io.Writer
	}{keys{in}, out}, "> ")
	e.AutoCompleteCallback = e.key
	e.fit()
	return e
}

// fit takes over the width of the window. A line editor of the wrong width
// only looks untidy.
func (e *editor) fit() {
	if w, h, err := term.GetSize(int(e.out.Fd())); err == nil && w > 0 && h > 0 {
		_ = e.SetSize(w, h)
	}
}

// key sees the keys that mean nothing to the library. Ctrl-D takes away the
// letter under the cursor, and leaves where no line is begun.
func (e *editor) key(line string, pos int, key rune) (string, int, bool) {
	switch {
	case key == leaveAll && line != "":
		_, size := utf8.DecodeRuneInString(line[pos:])
		return line[:pos] + line[pos+size:], pos, true
	case key == leaveAny, key == leaveAll:
		select {
		case e.leaves <- struct{}{}:
		default:
		}
	}
	return "", 0, false
}

// lines yields the next line once. A line that is begun goes on when it is
// asked for again before it came.
func (e *editor) lines() <-chan entered {
	if e.reading == nil {
		got := make(chan entered, 1)
		e.reading = got
		go func() {
			line, err := e.ReadLine()
			if errors.Is(err, term.ErrPasteIndicator) {
				err = nil
			}
			got <- entered{line, err}
		}()
	}
	return e.reading
}

// keys are a terminal's, with those that leave made others.
type keys struct{ io.Reader }

func (k keys) Read(p []byte) (int, error) {
	n, err := k.Reader.Read(p)
	for i, b := range p[:n] {
		switch b {
		case ctrlC:
			p[i] = leaveAny
		case ctrlD:
			p[i] = leaveAll
		}
	}
	return n, err
}
