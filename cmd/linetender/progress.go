package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// progress prints results and shows on a terminal how far through its input
// a long command is. Without a terminal on standard error it shows nothing.
type progress struct {
	in    io.Reader
	out   *bufio.Writer
	err   io.Writer
	bar   *progressbar.ProgressBar // nil: not shown
	mixed bool                     // results go to a terminal too, so the bar must make way for them
}

func newProgress(in io.Reader, s streams) *progress {
	p := &progress{in: in, out: bufio.NewWriterSize(s.out, 64<<10), err: s.err}
	if isTerminal(s.err) {
		p.mixed = isTerminal(s.out)
		p.bar = progressbar.NewOptions64(sizeOf(in),
			progressbar.OptionSetWriter(s.err),
			progressbar.OptionSetDescription("planning"),
			progressbar.OptionShowBytes(true),
			progressbar.OptionSetRenderBlankState(true),
			progressbar.OptionThrottle(100*time.Millisecond),
			progressbar.OptionSetSpinnerChangeInterval(0),
			progressbar.OptionClearOnFinish(),
			progressbar.OptionFullWidth(),
			progressbar.OptionSetTheme(progressbar.ThemeASCII),
		)
	}
	return p
}

// sizeOf returns how many bytes a regular file still holds, or -1 when the
// end of the input is not known.
func sizeOf(in io.Reader) int64 {
	f, ok := in.(*os.File)
	if !ok {
		return -1
	}
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() {
		return -1
	}
	return info.Size()
}

// reader returns the input, counted.
func (p *progress) reader() io.Reader {
	if p.bar == nil {
		return p.in
	}
	return counted{p}
}

// counted moves the bar on as the input is read. What the bar thinks of it, as
// when a file grew meanwhile, must not stop the reading.
type counted struct{ *progress }

func (c counted) Read(b []byte) (int, error) {
	n, err := c.in.Read(b)
	_ = c.bar.Add(n)
	return n, err
}

func (p *progress) print(line []byte) error {
	if p.bar == nil || !p.mixed {
		_, err := p.out.Write(line)
		return err
	}
	_ = p.bar.Clear()
	if _, err := p.out.Write(line); err != nil {
		return err
	}
	return p.out.Flush()
}

// refuse reports a line of the input that could not be used.
func (p *progress) refuse(line int, problem error) error {
	if p.bar != nil {
		_ = p.bar.Clear()
	}
	_, err := fmt.Fprintf(p.err, "line %d: %s\n", line, oneLine(problem.Error()))
	return err
}

// close clears the bar away and writes what is still held.
func (p *progress) close() error {
	if p.bar != nil {
		_ = p.bar.Exit()
		_ = p.bar.Clear()
	}
	return p.out.Flush()
}

func isTerminal(v any) bool {
	f, ok := v.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}
