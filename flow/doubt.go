package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A message may tell of several pieces, and only one of them be in doubt: two ropes are
// there, and "the rope" is fine. What is plain goes where it belongs at once; what is in
// doubt waits as it was heard, and the answer gives that, and nothing else of the
// message, its place. So no answer to which piece is meant makes a rope a shackle.

// heldDoubt is what waits, a line a fact, and heldDoubtOf the piece of the message that
// is asked about now.
const (
	heldDoubt   = "which_facts"
	heldDoubtOf = "which_of"
)

// whichPiece asks which piece is meant where a message may be of several, or of one
// more, and reports whether it did. What else the message says is taken before.
func (t *turn) whichPiece(h hear.Heard) bool {
	if t.in.Group && !t.isLead() {
		return false
	}
	at, pieces := piecesIn(h.Facts)
	if t.relists(h) {
		t.relisted = true
		return false
	}
	if t.onlyOneStands(at, pieces) {
		return true
	}
	at = slices.DeleteFunc(at, func(path string) bool {
		_, _, several := t.which1(pieces[path])
		return len(several) == 0
	})
	if len(at) == 0 {
		return false
	}
	var waits []hear.Fact
	plain := h
	plain.Facts = nil
	for _, f := range h.Facts {
		if path, _, ok := strings.Cut(f.Field, "]."); ok && slices.Contains(at, path) {
			waits = append(waits, f)
		} else {
			plain.Facts = append(plain.Facts, f)
		}
	}
	done := t.hearFacts(plain, false)
	if len(t.s.Held[heldDoubt]) > 0 {
		waits = append(t.inDoubt(), waits...)
	}
	t.act(Act{Do: DoHold, Path: heldDoubt, Value: doubtLines(waits)})
	t.act(Act{Do: DoHold, Path: heldDoubtText, Value: t.in.Text})
	t.rest(h)
	t.askDoubt(len(at) > 1 || len(done) > 0)
	return true
}

// onlyOneStands asks which of several anchors is not there where it is said that there is
// only one of them, and reports whether that is what a message says.
func (t *turn) onlyOneStands(at []string, pieces map[string]newPiece) bool {
	if len(at) != 1 {
		return false
	}
	p := pieces[at[0]]
	like := t.alikes(p)
	if p.list != "anchors" || !p.only || len(p.told) > 0 || p.counted || len(like) < 2 {
		return false
	}
	t.fire(Reopens)
	t.act(Act{Do: DoHold, Path: heldRemove, Value: "1"})
	t.say(wording.ReadOnlyOne, nil)
	t.which(like, "", "")
	return true
}

// heldDoubtText is the message that what is in doubt was told in.
const heldDoubtText = "which_text"

// doubtMarks are what a fact says of its piece beside its value, each by a letter.
var doubtMarks = []struct {
	letter string
	of     func(*hear.Fact) *bool
}{
	{"n", func(f *hear.Fact) *bool { return &f.New }}, {"s", func(f *hear.Fact) *bool { return &f.Same }},
	{"o", func(f *hear.Fact) *bool { return &f.Other }}, {"c", func(f *hear.Fact) *bool { return &f.Count }},
	{"y", func(f *hear.Fact) *bool { return &f.Only }}, {"g", func(f *hear.Fact) *bool { return &f.Guess }},
	{"v", func(f *hear.Fact) *bool { return &f.Vague }}, {"t", func(f *hear.Fact) *bool { return &f.Taken }},
	{"a", func(f *hear.Fact) *bool { return &f.All }}, {"h", func(f *hear.Fact) *bool { return &f.Had }},
}

// doubtLines writes facts so that they can wait, and inDoubt reads those that do.
func doubtLines(facts []hear.Fact) string {
	var out []string
	for _, f := range facts {
		marks := ""
		for _, m := range doubtMarks {
			if *m.of(&f) {
				marks += m.letter
			}
		}
		out = append(out, strings.Join([]string{f.Field, marks, f.Value, f.Said}, "\t"))
	}
	return strings.Join(out, "\n")
}

func (t *turn) inDoubt() []hear.Fact {
	var out []hear.Fact
	for _, l := range strings.Split(t.s.Held[heldDoubt], "\n") {
		part := strings.SplitN(l, "\t", 4)
		if len(part) < 4 {
			continue
		}
		f := hear.Fact{Field: part[0], Value: part[2], Said: part[3]}
		for _, m := range doubtMarks {
			*m.of(&f) = strings.Contains(part[1], m.letter)
		}
		out = append(out, f)
	}
	return out
}

// doubtful splits what waits into what is told of one piece of the message and the rest.
func (t *turn) doubtful(path string) (of, others []hear.Fact) {
	for _, f := range t.inDoubt() {
		if strings.HasPrefix(f.Field, path+"].") {
			of = append(of, f)
		} else {
			others = append(others, f)
		}
	}
	return of, others
}

