package flow

import (
	"slices"
	"strings"

	"linetender/flow/wording"
)

// A brake that is soft, a clip that is missing, a belt that is torn: whoever of the
// crew tells of it, nothing is pulled before it is put right and somebody else has
// looked at it. Who led on over such words relied on a brake that nobody had tried.
//
// Source: common practice.

// A Defect is such a thing, as it was told.
type Defect struct {
	By    Person
	Words string
}

const ill = `(?:missing|gone|lost|broken|broke|snapped|torn|fray\w*|cracked|bent|worn|fail\w*|leak\w*|dead|useless|poor|weak|bad|not (?:in|on|there|fitted|closed|right|good|great|work\w*|hold\w*|lock\w*)|(?:isn'?t|ain'?t|doesn'?t|don'?t|does not|do not|won'?t|will not) (?:in|on|there|fitted|closed|right|good|great|work\w*|hold\w*|lock\w*|bite|close|shut))\b`

var (
	brakeIll = expression(`\b(?:brakes?|hand ?brake|parking brake|brake pedal|pedal)\b.*\b(?:` + ill + `|(?:to|on) the floor\b|soft\b|spong\w*|fad(?:es?|ing)\b|stick(?:s|y|ing)\b|stuck\b|bind(?:s|ing)\b|(?:no|low on) pressure\b)|\bno (?:brake )?pressure in the brakes?\b|\b(?:soft|spongy|weak|bad|poor) brakes?\b`)

	keeperIll = expression(`\b(?:clips?|r-?clip|split pins?|cotters?|lynch ?pins?|linch ?pins?|latch|keeper|seat ?belt|belt|hitch pin|drawbar pin)\b.*\b` + ill +
		`|\b(?:no|without (?:a |the )?|missing (?:a |the |its )?|lost (?:a |the |its )?) ?(?:r-?clip|clip|split pin|cotter|lynch ?pin|linch ?pin|latch|seat ?belt|belt)\b`)

	// faultOver are words that it is none, or is no more.
	faultOver = expression(`\b(?:fixed|repaired|replaced|mended|sorted|new one|put (?:a|the|it|one)|bled|nothing|not (?:soft|spongy|missing|worn|broken|bent|gone|lost|weak|bad)|isn'?t (?:soft|missing|worn|broken|bent|gone|weak|bad)|no (?:brake )?(?:fault|problem))\b`)
)

// faulty takes words of such a thing. While questions are asked, the brakes may be
// those of the load, and whoever is asked answers.
func (t *turn) faulty(text string) bool {
	low := strings.Trim(lowered(text), " .!")
	keeper := keeperIll.MatchString(low)
	if !keeper && !brakeIll.MatchString(low) || isQuestion(low) || faultOver.MatchString(low) || strings.HasPrefix(low, "note ") || strings.HasPrefix(low, "change ") {
		return false
	}
	m := t.me()
	switch t.s.State {
	case Checks, Signing, Verdict, Pulling, Halted:
		if t.main() && t.s.State != Pulling {
			return false // it answers what is asked there
		}
	case Away, Closed, Debrief:
		return false
	default:
		if t.main() || !keeper {
			return false
		}
	}
	t.act(Act{Do: DoFault, Value: wording.Plain(text)})
	if t.s.Stage.Lies() {
		t.act(Act{Do: DoReport, Path: "unsure", Value: wording.Plain(text)})
	}
	t.holdsOn()
	t.note(text)
	args := wording.Args{"Name": m.Name, "Text": wording.Plain(text)}
	say := func() { t.say(wording.PullFault, args) }
	t.tellAll(true, say)
	say()
	t.ask()
	return true
}

// applyFault keeps what was told, or drops it as put right.
func (s *Session) applyFault(a Act, e Entry) {
	if a.Do == DoFault {
		s.Defects = append(slices.Clone(s.Defects), Defect{By: e.Who, Words: a.Value})
		return
	}
	s.Defects = slices.DeleteFunc(slices.Clone(s.Defects), func(f Defect) bool { return f.By.ID == a.Path })
}

// faults are the words of all that is not put right yet.
func (t *turn) faults() wording.Names {
	var out wording.Names
	for _, f := range t.s.Defects {
		out = append(out, t.sayingWith(wording.PullWithheldFor, wording.Args{"Name": f.By.Name, "Reason": f.Words}))
	}
	return out
}

// looksRight takes the word that what somebody else had told of is put right, from
// who has looked at it.
func (t *turn) looksRight() bool {
	m := t.me()
	if len(t.s.Defects) == 0 || m == nil || m.As != AsLead && m.As != AsCrew {
		return false
	}
	at := slices.IndexFunc(t.s.Defects, func(f Defect) bool { return f.By.ID != m.ID })
	if at < 0 && !t.s.single() {
		t.remark(wording.PullFaultOther, wording.Args{"Name": m.Name})
		return true
	}
	f := t.s.Defects[max(at, 0)]
	t.act(Act{Do: DoMended, Path: f.By.ID})
	args := wording.Args{"Name": m.Name, "Text": f.Words}
	t.tellAll(false, func() { t.say(wording.PullFaultOver, args) })
	t.say(wording.PullFaultOver, args)
	t.ask()
	return true
}
