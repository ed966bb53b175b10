package flow

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"linetender/calc"
	"linetender/calc/bound"
	"linetender/calc/job"
	"linetender/calc/unit"
	"linetender/flow/wording"
)

// A History is one job looked back at, up to one of its entries: what was known,
// decided and done, in order, for a report or a card. Times are as [Moment.At].
type History struct {
	Job    *Session
	Case   *job.Case  // nil while weight, slope, ground or direction are missing
	Plan   *calc.Plan // as this release reckons it; nil without a case. Once the pull is over, the one it was pulled by
	Load   string     // what it weighs in that plan, as it was told
	Offset string     // of the site, as it was last known
	Last   string     // when something was last said
	Head   string     // of the chain, after the last entry
	Place  *Place     // where somebody last said they are

	People    []Took
	Moments   []Moment
	Answers   []Answered
	Checks    []Checked
	Overrides []Override
	Refused   []NoWord
	Halts     []Halt
	Points    []HoldPoint
	Sighted   []Sighted
	Debrief   []Debriefed
	Compared  []Compared
	Files     []SentFile
	Duties    []Duty
}

// Took is a person who took part, by a phone of theirs or named by others.
type Took struct {
	id          string
	Name        string
	As          As   // empty for somebody without a part
	Phoneless   bool // nothing came from them; First and Last are empty
	First, Last string
	Turns       int
}

// A Moment is one entry of the timeline.
type Moment struct {
	N      uint64
	At     string // as the site's clock had it, where its offset is known
	Who    string // empty where nobody spoke
	What   string // word for word, or what came instead of words
	Press  bool   // What is the label of a button
	Said   []string
	Sent   []Sent // in other chats
	State  State  // after it
	Gone   bool   // a person's data was taken out of it
	Marked string // what was decided, where the decision changed
}

// Answered is one value that somebody gave.
type Answered struct {
	Path     string
	Question string
	Said     string // word for word
	Value    string // as it was understood, with its spread where it has one
	How      How
	From     string // how it was measured: a word of the sheet such as weighed; empty where it is not asked
	Who, At  string
	Was      string // what it replaced
}

// Checked is one answer to a check on the spot.
type Checked struct {
	check        string // the item, by its field
	Claim, Value string
	Fails        bool
	Who, At      string
	By           string // whose phone said so, where it was not their own
	Second       bool   // of the second pair of eyes
	Again        string // when it was taken back, to be asked again
}

// An Override is a person's yes to a failing check.
type Override struct {
	Check, By, Second, Reason, At string

	Put []WordPut // to those of both who have a phone of their own
}

// A NoWord is the no of somebody who was asked to sign.
type NoWord struct {
	Name, Check, Words, At string
	Back                   string // when it was taken back; empty: it stands
}

// A WordPut is what was put to one who signed, and when they said yes.
type WordPut struct{ Name, Text, At string }

// A Halt is one call of stop.
type Halt struct {
	At, Who, Reason string
	Cause           string // in words; empty where it was not told
	Drill           bool
	Still           []Stood
	Over            string // when the job went on; empty: it did not
}

// Stood is somebody who said that they stand still, and how long after the call.
type Stood struct {
	Who   string
	After time.Duration
}

// Compared is one thing as it was planned and as it came. The words of What
// are the report's, by this key.
type Compared struct{ What, Planned, Happened string }

// SentFile is a picture or paper that somebody sent.
type SentFile struct {
	File
	Who, At, Caption string
}

// A Duty is one person's part in the pull.
type Duty struct{ Name, Role, Place, Does string }

// ErrNoJob is returned for a job that is not there.
var ErrNoJob = errors.New("there is no such job")

// History reads the log of a job up to entry number upto, 0 for all of it, and
// reckons its plan as it stood then.
//
// Errors: ErrNoJob; those of the log; that this release can't read the job.
func (e *Engine) History(log Log, code string, upto uint64) (*History, error) {
	h := &historian{t: newTurn(e, Input{}), out: &History{}}
	h.t.s = newSession()
	enough := errors.New("enough")
	err := log.Replay(jobStream(code), 0, func(n uint64, body []byte) error {
		if upto > 0 && n > upto {
			return enough
		}
		entry, err := DecodeEntry(body)
		if err != nil {
			return fmt.Errorf("job %q, entry %d: %w", code, n, err)
		}
		return h.take(n, entry, body)
	})
	if err != nil && !errors.Is(err, enough) {
		return nil, err
	}
	if h.t.s.Last == 0 {
		return nil, fmt.Errorf("job %q: %w", code, ErrNoJob)
	}
	h.finish()
	return h.out, h.t.err
}

