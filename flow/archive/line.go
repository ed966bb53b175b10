package archive

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"linetender/flow"
)

// line is any line of a file.
type line struct {
	Version *int            `json:"linetender_log"`
	Stream  string          `json:"stream"`
	N       *uint64         `json:"n"`
	Entry   json.RawMessage `json:"entry"`
	Entry64 []byte          `json:"entry64"`
	Entries *uint64         `json:"entries"`
	Head    json.RawMessage `json:"head"`
	Head64  []byte          `json:"head64"`
	Streams *uint64         `json:"streams"`
}

// body is what stands under one of the two keys that bytes may stand under.
func (l line) body(raw json.RawMessage, coded []byte) ([]byte, error) {
	switch {
	case raw != nil && coded != nil:
		return nil, errors.New("it has the same bytes in both forms")
	case raw != nil && raw[0] != '{':
		return nil, errors.New("an entry and a head are JSON objects")
	case raw != nil:
		return raw, nil
	}
	return coded, nil
}

// lines reads a file line by line.
type lines struct {
	r *bufio.Reader
	n int
}

func newLines(r io.Reader) *lines { return &lines{r: bufio.NewReaderSize(r, 64<<10)} }

// next reads a line. The line is the caller's own.
//
// Errors: io.EOF at the end; *FileError; those of the reader.
func (s *lines) next() (line, error) {
	var text []byte
	for {
		part, err := s.r.ReadSlice('\n')
		text = append(text, part...)
		if len(text) > MaxLine {
			s.n++
			return line{}, s.wrong(fmt.Sprintf("it is longer than %d MiB", MaxLine>>20))
		}
		if errors.Is(err, bufio.ErrBufferFull) {
			continue
		}
		if errors.Is(err, io.EOF) && len(text) > 0 {
			s.n++
			return line{}, s.wrong("it is cut short: export the file again")
		}
		if err != nil {
			return line{}, err
		}
		break
	}
	s.n++
	text = bytes.TrimSuffix(text, []byte("\n"))
	var l line
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&l); err != nil {
		return line{}, s.wrong("it is not what an export has (" + err.Error() + ")")
	}
	if d.InputOffset() != int64(len(text)) {
		return line{}, s.wrong("there is more than one object on it")
	}
	return l, nil
}

func (s *lines) wrong(why string) error { return &FileError{Line: s.n, Why: why} }

// checkJob holds one job against its chain, its summary and its name.
func checkJob(name string, entries [][]byte, head []byte) error {
	if len(entries) == 0 {
		return errors.New("it has no entries")
	}
	h, err := flow.DecodeHead(head)
	if err != nil || head == nil {
		return errors.New("it has no summary that can be read")
	}
	if flow.JobStream(h.Code) != name {
		return fmt.Errorf("its summary is of job %q", h.Code)
	}
	for i, body := range entries {
		e, err := flow.DecodeEntry(body)
		if err != nil {
			return fmt.Errorf("entry %d: %w", i+1, err)
		}
		if i == 0 && !begins(e, h.Code) {
			return fmt.Errorf("its first entry does not begin job %q", h.Code)
		}
	}
	p, err := flow.Verify(func(visit func(uint64, []byte) error) error {
		for i, body := range entries {
			if err := visit(uint64(i+1), body); err != nil {
				return err
			}
		}
		return nil
	}, h.Witness())
	if err != nil {
		return err
	}
	if p.Fault != nil {
		return p.Fault
	}
	return nil
}

func begins(e flow.Entry, code string) bool {
	for _, a := range e.Acts {
		if a.Do == flow.DoBegin && a.Value == code {
			return true
		}
	}
	return false
}
