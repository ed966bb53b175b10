package terminal

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"

	"linetender/flow"
)

// visible writes out what would steer a terminal or turn the direction of
// writing, instead of sending it there.
func visible(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '\n':
			b.WriteRune(r)
		case r == '\t':
			b.WriteByte(' ')
		case r == '\u200d': // joins the parts of one picture sign
			b.WriteRune(r)
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r), r == '\u2028', r == '\u2029':
			fmt.Fprintf(&b, "\\u%04x", r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// writePlain writes a message of a transcript: paragraphs apart, choices in
// brackets, an empty line after it.
func writePlain(out io.Writer, m flow.Message) error {
	text := visible(m.Text()) + "\n"
	if len(m.Choices) > 0 {
		labels := make([]string, len(m.Choices))
		for i, c := range m.Choices {
			labels[i] = "[" + visible(c.Label) + "]"
		}
		text += strings.Join(labels, " ") + "\n"
	}
	_, err := io.WriteString(out, text+"\n")
	return err
}

// Plain reads one answer a line from in until it ends, ctx ends or the line is
// cut, and writes the plain transcript to out.
//
// What comes in by itself is written as soon as the program waits for a line:
// it may be a stop. That is the same transcript as if it were written before
// the next line's answer, so a script sees the same whenever it reads. At the
// end of input what is still due is written.
//
// Errors: [ErrCut].
func (t *Terminal) Plain(ctx context.Context, in io.Reader, out io.Writer) error {
	t.piped = true
	tell := func(m flow.Message, _ []flow.Shown, _ int) error { return writePlain(out, m) }
	if err := t.start(ctx, tell); err != nil {
		return leaving(ctx, err)
	}
	typed, stop := typing(in)
	defer stop()
	for {
		var err error
		select {
		case <-ctx.Done():
			return nil
		case _, there := <-t.Line.Stirs():
			if !there {
				return leaving(ctx, ErrCut)
			}
			err = t.hear(ctx, tell)
		case l := <-typed:
			if l.over {
				return errors.Join(l.err, leaving(ctx, t.hear(ctx, tell)))
			}
			err = t.answer(ctx, l.text, out, tell)
		}
		if err != nil {
			return leaving(ctx, err)
		}
	}
}

// answer takes in a line of a transcript. What it picks is what stood there
// when it was read, whatever has come in since.
func (t *Terminal) answer(ctx context.Context, line string, out io.Writer, tell teller) error {
	w, refusal := t.enter(line)
	if err := t.hear(ctx, tell); err != nil {
		return err
	}
	if _, err := fmt.Fprintf(out, "> %s\n", visible(line)); err != nil {
		return err
	}
	if refusal != "" {
		return writePlain(out, refused(refusal))
	}
	return t.say(ctx, w, tell)
}

// leaving makes it no error that something was under way when ctx ended.
func leaving(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return nil
	}
	return err
}

// A typed line, or the end of them.
type typed struct {
	text string
	over bool
	err  error // why it is over, nil for an ordinary end
}

// typing reads lines ahead of the loop that takes them, so that it can look at
// other things while it waits. The reader ends with its input or the program.
func typing(in io.Reader) (<-chan typed, func()) {
	got, done := make(chan typed), make(chan struct{})
	go func() {
		for lines := newLines(in); ; {
			text, more := lines.next()
			l := typed{text: text, over: !more, err: lines.err}
			select {
			case got <- l:
			case <-done:
				return
			}
			if l.over {
				return
			}
		}
	}()
	return got, func() { close(done) }
}

// longestLine is the most of one line that is kept; the conversation itself
// says that it is too long.
const longestLine = 64 << 10

// lines reads lines of any length without keeping more than longestLine.
type lines struct {
	r   *bufio.Reader
	err error
}

func newLines(in io.Reader) *lines { return &lines{r: bufio.NewReader(in)} }

// next returns the next line without its end, and whether there was one. A
// last line without an end counts.
func (l *lines) next() (string, bool) {
	var b strings.Builder
	read := false
	for {
		part, err := l.r.ReadSlice('\n')
		read = read || len(part) > 0
		if room := longestLine - b.Len(); room > 0 {
			b.Write(part[:min(len(part), room)])
		}
		switch {
		case err == nil:
			return strings.TrimRight(b.String(), "\r\n"), true
		case errors.Is(err, bufio.ErrBufferFull):
			continue
		case errors.Is(err, io.EOF):
			return strings.TrimRight(b.String(), "\r\n"), read
		default:
			l.err = fmt.Errorf("read a line: %w", err)
			return "", false
		}
	}
}
