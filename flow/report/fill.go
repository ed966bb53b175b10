package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"linetender/calc"
	"linetender/flow"
)

// A Looked is what a report is filled from beside the history of the job.
type Looked struct {
	Made     string     // when and by which release
	Proof    flow.Proof // how the check of the chain came out
	Numbers  map[string]int
	Pictures []Picture
	Photo    func(flow.File) (kind string, bytes []byte) // the bytes of a picture; nil bytes where they were not kept
}

// Fill makes the report of a job from its history.
//
// Errors: only our own, in words.
func Fill(h *flow.History, l Looked) (Report, error) {
	w := &filler{}
	r := Report{
		Title: h.Load, Code: h.Job.Code, Made: l.Made, Head: Spaced(h.Head), Plan: h.Plan, Numbers: l.Numbers, Pictures: l.Pictures,
	}
	r.Verified = w.verified(l.Proof)
	r.Summary = w.summary(h)
	for _, m := range h.Moments {
		r.Timeline = append(r.Timeline, w.event(m))
	}
	for _, a := range h.Answers {
		how := w.say("how_" + string(a.How))
		if a.From != "" {
			how += w.say("how_from", a.From)
		}
		r.Answers = append(r.Answers, Answer{Question: a.Question, Said: a.Said, Understood: a.Value, How: how, Who: a.Who, At: a.At, Was: a.Was})
	}
	r.Checks = w.checks(h)
	for _, o := range h.Overrides {
		signed := Override{Check: o.Check, By: o.By, Second: o.Second, Reason: o.Reason, At: o.At}
		for _, p := range o.Put {
			signed.Put = append(signed.Put, w.say("signed_put", p.Name, p.Text, p.At))
		}
		r.Overrides = append(r.Overrides, signed)
	}
	for _, n := range h.Refused {
		line := w.say("signed_no", n.Name, n.At, n.Words, n.Check)
		if n.Back != "" {
			line += " " + w.say("signed_no_back", n.Back)
		}
		r.Refused = append(r.Refused, line)
	}
	for _, s := range h.Halts {
		r.Stops = append(r.Stops, w.stop(s))
	}
	for _, c := range h.Compared {
		r.Compared = append(r.Compared, Compare{What: w.sayOr("compare_"+key(c.What), c.What), Planned: w.decision(c, c.Planned), Happened: w.decision(c, c.Happened)})
	}
	w.pull(h, &r)
	for _, f := range h.Files {
		r.Photos = append(r.Photos, w.photo(f, l.Photo))
	}
	return r, w.err
}

// filler words things and keeps the first key that has no words.
type filler struct{ err error }

func (w *filler) say(key string, args ...any) string {
	text, err := say(key, args...)
	if err != nil && w.err == nil {
		w.err = err
	}
	return text
}

func (w *filler) sayOr(key, other string) string {
	if text, err := say(key); err == nil {
		return text
	}
	return other
}

func (w *filler) verified(p flow.Proof) string {
	if p.Fault != nil {
		return w.say("chain_broken", p.Fault.Error())
	}
	text := w.say("chain_holds", p.Entries)
	if len(p.Redacted) > 0 {
		var list []string
		for _, r := range p.Redacted {
			list = append(list, fmt.Sprint(r.Entry))
		}
		text += " " + w.say("chain_redacted", strings.Join(list, ", "))
	}
	return text
}

func (w *filler) summary(h *flow.History) []Fact {
	var out []Fact
	add := func(label, value string) {
		if value != "" {
			out = append(out, Fact{Label: w.say("fact_" + label), Value: value})
		}
	}
	if p := h.Place; p != nil {
		place := fmt.Sprintf("%.5f, %.5f", p.Lat, p.Lon)
		if p.Good > 0 {
			place += w.say("within", p.Good)
		}
		add("place", place)
	}
	if len(h.Moments) > 0 {
		add("began", h.Moments[0].At)
		add("last", h.Moments[len(h.Moments)-1].At)
	}
	add("lead", h.Job.Lead.Name)
	var people []string
	for _, p := range h.People {
		name := p.Name
		switch {
		case p.Phoneless:
			name += " (" + w.say("as_phoneless") + ")"
		case p.As != "":
			name += " (" + w.sayOr("as_"+key(string(p.As)), string(p.As)) + ")"
		}
		people = append(people, name)
	}
	add("people", strings.Join(people, ", "))
	add("load", h.Load)
	if len(h.Moments) > 0 {
		add("stands", w.sayOr("state_"+key(string(h.Job.State)), string(h.Job.State)))
	}
	add("events", fmt.Sprint(h.Job.Last))
	return out
}

func (w *filler) event(m flow.Moment) Event {
	e := Event{Seq: m.N, At: m.At, Who: m.Who, What: m.What}
	switch {
	case m.Gone:
		e.What = strings.TrimSpace(w.say("gone") + " " + m.What)
	case m.Press:
		e.What = w.say("pressed", m.What)
	case m.Who == "" && m.What == "":
		e.What = w.say("time_passed")
	}
	if m.Marked != "" {
		e.Said = append(e.Said, w.say("now_decided", w.word(m.Marked)))
	}
	e.Said = append(e.Said, w.said(m)...)
	return e
}

// word is a decision in the words of the page.
func (w *filler) word(decision string) string { return w.sayOr("word_"+key(decision), decision) }

