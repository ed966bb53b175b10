package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"
	"testing/iotest"
)

// each runs eachLine over text and returns what was printed and refused, in
// the order of the calls.
func each(t *testing.T, in io.Reader, most int, work func([]byte) ([]byte, error)) (calls []string, bad int, err error) {
	t.Helper()
	bad, err = eachLine(context.Background(), in, most, work,
		func(p []byte) error { calls = append(calls, string(p)); return nil },
		func(line int, err error) error { calls = append(calls, fmt.Sprintf("%d: %v", line, err)); return nil })
	return calls, bad, err
}

func shout(line []byte) ([]byte, error) {
	text := strings.TrimSpace(string(line))
	if text == "bad" {
		return nil, errors.New("is bad")
	}
	return []byte(strings.ToUpper(text)), nil
}

func TestEachLineKeepsOrderAndNumbers(t *testing.T) {
	for _, test := range []struct {
		name, in string
		want     []string
		bad      int
	}{
		{"none", "", nil, 0},
		{"one without a line end", "a", []string{"A"}, 0},
		{"a bad one in the middle", "a\nbad\nc\n", []string{"A", "2: is bad", "C"}, 1},
		{"blank lines count and print nothing", "\n  \na\r\n\nbad", []string{"A", "5: is bad"}, 1},
		{"one too long among others", "a\n" + strings.Repeat("x", 101) + "\nc", []string{"A", "2: " + tooLong, "C"}, 1},
		{"one as long as may be", strings.Repeat("x", 100) + "\r\n", []string{strings.Repeat("X", 100)}, 0},
	} {
		t.Run(test.name, func(t *testing.T) {
			for _, in := range []io.Reader{strings.NewReader(test.in), iotest.OneByteReader(strings.NewReader(test.in))} {
				got, bad, err := each(t, in, 100, shout)
				if err != nil {
					t.Fatal(err)
				}
				if fmt.Sprint(got) != fmt.Sprint(test.want) || bad != test.bad {
					t.Errorf("got %q, %d bad, want %q, %d bad", got, bad, test.want, test.bad)
				}
			}
		})
	}
}

func TestEachLineLongInput(t *testing.T) {
	var in bytes.Buffer
	var want []string
	for i := range 5000 {
		fmt.Fprintf(&in, "line %d\n", i)
		want = append(want, fmt.Sprintf("LINE %d", i))
	}
	got, bad, err := each(t, &in, 100, shout)
	if err != nil || bad != 0 {
		t.Fatal(bad, err)
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Error("the results are not in the order of the lines")
	}
}

// An endless line must not be kept, and an endless input not be read ahead of
// what is printed.
func TestEachLineHoldsLittle(t *testing.T) {
	var read atomic.Int64
	endless := readerFunc(func(p []byte) (int, error) {
		for i := range p {
			p[i] = 'x'
			if (read.Add(1))%10 == 0 {
				p[i] = '\n'
			}
		}
		return len(p), nil
	})
	stop := errors.New("enough")
	printed := 0
	_, err := eachLine(context.Background(), endless, 100, shout, func([]byte) error {
		if printed++; printed == 10 {
			return stop
		}
		return nil
	}, func(int, error) error { return nil })
	if !errors.Is(err, stop) {
		t.Fatalf("got %v, want the printer's own error", err)
	}
	lines := int64(10 + 10*runtime.GOMAXPROCS(0))
	if most := 10*lines + 64<<10; read.Load() > most {
		t.Errorf("read %d bytes for 10 lines, want at most %d", read.Load(), most)
	}
}

func TestEachLineErrors(t *testing.T) {
	broken := errors.New("the disk is gone")
	in := io.MultiReader(strings.NewReader("a\nb\n"), iotest.ErrReader(broken))
	got, _, err := each(t, in, 100, shout)
	if !errors.Is(err, broken) || fmt.Sprint(got) != "[A B]" {
		t.Errorf("got %q, %v, want both lines and the reader's error", got, err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = eachLine(ctx, strings.NewReader("a\nb\n"), 100, shout, func([]byte) error { return nil }, func(int, error) error { return nil })
	if !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: got %v, want %v", err, context.Canceled)
	}
}

type readerFunc func([]byte) (int, error)

func (f readerFunc) Read(p []byte) (int, error) { return f(p) }
