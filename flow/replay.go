package flow

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"linetender/flow/wording"
)

// A Turned is where this release would have gone on otherwise than the log.
type Turned struct {
	Entry     uint64
	Deemed    bool // the decision is another
	Figured   bool // the decision stands, and something that it rests on is another
	Asked     bool // something else is asked, or the job stands elsewhere
	Worded    bool // the same is said in other words
	Was, Is   string
	Unplayed  string // why the turn could not be played; the others are empty then
	WasDigest string
	IsDigest  string
}

// A Rerun is what playing a job again has shown.
type Rerun struct {
	Entries  uint64
	Played   uint64
	Turned   []Turned // where it would go on otherwise, in order
	Unplayed uint64   // entries that are not plain input, such as those that a person was taken out of
}

// Differs reports whether an answer or a decision would be another. Other words
// for the same are no difference.
func (r Rerun) Differs() bool {
	return slices.ContainsFunc(r.Turned, func(t Turned) bool { return t.Deemed || t.Figured || t.Asked || t.Unplayed != "" })
}

// Replay plays the conversation of a job again with this release, turn by
// turn, each from where the log stood before it: so a difference shows where
// it arises, and the turns after it are still answers to what was asked then.
// Nothing is written.
//
// Errors: ErrNoJob; those of the log; an entry that can't be read.
func (e *Engine) Replay(log Log, code string) (Rerun, error) {
	var out Rerun
	// Every chat is let in: who was let in then is no question now.
	now := &Engine{Reckon: e.Reckon, Words: e.Words, Random: e.Random, Anyone: true, Pictures: e.Pictures}
	p := player{e: now, log: log, code: code}
	err := log.Replay(jobStream(code), 0, func(n uint64, body []byte) error {
		entry, err := DecodeEntry(body)
		if err != nil {
			return fmt.Errorf("job %q, entry %d: %w", code, n, err)
		}
		p.updates = append(p.updates, entry.Update)
		p.entries = append(p.entries, slices.Clone(body))
		return nil
	})
	if err != nil {
		return Rerun{}, err
	}
	if len(p.entries) == 0 {
		return Rerun{}, fmt.Errorf("job %q: %w", code, ErrNoJob)
	}
	for i := range p.entries {
		out.Entries++
		p.upto = i
		entry, err := DecodeEntry(p.entries[i])
		if err != nil {
			return Rerun{}, err
		}
		if !playable(entry) {
			out.Unplayed++
			continue
		}
		out.Played++
		if turned, is := p.turn(entry); is {
			turned.Entry = uint64(i + 1)
			out.Turned = append(out.Turned, turned)
		}
	}
	return out, nil
}

// playable reports whether an entry says all that its turn was given. What a
// person was taken out of, a code and the record of an erasure do not.
func playable(e Entry) bool {
	h := e.Heard
	return e.Was == "" && e.Who.ID != "" && (h.Text != "" || h.Press != "" || h.Other != "")
}

// player is a log as it stood before one entry of a job. It keeps nothing.
type player struct {
	e       *Engine
	log     Log
	code    string
	entries [][]byte
	updates []string
	upto    int // entries before this index are there
	chat    string
	at      string
}

var errPlayed = errors.New("what is played again is not kept")

// Commit refuses: what is played again is not kept.
func (p *player) Commit(Turn) ([]uint64, error) { return nil, errPlayed }

// Replay visits a stream as it stood.
func (p *player) Replay(stream string, after uint64, visit func(uint64, []byte) error) error {
	switch stream {
	case jobStream(p.code):
		return listed(p.entries[:p.upto]).Replay(stream, after, visit)
	case chatStream(p.chat):
		entries, err := p.chatThen()
		if err != nil {
			return err
		}
		return listed(entries).Replay(stream, after, visit)
	}
	return p.log.Replay(stream, after, visit)
}

