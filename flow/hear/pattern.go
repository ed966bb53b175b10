package hear

import (
	"cmp"
	"regexp"
	"regexp/syntax"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"
)

// A Pattern is an expression that knows which letters every text it matches must
// hold, so that a text which holds none of them is not read by it. Most of what
// people write matches none of the many expressions it is held against. What a
// Pattern answers is what its expression would: the letters are taken out of the
// expression itself, and only to say no.
//
// It is compiled when it is first asked: a program that is only to plan a case, or to
// show a log, hears nobody, and to compile all that is listened for was most of its start.
// What is to answer at once calls [Ready] before it listens.
type Pattern struct {
	text string
	read sync.Once
	re   *regexp.Regexp

	// fold says that some of it is written either way, large or small. Then all that is
	// needed stands in small letters, and is looked for in the text in small letters.
	fold bool

	// needs are sets of letters; every text that matches holds one of each.
	needs []spellings

	// ways are the ways of matching, each the sets that a text which matches so holds
	// one of each of; none where there is one way, or a way that needs nothing. A list
	// of forms needs little as a whole, each of its forms much.
	ways [][][]string
}

// spellings are texts one of which is looked for.
type spellings struct {
	texts []string    // in order
	from  [257]uint16 // from[c] to from[c+1] are those that begin with the byte c
}

// Expression makes a pattern of an expression of package regexp. One that is none panics
// when it is first asked.
func Expression(text string) *Pattern {
	p := &Pattern{text: text}
	listed.Lock()
	defer listed.Unlock()
	listed.all = append(listed.all, p)
	return p
}

// listed are all patterns, for Ready.
var listed struct {
	sync.Mutex
	all []*Pattern
}

// Ready compiles all patterns there are, so that who is heard first waits no longer
// than who comes after.
func Ready() {
	listed.Lock()
	defer listed.Unlock()
	for _, p := range listed.all {
		p.read.Do(p.compile)
	}
}

// Regexp is the expression itself.
func (p *Pattern) Regexp() *regexp.Regexp {
	p.read.Do(p.compile)
	return p.re
}

func (p *Pattern) compile() {
	p.re = regexp.MustCompile(p.text)
	tree, err := syntax.Parse(p.text, syntax.Perl)
	if err != nil {
		panic("hear: expression: " + err.Error()) // it was compiled
	}
	tree = tree.Simplify()
	p.fold = folds(tree)
	p.ways = waysOf(tree, p.fold)
	for _, texts := range needed(tree, p.fold) {
		l := spellings{texts: texts}
		for _, n := range texts {
			l.from[int(n[0])+1]++
		}
		for c := range 256 {
			l.from[c+1] += l.from[c]
		}
		p.needs = append(p.needs, l)
	}
}

// String is the text of the expression.
func (p *Pattern) String() string { return p.text }

// Needs returns sets of letters, of each of which every text that matches holds one;
// none where nothing is known.
func (p *Pattern) Needs() [][]string {
	p.read.Do(p.compile)
	var out [][]string
	for _, l := range p.needs {
		out = append(out, l.texts)
	}
	return out
}

// May reports whether s holds what a match needs.
func (p *Pattern) May(s string) bool {
	p.read.Do(p.compile)
	if p.fold {
		if s = strings.ToLower(s); strings.Contains(s, "ſ") { // an s to the expression
			return true
		}
	}
	for i := range p.needs {
		if !p.needs[i].in(s) {
			return false
		}
	}
	return len(p.ways) == 0 || slices.ContainsFunc(p.ways, func(sets [][]string) bool {
		return !slices.ContainsFunc(sets, func(texts []string) bool {
			return !slices.ContainsFunc(texts, func(n string) bool { return strings.Contains(s, n) })
		})
	})
}

// in reports whether s holds one of the letters.
func (l *spellings) in(s string) bool {
	for i := range len(s) {
		for _, n := range l.texts[l.from[s[i]]:l.from[int(s[i])+1]] {
			if strings.HasPrefix(s[i:], n) {
				return true
			}
		}
	}
	return false
}

// MatchString is that of the expression.
func (p *Pattern) MatchString(s string) bool { return p.May(s) && p.re.MatchString(s) }

// ReplaceAllString is that of the expression.
func (p *Pattern) ReplaceAllString(s, with string) string {
	if !p.May(s) {
		return s
	}
	return p.re.ReplaceAllString(s, with)
}

