package flow

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// erasedTopic is the topic of the notes by which a job records what a
// person's data was taken out of: Path is the number of the entry, Value the
// digest of what was left.
const erasedTopic = "erased"

// takenWords stand where somebody's words were.
const takenWords = "(taken out)"

// redactor takes a person out of the entries of a job. They go by an alias of
// the job, erased-1 and on, so that who did what stays apart.
type redactor struct {
	ids     map[string]bool
	entries []Entry
	bodies  [][]byte
	alone   bool            // nobody else took part
	any     bool            // the person did
	names   map[string]bool // all that the person goes by: ids, and names whole
	firsts  []string        // first words of names
	own     map[string]bool // chats that nobody else spoke in
	words   []string        // what the person wrote, in lower case
	alias   string
	inText  *regexp.Regexp
	broken  bool // this release can't read the job in any case
}

func (r *redactor) there() bool { return r.any }

func (r *redactor) add(e Entry, body []byte) {
	r.entries, r.bodies = append(r.entries, e), append(r.bodies, slices.Clone(body))
}

// settle works out how the person is to be known in the entries.
func (r *redactor) settle() {
	r.names = map[string]bool{}
	others, taken := map[string]bool{}, 0
	for _, e := range r.entries {
		mine := r.ids[e.Who.ID]
		switch {
		case mine:
			r.any = true
			r.name(e.Who.ID, e.Who.Name)
			if !e.Group {
				r.own[e.Chat] = true
			}
			if text := strings.ToLower(strings.TrimSpace(e.Heard.Text)); utf8.RuneCountInString(text) >= 3 {
				r.words = append(r.words, text)
			}
		case e.Who.ID != "":
			r.alone, others[e.Chat] = false, true
		}
		var n int
		if _, err := fmt.Sscanf(e.Who.ID, "erased-%d", &n); err == nil {
			taken = max(taken, n)
		}
		for _, a := range e.Acts {
			if m := a.Member; m != nil && r.ids[m.ID] {
				r.any = true
				r.name(m.ID, m.Name)
				r.own[m.Chat] = true
			} else if m != nil {
				r.alone, others[m.Chat] = false, true
			}
			if a.Do == DoName && r.ids[a.Path] {
				r.name(a.Path, a.Value)
			}
		}
	}
	for chat := range others {
		delete(r.own, chat)
	}
	r.alias = fmt.Sprintf("erased-%d", taken+1)
	r.pattern()
}

func (r *redactor) name(id, name string) {
	r.names[id] = true
	if utf8.RuneCountInString(name) < 2 {
		return
	}
	r.names[name] = true
	if first, _, more := strings.Cut(name, " "); more && utf8.RuneCountInString(first) > 2 && !slices.Contains(r.firsts, first) {
		r.firsts = append(r.firsts, first)
	}
}

// pattern finds the person's names in a text: whole ones in any case, a first
// name as it is written, so that a Will does not become every will.
func (r *redactor) pattern() {
	var parts []string
	for name := range r.names {
		if r.ids[name] {
			continue // a number of a channel may be any number in a text
		}
		parts = append(parts, `(?i:`+regexp.QuoteMeta(name)+`)`)
	}
	for _, first := range r.firsts {
		parts = append(parts, regexp.QuoteMeta(first))
	}
	// Longest first: an alternative that fits ends the search.
	slices.SortFunc(parts, func(a, b string) int { return len(b) - len(a) })
	r.inText = nil
	if len(parts) > 0 {
		r.inText = regexp.MustCompile(`(^|[^\pL\pN])(?:` + strings.Join(parts, "|") + `)($|[^\pL\pN])`)
	}
}

// text is a text without the person's names, and nothing where it repeats
// what they wrote.
func (r *redactor) text(s string) string {
	if s == "" || r.quotes(s) {
		if s == "" {
			return ""
		}
		return takenWords
	}
	return r.unnamed(s)
}

func (r *redactor) unnamed(s string) string {
	if r.inText == nil {
		return s
	}
	for range 2 { // neighbours share the letter between them, so that one pass may miss every other
		s = r.inText.ReplaceAllString(s, "${1}"+r.alias+"${2}")
	}
	return s
}

// quoteRunes is how much of somebody's words in a row makes a text theirs.
const quoteRunes = 16

func (r *redactor) quotes(s string) bool {
	s = strings.ToLower(s)
	for _, w := range r.words {
		if strings.Contains(s, w) && utf8.RuneCountInString(w) >= 4 {
			return true
		}
		runes := []rune(w)
		for i := 0; i+quoteRunes <= len(runes); i += quoteRunes / 2 {
			if strings.Contains(s, string(runes[i:i+quoteRunes])) {
				return true
			}
		}
	}
	return false
}

// same is a value that is an id, a name or a chat of the person, or stays.
func (r *redactor) same(s string) string {
	if r.names[s] || r.own[s] {
		return r.alias
	}
	return s
}

