package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/wording"
)

// Who withholds a pull and leaves has not seen what they withheld it for put right. It
// stays withheld. They lift it when they are back, or whoever leads does, naming them and
// somebody else on the spot who looked; that is told to all.
//
// Source: common practice.

// staysWithheld is the Path of a DoGone that lifts nothing: logs written without it
// lifted what who left had withheld.
const staysWithheld = "stays withheld"

// withholding are all who withhold the pull at this moment.
func (s *Session) withholding() []Person {
	var out []Person
	if h := s.hold(); h != nil {
		out = slices.Clone(h.Withheld)
	}
	for _, v := range s.Vetoes {
		out = append(out, v.By)
	}
	return out
}

// goneVeto returns who withholds and has left the job.
func (t *turn) goneVeto() (Person, bool) {
	for _, p := range t.s.withholding() {
		if m := t.s.member(p.ID); m == nil || m.Gone {
			return p, true
		}
	}
	return Person{}, false
}

// withheldBy says who withholds, under a key, or where one of them has left, how that is
// lifted.
func (t *turn) withheldBy(k wording.Key, names wording.Names) (wording.Key, wording.Args) {
	p, is := t.goneVeto()
	if !is {
		return k, wording.Args{"Names": names}
	}
	return wording.PullWithheldGone, wording.Args{"Names": names, "Name": p.Name, "Was": t.s.Lead.Name, "Text": t.lookedWords()}
}

// lookedWords are those with which whoever leads says who looked.
func (t *turn) lookedWords() string {
	for _, name := range t.lookersAll() {
		if !sameName(name, t.s.Lead.Name) {
			return t.sayingWith(wording.PullLooked, wording.Args{"Name": name})
		}
	}
	return t.saying(wording.PullLookedSelf)
}

// stillWithheld says to all that what somebody who leaves had withheld stays so.
func (t *turn) stillWithheld(m Member) {
	if !slices.ContainsFunc(t.s.withholding(), func(p Person) bool { return p.ID == m.ID }) {
		return
	}
	args := wording.Args{"Name": m.Name, "Was": t.s.Lead.Name, "Text": t.lookedWords()}
	k := wording.PullGoneWithholds
	if reason := t.s.withheldFor(m.ID); reason != "" {
		k, args["Reason"] = wording.PullGoneWithholdsFor, reason
	}
	say := func() { t.say(k, args) }
	t.tellAllAndHere(false, say)
}

// withheldFor is the reason for which somebody withholds the pull; empty where none is told.
func (s *Session) withheldFor(id string) string {
	if h := s.hold(); h != nil && h.Reasons[id] != "" {
		return h.Reasons[id]
	}
	if i := slices.IndexFunc(s.Vetoes, func(v Veto) bool { return v.By.ID == id }); i >= 0 {
		return s.Vetoes[i].Reason
	}
	return ""
}

var (
	liftFirst = regexp.MustCompile(`^(?:ok |okay |i )*lift(?:ed|s)?\b`)
	selfSaw   = regexp.MustCompile(`\bi (?:have |had )?(?:looked|checked|inspected|examined)\b`)
)

// liftsGone takes from whoever leads that what somebody withholds who has left is lifted.
func (t *turn) liftsGone(low string) bool {
	p, is := t.goneVeto()
	if !is || !liftFirst.MatchString(low) || slices.ContainsFunc(t.s.withholding(), func(w Person) bool { return w.ID == t.in.Person.ID }) {
		return false
	}
	if !t.leads() {
		return true
	}
	who, looked := t.whoLooked()
	if !looked && t.people() == 1 && selfSaw.MatchString(low) {
		who, looked = t.whoName(), true // nobody else is there
	}
	named := false
	for _, w := range strings.FieldsFunc(liftFirst.ReplaceAllString(low, ""), func(r rune) bool { return strings.ContainsRune(" ,;:.'’", r) }) {
		named = named || sameName(w, p.Name)
	}
	if !named {
		named = strings.Contains(low, strings.ToLower(p.Name))
	}
	if !looked || !named || sameName(who, p.Name) {
		k, args := t.withheldBy(wording.PullWithheld, wording.Names{p.Name})
		t.remark(k, args)
		return true
	}
	number := ""
	if h := t.s.hold(); h != nil && slices.ContainsFunc(h.Withheld, func(w Person) bool { return w.ID == p.ID }) {
		number = itoa(h.Number)
	}
	t.note(t.in.Text)
	t.act(Act{Do: DoLift, Path: p.ID, Value: number, Names: []string{who}})
	args := wording.Args{"Was": t.whoName(), "Name": p.Name, "Text": t.sayingWith(wording.PullLooked, wording.Args{"Name": who})}
	say := func() { t.say(wording.PullGoneLifted, args) }
	t.tellAllAndHere(false, say)
	t.ask()
	return true
}