// ReplaceAllStringFunc is that of the expression.
func (p *Pattern) ReplaceAllStringFunc(s string, with func(string) string) string {
	if !p.May(s) {
		return s
	}
	return p.re.ReplaceAllStringFunc(s, with)
}

// FindString is that of the expression.
func (p *Pattern) FindString(s string) string {
	if !p.May(s) {
		return ""
	}
	return p.re.FindString(s)
}

// FindStringIndex is that of the expression.
func (p *Pattern) FindStringIndex(s string) []int {
	if !p.May(s) {
		return nil
	}
	return p.re.FindStringIndex(s)
}

// FindStringSubmatch is that of the expression.
func (p *Pattern) FindStringSubmatch(s string) []string {
	if !p.May(s) {
		return nil
	}
	return p.re.FindStringSubmatch(s)
}

// FindStringSubmatchIndex is that of the expression.
func (p *Pattern) FindStringSubmatchIndex(s string) []int {
	if !p.May(s) {
		return nil
	}
	return p.re.FindStringSubmatchIndex(s)
}

// FindAllStringSubmatch is that of the expression.
func (p *Pattern) FindAllStringSubmatch(s string, n int) [][]string {
	if !p.May(s) {
		return nil
	}
	return p.re.FindAllStringSubmatch(s, n)
}

// mostWays is how many ways of writing a part of an expression are followed,
// mostNeeds how many texts are looked for before the expression itself is as quick,
// mostSigns how many where a single sign is among them, mostSets in how many sets, and
// mostForms how many forms of an expression are told apart.
const (
	mostWays  = 64
	mostNeeds = 256
	mostSigns = 32
	mostSets  = 3
	mostForms = 128
)

// waysOf returns what is needed of each form that an expression can take.
func waysOf(tree *syntax.Regexp, fold bool) [][][]string {
	forms := formsOf(tree)
	if len(forms) < 2 || len(forms) > mostForms {
		return nil
	}
	var out [][][]string
	for _, f := range forms {
		needs := needed(f, fold)
		if len(needs) == 0 {
			return nil
		}
		out = append(out, needs)
	}
	return out
}

// formsOf returns expressions one of which matches whatever the whole does: its
// choices, also behind what is common to them, which the parser takes before.
func formsOf(tree *syntax.Regexp) []*syntax.Regexp {
	switch tree.Op {
	case syntax.OpCapture:
		return formsOf(tree.Sub[0])
	case syntax.OpAlternate:
		var out []*syntax.Regexp
		for _, sub := range tree.Sub {
			out = append(out, formsOf(sub)...)
		}
		return out
	case syntax.OpConcat:
		last := len(tree.Sub) - 1
		forms := formsOf(tree.Sub[last])
		if len(forms) < 2 {
			break
		}
		var out []*syntax.Regexp
		for _, form := range forms {
			sub := slices.Clone(tree.Sub)
			sub[last] = form
			out = append(out, &syntax.Regexp{Op: syntax.OpConcat, Flags: tree.Flags, Sub: sub})
		}
		return out
	}
	return []*syntax.Regexp{tree}
}

// folds reports whether some of an expression is written either way.
func folds(tree *syntax.Regexp) bool {
	return tree.Op == syntax.OpLiteral && tree.Flags&syntax.FoldCase != 0 || slices.ContainsFunc(tree.Sub, folds)
}

// needed returns sets of texts; every match holds one of each, where fold says so in
// small letters. None of the texts is empty or holds another of its set.
func needed(tree *syntax.Regexp, fold bool) [][]string {
	var out [][]string
	for _, needs := range partOf(tree).sets() {
		if fold {
			needs = slices.Clone(needs)
			for i := range needs {
				needs[i] = strings.ToLower(needs[i])
			}
			slices.Sort(needs)
			needs = slices.Compact(needs)
		}
		needs = slices.DeleteFunc(slices.Clone(needs), func(n string) bool {
			return slices.ContainsFunc(needs, func(m string) bool { return m != n && strings.Contains(n, m) })
		})
		slices.Sort(needs)
		out = append(out, slices.Compact(needs))
	}
	return out
}

// A part is what is known of a part of an expression: all that it can match,
// where that is a few texts, nil where it is not known; and sets of texts, of each
// of which all that it matches holds one.
type part struct {
	ways  []string
	needs [][]string
}

