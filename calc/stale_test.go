package calc

import (
	"slices"
	"strings"
	"testing"

	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/unit"
)

// Every cause reopens something, each field is one of a sheet, and each check
// that is named is the one that the field answers.
func TestStale(t *testing.T) {
	var fs findings
	judgeSite(&fs, job.Case{}, need{})
	asks := map[string]string{}
	for _, f := range fs.list {
		for _, field := range f.fields {
			asks[field] = key(f.rule.id, f.rule.variant)
		}
	}
	if len(reopened) != len(Causes) {
		t.Errorf("the table has %d causes of %d", len(reopened), len(Causes))
	}
	for _, c := range Causes {
		if len(Stale(c)) == 0 {
			t.Errorf("%s reopens nothing", c)
		}
		for _, r := range Stale(c) {
			var s job.Sheet
			field := strings.Replace(r.Field, "[*]", "[0]", 1)
			if err := s.Set(field, "1"); err != nil {
				t.Errorf("%s: %v", c, err)
			}
			if got := r.In(s); !slices.Equal(got, []string{field}) {
				t.Errorf("%s: %s is in the sheet as %v", c, r.Field, got)
			}
			if got := r.In(job.Sheet{}); len(got) != 0 {
				t.Errorf("%s: %v was never answered", c, got)
			}
			if r.Why == "" || r.Check != "" && rules[r.Check] == nil {
				t.Errorf("%s: %+v", c, r)
			}
			if ask, ok := asks[r.Field]; ok && ask != r.Check {
				t.Errorf("%s: %s answers %s, not %s", c, r.Field, ask, r.Check)
			}
		}
	}
	if Stale("boredom") != nil {
		t.Error("what is no cause reopens something")
	}
	if after, _ := handbook.StaleAfter(); after != unit.Minutes(60) {
		t.Errorf("an hour lasts %v s", after.Seconds())
	}
}

// What moves the load, or what the ropes are made fast to, moves it against each
// anchor: where the way to one is asked again the way to the other is.
func TestBothAnchorsAreAsNearAsTheyWere(t *testing.T) {
	for _, c := range Causes {
		has := func(field string) bool {
			return slices.ContainsFunc(Stale(c), func(r Reopened) bool { return r.Field == field })
		}
		if has("reach") != has("holding_reach") {
			t.Errorf("%s: of the ways to the two anchors only one is asked again", c)
		}
		if moves := []Cause{Rerig, Ran, Tipped, AnchorOut}; slices.Contains(moves, c) && !has("holding_reach") {
			t.Errorf("%s: the way to the holding line's anchor is as it was", c)
		}
	}
}

func TestStaleInListsAndOutlived(t *testing.T) {
	s := plainGo()
	s.Anchors[1].Soil = "loam"
	soil := Reopened{Field: "anchors[*].soil"}
	if got := soil.In(s); !slices.Equal(got, []string{"anchors[1].soil"}) {
		t.Errorf("soil is in %v", got)
	}
	a, b := *s.Puller, *s.Puller
	b.Ground = ""
	s.Puller, s.Pullers = nil, []job.PullerSheet{b, a}
	if got := (Reopened{Field: "puller.ground"}).In(s); !slices.Equal(got, []string{"pullers[1].ground"}) {
		t.Errorf("ground is in %v", got)
	}
	s.Seen = []job.SeenSheet{saw("slip", 2), saw("move", 2), saw("stuck", 2), saw("reading", 2, "force=3 kN", "at=haul")}
	if got := Outlived(Rain, s); !slices.Equal(got, []int{1, 3}) {
		t.Errorf("rain outlives %v", got)
	}
	if got := Outlived(Person, s); got != nil {
		t.Errorf("a person outlives %v", got)
	}
}
