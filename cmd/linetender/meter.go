package main

import (
	"bytes"
	"io"
	"time"

	"github.com/schollz/progressbar/v3"
)

// meter shows on a terminal how far a long command is. A nil meter, and one
// without a terminal on standard error, shows nothing.
type meter struct {
	bar  *progressbar.ProgressBar // nil: not shown
	err  io.Writer
	what string
}

// newMeter makes a meter that counts things of a kind, or bytes where that is
// empty.
func newMeter(err io.Writer, what, things string) *meter {
	m := &meter{err: err, what: what}
	if isTerminal(err) {
		m.show(-1, things)
	}
	return m
}

func (m *meter) show(most int64, things string) {
	options := []progressbar.Option{
		progressbar.OptionSetWriter(m.err),
		progressbar.OptionSetDescription(m.what),
		progressbar.OptionSetRenderBlankState(true),
		progressbar.OptionThrottle(100 * time.Millisecond),
		progressbar.OptionSetSpinnerChangeInterval(0), // it is drawn when something is counted, by who counts
		progressbar.OptionClearOnFinish(),
		progressbar.OptionSetWidth(20),
		progressbar.OptionSetTheme(progressbar.ThemeASCII),
		progressbar.OptionShowCount(),
	}
	if things == "" {
		options = append(options, progressbar.OptionShowBytes(true))
	} else {
		options = append(options, progressbar.OptionShowIts(), progressbar.OptionSetItsString(things))
	}
	m.bar = progressbar.NewOptions64(most, options...)
}

// add counts n more. What the bar thinks of it must not stop the work.
func (m *meter) add(n int) {
	if m != nil && m.bar != nil {
		_ = m.bar.Add(n)
	}
}

// reader counts what is read of in, against all that it holds, where that is
// known.
func (m *meter) reader(in io.Reader) io.Reader {
	if m.bar == nil {
		return in
	}
	m.show(sizeOf(in), "")
	return meterReader{m, in}
}

type meterReader struct {
	*meter
	in io.Reader
}

func (m meterReader) Read(b []byte) (int, error) {
	n, err := m.in.Read(b)
	m.add(n)
	return n, err
}

// lines counts the lines that go out: it is how far the work is that another
// process does.
func (m *meter) lines(out io.Writer) io.Writer {
	if m == nil || m.bar == nil {
		return out
	}
	return lineMeter{m, out}
}

type lineMeter struct {
	*meter
	out io.Writer
}

func (l lineMeter) Write(p []byte) (int, error) {
	l.add(bytes.Count(p, []byte("\n")))
	return l.out.Write(p)
}

// close clears the meter away.
func (m *meter) close() {
	if m.bar != nil {
		_ = m.bar.Exit()
		_ = m.bar.Clear()
	}
}
