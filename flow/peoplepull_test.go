package flow_test

import (
	"fmt"
	"strings"
	"testing"

	"linetender/calc/handbook"
	"linetender/calc/unit"
	"linetender/flow"
	"linetender/flow/wording"
)

// Who asks why their number is wanted hears the figures that the sum goes by.
func TestPeoplesPullIsTheHandbooks(t *testing.T) {
	flow.Lone(t)
	said, err := wording.English().Say(unit.Metric, wording.WhyPullerPeople, nil)
	if err != nil {
		t.Fatal(err)
	}
	pull, _ := handbook.PersonPull()
	most, _ := handbook.PersonMost()
	for what, n := range map[string]float64{"likely": pull.Best.Newtons(), "counted on": pull.Low.Newtons(), "most": most.Newtons()} {
		figure := fmt.Sprintf("%.0f N", n)
		if !strings.Contains(strings.ReplaceAll(said, ",", ""), figure) {
			t.Errorf("%s: %s is not in %q", what, figure, said)
		}
	}
}
