package flow_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/flow"
)

// wordy are the fields of a sheet that take words or a yes, with all that each takes.
func wordy(t *testing.T, s job.Sheet) map[string][]string {
	t.Helper()
	var words []string
	for _, list := range [][]string{job.Pulls, job.Depths, job.TowPoints, job.RatingKinds, job.PullerKinds, job.Hitches, job.HaulFroms, job.Sheaves, job.AnchorKinds,
		job.AnchorUses, job.Patterns, job.Soils, job.GearKinds, job.GearUses, job.Materials, job.Conditions} {
		words = append(words, list...)
	}
	for _, g := range handbook.Grounds() {
		words = append(words, string(g))
	}
	slices.Sort(words)
	words = slices.Compact(words)
	out := map[string][]string{}
	for at, of := range map[string]any{
		"load.": job.LoadSheet{}, "load.tow_point.": job.TowPointSheet{}, "load.holding_point.": job.TowPointSheet{}, "puller.": job.PullerSheet{},
		"tackle.": job.TackleSheet{}, "anchors[0].": job.AnchorSheet{}, "gear[0].": job.GearSheet{},
	} {
		typ := reflect.TypeOf(of)
		for i := range typ.NumField() {
			f := typ.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			path := at + name
			if strings.HasSuffix(name, "_from") && at != "tackle." {
				continue // how it was found goes with the figure
			}
			switch {
			case f.Type == reflect.TypeOf((*bool)(nil)):
				out[path] = []string{"true", "false"}
			case f.Tag.Get("reads") == "word":
				for _, w := range words {
					trial := s
					if err := trial.Set(path, w); err != nil {
						continue
					}
					if trial.Check() == nil {
						out[path] = append(out[path], w)
					}
				}
			}
		}
	}
	return out
}

// unranked are the fields with words of which none is the worse by itself: the plan
// says, and where it does not the question stays open.
var unranked = []string{
	"anchors[0].ground", "anchors[0].kind", "anchors[0].pattern", "anchors[0].soil", "anchors[0].use", "gear[0].kind", "gear[0].material", "gear[0].use",
	"load.ground", "load.holding_point.kind", "load.pull", "load.tow_point.kind", "puller.capstan", "puller.ground", "puller.hitch", "puller.kind", "puller.pull",
	"tackle.haul_from",
}

// TestWorseHasARank: of every field with words each pair has one worse, the same
// whichever was told first, or has none and is left open; what is not the worse is
// never called so.
func TestWorseHasARank(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	e := newEngine()
	bare := &flow.Session{}
	for _, kv := range [][2]string{{"gear[0].kind", "rope"}, {"anchors[0].kind", "tree"}, {"load.tow_point.kind", "rated-eye"}, {"load.holding_point.kind", "frame"}, {"puller.kind", "wheeled"}} {
		if err := bare.Sheet.Set(kv[0], kv[1]); err != nil {
			t.Fatal(err)
		}
	}
	var open []string
	tried := 0
	planned := readyToPull(t, "Bo", "Cy").job()
	fields := wordy(t, planned.Sheet)
	for name, s := range map[string]*flow.Session{"without a plan": bare, "with one": planned} {
		for path, values := range fields {
			if len(values) < 2 {
				t.Errorf("%s takes %v", path, values)
			}
			ranked := true
			for _, a := range values {
				for _, b := range values {
					tried++
					c := flow.HeldAgainst(e, s, path, a, b)
					if back := flow.HeldAgainst(e, s, path, b, a); c*back > 0 || (c == 0) != (back == 0) || a == b && c != 0 {
						t.Errorf("%s, %s: %s against %s is %d, and the other way %d", name, path, a, b, c, back)
					}
					ranked = ranked && (a == b || c != 0)
					told := flow.Differing(e, s, path, b, a)
					if a != b && (c == 0) != strings.Contains(told, "differ.ask_open") {
						t.Errorf("%s, %s: %s against %s is %d and is told as %s", name, path, a, b, c, told)
					}
				}
			}
			if !ranked && name == "without a plan" {
				open = append(open, path)
			}
		}
	}
	slices.Sort(open)
	if !slices.Equal(open, unranked) {
		t.Errorf("without a plan these have no rank: %s", fmt.Sprint(open))
	}
	if tried < 500 {
		t.Errorf("only %d pairs were held against each other", tried)
	}
}
