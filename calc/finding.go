package calc

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
)

//go:embed check.csv
var checkTable []byte

// rule is one row of the check table: what a check means, how bad its failing
// is and what is said of it. Order in the table is how decisive it is.
type rule struct {
	id, variant, severity   string
	pass, fail, unknown, of string
	rank                    int
}

// says is what is said of a result, with places for figures.
func (r *rule) says(result Result) string {
	switch result {
	case Pass:
		return r.pass
	case Fail:
		return r.fail
	}
	return r.unknown
}

const severityRefer = "refer"

var rules = func() map[string]*rule {
	out := map[string]*rule{}
	for i, r := range table("check.csv", checkTable) {
		out[key(r[0], r[1])] = &rule{id: r[0], variant: r[1], severity: r[2], pass: r[3], fail: r[4], unknown: r[5], of: r[6], rank: i}
	}
	return out
}()

// table reads an embedded table without its heading.
func table(name string, text []byte) [][]string {
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		panic("calc: " + name + ": " + err.Error())
	}
	return rows[1:]
}

func key(id, variant string) string {
	if variant == "" {
		return id
	}
	return id + "/" + variant
}

// CheckSource returns where a check of the list is from: by its id and, where
// several go by one, its variant, as in R13/led. It is empty for none.
func CheckSource(check string) string {
	if r := rules[check]; r != nil {
		return r.of
	}
	return ""
}

// finding is one check's outcome, its words not yet made: a search weighs
// many and shows few.
type finding struct {
	rule   *rule
	result Result
	onSite bool
	args   []string
	fields []string
	pieces []string // that a signature for it must name, word for word
}

func (f finding) fails(severity string) bool {
	return f.result == Fail && f.rule.severity == severity
}

// opens reports whether f keeps a plan from being a go by not being known.
func (f finding) opens() bool {
	return f.result == Unknown && !f.onSite && f.rule.severity != string(Advice)
}

// follows reports whether what leaves f open is what another check asks for in
// its own words: the puller's most and a piece's strength tell more than that.
func (f finding) follows() bool { return f.rule.id == "R4" && f.result == Unknown }

func (f finding) text() string {
	return filled(f.rule.says(f.result), f.args)
}

// filled puts args in the places {0}, {1} and so on of a text.
func filled(text string, args []string) string {
	for i, a := range args {
		text = filledAt(text, i, a)
	}
	return text
}

func filledAt(text string, i int, arg string) string {
	return strings.ReplaceAll(text, "{"+strconv.Itoa(i)+"}", arg)
}

func (f finding) check() Check {
	s := Severity(f.rule.severity)
	if s == severityRefer {
		s = Block
	}
	return Check{ID: f.rule.id, Severity: s, Result: f.result, OnSite: f.onSite, Text: f.text(), Source: f.rule.of, Fields: f.fields, Pieces: f.pieces}
}

// findings is a go/no-go list in the making. A brief one keeps what the checks
// come to and none of the words: of the many rigs that are weighed few are
// shown.
type findings struct {
	list  []finding
	brief bool
}

// add adds a finding. An argument is a string, a count or what is [said] of a
// figure.
func (fs *findings) add(k string, r Result, args ...any) *finding {
	row, ok := rules[k]
	if !ok {
		panic("calc: no check " + k)
	}
	f := finding{rule: row, result: r}
	if !fs.brief {
		f.args = written(args)
		if r == Fail {
			setApart(f.args, args)
		}
	}
	fs.list = append(fs.list, f)
	return &fs.list[len(fs.list)-1]
}

// written makes the words of arguments. It copies what it keeps, so that those
// of a brief list cost nothing.
func written(args []any) []string {
	if len(args) == 0 {
		return nil
	}
	out := make([]string, len(args))
	for i, a := range args {
		switch v := a.(type) {
		case string:
			out[i] = v
		case int:
			out[i] = strconv.Itoa(v)
		case said:
			out[i] = v.String()
		default:
			panic("calc: an argument of a check that is no text, count or figure")
		}
	}
	return out
}

// setApart writes figures of a failing comparison anew where two of them that
// differ came out alike.
func setApart(texts []string, args []any) {
	for i := range args {
		for j := range args[:i] {
			a, ok := args[j].(said)
			if b, also := args[i].(said); ok && also && alike(texts[i], texts[j]) && a.v != b.v {
				texts[j], texts[i] = apart(a, b)
			}
		}
	}
}

// of names fields of the case, which a brief list has no use for.
func (fs *findings) of(path string, fields ...string) []string {
	if fs.brief {
		return nil
	}
	out := make([]string, len(fields))
	for i, f := range fields {
		out[i] = path + f
	}
	return out
}

// judge adds a pass or a fail.
func (fs *findings) judge(k string, ok bool, args ...any) *finding {
	if ok {
		return fs.add(k, Pass, args...)
	}
	return fs.add(k, Fail, args...)
}

// ask adds an unknown that names what would settle it.
func (fs *findings) ask(k string, fields []string, args ...any) {
	f := fs.add(k, Unknown, args...)
	if !fs.brief { // copied, so that what a brief list is told costs nothing
		f.fields = slices.Clone(fields)
	}
}

// site adds what only people on the spot can answer: good says which answer
// passes.
func (fs *findings) site(k string, answer *bool, good bool, field string, args ...any) {
	if answer == nil {
		f := fs.add(k, Unknown, args...)
		f.onSite, f.fields = true, fs.of("", field)
		return
	}
	fs.judge(k, *answer == good, args...).onSite = true
}

// verdict is what a list of findings comes to.
type verdict struct {
	decision Decision
	signOffs []string // failing sign-offs by id
	unsigned []string // those of them that nobody signed
	blocks   int
	unknowns int
}

func (fs findings) verdict(signed func(f finding) bool, most int) verdict {
	v := verdict{decision: Go}
	refer := false
	for _, f := range fs.list {
		switch {
		case f.fails(severityRefer):
			refer = true
		case f.fails(string(Block)):
			v.blocks++
		case f.fails(string(SignOff)):
			if !slices.Contains(v.signOffs, f.rule.id) {
				v.signOffs = append(v.signOffs, f.rule.id)
				if !signed(f) {
					v.unsigned = append(v.unsigned, f.rule.id)
				}
			}
		case f.opens():
			v.unknowns++
		}
	}
	switch {
	case refer || len(v.signOffs) > most:
		v.decision = Refer
	case v.blocks > 0:
		v.decision = NoGo
	case v.unknowns > 0:
		v.decision = Open
	}
	return v
}

// settle moves the last finding to where it belongs among the others, which
// are in order.
func (fs findings) settle() {
	l := fs.list
	for i := len(l) - 1; i > 0 && l[i].rule.rank < l[i-1].rule.rank; i-- {
		l[i], l[i-1] = l[i-1], l[i]
	}
}

// order sorts by how decisive a check is, keeping the order within one.
func (fs findings) order() {
	slices.SortStableFunc(fs.list, func(a, b finding) int { return a.rule.rank - b.rule.rank })
}