// chatThen is what was kept of the chat before the entry. Where its stream is
// not there any more, or never was, the chat is in the job all the same.
func (p *player) chatThen() (entries [][]byte, err error) {
	state := newChat(p.chat)
	over := errors.New("what follows came later")
	err = p.log.Replay(chatStream(p.chat), 0, func(n uint64, body []byte) error {
		var e chatEntry
		if err := json.Unmarshal(body, &e); err != nil {
			return fmt.Errorf("decode entry %d of chat %q: %w", n, p.chat, err)
		}
		if e.At > p.at || e.Update != "" && slices.Contains(p.updates[p.upto:], e.Update) {
			return over
		}
		entries = append(entries, slices.Clone(body))
		return state.fold(n, body)
	})
	if err != nil && !errors.Is(err, over) {
		return nil, err
	}
	in := p.code
	if p.upto == 0 {
		in = ""
	}
	if state.job != in && (in != "" || state.job == p.code) {
		body, err := json.Marshal(chatEntry{Version: entryVersion, At: p.at, Acts: []Act{{Do: DoEnter, Value: in}}})
		if err != nil {
			return nil, err
		}
		entries = append(entries, body)
	}
	return entries, nil
}

// turn plays one entry and compares.
func (p *player) turn(was Entry) (Turned, bool) {
	p.chat, p.at = was.Chat, was.At
	in, err := p.input(was)
	if err != nil {
		return Turned{Unplayed: err.Error()}, true
	}
	_, out, err := p.e.work(p, in)
	if err != nil {
		return Turned{Unplayed: err.Error()}, true
	}
	is, found, err := p.written(out)
	if err != nil {
		return Turned{Unplayed: err.Error()}, true
	}
	if !found {
		return Turned{Asked: true, Was: standing(was), Is: "nothing is kept of it"}, true
	}
	return compare(was, is)
}

// input makes of an entry the input that it was.
func (p *player) input(was Entry) (Input, error) {
	at, err := time.Parse(time.RFC3339, was.At)
	if err != nil {
		return Input{}, err
	}
	h := was.Heard
	in := Input{Update: was.Update, Chat: was.Chat, Person: was.Who, At: at, Offset: was.Offset, Text: h.Text, Other: h.Other, Files: h.Files, Place: h.Place,
		Group: was.Group, Partial: was.Partial, Piped: was.Piped, Direct: true, Local: strings.HasPrefix(was.Chat, "terminal/"),
		Edited: spoke(was, wording.RefuseEdited)}
	if h.Press != "" {
		s, err := load(p, p.code)
		if err != nil {
			return Input{}, err
		}
		in.Press = &Press{Session: p.code, Revision: s.Shown[was.Chat], Choice: h.Press}
		if spoke(was, wording.RefuseStaleShort) {
			in.Press.Revision = 0 // it was an old button then
		}
	}
	return in, nil
}

func spoke(e Entry, k wording.Key) bool {
	return slices.ContainsFunc(e.Said, func(s Said) bool { return s.Key == string(k) })
}

// written is what the turn would have kept in the job: under its code, or, where
// the turn begins it, under whatever code it has got now.
func (p *player) written(out Turn) (Entry, bool, error) {
	for _, w := range out.Writes {
		if !strings.HasPrefix(w.Stream, jobStream("")) || len(w.Entries) == 0 || w.Stream != jobStream(p.code) && (p.upto > 0 || w.After > 0) {
			continue
		}
		body := w.Entries[len(w.Entries)-1]
		if now := strings.TrimPrefix(w.Stream, jobStream("")); now != p.code {
			body = []byte(strings.ReplaceAll(string(body), now, p.code))
		}
		e, err := DecodeEntry(body)
		return e, true, err
	}
	return Entry{}, false, nil
}

// compare holds what was kept against what would be.
func compare(was, is Entry) (Turned, bool) {
	t := Turned{Was: standing(was), Is: standing(is)}
	if was.Decided != nil {
		t.WasDigest = was.Decided.Digest
	}
	if is.Decided != nil {
		t.IsDigest = is.Decided.Digest
	}
	t.Deemed = decided(was) != decided(is)
	t.Figured = !t.Deemed && t.WasDigest != t.IsDigest
	t.Asked = was.State != is.State || was.Topic != is.Topic
	t.Worded = !slices.Equal(was.Said, is.Said)
	return t, t.Deemed || t.Figured || t.Asked || t.Worded
}

func decided(e Entry) string {
	if e.Decided == nil {
		return ""
	}
	return e.Decided.Decision
}

// standing says where an entry led.
func standing(e Entry) string {
	text := string(e.State)
	if e.Topic != "" {
		text += ", asking " + e.Topic
	}
	if d := decided(e); d != "" {
		text += ", " + d
	}
	return text
}
