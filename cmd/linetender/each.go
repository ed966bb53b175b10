package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"io"
	"runtime"
)

// A lineJob is one line of the input on its way through the workers. Its
// outcome is sent once on done.
type lineJob struct {
	number int
	text   []byte
	long   bool // over the limit; text holds only its head
	done   chan outcome
}

type outcome struct {
	printed []byte
	err     error
}

// eachLine reads lines of at most most bytes from in, has every non-blank one
// worked on by all cores, and calls print or refuse for each in the order of
// the lines, from one goroutine. At most a few lines a core are held at once,
// so the input may be longer than memory. It returns how many were refused.
func eachLine(ctx context.Context, in io.Reader, most int, work func([]byte) ([]byte, error),
	print func([]byte) error, refuse func(line int, err error) error) (bad int, err error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()

	cores := runtime.GOMAXPROCS(0)
	todo := make(chan *lineJob)
	inOrder := make(chan *lineJob, 4*cores)
	for range cores {
		go func() {
			for j := range todo {
				j.done <- j.run(work)
			}
		}()
	}
	var readErr error
	go func() {
		defer close(inOrder)
		defer close(todo)
		readErr = readLines(in, most, func(j *lineJob) bool {
			select {
			case inOrder <- j:
			case <-ctx.Done():
				return false
			}
			select {
			case todo <- j:
				return true
			case <-ctx.Done():
				j.done <- outcome{err: ctx.Err()}
				return false
			}
		})
	}()

	for j := range inOrder {
		o := <-j.done
		if ctx.Err() != nil {
			return bad, ctx.Err()
		}
		if o.err != nil {
			bad++
			err = refuse(j.number, o.err)
		} else {
			err = print(o.printed)
		}
		if err != nil {
			return bad, err
		}
	}
	if ctx.Err() != nil {
		return bad, ctx.Err()
	}
	return bad, readErr
}

func (j *lineJob) run(work func([]byte) ([]byte, error)) outcome {
	if j.long {
		return outcome{err: &callError{tooLong}}
	}
	printed, err := work(j.text)
	return outcome{printed: printed, err: err}
}

// tooLong is what a line over the limit is told.
const tooLong = "the case is over 1 MiB; write one case of at most 1 MiB"

// readLines hands every non-blank line to take, with its number from 1, until
// the input ends or take returns false. Of a line over most bytes it keeps
// none, so that one endless line cannot fill memory.
func readLines(in io.Reader, most int, take func(*lineJob) bool) error {
	r := bufio.NewReaderSize(in, 64<<10)
	for number := 1; ; number++ {
		var text []byte
		long := false
		var err error
		for {
			var part []byte
			part, err = r.ReadSlice('\n')
			if !long {
				text = append(text, part...)
			}
			// The line end is no part of the case.
			if len(bytes.TrimRight(text, "\r\n")) > most {
				text, long = nil, true
			}
			if !errors.Is(err, bufio.ErrBufferFull) {
				break
			}
		}
		if long || len(bytes.TrimSpace(text)) > 0 {
			if !take(&lineJob{number: number, text: text, long: long, done: make(chan outcome, 1)}) {
				return nil
			}
		}
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
	}
}