// historian makes a history as it reads the entries.
type historian struct {
	t       *turn
	out     *History
	decided string   // last
	first   string   // decision of the first plan that was given
	plans   int      // how many were given
	noes    []string // whose no each of those refused was, and to what
	puts    []Put    // what those who are to sign were asked
	manned  []string // who has had a post while a line lay, by name
}

// tellings say what an act adds to a history. The session has it already.
var tellings = map[Do]func(*historian, Act, Entry){
	DoSet:    (*historian).answered,
	DoCheck:  (*historian).checked,
	DoReopen: (*historian).reopened,
	DoPut:    (*historian).put,
	DoWord:   (*historian).worded,
	DoRefuse: (*historian).refused,
	DoSign:   (*historian).signed,
	DoStop:   (*historian).stopped,
	DoStill:  (*historian).stood,
	DoOver:   (*historian).wentOn,
	DoTold:   (*historian).told,
	DoSecond: (*historian).seconded,
	DoCause:  (*historian).caused,
}

func (h *historian) take(n uint64, e Entry, body []byte) error {
	h.t.entry = e
	if err := h.t.s.fold(n, e); err != nil {
		return fmt.Errorf("job %q: %w", h.t.s.Code, err)
	}
	h.t.known = false
	o := h.out
	o.Head, o.Last = Link(o.Head, body), e.At
	h.t.s.Chain = o.Head
	if e.Offset != "" {
		o.Offset = e.Offset
	}
	if e.Heard.Place != nil {
		o.Place = e.Heard.Place
	}
	h.person(e)
	for _, s := range h.t.s.Seats {
		if s.Taken && h.t.s.Stage.Lies() && !slices.Contains(h.manned, s.Name) {
			h.manned = append(h.manned, s.Name)
		}
	}
	for _, a := range e.Acts {
		if tell := tellings[a.Do]; tell != nil {
			tell(h, a, e)
		}
	}
	h.oldStop(e)
	for _, f := range e.Heard.Files {
		o.Files = append(o.Files, SentFile{File: f, Who: h.name(e.Who), At: at(e), Caption: e.Heard.Text})
	}
	o.Moments = append(o.Moments, h.moment(n, e))
	return nil
}

// at is when an entry was, by the clock of the site where its offset is known.
func at(e Entry) string {
	when, err := time.Parse(time.RFC3339, e.At)
	if err != nil {
		return e.At
	}
	if zone, err := time.Parse("-07:00", e.Offset); err == nil {
		when = when.In(zone.Location())
	}
	return when.Format("2006-01-02 15:04:05 -07:00")
}

// name is what the crew call somebody.
func (h *historian) name(p Person) string {
	if m := h.t.s.member(p.ID); m != nil && p.ID != "" {
		return m.Name
	}
	return cmp.Or(p.Name, p.ID)
}

func (h *historian) person(e Entry) {
	if e.Who.ID == "" {
		return
	}
	name, as := h.name(e.Who), As("")
	if m := h.t.s.member(e.Who.ID); m != nil {
		as = m.As
	}
	i := slices.IndexFunc(h.out.People, func(p Took) bool { return p.id == e.Who.ID })
	if i < 0 {
		h.out.People = append(h.out.People, Took{id: e.Who.ID, First: at(e)})
		i = len(h.out.People) - 1
	}
	p := &h.out.People[i]
	p.Name = name // the latest: somebody may be called otherwise in the end
	p.As, p.Last, p.Turns = as, at(e), p.Turns+1
}

// phoneless adds those of the crew who wrote nothing themselves: who is named in the end,
// and who had a post of a line before.
func (h *historian) phoneless() {
	for _, name := range append(slices.Clone(h.t.s.Crew), h.manned...) {
		if name != "" && !slices.ContainsFunc(h.out.People, func(p Took) bool { return sameName(p.Name, name) }) {
			h.out.People = append(h.out.People, Took{Name: name, As: AsCrew, Phoneless: true})
		}
	}
}

func (h *historian) moment(n uint64, e Entry) Moment {
	m := Moment{N: n, At: at(e), Who: h.name(e.Who), What: e.Heard.Text, Sent: e.Sent, State: e.State, Gone: e.Was != ""}
	switch {
	case e.Heard.Press != "":
		m.Press, m.What = true, e.Heard.Press
		if k := wording.Key("choice." + e.Heard.Press); h.t.e.Words.Has(k) {
			if label, err := h.t.e.Words.Say(h.t.units(), k, nil); err == nil {
				m.What = label
			}
		}
	case e.Heard.Other != "":
		m.What = strings.TrimSpace("(" + e.Heard.Other + ") " + e.Heard.Text)
	}
	for _, s := range e.Said {
		m.Said = append(m.Said, s.Text)
	}
	if d := e.Decided; d != nil && d.Decision != h.decided {
		m.Marked, h.decided = d.Decision, d.Decision
	}
	return m
}

