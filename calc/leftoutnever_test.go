package calc

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/job"
)

// letOff are the fields that may turn a case to a go by being left out, with why. All
// others that a sheet may hold are tried, so that a new one can't be forgotten.
var letOff = []struct {
	field *regexp.Regexp
	why   string
}{
	{regexp.MustCompile(`^site\.`), "the list on the spot leaves a plan alone until it is answered, and keeps the pull"},
	{regexp.MustCompile(`^seen`), "evidence: left out, nobody saw anything"},
	{regexp.MustCompile(`^tackle\.(parts|haul_from|lead_blocks)$|\]\.use$`), "what is to be done: left out, the plan chooses"},
	{regexp.MustCompile(`\.kind$`), "what is left is another thing"},
	{regexp.MustCompile(`point\.count$`), "one point, which carries all"},
	{regexp.MustCompile(`^anchors\[\d\]\.rating$`), "of what is reckoned by its kind, what its owner allows besides"},
}

func mayFree(at string) bool {
	for _, f := range letOff {
		if f.field.MatchString(at) {
			return true
		}
	}
	return false
}

// baseJobs are rigs with everything told, of each kind of anchor, puller and line.
var baseJobs = []string{"", tree + treeSling, stump + treeSling, stakes + treeSling + "; puller.mass=1.5 t", lorry, buried + treeSling, winch, winch + "; puller.hitch=rated-point; puller.hitch_height=40 cm; puller.axle_height=60 cm", gang, pair,
	block2 + "; gear[5].side_angle=0 deg", onTree + "gear[5].rating=12 t; gear[5].sling_hitch=basket", "tackle.parts=1; tackle.haul_from=; gear[0].kind=chain; gear[0].material=; gear[0].rating=8 t"}

// eachPlace is every field that answers has, with a number for the star.
func eachPlace(s job.Sheet, all map[string][]string) []string {
	var out []string
	for _, field := range slices.Sorted(maps.Keys(all)) {
		n := 1
		if strings.HasPrefix(field, "gear[*]") {
			n = len(s.Gear)
		} else if strings.HasPrefix(field, "anchors[*]") {
			n = len(s.Anchors)
		}
		for i := range n {
			if at := strings.Replace(field, "*", fmt.Sprint(i), 1); !mayFree(at) {
				out = append(out, at)
			}
		}
	}
	return out
}

// decides is what a sheet comes to, and whether it can be read and nothing of it is odd.
func decides(s job.Sheet) (Decision, bool) {
	c, err := s.Case()
	if err != nil || len(c.Odd) > 0 {
		return "", false
	}
	return Decide(c), true
}

var starred = regexp.MustCompile(`\[\d\]`)

// A field left out never turns a no-go, a refer or an open plan into a go.
func TestAFieldLeftOutMakesNoGo(t *testing.T) {
	lone(t)
	all := answers()
	tried := map[string]int{}
	for n, base := range baseJobs {
		whole := changed(t, base)
		if d, _ := decides(whole); d != Go {
			t.Errorf("base %d is %s: %v", n, d, Reckon(read(t, whole)).Why)
		}
		for _, at := range eachPlace(whole, all) {
			left := changed(t, base)
			if left.Set(at, "") != nil {
				continue
			}
			if d, ok := decides(left); !ok || d != Go {
				continue
			}
			field := strings.Replace(at, starred.FindString(at), "[*]", 1)
			if starred.FindString(at) == "" {
				field = at
			}
			for _, v := range all[field] {
				s := changed(t, base)
				if v == "" || s.Set(at, v) != nil {
					continue
				}
				d, ok := decides(s)
				if !ok {
					continue
				}
				if tried[field]++; d != Go {
					t.Errorf("base %d with %s %s is %s, and a go with it left out: %v", n, at, v, d, Reckon(read(t, s)).Why)
				}
			}
		}
	}
	if len(tried) < 20 {
		t.Errorf("only %d fields were held against themselves left out", len(tried))
	}
}

// Nor do several at once.
func TestFieldsLeftOutMakeNoGo(t *testing.T) {
	lone(t)
	all := answers()
	worse := 0
	rapid.Check(t, func(r *rapid.T) {
		base := rapid.SampledFrom(baseJobs).Draw(r, "base")
		s := changed(t, base)
		places := eachPlace(s, all)
		var out []string
		for range rapid.IntRange(1, 3).Draw(r, "fields") {
			at := rapid.SampledFrom(places).Draw(r, "field")
			field := at
			if in := starred.FindString(at); in != "" {
				field = strings.Replace(at, in, "[*]", 1)
			}
			if s.Set(at, rapid.SampledFrom(all[field]).Draw(r, "told")) == nil {
				out = append(out, at)
			}
		}
		d, ok := decides(s)
		if !ok || d == Go {
			return
		}
		worse++
		for _, at := range out {
			if s.Set(at, "") != nil {
				return
			}
		}
		if left, ok := decides(s); ok && left == Go {
			r.Fatalf("%s, and a go with %v left out", d, out)
		}
	})
	if worse == 0 {
		t.Error("no case drawn was worse than a go")
	}
}
