package flow

import (
	"slices"
	"strings"
	"testing"
)

// seated is who has which part, by what it does.
func (t *turn) seated() map[string]string {
	out := map[string]string{}
	for _, s := range t.s.Seats {
		out[s.Post.Does] = s.Name
	}
	return out
}

// TestFewerAtATightLine: where four become three at a tight line everybody who is left
// has the post that they had, told by name again in whatever order, and no other; nobody
// who has the wheel or the holding line is given another by a word.
func TestFewerAtATightLine(t *testing.T) {
	for gone, does := range map[string]string{"Bo": "driver", "Cy": "rigger", "Di": "holder"} {
		x := crewTurn(4, true)
		x.s.Stage = LightTension
		before := x.seated()
		three := 3
		x.s.Sheet.Crew = &three
		x.crewCounted("4")
		left := slices.DeleteFunc([]string{"Di", "Cy", "Bo"}, func(n string) bool { return n == gone })
		x.s.State, x.s.Topic = Crew, "names"
		x.names("Ada, " + strings.Join(left, ", "))
		after := x.seated()
		for part, who := range before {
			if want := who; part == does && after[part] != "" || part != does && after[part] != want {
				t.Errorf("without %s: %s is %q, was %q", gone, part, after[part], who)
			}
		}
		if empty := x.emptyPosts(); !slices.Contains(empty, does) {
			t.Errorf("without %s %v are empty", gone, empty)
		}
		for _, from := range []string{"driver", "holder"} {
			who := after[from]
			if who == "" || does == from {
				continue
			}
			x.puts(strings.ToLower(who), does, false)
			if got := x.seated(); got[from] != who || got[does] != "" {
				t.Errorf("without %s: %s is sent from the %s's part to the %s's: %v", gone, who, from, does, got)
			}
		}
	}
}

// TestMoreKeepTheirNames: of a crew that has grown only who came is asked for, and a
// whole list still counts as one.
func TestMoreKeepTheirNames(t *testing.T) {
	for told, want := range map[string]string{
		"Di": "Ada Bo Cy Di", "Ada, Bo, Cy, Di": "Ada Bo Cy Di", "Bo and Di": "Ada Bo Cy Di", "Ada, Bo, Flo, Di": "Ada Bo Flo Di",
	} {
		x := crewTurn(3, false)
		four := 4
		x.s.Sheet.Crew = &four
		x.crewCounted("3")
		x.s.State, x.s.Topic = Crew, "names"
		if k, args := x.question(); k != "ask.names_more" || !strings.Contains(x.sayingWith(k, args), "Ada, Bo and Cy") {
			t.Errorf("%s is asked: %s", k, x.sayingWith(k, args))
		}
		x.names(told)
		if got := strings.Join(x.s.Crew, " "); got != want {
			t.Errorf("%q makes the crew %s, want %s", told, got, want)
		}
		if x.s.Lead.Name != "Ada" {
			t.Errorf("%q makes the lead %s", told, x.s.Lead.Name)
		}
	}
}

// TestRolesIsNoName: the word for the parts is nobody's name, where names are asked for.
func TestRolesIsNoName(t *testing.T) {
	for _, word := range []string{"roles", "Who does what", "parts"} {
		x := crewTurn(3, false)
		x.s.Settled["names"] = ""
		x.s.State, x.s.Topic = Crew, "names"
		x.in.Text = word
		if !x.words(word) || strings.Join(x.s.Crew, " ") != "Ada Bo Cy" || !strings.Contains(x.words1(), "driver") {
			t.Errorf("%q makes the crew %v and says %s", word, x.s.Crew, x.words1())
		}
	}
}

// TestADogIsNoCrew: an animal or a toy that is named among the crew has no part, and one that
// was counted as one of them is so no longer.
func TestADogIsNoCrew(t *testing.T) {
	for told, want := range map[string]string{
		"im Ada, Bo is the most experienced, Cy. and the dog Rex haha": "Ada Bo Cy", "Ada, Bo, Cy, Rex the dog": "Ada Bo Cy", "Ada, Bo, Cy, our cat": "Ada Bo Cy", "Ada, Bo, Cy, Cat": "Ada Bo Cy Cat",
	} {
		x := crewTurn(4, false)
		x.s.Settled["names"], x.s.Crew = "", nil
		x.s.State, x.s.Topic = Crew, "names"
		x.names(told)
		if got := strings.Join(x.s.Crew, " "); got != want || x.people() != len(x.s.Crew) {
			t.Errorf("%q makes the crew %s, %d people, want %s", told, got, x.people(), want)
		}
		if animal := strings.Contains(x.words1(), "none of the crew"); animal != (want == "Ada Bo Cy") {
			t.Errorf("%q is told %s", told, x.words1())
		}
	}
}
