package archive

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"linetender/flow"
)

// A Sink is what is read into; a store is one.
type Sink interface {
	Head(stream string) (head []byte, last uint64, err error)
	Replay(stream string, after uint64, visit func(n uint64, entry []byte) error) error
	Commit(flow.Turn) ([]uint64, error)
}

// Taking says how [Read] goes about it.
type Taking struct {
	Chats  bool                                 // the chats and the door too
	Refuse func(stream string, why error) error // called for each stream that is not taken in; an error ends the reading
	Stop   func() error                         // asked before each stream; an error ends the reading; may be nil
}

// Taken is what became of the streams of a file.
type Taken struct {
	New     Count  `json:"new"`     // taken in
	Same    uint64 `json:"same"`    // streams that were there already, or more of them
	Refused uint64 `json:"refused"` // streams
	Left    uint64 `json:"left"`    // streams that are no jobs, where only jobs were asked for
}

// Limits of what is read, against a file that is not what it says.
const (
	MaxLine   = 16 << 20 // bytes of one line
	MaxStream = 64 << 20 // bytes of one stream
	batch     = 4 << 20  // bytes that are committed together
	batchMost = 256      // streams that are committed together
)

// A FileError is a file that is not what [Write] writes.
type FileError struct {
	Line int // from 1
	Why  string
}

func (e *FileError) Error() string { return fmt.Sprintf("line %d: %s", e.Line, e.Why) }

// Read takes the jobs of a file into sink. It verifies each before any of it
// is kept, goes on after one that it refuses, and can be run again on the same
// file: what is there already is left alone.
//
// Errors: *FileError when the file is no export, is damaged beyond one stream
// or ends early, all streams before that are kept; those of sink, r and t.
func Read(r io.Reader, sink Sink, t Taking) (Taken, error) {
	in := &reader{lines: newLines(r), sink: sink, t: t}
	err := in.all()
	if flushed := in.flush(); err == nil {
		err = flushed
	}
	return in.taken, err
}

type reader struct {
	lines *lines
	sink  Sink
	t     Taking
	taken Taken

	at      *stream      // under way
	pending []flow.Write // verified, to be committed together
	size    int
	waiting map[string]bool // names in pending
	seen    Count           // of the file
}

// stream is what was read of one stream so far.
type stream struct {
	name    string
	entries [][]byte
	size    int
	bad     error // why it can't be taken; the rest of it is passed over
}

func (r *reader) all() error {
	first, err := r.lines.next()
	if errors.Is(err, io.EOF) {
		return &FileError{Line: 1, Why: "the file is empty"}
	}
	if err != nil {
		return err
	}
	if first.Version == nil {
		return r.lines.wrong("it is no export of a log: the first line must be {\"linetender_log\":1}")
	}
	if *first.Version != version {
		return r.lines.wrong(fmt.Sprintf("it is of format %d, and this release reads format %d: use the release that wrote it", *first.Version, version))
	}
	for {
		l, err := r.lines.next()
		if errors.Is(err, io.EOF) {
			return r.lines.wrong("the file ends before its last line, which counts what is in it: it was cut short, so export it again")
		}
		if err != nil {
			return err
		}
		if l.Stream == "" && l.Streams != nil && l.Entries != nil {
			return r.end(l)
		}
		if err := r.take(l); err != nil {
			return err
		}
	}
}

// end holds the last line against what was read.
func (r *reader) end(l line) error {
	if r.at != nil {
		return r.lines.wrong(fmt.Sprintf("the file ends within %s: export it again", r.at.name))
	}
	if *l.Streams != r.seen.Streams || *l.Entries != r.seen.Entries {
		return r.lines.wrong(fmt.Sprintf("it counts %d streams with %d entries, and %d with %d were read: lines are missing or were added, so export it again",
			*l.Streams, *l.Entries, r.seen.Streams, r.seen.Entries))
	}
	if _, err := r.lines.next(); !errors.Is(err, io.EOF) {
		if err == nil {
			err = r.lines.wrong("there is more after the line that counts what is in the file")
		}
		return err
	}
	return nil
}