// sets are the sets of texts that all which a part matches holds one of, those
// first that tell most: they are found in fewer texts, the longer their shortest is
// and the fewer they have.
func (p part) sets() [][]string {
	all := p.needs
	if p.ways != nil {
		all = [][]string{p.ways}
	}
	all = slices.DeleteFunc(slices.Clone(all), func(set []string) bool {
		least := shortest(set)
		return least == 0 || len(set) > mostNeeds || least == 1 && len(set) > mostSigns
	})
	slices.SortStableFunc(all, func(a, b []string) int {
		return cmp.Or(cmp.Compare(shortest(b), shortest(a)), cmp.Compare(len(a), len(b)))
	})
	for i := range all {
		if i == mostSets || i > 0 && shortest(all[i]) < 2 {
			return all[:i]
		}
	}
	return all
}

// shortest is how long the shortest of some texts is.
func shortest(set []string) int {
	least := 0
	for i, s := range set {
		if i == 0 || len(s) < least {
			least = len(s)
		}
	}
	return least
}

func partOf(tree *syntax.Regexp) part {
	switch tree.Op {
	case syntax.OpEmptyMatch, syntax.OpBeginLine, syntax.OpEndLine, syntax.OpBeginText, syntax.OpEndText, syntax.OpWordBoundary, syntax.OpNoWordBoundary:
		return part{ways: []string{""}}
	case syntax.OpLiteral:
		text := string(tree.Rune)
		if tree.Flags&syntax.FoldCase != 0 {
			if text = strings.ToLower(text); slices.ContainsFunc(tree.Rune, func(r rune) bool { return r >= utf8.RuneSelf }) {
				return part{} // some fold to more than two letters
			}
		}
		if !slices.Contains(tree.Rune, utf8.RuneError) {
			return part{ways: []string{text}}
		}
	case syntax.OpCharClass:
		var ways []string
		for i := 0; i < len(tree.Rune); i += 2 {
			for r := tree.Rune[i]; r <= tree.Rune[i+1]; r++ {
				if ways = append(ways, string(r)); len(ways) > mostWays || r == utf8.RuneError { // which bytes that are none match too
					return part{}
				}
			}
		}
		return part{ways: ways}
	case syntax.OpCapture:
		return partOf(tree.Sub[0])
	case syntax.OpQuest:
		if p := partOf(tree.Sub[0]); p.ways != nil {
			return part{ways: append([]string{""}, p.ways...)}
		}
	case syntax.OpPlus:
		return part{needs: partOf(tree.Sub[0]).sets()}
	case syntax.OpAlternate:
		return anyOf(tree.Sub)
	case syntax.OpConcat:
		return allOf(tree.Sub)
	}
	return part{}
}

// anyOf is a part that is one of several. It needs one of what each of them needs
// most, and one of what each needs next; of one that needs no more, the same again.
func anyOf(subs []*syntax.Regexp) part {
	all := part{ways: []string{}}
	var each [][][]string
	most := 0
	for _, sub := range subs {
		p := partOf(sub)
		if p.ways == nil {
			all.ways = nil
		} else if all.ways != nil {
			all.ways = append(all.ways, p.ways...)
		}
		each = append(each, p.sets())
		most = max(most, len(each[len(each)-1]))
	}
	if len(all.ways) > mostWays {
		all.ways = nil
	}
	for k := range most {
		var needs []string
		for _, sets := range each {
			if len(sets) == 0 {
				return all
			}
			needs = append(needs, sets[min(k, len(sets)-1)]...)
		}
		slices.Sort(needs)
		all.needs = append(all.needs, slices.Compact(needs))
	}
	return all
}

// allOf is a part that is several, one after the other. Where what they match
// together gets too much to follow, the run ends there and another begins.
func allOf(subs []*syntax.Regexp) part {
	run, whole := []string{""}, true
	var needs [][]string
	for _, sub := range subs {
		p := partOf(sub)
		if p.ways != nil && len(run)*len(p.ways) <= mostWays {
			next := make([]string, 0, len(run)*len(p.ways))
			for _, before := range run {
				for _, after := range p.ways {
					next = append(next, before+after)
				}
			}
			run = next
			continue
		}
		needs, whole = append(needs, run), false
		if run = p.ways; run == nil {
			needs, run = append(needs, p.needs...), []string{""}
		}
	}
	if whole {
		return part{ways: run}
	}
	return part{needs: append(needs, run)}
}
