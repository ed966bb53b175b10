package flow

import (
	"slices"
	"strings"

	"linetender/flow/wording"
)

// A HoldPoint is one hold of the pull: who confirmed it, who kept it from
// being released, and who released it.
type HoldPoint struct {
	Number   int
	Stage    string // in words
	At       string
	Sure     []string // who confirmed what
	Withheld []string
	By, Over string // empty: it was not released
}

// Sighted is one thing that was seen during the pull.
type Sighted struct{ At, Who, What, Words string }

// Debriefed is one answer of the debrief, in people's own words.
type Debriefed struct{ Question, Answer, Who string }

// pull tells what the session knows of the pull.
func (h *historian) pull() {
	s := h.t.s
	for _, p := range s.Holds {
		point := HoldPoint{Number: p.Number, Stage: h.words("stage.", string(p.Stage)), At: h.clock(p.At)}
		for _, y := range p.Sure {
			point.Sure = append(point.Sure, y.Name+": "+h.duty(y.Duty))
		}
		for _, w := range p.Withheld {
			name := h.name(w)
			if why := p.Reasons[w.ID]; why != "" {
				name = h.t.sayingWith(wording.PullWithheldFor, wording.Args{"Name": name, "Reason": why})
			}
			point.Withheld = append(point.Withheld, name)
		}
		if p.Released != "" {
			point.By, point.Over = h.name(p.By), h.clock(p.Over)
		}
		h.out.Points = append(h.out.Points, point)
	}
	for _, r := range s.Reports {
		h.out.Sighted = append(h.out.Sighted, Sighted{At: h.clock(r.At), Who: h.name(r.By), What: h.words("saw.", r.Kind), Words: r.Words})
	}
	for _, part := range debriefParts {
		if v := s.Past[part]; v != "" && v != "-" {
			h.out.Debrief = append(h.out.Debrief, Debriefed{Question: h.words("debrief.", part), Answer: v})
		}
	}
	for _, n := range s.Near {
		h.out.Debrief = append(h.out.Debrief, Debriefed{Question: h.words("debrief.", "near"), Answer: n.Text, Who: h.name(n.By)})
	}
}

// words are a word of the log as the book has it, under a section of it.
func (h *historian) words(section, value string) string {
	if k := wording.Key(section + word(value)); h.t.e.Words.Has(k) {
		return h.t.saying(k)
	}
	return strings.ReplaceAll(value, "-", " ")
}

func (h *historian) duty(duty string) string { return h.words("role.", duty) }

// clock is a time of the session by the site's clock.
func (h *historian) clock(rfc string) string { return at(Entry{At: rfc, Offset: h.out.Offset}) }

// seconded keeps what the second pair of eyes saw.
func (h *historian) seconded(a Act, e Entry) {
	n := len(h.out.Checks)
	h.checked(a, e)
	for i := n; i < len(h.out.Checks); i++ {
		h.out.Checks[i].Second = true
	}
}

// caused gives the last stop its cause.
func (h *historian) caused(a Act, _ Entry) {
	if n := len(h.out.Halts); n > 0 {
		h.out.Halts[n-1].Cause = h.words("cause.", a.Value)
	}
}

// compareRows are what the debrief held against each other.
func (h *historian) compareRows() []Compared {
	var out []Compared
	for _, r := range h.t.s.Rows {
		out = append(out, Compared(r))
	}
	return out
}

// compareBites hold each bite against what it was to be.
func (h *historian) compareBites() []Compared {
	var out []Compared
	for i, b := range h.t.s.Bites {
		seen := []string{b.Moved, b.TookIn}
		seen = slices.DeleteFunc(seen, func(s string) bool { return s == "" })
		out = append(out, Compared{What: h.words("stage.", string(b.Stage)) + " " + itoa(i+1), Planned: b.Most, Happened: strings.Join(seen, " / ")})
	}
	return out
}