// askDoubt asks about the first piece that waits, and reports whether there is one. What
// is told of it is said where the message told of more.
func (t *turn) askDoubt(say bool) bool {
	if slices.Contains([]State{Pulling, Halted, Debrief, Closed, Away}, t.s.State) {
		return false
	}
	for {
		at, pieces := piecesIn(t.inDoubt())
		if len(at) == 0 || t.err != nil {
			return false
		}
		p := pieces[at[0]]
		of, others := t.doubtful(at[0])
		if _, _, several := t.which1(p); len(several) > 0 {
			if names := t.toldOfPiece(several[0], of); say && len(names) > 0 {
				t.say(wording.ReadInDoubt, wording.Args{"What": t.word(several[0]+".kind", p.kind), "Names": names})
			}
			t.which(several, t.s.Held[heldDoubtText], "")
			t.act(Act{Do: DoHold, Path: heldDoubtOf, Value: at[0]})
			return true
		}
		t.act(Act{Do: DoHold, Path: heldDoubt, Value: doubtLines(others)})
		t.inWords(t.s.Held[heldDoubtText], func() { t.hearFacts(hear.Heard{Facts: of}, false) }) // it has become plain
	}
}

// toldOfPiece reads what is told of a piece as of the one at a place.
func (t *turn) toldOfPiece(at string, facts []hear.Fact) (names wording.Names) {
	for _, f := range facts {
		if _, field, ok := strings.Cut(f.Field, "]."); ok && field != "kind" && field != "name" && field != "use" && field != "count" {
			names = append(names, t.plain(at+"."+field, f.Value))
		}
	}
	return names
}

// settleDoubt gives what is asked about the pieces that are meant for its places.
func (t *turn) settleDoubt(at ...string) {
	of, others := t.doubtful(t.s.Held[heldDoubtOf])
	text := t.s.Held[heldDoubtText]
	t.unwhich()
	t.act(Act{Do: DoHold, Path: heldDoubt, Value: doubtLines(others)})
	if len(at) == 1 {
		t.act(Act{Do: DoHold, Path: heldPiece, Value: at[0]})
	}
	t.amends(t.pieceTopic(at[0]))
	var facts []hear.Fact
	for _, place := range at {
		for _, f := range of {
			_, field, _ := strings.Cut(f.Field, "].")
			_, named := t.s.Sheet.Get(place + ".name")
			if field == "name" && named || field == "kind" && len(at) > 1 || field == "count" && (len(at) > 1 || !f.Only && !countTold(of)) {
				continue
			}
			if f.Field = place + "." + field; len(at) == 1 {
				f.Field = place[:strings.IndexByte(place, '[')] + "[+1]." + field
			}
			facts = append(facts, f)
		}
	}
	t.meant1 = true
	t.inWords(text, func() { t.heard(hear.Heard{Facts: facts}) })
}

// countTold reports whether it is told how many of a piece there are.
func countTold(facts []hear.Fact) bool {
	return slices.ContainsFunc(facts, func(f hear.Fact) bool { return f.Count })
}

// allMore says that every one of those that are asked about is meant.
var allMore = regexp.MustCompile(`(?i)^\W*(?:(?:it'?s|that'?s|i mean|meant|the|yes|so|for|of) )*(?:all|both|each|every one|everyone)(?: of)?(?: (?:them|these|those|the|two|three|four|five|[2-9]|ropes?|blocks?|shackles?|slings?|trees?|one|same|pieces?))*\W*$`)

// severalMeant returns the pieces that are meant where it is more than one of those that
// are asked about.
func (t *turn) severalMeant(text string, names []string) []string {
	if len(names) < 2 || slices.ContainsFunc(names, func(n string) bool { return !strings.HasSuffix(n, "]") }) {
		return nil
	}
	if allMore.MatchString(text) {
		if strings.Contains(strings.ToLower(text), "both") && len(names) != 2 {
			return nil
		}
		return names
	}
	if found := t.alike1(text, names); len(found) > 1 && joinsTwo.MatchString(text) {
		var out []string
		for _, i := range found {
			out = append(out, names[i])
		}
		return out
	}
	return nil
}

// joinsTwo is what stands between two that are meant.
var joinsTwo = regexp.MustCompile(`(?i)\band\b|\bboth\b|[,&+]`)

// inOrder are the words that pick one by its place in what is asked.
var inOrder = regexp.MustCompile(`(?i)^\W*(?:(?:it'?s|that'?s|i mean|meant|the|yes|no|number) )*(?:(first|1st|former)|(second|2nd|latter)|(third|3rd)|(fourth|4th)|(last))(?: (?:one|named|rope|block|shackle|sling|tree|piece|of (?:them|those|these|the two)))*\W*$`)

// nthMeant returns the answer that is picked by its place in what is asked.
func nthMeant(text string, names []string) (string, bool) {
	m := inOrder.FindStringSubmatch(text)
	if m == nil {
		return "", false
	}
	n := slices.IndexFunc(m[1:], func(s string) bool { return s != "" })
	if n == 4 {
		n = len(names) - 1
	}
	if n >= len(names) || strings.EqualFold(m[2], "latter") && len(names) != 2 {
		return "", false
	}
	return names[n], true
}