// take takes one line of a stream.
func (r *reader) take(l line) error {
	if l.Stream == "" {
		return r.lines.wrong("it names no stream")
	}
	if r.at == nil {
		r.at = &stream{name: l.Stream}
	}
	s := r.at
	if s.name != l.Stream {
		return r.lines.wrong(fmt.Sprintf("%s begins before the summary of %s", l.Stream, s.name))
	}
	if l.Entries != nil {
		return r.whole(s, l)
	}
	body, err := l.body(l.Entry, l.Entry64)
	switch {
	case err != nil:
		return r.lines.wrong(err.Error())
	case l.N == nil || body == nil:
		return r.lines.wrong("it is neither an entry nor a summary")
	}
	r.seen.Entries++
	s.size += len(body)
	switch {
	case s.bad != nil:
	case *l.N != uint64(len(s.entries)+1):
		s.spoil(fmt.Errorf("line %d has entry %d where entry %d is due", r.lines.n, *l.N, len(s.entries)+1))
	case s.size > MaxStream:
		s.spoil(fmt.Errorf("it is longer than %d MiB", MaxStream>>20))
	default:
		s.entries = append(s.entries, body)
	}
	return nil
}

func (s *stream) spoil(why error) { s.bad, s.entries = why, nil }

// whole takes the summary of a stream, which ends it.
func (r *reader) whole(s *stream, l line) error {
	r.at = nil
	r.seen.Streams++
	if r.t.Stop != nil {
		if err := r.t.Stop(); err != nil {
			return err
		}
	}
	head, err := l.body(l.Head, l.Head64)
	if err != nil {
		return r.lines.wrong(err.Error())
	}
	if s.bad == nil && *l.Entries != uint64(len(s.entries)) {
		s.bad = fmt.Errorf("its summary counts %d entries and %d were read", *l.Entries, len(s.entries))
	}
	isJob := strings.HasPrefix(s.name, flow.JobStream(""))
	if !isJob && !r.t.Chats {
		r.taken.Left++
		return nil
	}
	switch {
	case s.bad != nil:
	case isJob:
		s.bad = checkJob(s.name, s.entries, head)
	default:
		s.bad = flow.CheckStream(s.name, s.entries)
	}
	if s.bad != nil {
		return r.refuse(s.name, s.bad)
	}
	return r.keep(s, head)
}

func (r *reader) refuse(name string, why error) error {
	r.taken.Refused++
	return r.t.Refuse(name, why)
}

// keep compares a sound stream with what is there and, where nothing is,
// lines it up to be committed.
func (r *reader) keep(s *stream, head []byte) error {
	if r.waiting[s.name] {
		return r.refuse(s.name, errors.New("the file has it twice"))
	}
	_, last, err := r.sink.Head(s.name)
	if err != nil {
		return err
	}
	if last > 0 {
		switch same, err := r.same(s, last); {
		case err != nil:
			return err
		case !same && last < uint64(len(s.entries)):
			return r.refuse(s.name, fmt.Errorf("it is there already with %d of its %d entries: erase it there first if the file is to take its place", last, len(s.entries)))
		case !same:
			return r.refuse(s.name, errors.New("another of this name is there already: erase that first if the file is to take its place"))
		}
		r.taken.Same++
		return nil
	}
	if r.waiting == nil {
		r.waiting = map[string]bool{}
	}
	r.waiting[s.name] = true
	r.pending = append(r.pending, flow.Write{Stream: s.name, Entries: s.entries, Head: head})
	if r.size += s.size + len(head); r.size >= batch || len(r.pending) >= batchMost {
		return r.flush()
	}
	return nil
}

// same reports whether what is there begins with the stream.
func (r *reader) same(s *stream, last uint64) (bool, error) {
	if last < uint64(len(s.entries)) {
		return false, nil
	}
	differs := errors.New("differs")
	n := 0
	err := r.sink.Replay(s.name, 0, func(_ uint64, entry []byte) error {
		if n == len(s.entries) {
			return differs // there is more; that far it was the same
		}
		if !bytes.Equal(entry, s.entries[n]) {
			n = -1
			return differs
		}
		n++
		return nil
	})
	if err != nil && !errors.Is(err, differs) {
		return false, err
	}
	return n == len(s.entries), nil
}

// flush commits what is lined up.
func (r *reader) flush() error {
	if len(r.pending) == 0 {
		return nil
	}
	if _, err := r.sink.Commit(flow.Turn{Writes: r.pending}); err != nil {
		// Together they may be more than the sink takes at once. Each is whole by itself.
		for _, w := range r.pending {
			if _, err := r.sink.Commit(flow.Turn{Writes: []flow.Write{w}}); err != nil {
				return fmt.Errorf("keep what was read up to line %d: %w", r.lines.n, err)
			}
		}
	}
	for _, w := range r.pending {
		r.taken.New.Streams++
		r.taken.New.Entries += uint64(len(w.Entries))
	}
	r.pending, r.size, r.waiting = nil, 0, nil
	return nil
}
