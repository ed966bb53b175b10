package flow

import (
	"regexp"
	"slices"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A no of somebody who was asked for their own word to what fails stands by name and
// with its words. Whoever is asked next reads it before they say yes, and so does the
// lead. While who refused is of the crew nobody else signs over it: what fails is put
// right, or they take the no back. Another post for them ends no refusal.
//
// Source: common practice.

// A Refusal is such a no.
type Refusal struct {
	Check  string
	Member string
	Name   string
	Why    string // what fails, as it was put
	Words  string
	Post   string // what they were there to do; empty for nothing
	At     string
}

// applyRefusal does one act of it. Without words the no is taken back.
func (s *Session) applyRefusal(a Act, e Entry) {
	s.Refusals = slices.DeleteFunc(s.Refusals, func(r Refusal) bool { return r.Member == a.Path && (a.Topic == "" || r.Check == a.Topic) })
	if a.Value != "" {
		s.Refusals = append(s.Refusals, Refusal{Check: a.Topic, Member: a.Path, Name: first0(a.Names), Why: a.Was, Words: a.Value, Post: a.Second, At: e.At})
	}
}

// refusalsOf are the noes that stand to a check.
func (t *turn) refusalsOf(id string) []Refusal {
	return slices.DeleteFunc(slices.Clone(t.s.Refusals), func(r Refusal) bool { return r.Check != id })
}

// refuses keeps the no of one who was asked for their word, and tells it to the lead
// and to those who watch from afar.
func (t *turn) refuses(p Put) {
	words := t.saying(wording.ChoiceNo)
	if t.in.Press == nil {
		words = wording.Plain(t.in.Text)
	}
	post := ""
	if s := t.s.seatOf(p.Member); s != nil {
		post = s.Post.Does
	}
	t.act(Act{Do: DoRefuse, Topic: p.Check, Path: p.Member, Names: []string{p.Name}, Was: p.Why, Value: words, Second: post})
	t.say(wording.ChecksNoKept, nil)
	said := func() { t.say(wording.ChecksNoWord, wording.Args{"Name": p.Name, "Text": words, "Why": p.Why}) }
	for _, chat := range t.s.chats(AsCoordinator) {
		if chat != t.s.leadChat() && chat != t.in.Chat {
			t.inChat(chat, said)
		}
	}
	t.inChat(t.s.leadChat(), func() {
		said()
		t.unsigned()
	})
	t.ask()
}

// sayRefusals says which noes stand to a check, to who is to say yes to it.
func (t *turn) sayRefusals(id, but string) {
	for _, r := range t.refusalsOf(id) {
		if r.Member != but {
			t.say(wording.ChecksWasRefused, wording.Args{"Name": r.Name, "Text": r.Words})
		}
	}
}

// refusedHere reports whether a no stands to a check that nobody signs over, since
// who said it is still of the crew, and says so.
func (t *turn) refusedHere(id string) bool {
	stands := false
	for _, r := range t.refusalsOf(id) {
		m := t.s.member(r.Member)
		if m == nil || m.Gone || m.As != AsCrew && m.As != AsLead {
			continue
		}
		stands = true
		t.say(wording.ChecksNoStands, wording.Args{"Name": r.Name, "Text": r.Words, "Why": r.Why})
	}
	return stands
}

// takesBack are words by which who refused takes the no back.
var takesBack = regexp.MustCompile(`^\W*(?:ok(?:ay)?\W+)?i(?: now)? (?:changed? my mind(?: about (?:it|that|signing))?|agree(?: to it)?(?: now| after all)|take (?:back my no|my no back|that no back|the no back)|sign (?:it|now)|(?:do )?answer for it(?: now)?)\W*$`)

// takesNoBack takes them, of who refused: it is asked for again then, whole.
func (t *turn) takesNoBack(text string) bool {
	if !takesBack.MatchString(hear.Lowered(text)) || !slices.ContainsFunc(t.s.Refusals, func(r Refusal) bool { return r.Member == t.in.Person.ID }) {
		return false
	}
	t.act(Act{Do: DoRefuse, Path: t.in.Person.ID})
	t.say(wording.ChecksNoBack, nil)
	name := t.whoName()
	t.toLead(func() { t.say(wording.ChecksNoBackOf, wording.Args{"Name": name}) })
	t.ask()
	return true
}

// refusalNames are the noes that stand, for the board: of what fails still.
func (t *turn) refusalNames() wording.Names {
	var out wording.Names
	for _, r := range t.s.Refusals {
		out = append(out, t.sayingWith(wording.BoardRefusal, wording.Args{"Name": r.Name, "What": r.Check, "Text": clipped(r.Words, boardLine)}))
	}
	return out
}
