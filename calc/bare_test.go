package calc

import (
	"encoding/json"
	"strings"
	"testing"
)

// A refer says of every check what it is, without the figures: none is left a
// bare word, and none shows a force.
func TestAReferSaysEachCheckInWords(t *testing.T) {
	said := 0
	for k, row := range checkRows {
		for _, with := range []string{"", row.fail, row.unknown} {
			s := changed(t, row.with, with)
			s.Hazards = &[]string{"edge"}
			p := Reckon(read(t, s))
			if p.Decision != Refer {
				t.Fatalf("%s: %s beside an edge", k, p.Decision)
			}
			for _, c := range p.Checks {
				said++
				if strings.HasPrefix(c.Text, "It ") && strings.Count(c.Text, " ") < 4 || !strings.Contains(c.Text, " ") || strings.ContainsAny(c.Text, "{}") {
					t.Errorf("%s: %s %s: %q", k, c.ID, c.Result, c.Text)
				}
				if strings.Contains(c.Text, "kN") {
					t.Errorf("%s: %s shows a force: %q", k, c.ID, c.Text)
				}
			}
		}
	}
	if said == 0 {
		t.Error("nothing was said")
	}
}

// What is of a go alone does not stand in a refer's JSON; a go has it, and it
// reads back as it was.
func TestAReferHasNothingToSign(t *testing.T) {
	s := changed(t, "puller.slope=15 deg")
	for _, c := range []struct {
		hazards []string
		want    bool
	}{{[]string{}, true}, {[]string{"edge"}, false}} {
		s.Hazards = &c.hazards
		p := Reckon(read(t, s))
		text, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		for _, field := range []string{`"conditional":`, `"sign_offs":`} {
			if got := strings.Contains(string(text), field); got != c.want {
				t.Errorf("%s prints %s: %v", p.Decision, field, got)
			}
		}
		var back Plan
		if err := json.Unmarshal(text, &back); err != nil || back.Decision != p.Decision || back.Conditional != p.Conditional {
			t.Errorf("%s reads back as %s, %v", p.Decision, back.Decision, err)
		}
	}
}

// What a thing is called in a reason is a noun of the trade, and the reason is
// of that thing: a stump is no tree, and a log that bends or lies too shallow is
// said to.
func TestReasonsAreOfTheThing(t *testing.T) {
	for _, row := range []struct{ with, id, says, never string }{
		{"anchors[0].rating=8 kN", "R4", "then the rated anchor point takes", "the rated takes"},
		{lorry + "; anchors[0].chocked=false", "A4", "The anchor vehicle has no chocks", "The vehicle has"},
		{stump + "; anchors[0].lean=true", "A2", "The stump leans or its roots lift", "tree"},
		{stump + "; anchors[0].alive=false", "A2", "The stump is rotten", "tree"},
		{stump + "; anchors[0].diameter=15 cm", "A2", "The stump is too thin", "tree"},
		{buried + "; anchors[0].length=9 m; anchors[0].diameter=12 cm", "A1", "a log longer than 5 times its thickness bends", ""},
		{buried + "; anchors[0].depth=60 cm", "A1", "The deadman lies too shallow: under 91.5 cm", "must hold"},
	} {
		p := Reckon(read(t, changed(t, row.with)))
		found := false
		for _, c := range p.Checks {
			if c.ID != row.id || c.Result != Fail {
				continue
			}
			found = found || strings.Contains(c.Text, row.says)
			if row.never != "" && strings.Contains(c.Text, row.never) {
				t.Errorf("%s: %s", row.with, c.Text)
			}
		}
		if !found {
			t.Errorf("%s: nowhere %q: %s %v", row.with, row.says, p.Decision, p.Why)
		}
	}
}
