package hear

import (
	"cmp"
	"regexp"
	"regexp/syntax"
	"slices"
	"strings"
	"unicode/utf8"
)

// A Pattern is an expression that knows which letters every text it matches must
// hold, so that a text which holds none of them is not read by it. Most of what
// people write matches none of the many expressions it is held against. What a
// Pattern answers is what its expression would: the letters are taken out of the
// expression itself, and only to say no.
//
// The methods that are not written here are the expression's own.
type Pattern struct {
	*regexp.Regexp

	// needs are the letters, one of which is in every text that matches, by their
	// first byte; from[c] to from[c+1] are those that begin with c. Empty where
	// nothing is known of them.
	needs []string
	from  [257]uint16
}

// Expression compiles a pattern. It panics where regexp.MustCompile does.
func Expression(text string) *Pattern {
	p := &Pattern{Regexp: regexp.MustCompile(text)}
	tree, err := syntax.Parse(text, syntax.Perl)
	if err != nil {
		panic("hear: expression: " + err.Error()) // it was compiled
	}
	p.needs = needed(tree.Simplify())
	for _, n := range p.needs {
		p.from[int(n[0])+1]++
	}
	for c := range 256 {
		p.from[c+1] += p.from[c]
	}
	return p
}

// Needs returns the letters of which every text that matches holds one; none where nothing is known.
func (p *Pattern) Needs() []string { return p.needs }

// May reports whether s holds what a match needs.
func (p *Pattern) May(s string) bool {
	if len(p.needs) == 0 {
		return true
	}
	for i := range len(s) {
		for _, n := range p.needs[p.from[s[i]]:p.from[int(s[i])+1]] {
			if strings.HasPrefix(s[i:], n) {
				return true
			}
		}
	}
	return false
}

// MatchString is that of the expression.
func (p *Pattern) MatchString(s string) bool { return p.May(s) && p.Regexp.MatchString(s) }

// ReplaceAllString is that of the expression.
func (p *Pattern) ReplaceAllString(s, with string) string {
	if !p.May(s) {
		return s
	}
	return p.Regexp.ReplaceAllString(s, with)
}

// FindStringSubmatch is that of the expression.
func (p *Pattern) FindStringSubmatch(s string) []string {
	if !p.May(s) {
		return nil
	}
	return p.Regexp.FindStringSubmatch(s)
}

// mostWays is how many ways of writing a part of an expression are followed, and
// mostNeeds how many letters are looked for before the expression itself is as quick.
const (
	mostWays  = 64
	mostNeeds = 256
)

// needed returns texts of which every match holds one; nil where there are none
// such. None of them is empty or holds another.
func needed(tree *syntax.Regexp) []string {
	p := partOf(tree)
	needs := better(p.ways, p.needs)
	if len(needs) > mostNeeds || slices.Contains(needs, "") {
		return nil
	}
	needs = slices.DeleteFunc(slices.Clone(needs), func(n string) bool {
		return slices.ContainsFunc(needs, func(m string) bool { return m != n && strings.Contains(n, m) })
	})
	slices.Sort(needs)
	return slices.Compact(needs)
}

// A part is what is known of a part of an expression: all that it can match,
// where that is a few texts, and texts of which all it matches holds one.
// Either is nil where it is not known.
type part struct{ ways, needs []string }

func partOf(tree *syntax.Regexp) part {
	switch tree.Op {
	case syntax.OpEmptyMatch, syntax.OpBeginLine, syntax.OpEndLine, syntax.OpBeginText, syntax.OpEndText, syntax.OpWordBoundary, syntax.OpNoWordBoundary:
		return part{ways: []string{""}}
	case syntax.OpLiteral:
		if tree.Flags&syntax.FoldCase == 0 && !slices.Contains(tree.Rune, utf8.RuneError) {
			return part{ways: []string{string(tree.Rune)}}
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
		p := partOf(tree.Sub[0])
		return part{needs: better(p.ways, p.needs)}
	case syntax.OpAlternate:
		return anyOf(tree.Sub)
	case syntax.OpConcat:
		return allOf(tree.Sub)
	}
	return part{}
}

// anyOf is a part that is one of several.
func anyOf(subs []*syntax.Regexp) part {
	all := part{ways: []string{}, needs: []string{}}
	for _, sub := range subs {
		p := partOf(sub)
		if p.ways == nil {
			all.ways = nil
		} else if all.ways != nil {
			all.ways = append(all.ways, p.ways...)
		}
		if needs := better(p.ways, p.needs); needs == nil {
			all.needs = nil
		} else if all.needs != nil {
			all.needs = append(all.needs, needs...)
		}
	}
	if len(all.ways) > mostWays {
		all.ways = nil
	}
	return all
}

// allOf is a part that is several, one after the other. Where what they match
// together gets too much to follow, the run ends there and another begins.
func allOf(subs []*syntax.Regexp) part {
	run, whole := []string{""}, true
	var needs []string
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
		needs, whole = better(better(needs, run), better(p.ways, p.needs)), false
		if run = p.ways; run == nil {
			run = []string{""}
		}
	}
	if whole {
		return part{ways: run}
	}
	return part{needs: better(needs, run)}
}

// better returns which of two sets of texts tells more: it is found in fewer
// texts, the longer its shortest is and the fewer it has. One that is nil or has
// the empty text tells nothing.
func better(a, b []string) []string {
	worth := func(set []string) (least int) {
		for i, s := range set {
			if i == 0 || len(s) < least {
				least = len(s)
			}
		}
		return least
	}
	wa, wb := worth(a), worth(b)
	switch {
	case wa == 0 && wb == 0:
		return nil
	case cmp.Or(cmp.Compare(wb, wa), cmp.Compare(len(a), len(b))) <= 0:
		return a
	}
	return b
}
