package flow

import (
	"slices"
	"strings"

	"linetender/flow/wording"
)

// That somebody hurt or inside is so no more, or another hazard, takes another's eyes than
// those of who says it, and where these have a phone here, their own word on it.
//
// Source: common practice.

// heldLook keeps, of two answers, who was named to have looked.
const heldLook = "look-by:"

// mayTellHurt lists whose own word on it can be had: who was named, and where they
// have no phone the others of the crew on the spot.
func (t *turn) mayTellHurt(who string) []Member {
	others := slices.DeleteFunc(t.s.present(AsCrew), func(m Member) bool {
		return m.ID == t.s.Lead.ID || m.ID == t.in.Person.ID || m.Away || t.wasHurt(m.Name) || t.unfit(m.Name)
	})
	if named := t.phoneOf(who); who != "" && named != nil {
		if i := slices.IndexFunc(others, func(m Member) bool { return m.ID == named.ID }); i >= 0 {
			return others[i : i+1]
		}
	}
	return others
}

// asksLooker asks whoever is said to have looked on their own phone, and reports whether
// there is anybody to ask: till then it stands as it was told.
func (t *turn) asksLooker(c change, who string) bool {
	of := t.mayTellHurt(who)
	if t.ownLook() || len(of) == 0 {
		return false // they say so themselves
	}
	was, _ := t.s.Sheet.Get(c.path)
	t.asksOn(of, c, was)
	return true
}

// ownLook reports whether whoever has looked is the one who speaks.
func (t *turn) ownLook() bool {
	return t.looker != "" && t.s.called(t.looker) != nil && t.me() != nil && sameName(t.looker, t.me().Name)
}

// asksNamed asks whoever is said to have looked at a thing that was told to be bad on
// their own phone, where they have one in the job, and reports whether they have: nobody
// answers there for them. Till then it stands as it was told.
func (t *turn) asksNamed(c change, who, bad string) bool {
	m := t.phoneOf(who)
	if t.ownLook() || m == nil || m.ID == t.in.Person.ID || m.Gone || m.As != AsCrew {
		return false
	}
	t.eyed = true
	t.asksOn([]Member{*m}, c, bad)
	return true
}

// asksOn has what was told stand beside what is said now, and asks some on their phones
// which it is.
func (t *turn) asksOn(of []Member, c change, was string) {
	d := t.s.differing(c.path)
	if d == nil {
		t.act(Act{Do: DoDiffer, Path: c.path, Value: was, Was: c.value})
		d = t.s.differing(c.path)
	}
	n := itoa(d.Number)
	t.act(Act{Do: DoHold, Path: "waved:" + n, Value: "yes"})
	t.act(Act{Do: DoHold, Path: heldLook + n, Value: "anybody"})
	if len(of) == 1 {
		t.act(Act{Do: DoHold, Path: heldLook + n, Value: of[0].ID})
	}
	t.note(t.in.Text)
	var names wording.Names
	for _, m := range of {
		names = append(names, m.Name)
	}
	t.say(wording.DifferHurtAsked, wording.Args{"Names": names})
}

// owesEyes reports whether the better of two answers takes the word of somebody beside
// whoever leads: of damage and danger always, of what is rigged where somebody on the spot
// has it otherwise, else where one was named to have looked.
func (t *turn) owesEyes(d Differ) bool {
	return d.against() || t.s.Held[heldLook+itoa(d.Number)] != "" || t.riggedWorse(d)
}

// ofRig reports whether two answers are how the rope is rove.
func (d Differ) ofRig() bool { return strings.HasPrefix(d.Path, "tackle.") }

// riggedWorse reports whether somebody on the spot says that another rig stands there, and
// it is not plain that the one which was told before is the worse: who leads from their own
// place has not seen every piece of it.
func (t *turn) riggedWorse(d Differ) bool {
	m := t.s.member(d.By.ID)
	return d.ofRig() && t.s.Stage.Rigged() && m != nil && m.As == AsCrew && t.heldAgainst(d.Path, d.Was, d.Said) <= 0
}

// lookBy is who alone was named to have looked, while they are here; nil for anybody.
func (t *turn) lookBy(d Differ) *Member {
	m := t.s.member(t.s.Held[heldLook+itoa(d.Number)])
	if m == nil || m.Gone {
		return nil
	}
	return m
}

// ofHurt reports whether two answers are whether somebody is hurt or inside, where one
// who leads or told it says that nobody is any more.
func (t *turn) ofHurt(d Differ) bool {
	return d.Path == "hazards" && t.s.Held[heldLook+itoa(d.Number)] != "" && slices.Contains(kinds(d.Said), peopleInside) && !slices.Contains(kinds(d.Was), peopleInside)
}
