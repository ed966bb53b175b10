package flow

import (
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A brake that is soft, a clip that is missing, a belt that is torn: whoever of the
// crew tells of it, nothing is pulled before it is put right and somebody else has
// looked at it. Who led on over such words relied on a brake that nobody had tried.
//
// Nobody can have looked at it while the line is tight: that is eased first.
//
// Source: common practice.

// A Defect is such a thing, as it was told.
type Defect struct {
	By    Person
	Words string
}

// faulty takes words of such a thing. While questions are asked, the brakes may be
// those of the load, and whoever is asked answers.
func (t *turn) faulty(text string) bool {
	low := strings.Trim(hear.Lowered(text), " .!")
	_, keeper := t.tellsOf(text, hear.Keeper)
	if _, brake := t.tellsOf(text, hear.Brake); !keeper && !brake || isQuestion(low) || strings.HasPrefix(low, "note ") || strings.HasPrefix(low, "change ") {
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
	t.tellAllAndHere(true, say)
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
	if t.s.loaded() {
		t.remark(wording.PullFaultsTight, wording.Args{"Names": t.faults()})
		return true
	}
	looker := m.Name
	if at < 0 && t.people() > 1 { // they told of it, on the one phone that there is
		name, looked := t.whoLooked()
		if !looked {
			t.remark(wording.PullFaultNamed, wording.Args{"Name": m.Name})
			return true
		}
		looker = name
		t.note(t.in.Text)
	}
	t.act(Act{Do: DoMended, Path: f.By.ID})
	args := wording.Args{"Name": looker, "Text": f.Words}
	t.tellAll(false, func() { t.say(wording.PullFaultOver, args) })
	t.say(wording.PullFaultOver, args)
	t.ask()
	return true
}
