package calc

import (
	"encoding/json"
	"maps"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/handbook"
	"linetender/calc/job"
)

// tellings are what a quantity of a kind may be told as, the ends of what is taken
// among them. The kinds are those that a sheet's own tags name.
var tellings = map[string][]string{
	"mass":   {"0.001 kg", "1 kg", "400 kg", "3 t", "12 t", "2 tons", "1 to 200 t", "150 t", "200 t"},
	"force":  {"1 N", "1 kg", "2 t", "60 kN", "2 to 9 kN", "900000000 kN", "900000000 t"},
	"length": {"0 m", "0.001 mm", "20 mm", "40 cm", "3 m", "2 to 40 m", "90 m", "9000 km"},
	"slope":  {"0 deg", "6 deg", "20 deg", "1 in 4", "level 48 in, gap 9 in", "0 to 60 deg", "89.9 deg"},
	"angle":  {"0 deg", "10 deg", "25 deg", "45 deg", "0 to 79 deg", "79.9 deg", "90 deg", "180 deg"},
	"share":  {"0", "0.000001", "0.5", "1"},
	"count":  {"1", "2", "7", "1000"}, "count0": {"0", "1", "2", "5", "1000"},
	"parts": {"1", "2", "3", "4", "9", "30"}, "leads": {"0", "1", "2", "30"},
	"bool": {"true", "false"}, "knots": {"none", "bowline", "reef", "sheepshank of no kind"},
}

// everyWord are all words that a field may want one of.
func everyWord() []string {
	out := slices.Concat(append(slices.Clone(wordsOf), job.HazardKinds, job.AnchorUses, job.SeenWhats, job.SeenAts, job.Sheaves, job.OffLineFroms, []string{"none"})...)
	for _, g := range handbook.Grounds() {
		out = append(out, string(g))
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// untried are fields whose answers say nothing that another's do not, or that
// make most sheets refused: a second way to tell a puller, who signs, names.
var untried = regexp.MustCompile(`^pullers|^signed|^sure$|name$|^seen\[0\]\.load`)

// answers are what a sheet's fields may be told: of each field what its tag
// reads, as far as a sheet takes it there. A star stands for each of the places
// in a list.
var answers = sync.OnceValue(func() map[string][]string {
	out := map[string][]string{"load.lip": {"", "none"}}
	words := everyWord()
	var walk func(path string, t reflect.Type)
	walk = func(path string, t reflect.Type) {
		for i := range t.NumField() {
			f := t.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			at, reads, ft := strings.TrimPrefix(path+"."+name, "."), f.Tag.Get("reads"), f.Type
			for ft.Kind() == reflect.Pointer {
				ft = ft.Elem()
			}
			switch {
			case name == "-" || untried.MatchString(at):
				continue
			case ft.Kind() == reflect.Struct:
				walk(at, ft)
				continue
			case ft.Kind() == reflect.Slice && ft.Elem().Kind() == reflect.Struct:
				walk(at+"[0]", ft.Elem())
				continue
			case ft.Kind() == reflect.Bool:
				reads = "bool"
			case name == "crew":
				reads = "count0"
			case name == "knots":
				reads = "knots"
			}
			values := tellings[reads]
			if reads == "word" || reads == "words" {
				values = words
			}
			if len(values) == 0 {
				panic("no answers for " + at + ", which reads " + reads)
			}
			field := at
			for _, list := range []string{"gear", "anchors"} {
				field = strings.Replace(field, list+"[0]", list+"[*]", 1)
			}
			for _, v := range append([]string{""}, values...) {
				if taken(at, v) {
					out[field] = append(out[field], v)
				}
			}
		}
	}
	walk("", reflect.TypeFor[job.Sheet]())
	return out
})

// taken reports whether a sheet takes an answer to a field.
func taken(field, answer string) bool {
	s, err := job.Decode([]byte(plainJob))
	if err != nil {
		panic(err)
	}
	if strings.HasPrefix(field, "seen[") {
		s.Seen = []job.SeenSheet{saw("reading", 2, "force=3 kN", "at=haul")}
	}
	if strings.HasSuffix(field, ".side_angle") {
		s.Gear[0].Kind = "shackle"
	}
	if s.Set(field, answer) != nil {
		return false
	}
	_, err = s.Case()
	return err == nil || !strings.HasPrefix(err.Error(), field+":") && !strings.HasPrefix(err.Error(), field+"[")
}

// Whatever a sheet says that is taken, it gets a plan that can be written,
// says why, and is never a go where a block fails.
func TestAnySheetGetsAPlan(t *testing.T) {
	lone(t)
	fields := slices.Sorted(maps.Keys(answers()))
	base := changed(t)
	seen, refused := map[Decision]int{}, 0
	rapid.Check(t, func(t *rapid.T) {
		s, err := base.Clone()
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(0, 12).Draw(t, "changes") {
			field := rapid.SampledFrom(fields).Draw(t, "field")
			answer := rapid.SampledFrom(answers()[field]).Draw(t, "answer")
			if list, _, ok := strings.Cut(field, "[*]"); ok {
				places := len(s.Gear)
				if list == "anchors" {
					places = len(s.Anchors)
				}
				field = strings.Replace(field, "*", rapid.SampledFrom([]string{"0", "1", "2", "3"}[:min(4, places)]).Draw(t, "place"), 1)
			}
			if strings.HasPrefix(field, "seen[") && len(s.Seen) == 0 { // most of what may be told of it needs a whole one
				s.Seen = []job.SeenSheet{saw("reading", 2, "force=3 kN", "at=haul")}
			}
			if err := s.Set(field, answer); err != nil {
				t.Fatalf("%s = %q: %v", field, answer, err)
			}
		}
		c, err := s.Case()
		if err != nil {
			refused++
			if line := err.Error(); line == "" || strings.Contains(line, "\n") {
				t.Fatalf("refused by %q", line)
			}
			return
		}
		p := Reckon(c)
		seen[p.Decision]++
		if _, err := json.Marshal(p); err != nil {
			t.Fatalf("write: %v", err)
		}
		if len(p.Why) < 1 || len(p.Why) > 3 {
			t.Fatalf("%s for %d reasons: %q", p.Decision, len(p.Why), p.Why)
		}
		for _, k := range p.Checks {
			if p.Decision == Go && k.Severity != Advice && (k.Result == Fail && !(k.Severity == SignOff && p.Conditional) || k.Result == Unknown && !k.OnSite) {
				t.Fatalf("a go with %s %s: %s", k.ID, k.Result, k.Text)
			}
			if strings.Contains(k.Text, "{") || strings.Contains(k.Text, "NaN") || strings.Contains(k.Text, "Inf") {
				t.Fatalf("%s reads %q", k.ID, k.Text)
			}
		}
	})
	t.Logf("%v, refused %d", seen, refused)
	planned := 0
	for _, n := range seen {
		planned += n
	}
	if len(seen) < 3 || refused > planned {
		t.Errorf("the sheets come to %v, and %d are refused", seen, refused)
	}
}