// answered keeps a value that was given. How a thing was measured is a field
// of the sheet of its own, and belongs to the answer.
func (h *historian) answered(a Act, e Entry) {
	if strings.HasPrefix(a.Path, "site.") || a.Path == "signed" {
		return // a check, or a signature that is taken back
	}
	if main, is := strings.CutSuffix(a.Path, "_from"); is {
		for i := len(h.out.Answers) - 1; i >= 0; i-- {
			if h.out.Answers[i].Path == main {
				h.out.Answers[i].From = h.t.word(a.Path, a.Value)
				return
			}
		}
		return
	}
	if a.Value == "" {
		return
	}
	said := e.Heard.Text
	if e.Heard.Press != "" {
		said = h.moment(0, Entry{Heard: e.Heard}).What
	}
	ans := Answered{Path: a.Path, Question: h.t.nameOf(a.Path), Said: said, Value: h.understood(a.Path, a.Value), How: a.How,
		Who: h.name(e.Who), At: at(e), Was: a.Was}
	if v, ok := h.t.s.Sheet.Get(a.Path + "_from"); ok {
		ans.From = h.t.word(a.Path+"_from", v)
	}
	h.out.Answers = append(h.out.Answers, ans)
}

// understood is a value with the spread that it is reckoned with, or as it was
// told where it has none.
func (h *historian) understood(path, value string) string {
	t := h.t
	switch path {
	case "load.mass":
		probe := job.Sheet{Load: job.LoadSheet{Mass: value, MassFrom: t.s.Sheet.Load.MassFrom, Slope: "1 deg", Pull: "level", Ground: "gravel"}}
		if c, err := probe.Case(); err == nil {
			return t.e.Words.Mass(t.units(), c.Load.Mass)
		}
	case "load.slope":
		probe := job.Sheet{Load: job.LoadSheet{Mass: "1 t", Slope: value, SlopeFrom: t.s.Sheet.Load.SlopeFrom, Pull: "level", Ground: "gravel"}}
		if c, err := probe.Case(); err == nil {
			return spread(c.Load.Slope)
		}
	}
	if both := t.inBoth(path, value); both != "" {
		return both
	}
	return t.word(path, value)
}

func spread(a bound.Of[unit.Angle]) string {
	return fmt.Sprintf("%s to %s°", unit.Short(unit.Figures(a.Low.Degrees(), 3, math.Floor)), unit.Short(unit.Figures(a.High.Degrees(), 3, math.Ceil)))
}

// finish adds what only the whole of it tells.
func (h *historian) finish() {
	h.out.Job = h.t.s
	sheet := h.t.sheet()
	h.out.Plan, h.out.Load = h.t.plan(), sheet.Load.Mass
	if s := h.t.s; s.Pulled != nil && (s.State == Debrief || s.State == Closed) {
		sheet = *s.Pulled
		h.out.Plan, h.out.Load = h.t.pulledPlan(false), sheet.Load.Mass
	}
	if c, err := sheet.Case(); err == nil {
		h.out.Case = &c
	}
	h.phoneless()
	h.duties()
	h.pull()
	for _, compare := range comparisons {
		h.out.Compared = append(h.out.Compared, compare(h)...)
	}
}

// sheet is the sheet as plan reckons with it.
func (t *turn) sheet() job.Sheet {
	sheet := t.apart(t.s.Sheet)
	more := true
	if t.s.Settled["block"] == "" { // until blocks were asked for, more may be named
		sheet.GearMore = &more
	}
	if t.s.Settled["holding"] == "" { // likewise what holds the load
		sheet.HoldingMore = &more
	}
	return sheet
}

// duties says who does what: by the seats, where they were given out, else by
// the posts of a crew of that size.
func (h *historian) duties() {
	t := h.t
	add := func(name string, p Post) {
		h.out.Duties = append(h.out.Duties, Duty{Name: name, Role: t.saying(wording.Key("role." + p.Role)),
			Place: t.saying(t.forPuller(wording.Key("place." + p.Does))), Does: t.saying(t.fitted(wording.Key("duty." + p.Does)))})
	}
	for _, s := range t.s.Seats {
		add(s.Name, s.Post)
	}
	if len(t.s.Seats) > 0 || len(t.s.Crew) == 0 {
		return
	}
	for i, p := range t.posts() {
		name := ""
		if i < len(t.s.Crew) {
			name = t.s.Crew[i]
		}
		add(name, p)
	}
}