func (w *filler) decision(c flow.Compared, value string) string {
	if c.What == "decision" {
		return w.word(value)
	}
	return cmp.Or(value, w.say("no_word"))
}

// pull fills in what was held, seen and said of the pull.
func (w *filler) pull(h *flow.History, r *Report) {
	for _, p := range h.Points {
		point := HoldPoint{Number: fmt.Sprint(p.Number), Stage: p.Stage, At: p.At, Sure: strings.Join(p.Sure, "; "),
			Withheld: strings.Join(p.Withheld, ", "), Released: w.say("not_released")}
		if p.Over != "" {
			point.Released = w.say("released_by", p.By, p.Over)
		}
		r.Holds = append(r.Holds, point)
	}
	for _, s := range h.Sighted {
		r.Seen = append(r.Seen, Seen(s))
	}
	for _, d := range h.Debrief {
		r.Debrief = append(r.Debrief, Told(d))
	}
}

// checks are the answers to the list on the spot, in order, with what became
// of them.
func (w *filler) checks(h *flow.History) []Mark {
	var out []Mark
	for _, c := range h.Checks {
		m := Mark{Check: c.Claim, Result: c.Value, Who: c.Who, At: c.At}
		var notes []string
		if c.Fails {
			notes = append(notes, w.say("check_fails"))
		}
		if c.Second {
			notes = append(notes, w.say("second_eyes"))
		}
		if c.By != "" {
			notes = append(notes, w.say("said_by", c.By))
		}
		if c.Again != "" {
			notes = append(notes, w.say("taken_back", c.Again))
		}
		m.Note = strings.Join(notes, "; ")
		out = append(out, m)
	}
	return out
}

func (w *filler) stop(s flow.Halt) Stop {
	out := Stop{At: s.At, Who: s.Who, Reason: s.Reason}
	var still []string
	for _, y := range s.Still {
		still = append(still, w.say("stood_after", y.Who, int(y.After/time.Second)))
	}
	if out.Still = strings.Join(still, ", "); len(still) == 0 {
		out.Still = w.say("not_known")
	}
	out.Restart = w.say("never_restarted")
	if s.Over != "" {
		out.Restart = w.say("restarted", s.Over)
	}
	if s.Cause != "" && s.Cause != s.Reason {
		out.Reason = strings.TrimPrefix(s.Reason+"; "+s.Cause, "; ")
	}
	if s.Drill {
		out.Reason = strings.TrimSpace(w.say("drill") + " " + out.Reason)
	}
	return out
}

func (w *filler) photo(f flow.SentFile, bytes func(flow.File) (string, []byte)) Photo {
	p := Photo{Caption: f.Caption, Who: f.Who, At: f.At}
	if p.Caption == "" {
		p.Caption = w.say("no_caption")
	}
	if bytes != nil {
		p.Type, p.Bytes = bytes(f.File)
	}
	if len(p.Bytes) == 0 {
		p.Type = ""
		p.Caption += w.say("not_kept")
	}
	return p
}

// FillCard makes the plan card of a job from its history. A job without a plan
// has none: the card's decision is then open.
func FillCard(h *flow.History, rig Picture, numbers map[string]int) Card {
	c := Card{Title: h.Job.Sheet.Load.Mass, Code: h.Job.Code, Rig: rig, Numbers: numbers, Head: Spaced(h.Head), Plan: calc.Plan{Decision: calc.Open}}
	if h.Plan != nil {
		c.Plan = *h.Plan
		c.Checks = boxes(*h.Plan, h)
		if facts, err := h.Job.Sheet.Case(); err == nil { // else there would be no plan
			c.Bite = calc.Bite(facts, *h.Plan).Load
		}
	}
	if p := h.Place; p != nil {
		c.Place = fmt.Sprintf("%.5f, %.5f", p.Lat, p.Lon)
	}
	if n := len(h.Moments); n > 0 {
		c.Date = h.Moments[n-1].At
	}
	for _, d := range h.Duties {
		c.Roles = append(c.Roles, Role{Name: d.Name, Role: d.Role, Place: d.Place, Duty: d.Does})
	}
	return c
}

// boxes are what is still to do, what was signed for with who did, and then, as
// far as there is room, what people have ticked and stands.
func boxes(p calc.Plan, h *flow.History) []Box {
	out := []Box{}
	for _, b := range boxesOf(p) {
		for _, o := range h.Overrides {
			if o.Check == b.Text {
				b.Done, b.Who = true, strings.Trim(o.By+", "+o.Second, ", ")
			}
		}
		out = append(out, b)
	}
	slices.SortStableFunc(out, func(a, b Box) int {
		switch {
		case a.Done == b.Done:
			return 0
		case b.Done:
			return -1
		}
		return 1
	})
	for _, c := range slices.Backward(h.Checks) {
		known := slices.ContainsFunc(out, func(b Box) bool { return b.Text == c.Claim })
		if c.Again == "" && !c.Fails && !known && len(out) < mostBoxes {
			out = append(out, Box{Text: c.Claim, Done: true, Who: c.Who, Whole: true})
		}
	}
	return out
}

// Spaced writes the head of a chain in groups that can be read aloud and
// copied by hand.
func Spaced(head string) string {
	var groups []string
	for g := range slices.Chunk([]byte(head), 8) {
		groups = append(groups, string(g))
	}
	return strings.Join(groups, " ")
}
