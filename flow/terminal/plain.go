package terminal

import (
	"bufio"
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

// writePlain writes messages as a transcript: paragraphs apart, choices in
// brackets, an empty line after each message.
func writePlain(out io.Writer, messages []flow.Message) error {
	for _, m := range messages {
		if _, err := fmt.Fprintf(out, "%s\n", visible(m.Text())); err != nil {
			return err
		}
		if len(m.Choices) > 0 {
			labels := make([]string, len(m.Choices))
			for i, c := range m.Choices {
				labels[i] = "[" + visible(c.Label) + "]"
			}
			if _, err := fmt.Fprintf(out, "%s\n", strings.Join(labels, " ")); err != nil {
				return err
			}
		}
		if _, err := fmt.Fprintln(out); err != nil {
			return err
		}
	}
	return nil
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
