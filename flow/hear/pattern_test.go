package hear

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// textedTexts are the messages of ../testdata/texted.txt, one or more.
func textedTexts(t testing.TB) []string {
	t.Helper()
	body, err := os.ReadFile("../testdata/texted.txt")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for l := range strings.Lines(string(body)) {
		if _, text, ok := strings.Cut(l, " | "); ok && strings.HasPrefix(l, "> ") {
			out = append(out, strings.TrimSuffix(text, "\n"))
		}
	}
	if len(out) == 0 {
		t.Fatal("no message in ../testdata/texted.txt")
	}
	return out
}

// same holds a pattern against its expression.
func (p *Pattern) same(t *testing.T, text string) {
	t.Helper()
	if got, want := p.MatchString(text), p.Regexp().MatchString(text); got != want {
		t.Fatalf("%q matches %q: %v; its expression says %v (it looks for %q)", p, text, got, want, p.Needs())
	}
	if got, want := p.ReplaceAllString(text, "<$0>"), p.Regexp().ReplaceAllString(text, "<$0>"); got != want {
		t.Fatalf("%q in %q: %q; its expression makes it %q (it looks for %q)", p, text, got, want, p.Needs())
	}
	if got, want := strings.Join(p.FindStringSubmatch(text), "|"), strings.Join(p.Regexp().FindStringSubmatch(text), "|"); got != want {
		t.Fatalf("%q in %q: %q; its expression finds %q (it looks for %q)", p, text, got, want, p.Needs())
	}
	if got, want := p.FindString(text), p.Regexp().FindString(text); got != want {
		t.Fatalf("%q in %q: %q; its expression finds %q (it looks for %q)", p, text, got, want, p.Needs())
	}
	if got, want := p.FindStringIndex(text), p.Regexp().FindStringIndex(text); !slices.Equal(got, want) {
		t.Fatalf("%q in %q: at %d; its expression finds it at %d (it looks for %q)", p, text, got, want, p.Needs())
	}
}

// lookedFor are texts that hold what a pattern looks for: each by itself, and one of
// each set behind the other.
func (p *Pattern) lookedFor() []string {
	var out []string
	for _, set := range p.Needs() {
		for i, n := range set {
			all := n
			for _, other := range p.Needs() {
				all += " " + other[i%len(other)]
			}
			out = append(out, n, all)
		}
	}
	return out
}

// Every pattern answers as its expression does, to all that people were seen to
// write and to all that it looks for.
func TestPatternsAnswerAsTheirExpressions(t *testing.T) {
	if raced {
		t.Skip("one goroutine: nothing for the race detector")
	}
	texts := []string{"", "a", "?", "\xff"}
	for _, text := range textedTexts(t) {
		texts = append(texts, text, strings.ToLower(text))
	}
	if len(danger) == 0 {
		t.Fatal("no forms")
	}
	for _, p := range slices.Clone(listed.all) {
		for i, text := range append(texts, p.lookedFor()...) {
			if !p.May(text) && p.Regexp().MatchString(text) {
				t.Fatalf("%q matches %q and is said to hold not what that needs: %q", p, text, p.Needs())
			}
			if i%97 == 0 || i < 4 {
				p.same(t, text) // all ways to ask it look first in the same way
			}
		}
	}
}

// What is needed is taken from the expression, what tells most first.
func TestNeeded(t *testing.T) {
	for _, c := range []struct{ expression, needs string }{
		{`\b(rope|line)s?\b`, "line rope"},
		{`\b(a|the)\b.*\b(brake|chock)\b`, "brake chock"},
		{`\b(man|child)\b[^.]*\bby\b(?: the| a)? (?:rope|line)|\bget back\b.*\bcoming\b`, "by a line by a rope by line by rope by the line by the rope get back; child coming man"},
		{`^(?:ok[ ,]+)*(?:stop|halt)`, "halt stop"},
		{`colou?r`, "color colour"},
		{`(?:ab)+x{2,3}`, "ab; xx"},
		{`gr[ae]y|\?\s*$`, "? gray grey"},
		{`\w{3,}ing`, "ing"},
		{`\b(hand|handle)\b`, "hand"},
		{`x*`, ""},
		{`^$`, ""},
		{`rope|`, ""},
		{`\d+ m`, " m"},
		{`(?i)rope`, "rope"},
		{`(?i)Rope|\bLINE`, "line rope"},
		{`(?i)é`, ""},
		{`Rope|(?i:line)`, "line rope"},
		{`[^a]`, ""},
		{`[\x{FFFC}-\x{FFFE}]`, ""},
	} {
		var got []string
		for _, set := range Expression(c.expression).Needs() {
			got = append(got, strings.Join(set, " "))
		}
		if strings.Join(got, "; ") != c.needs {
			t.Errorf("%q needs %q, want %q", c.expression, got, c.needs)
		}
	}
}

// FuzzPattern holds a pattern made of any expression against the expression.
func FuzzPattern(f *testing.F) {
	rows := textedTexts(f)
	i := 0
	for _, p := range danger {
		f.Add(p.String(), rows[i*31%len(rows)])
		i++
	}
	for _, s := range []string{`(a|b)?c+[x-z]{0,3}d`, `(?i)rope|line`, `a{2,}b|\?$`, `(?s).*x|[^y]z`, "\xff", `[\x{FFFC}-\x{FFFE}]a`} {
		f.Add(s, "abcxd rope?\xff")
	}
	f.Fuzz(func(t *testing.T, text, words string) {
		if _, err := regexp.Compile(text); err != nil || len(text) > 4000 || len(words) > 1000 {
			return
		}
		p := Expression(text)
		p.same(t, words)
		p.same(t, strings.ToLower(words))
		for _, n := range p.lookedFor() {
			p.same(t, words+n)
		}
	})
}
