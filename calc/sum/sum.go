package sum

import (
	"fmt"
	"slices"
	"strings"

	"linetender/calc/handbook"
	"linetender/calc/job"
)

// kind is how a key's value is read.
type kind int

const (
	aMass   kind = iota
	aForce       // also as the mass it would lift
	aLength      //
	aSlope       // below 90°
	anAngle      // up to 180°
	aNumber      // a pure number or a share
	aCount       // a whole number
	aWord        // one of the key's words
	aList        // whole numbers
)

// letter is what a usage line shows for a value of the kind.
func (k kind) letter() string {
	switch k {
	case aMass, aForce, aLength:
		return "Q"
	case aSlope, anAngle:
		return "S"
	case aNumber:
		return "x"
	case aList:
		return "N,N"
	}
	return "N"
}

// A key is one argument of a sum.
type key struct {
	name   string
	kind   kind
	words  []string // that a key of words takes
	zero   bool     // zero is a value
	least  int      // of a count
	rating bool     // a capacity: a ton that does not say which counts at its low end
	named  bool     // has to be named in a sentence; another key may look the same
	before []string // other names it goes by in a sentence, before its value
	after  []string // or behind it: 2 legs, 3.5 m long
}

func (k key) usage() string {
	if k.kind == aWord {
		return k.name + "=" + strings.Join(k.words, "|")
	}
	return k.name + "=" + k.kind.letter()
}

// A form is one set of keys that a sum works with.
type form struct{ needs, takes []string }

func (f form) has(name string) bool {
	return slices.Contains(f.needs, name) || slices.Contains(f.takes, name)
}

// entry is one sum.
type entry struct {
	name    string
	about   string
	keys    []key
	forms   []form
	example string
	noise   []string // words in a sentence that say nothing more
	work    func(*sheet)
}

func (e *entry) key(name string) (key, bool) {
	for _, k := range e.keys {
		if k.name == name {
			return k, true
		}
	}
	return key{}, false
}

func (e *entry) usage() string {
	var ways []string
	for _, f := range e.forms {
		var parts []string
		for _, k := range e.keys {
			switch {
			case slices.Contains(f.needs, k.name):
				parts = append(parts, k.usage())
			case slices.Contains(f.takes, k.name):
				parts = append(parts, "["+k.usage()+"]")
			}
		}
		ways = append(ways, strings.Join(parts, " "))
	}
	return "sum " + e.name + " " + strings.Join(ways, " or ")
}

// such ends a refusal with a call that works.
func (e *entry) such() string { return fmt.Sprintf("such as sum %s %s", e.name, e.example) }

// Names returns the sums in the order of the package documentation.
func Names() []string {
	names := make([]string, len(entries))
	for i := range entries {
		names[i] = entries[i].name
	}
	return names
}

func find(name string) *entry {
	for i := range entries {
		if entries[i].name == name {
			return &entries[i]
		}
	}
	return nil
}

// Usage returns how a sum is called, what it answers and a call that works, one
// line each: Q is a quantity with its unit, S a slope or an angle, N a whole
// number, x a number. It is empty for a name that is no sum.
func Usage(name string) string {
	e := find(name)
	if e == nil {
		return ""
	}
	return fmt.Sprintf("%s\n%s\n%s", e.usage(), e.about, e.such())
}

func refuse(key, format string, args ...any) error {
	return &job.FieldError{Path: key, Problem: fmt.Sprintf(format, args...)}
}

func unknownName(name string) error {
	if near := job.Nearest(strings.ToLower(name), Names()); near != "" {
		return refuse("", "there is no sum %q; the nearest is %q", clip(name), near)
	}
	return refuse("", "there is no sum %q; there are %s", clip(name), strings.Join(Names(), ", "))
}

// Run works out one sum from its arguments, each written as in a case.
//
// Errors: *job.FieldError, one line that names the key and says what would be
// right; the zero Result with it.
func Run(name string, args map[string]string) (Result, error) {
	e := find(name)
	if e == nil {
		return Result{}, unknownName(name)
	}
	if err := e.choose(args); err != nil {
		return Result{}, err
	}
	s := &sheet{entry: e, args: args, out: Result{Name: name, Working: []Step{}}}
	e.work(s)
	if s.err != nil {
		return Result{}, s.err
	}
	s.out.Source = strings.Join(s.sources, "; ")
	return s.out, nil
}

// choose refuses arguments that make up no form of the sum.
func (e *entry) choose(args map[string]string) error {
	given := make([]string, 0, len(args))
	for name := range args {
		given = append(given, name)
	}
	slices.Sort(given)
	for _, name := range given {
		if _, ok := e.key(name); !ok {
			return e.unknownKey(name)
		}
	}
	// The form that takes most of what is given, then the one that needs least more.
	var best form
	fit, lacks := -1, 0
	for _, f := range e.forms {
		takes, needs := 0, 0
		for _, name := range given {
			if f.has(name) {
				takes++
			}
		}
		for _, name := range f.needs {
			if _, ok := args[name]; !ok {
				needs++
			}
		}
		if takes > fit || takes == fit && needs < lacks {
			best, fit, lacks = f, takes, needs
		}
	}
	for _, name := range given {
		if !best.has(name) {
			return refuse(name, "%s does not go with %s here; write %s, %s", name, others(given, name), e.usage(), e.such())
		}
	}
	for _, k := range e.keys {
		if _, ok := args[k.name]; !ok && slices.Contains(best.needs, k.name) {
			return refuse(k.name, "this is missing; write %s, %s", e.usage(), e.such())
		}
	}
	return nil
}

func (e *entry) unknownKey(name string) error {
	var known []string
	for _, k := range e.keys {
		known = append(known, k.name)
		if right, ok := strings.CutSuffix(k.name, "_working"); ok && name == right+"_breaking" {
			factor, _, _ := handbook.DesignFactor(right)
			return refuse(name, "a breaking strength is no working limit; divide it by %s, the design factor of a %s, and write %s",
				num(float64(factor)), right, k.usage())
		}
	}
	if near := job.Nearest(strings.ToLower(name), known); near != "" {
		return refuse(plain(name), "%s has no such key; the nearest is %q, %s", e.name, near, e.such())
	}
	return refuse(plain(name), "%s has no such key; it takes %s, %s", e.name, strings.Join(known, ", "), e.such())
}

func others(given []string, not string) string {
	var rest []string
	for _, name := range given {
		if name != not {
			rest = append(rest, name)
		}
	}
	return strings.Join(rest, " and ")
}

// plain quotes a name that is no plain word, so that a refusal stays on one line.
func plain(name string) string {
	if name == "" || strings.ContainsFunc(name, func(c rune) bool { return c != '_' && c != '-' && (c < 'a' || c > 'z') }) {
		return fmt.Sprintf("%q", clip(name))
	}
	return clip(name)
}

// shown is how many characters of a wrong word a refusal repeats.
const shown = 40

func clip(text string) string {
	if r := []rune(text); len(r) > shown {
		return string(r[:shown]) + "…"
	}
	return text
}
