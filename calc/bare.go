package calc

import (
	_ "embed"
	"regexp"
	"strings"
)

//go:embed bare.csv
var bareTable []byte

// bare is what is said of a check without its figures, where leaving them out of
// its sentence leaves nothing: by its key and result.
var bare = func() map[[2]string]string {
	out := map[[2]string]string{}
	for _, r := range table("bare.csv", bareTable) {
		if rules[r[0]] == nil {
			panic("calc: bare.csv: no check " + r[0])
		}
		out[[2]string{r[0], r[1]}] = r[2]
	}
	return out
}()

// aFigure is a number with a unit that a pull is reckoned in. A rope's name may
// have its thickness in it.
var aFigure = regexp.MustCompile(`(^|[^a-zA-Z])[0-9][0-9.,]* ?(kN|N|lbf|lb|kg|t|deg|%|m|ft)($|[^a-zA-Z])|^[0-9.,]+$`)

// words is text without any figure: only the clauses that no number was put
// into, or what bare.csv has where none is left. A number would invite a pull.
func (f finding) words() string {
	t := f.rule.says(f.result)
	if own, ok := bare[[2]string{key(f.rule.id, f.rule.variant), string(f.result)}]; ok {
		t = own
	}
	t = strings.ReplaceAll(t, "within {1}", "within the limit")
	var kept []string
	for _, sentence := range strings.SplitAfter(t, ". ") {
		for _, clause := range strings.Split(strings.TrimRight(sentence, ". "), ": ") {
			for i, a := range f.args {
				if !aFigure.MatchString(a) {
					clause = filledAt(clause, i, a)
				}
			}
			clause = strings.TrimRight(clause, ". ")
			if clause != "" && !strings.Contains(clause, "{") {
				if !strings.HasSuffix(clause, "?") {
					clause += "."
				}
				kept = append(kept, strings.ToUpper(clause[:1])+clause[1:])
			}
		}
	}
	if len(kept) == 0 {
		return map[Result]string{Pass: "It passes.", Fail: "It fails.", Unknown: "It is not known."}[f.result]
	}
	return strings.Join(kept, " ")
}
