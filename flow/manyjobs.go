package flow

import (
	"encoding/json"
	"slices"
	"strings"
	"time"

	"linetender/flow/wording"
)

// A coordinator may lead several jobs from one chat. One message shows them
// all, and what is written goes to the one that is open: the last that was
// joined or opened.

// Heads is a log that knows the summaries of its streams.
type Heads interface {
	Head(stream string) (head []byte, last uint64, err error)
}

// jobsOf lists the jobs that a chat has been in, the latest last.
func (t *turn) jobsOf(chat string) []string {
	if chat == t.in.Chat {
		return t.chat.jobs
	}
	var jobs []string
	if t.log == nil {
		return nil
	}
	err := t.log.Replay(chatStream(chat), 0, func(_ uint64, body []byte) error {
		var e chatEntry
		if err := json.Unmarshal(body, &e); err != nil {
			return err
		}
		for _, a := range e.Acts {
			if a.Do == DoEnter && a.Value != "" && !slices.Contains(jobs, a.Value) {
				jobs = append(jobs, a.Value)
			}
		}
		return nil
	})
	if err != nil {
		return nil // the board is only shorter
	}
	return jobs
}

// openHeads returns the summaries of jobs that are not over, but for the one
// that is spoken in, as far as they can be read.
func (t *turn) openHeads(codes []string) []Head {
	heads, ok := t.log.(Heads)
	if !ok {
		return nil
	}
	var out []Head
	for _, code := range codes {
		if code == t.s.Code {
			continue
		}
		body, _, err := heads.Head(jobStream(code))
		if err != nil {
			continue
		}
		if h, err := DecodeHead(body); err == nil && h.State != Closed {
			out = append(out, h)
		}
	}
	return out
}

// otherJobs adds a line for each other job of a coordinator's chat that is not
// over.
func (t *turn) otherJobs(chat string) {
	var lines wording.Lines
	for _, h := range t.openHeads(t.jobsOf(chat)) {
		lines = append(lines, t.sayingWith(wording.BoardJob, wording.Args{
			"Code": h.Code, "Text": t.saying(wording.Key("state." + string(h.State))), "Result": t.ago(h.Last), "Name": h.Lead,
		}))
	}
	if len(lines) > 0 {
		t.say(wording.BoardOthers, wording.Args{"List": lines})
	}
}

// ago says how long ago something was.
func (t *turn) ago(at string) string {
	n := int(t.since(at) / time.Minute)
	if n < 1 {
		return t.saying(wording.BoardNow)
	}
	return t.sayingWith(wording.BoardAgo, wording.Args{"Count": n})
}

// openJob takes the chat to another of its jobs.
func (t *turn) openJob(log Log, code string) (*Turn, error) {
	code = strings.ToLower(strings.TrimSpace(code))
	if !slices.Contains(t.chat.jobs, code) {
		return nil, nil
	}
	s, err := t.e.load(log, code)
	if err != nil {
		return nil, &storageError{err}
	}
	m := s.member(t.in.Person.ID)
	if s.State == Closed || m == nil {
		return nil, nil
	}
	if at, err := t.bound(log, code); err != nil || at != nil {
		if err != nil {
			return nil, err
		}
		return t.stays(at)
	}
	if m.Gone {
		t.comeIn(s)
		return t.done()
	}
	t.s = s
	t.kept = append(t.kept, Act{Do: DoEnter, Value: code})
	t.say(wording.BoardOpened, wording.Args{"Code": code})
	t.soFar()
	t.ask()
	return t.done()
}

// opens returns the job that a message asks for.
func opens(text string) (code string, ok bool) {
	return strings.CutPrefix(strings.TrimPrefix(strings.ToLower(strings.TrimSpace(text)), "/"), "open ")
}