// entry is an entry without the person.
func (r *redactor) entry(e Entry) Entry {
	mine := r.ids[e.Who.ID]
	if mine {
		e.Who = Person{ID: r.alias, Name: r.alias}
		e.Heard = Heard{Press: e.Heard.Press, Other: e.Heard.Other}
	} else {
		e.Heard.Text = r.unnamed(e.Heard.Text)
	}
	e.Chat = r.same(e.Chat)
	e.Acts = slices.Clone(e.Acts)
	for i := range e.Acts {
		e.Acts[i] = r.act(e.Acts[i], mine)
	}
	if e.Decided != nil {
		d := *e.Decided
		d.Why = r.texts(d.Why)
		e.Decided = &d
	}
	e.Said = r.said(e.Said)
	e.Sent = slices.Clone(e.Sent)
	for i := range e.Sent {
		e.Sent[i].Chat, e.Sent[i].Said = r.same(e.Sent[i].Chat), r.said(e.Sent[i].Said)
	}
	return e
}

func (r *redactor) said(said []Said) []Said {
	said = slices.Clone(said)
	for i := range said {
		said[i].Text = r.text(said[i].Text)
	}
	return said
}

func (r *redactor) texts(texts []string) []string {
	texts = slices.Clone(texts)
	for i := range texts {
		texts[i] = r.unnamed(texts[i])
	}
	return texts
}

// act is an act without the person. What the sheet holds of the load, the gear
// and the place stays, because the plan rests on it; a name that somebody gave
// a piece loses theirs.
func (r *redactor) act(a Act, mine bool) Act {
	a.Names = r.texts(a.Names)
	a.Second, a.Path = r.value(a.Second), r.same(a.Path)
	a.Reason = r.text(a.Reason)
	if m := a.Member; m != nil {
		gone := *m
		gone.ID, gone.Name, gone.Chat = r.same(m.ID), r.unnamed(m.Name), r.same(m.Chat)
		a.Member = &gone
	}
	switch {
	case a.Do == DoNote && a.Topic == erasedTopic:
	case a.Do == DoQuote && a.How == Pressed:
		// a choice
	case slices.Contains([]Do{DoNote, DoPart, DoQuery, DoReply, DoFault, DoUnread, DoQuote, DoUnreport}, a.Do) && mine && a.Value != "":
		a.Value = takenWords
	case a.Do == DoSet && strings.HasSuffix(a.Path, ".name"):
		a.Value, a.Was = r.unnamed(a.Value), r.unnamed(a.Was)
	case slices.Contains([]Do{DoSet, DoCheck, DoUnits, DoTold, DoBegin, DoCode}, a.Do):
		// A figure, a choice, a digest: no person, though a number of one may look alike.
	default:
		a.Value, a.Was = r.value(a.Value), r.value(a.Was)
	}
	return a
}

// value is a value of an act: an id, or words.
func (r *redactor) value(s string) string {
	if gone := r.same(s); gone != s {
		return gone
	}
	if s == "" {
		return ""
	}
	return r.unnamed(s)
}

// redo makes the new bodies of the entries that had something of the person,
// and the session that they come to.
func (r *redactor) redo() (redone map[uint64][]byte, s *Session, err error) {
	redone, s = map[uint64][]byte{}, newSession()
	before := newSession()
	for i, e := range r.entries {
		n := uint64(i + 1)
		gone := r.entry(e)
		body, err := gone.encode()
		if err != nil {
			return nil, nil, err
		}
		plain, err := e.encode()
		if err != nil {
			return nil, nil, err
		}
		if string(body) != string(plain) {
			gone.Was = readLink(r.bodies[i]).own
			if body, err = gone.encode(); err != nil {
				return nil, nil, err
			}
			redone[n] = body
		}
		// A job that this release could not read before it need not read after.
		r.broken = r.broken || before.fold(n, e) != nil
		if r.broken {
			s.Last, s.State, s.Topic = n, e.State, e.Topic
		} else if err := s.fold(n, gone); err != nil {
			return nil, nil, fmt.Errorf("the job could not be read without what is to be taken out: %w", err)
		}
		s.Chain = Link(s.Chain, r.bodies[i])
	}
	return redone, s, nil
}

// pins are places that a phone has said, as a summary has them.
var pins = regexp.MustCompile(` ?\(?-?\d+\.\d{5}, -?\d+\.\d{5}\)?`)

// head is the summary without the person, after one more entry.
func (r *redactor) head(body []byte, n uint64, chain string) ([]byte, error) {
	h, err := DecodeHead(body)
	if err != nil {
		return nil, err
	}
	if r.ids[r.entries[len(r.entries)-1].Who.ID] {
		h.Words = ""
	}
	h.N, h.Chain = n, chain
	h.Lead, h.Words, h.Place, h.Chat, h.People = r.unnamed(h.Lead), r.text(h.Words), r.unnamed(pins.ReplaceAllString(h.Place, "")), r.same(h.Chat), r.texts(h.People)
	return json.Marshal(h)
}

// files are the pictures that only the person's entries name.
func (r *redactor) files() []string {
	var mine, kept []string
	for _, e := range r.entries {
		for _, f := range e.Heard.Files {
			if f.Sum == "" {
				continue
			}
			if r.ids[e.Who.ID] {
				mine = append(mine, f.Sum)
			} else {
				kept = append(kept, f.Sum)
			}
		}
	}
	mine = slices.DeleteFunc(mine, func(sum string) bool { return slices.Contains(kept, sum) })
	slices.Sort(mine)
	return slices.Compact(mine)
}
