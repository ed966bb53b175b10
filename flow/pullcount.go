package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/unit"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A bite that was counted is held against what was released and against the parts.
// Rope that is missing may have gone into its stretch: that is believed only once slings,
// marks and knots were looked at for it and no more is missing than then.

// A count is how much rope came in and how far the load went, as they were told.
type count struct{ tookIn, moved string }

// bothOf is the other half of a count that was told in two messages, or on two
// phones, of the bite at whose hold the pull stands.
func (t *turn) bothOf(c count) count {
	n := len(t.s.Bites)
	if t.s.Stage != Held || n == 0 || t.s.Bites[n-1].Hold != t.s.Hold-1 {
		return c
	}
	b := t.s.Bites[n-1]
	switch {
	case c.moved != "" && c.tookIn == "":
		c.tookIn = b.TookIn
	case c.tookIn != "" && c.moved == "":
		c.moved = b.Moved
	}
	return c
}

// missing is the rope that came in beyond what the parts take, at its least and most.
func missing(p *calc.Plan, c count) (low, high unit.Length, ok bool) {
	in, ok1 := readLength(c.tookIn)
	by, ok2 := readLength(c.moved)
	if !ok1 || !ok2 {
		return 0, 0, false
	}
	a := calc.Advance(*p, in, by)
	if a.Verdict != calc.AdvanceGives {
		return 0, 0, false
	}
	in, by, n := onTape(in), onTape(by), float64(a.Parts)
	return in.Low - by.High.Scale(n), in.High - by.Low.Scale(n), true
}

// onTape lays the spread of a tape about a length that was told exactly.
func onTape(l calc.Length) calc.Length {
	if l.Low != l.High {
		return l
	}
	share, _ := handbook.TapeSpread()
	return bound.Spread(l.Best, float64(share))
}

// stretched reports whether no more rope is missing than was when marks, slings and
// knots were last looked at for it, and the rig walked again after that.
func (t *turn) stretched(p *calc.Plan, c count) bool {
	low, _, ok := missing(p, c)
	if !ok {
		return false
	}
	walked := 0
	for _, h := range t.s.Holds {
		if h.Stage == LightTension && h.Released == FirstMove {
			walked = h.Number
		}
	}
	return slices.ContainsFunc(t.s.Reports, func(r Report) bool {
		if r.Kind != "creeps" || r.Hold >= walked {
			return false
		}
		_, high, ok := missing(p, count{tookIn: r.TookIn, moved: r.Moved})
		return ok && low <= high
	})
}

// pastMost says, and reports, that the load went further than was released.
func (t *turn) pastMost(moved string) bool {
	n := len(t.s.Bites)
	if n == 0 || moved == "" {
		return false
	}
	went, ok1 := readLength(moved)
	most, ok2 := readLength(t.s.Bites[n-1].Most)
	if !ok1 || !ok2 || onTape(went).Low <= most.High {
		return false
	}
	say := func() { t.say(wording.PullPastMost, wording.Args{"Length": went, "Text": t.s.Bites[n-1].Most}) }
	t.tellAllAndHere(true, say)
	return true
}

var (
	// hedged begins a count that is told as what somebody makes of it.
	hedged = regexp.MustCompile(`^(?:(?:well|so|ok|okay|no|nah|hm+|but)[ ,]+)*(?:(?:i'?d|i would|i|we) (?:say|think|thought|reckon|reckoned|guess|make|made|measured|saw)|(?:looked|looks|seemed|more) like|from here)(?: that)?[ ,]+`)

	// drew are words of whoever drives for the rope that came in.
	drew = regexp.MustCompile(`\b(?:i|we|i'?ve|we'?ve|driver|he|she)(?: have| has)? (?:drove|driven|pulled|took|taken|hauled|winched|wound|cranked|reversed|backed)(?: (?:in|on|up|off|out|forward|back))* ` + lengthWords)

	// cameOnly are words for how far the load went on it, with or without a unit.
	cameOnly = regexp.MustCompile(`[ ,;]+(?:(?:and|but|yet|though) )?(?:(?:it|she|he|the load|load|the truck|truck|the trailer|trailer|the car|car|the van|van)(?: has|'s)? )(?:only |just |hardly |barely )*(?:came|come|moved|went|gained)(?: (?:only|just|up|on|by|out|about))* (\d+(?:[.,]\d+)?)\s*([a-z'"]+)?$`)
)

// countLate takes a count of the last bite while something is asked: what is looked at
// stays to be looked at, and two phones' counts stand beside each other.
func (t *turn) countLate(text, low string) bool {
	m := t.me()
	if m == nil || m.afar() || t.s.Stage != Held || len(t.s.Bites) == 0 || t.s.State == Halted || t.s.State == Pulling {
		return false
	}
	low = t.asCount(low)
	moved, tookIn := travelled(low)
	if moved == "" && tookIn == "" || !counted(low) {
		return false
	}
	p := t.plan()
	both := t.bothOf(count{tookIn: tookIn, moved: moved})
	t.act(Act{Do: DoReport, Path: "moves", Value: wording.Plain(text), Second: moved, Was: tookIn})
	t.remark(wording.ReadNoted, nil)
	t.goneTwice(moved)
	if p == nil || p.Tackle == nil {
		return true
	}
	t.pastMost(moved)
	if fits, say := t.advance(p, both.tookIn, both.moved); !fits {
		say()
		creep, _ := sightOf("creeps")
		if t.reopenFor(creep.causes...) {
			t.act(Act{Do: DoReport, Path: creep.kind, Value: wording.Plain(text), Second: both.moved, Was: both.tookIn})
			t.tellAll(false, say)
			t.inChat(t.s.leadChat(), t.replan)
		}
	}
	return true
}

// ofLength is the unit that a length ends with.
var ofLength = regexp.MustCompile(`[a-z'"]+\s*$`)

// drawing are words of who takes rope in, behind their name.
var drawing = regexp.MustCompile(`^(?: has|'s)? (?:took|taken|pulled|hauled|winched|wound|cranked|drove)\b`)

// asCount turns what somebody makes of a bite, and what is told of one of the crew who
// took the rope in, into the words in which a count is written.
func (t *turn) asCount(low string) string {
	for _, n := range t.crewNames() {
		name, _, _ := strings.Cut(hear.Lowered(n), " ")
		if at := strings.Index(low, name+" "); at == 0 || at > 0 && low[at-1] == ' ' {
			if rest := low[at+len(name):]; drawing.MatchString(rest) {
				low = low[:at] + "we" + rest
			}
		}
	}
	return asCount(low)
}

// asCount turns what somebody makes of a bite, and what whoever drives tells of it,
// into the words in which a count is written.
func asCount(low string) string {
	if rest := hedged.ReplaceAllString(low, ""); movedWords.MatchString(rest) || tookWords.MatchString(rest) {
		low = rest
	}
	at := drew.FindStringSubmatchIndex(low)
	if at == nil {
		return low
	}
	in, rest := low[at[2]:at[3]], low[at[1]:]

	if m := cameOnly.FindStringSubmatch(rest); m != nil {
		of := m[2]
		if of == "" {
			of = ofLength.FindString(in)
		}
		return "took in " + in + ", moved " + m[1] + " " + of
	}
	if rest == "" {
		return "took in " + in
	}
	return low
}
