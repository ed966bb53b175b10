package archive

import (
	"bufio"
	"bytes"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"time"
	"unicode/utf8"

	"linetender/flow"
)

// version of the format.
const version = 1

// A Source is what is written from; a store is one.
type Source interface {
	Streams(prefix, from string, newestFirst bool, visit func(name string, head []byte, last uint64, changed time.Time) error) error
	Head(stream string) (head []byte, last uint64, err error)
	Replay(stream string, after uint64, visit func(n uint64, entry []byte) error) error
}

// Count is how much was written, or taken in.
type Count struct {
	Streams uint64 `json:"streams"`
	Entries uint64 `json:"entries"`
}

// Options of [Write].
type Options struct {
	Jobs  []string     // codes; nil: all jobs
	Chats bool         // the chats and the door too
	Seen  func(Count)  // called after each stream, for whoever watches; may be nil
	Stop  func() error // asked before each stream; an error ends the writing; may be nil
}

// ErrMissing is returned by [Write] for a job that is not there.
var ErrMissing = errors.New("there is no such job")

// Write writes the logs of src to w. A stream that grows meanwhile is written
// up to where it stood when its turn came.
//
// Errors: ErrMissing with the code; those of src and w.
func Write(w io.Writer, src Source, o Options) (Count, error) {
	out := &writer{w: bufio.NewWriterSize(w, 64<<10), src: src, o: o}
	fmt.Fprintf(out.w, "{\"linetender_log\":%d}\n", version)
	if err := out.all(); err != nil {
		return out.n, err
	}
	fmt.Fprintf(out.w, "{\"streams\":%d,\"entries\":%d}\n", out.n.Streams, out.n.Entries)
	return out.n, out.w.Flush()
}

type writer struct {
	w    *bufio.Writer // keeps its first error, which Flush returns
	src  Source
	o    Options
	n    Count
	line []byte
}

func (w *writer) all() error {
	for _, code := range w.o.Jobs {
		name := flow.JobStream(code)
		head, last, err := w.src.Head(name)
		if err != nil {
			return err
		}
		if last == 0 {
			return fmt.Errorf("job %q: %w", code, ErrMissing)
		}
		if err := w.stream(name, head, last); err != nil {
			return err
		}
	}
	if w.o.Jobs != nil {
		return nil
	}
	prefix := flow.JobStream("")
	if w.o.Chats {
		prefix = ""
	}
	return w.src.Streams(prefix, "", false, func(name string, head []byte, last uint64, _ time.Time) error {
		return w.stream(name, head, last)
	})
}

func (w *writer) stream(name string, head []byte, last uint64) error {
	if w.o.Stop != nil {
		if err := w.o.Stop(); err != nil {
			return err
		}
	}
	quoted, err := json.Marshal(name)
	if err != nil {
		return err
	}
	enough := errors.New("the rest came later")
	err = w.src.Replay(name, 0, func(n uint64, entry []byte) error {
		if n > last {
			return enough
		}
		b := append(w.line[:0], `{"stream":`...)
		b = append(b, quoted...)
		b = append(b, `,"n":`...)
		b = strconv.AppendUint(b, n, 10)
		b = appendBytes(b, "entry", entry)
		w.line = append(b, "}\n"...)
		w.n.Entries++
		_, err := w.w.Write(w.line)
		return err
	})
	if err != nil && !errors.Is(err, enough) {
		return err
	}
	b := append(w.line[:0], `{"stream":`...)
	b = append(b, quoted...)
	b = append(b, `,"entries":`...)
	b = strconv.AppendUint(b, last, 10)
	if len(head) > 0 {
		b = appendBytes(b, "head", head)
	}
	w.line = append(b, "}\n"...)
	if _, err := w.w.Write(w.line); err != nil {
		return err
	}
	w.n.Streams++
	if w.o.Seen != nil {
		w.o.Seen(w.n)
	}
	return nil
}

// appendBytes writes bytes under a key: as they are where they are one JSON
// object on one line, which is how flow writes them, else in base64.
func appendBytes(b []byte, key string, v []byte) []byte {
	b = append(b, `,"`...)
	b = append(b, key...)
	if plain(v) {
		b = append(b, `":`...)
		return append(b, v...)
	}
	b = append(b, `64":"`...)
	b = base64.StdEncoding.AppendEncode(b, v)
	return append(b, '"')
}

func plain(v []byte) bool {
	return len(v) > 1 && v[0] == '{' && v[len(v)-1] == '}' && !bytes.ContainsAny(v, "\n\r") && utf8.Valid(v) && json.Valid(v)
}
