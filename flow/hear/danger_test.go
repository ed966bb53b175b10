package hear

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// coarse are the kinds of testdata/danger.txt.
func coarse(k Kind) string {
	switch k {
	case Near, Inside:
		return "near"
	case Hurt, Damage:
		return string(k)
	case Young, Drink:
		return "unfit"
	case Brake, Keeper, Unbraked:
		return "defect"
	case "signal", "unsure", "weather":
		return ""
	}
	return "moves"
}

// TestDangers holds the reading against what a careful human takes from each
// message: every danger that the row names, with what and how it stands, and no
// other of a person or of a machine's part that is so now.
func TestDangers(t *testing.T) {
	body, err := os.ReadFile("testdata/danger.txt")
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for row := range strings.SplitSeq(string(body), "\n") {
		text, says, ok := strings.Cut(row, " | ")
		if !ok || strings.HasPrefix(row, "#") {
			continue
		}
		rows++
		found := Dangers(text, []string{"Ada", "Bo", "Cy", "Di"})
		what, rest, _ := strings.Cut(says, " ")
		kind, how, _ := strings.Cut(rest, " ")
		matches := func(d Danger) bool {
			if coarse(d.Kind) != kind || what != "*" && !strings.Contains(strings.ToLower(d.What), strings.ToLower(what)) {
				return false
			}
			teller, told := strings.CutPrefix(how, "told ")
			stands := map[string]Standing{"": Now, "denied": Denied, "past": Past, "asked": Asked, "supposed": Supposed}
			if told {
				return d.Stands == Now && strings.EqualFold(d.Teller, teller)
			}
			want, known := stands[how]
			if !known {
				t.Fatalf("%q: %q", text, how)
			}
			return d.Stands == want && d.Teller == ""
		}
		if kind != "" && !slices.ContainsFunc(found, matches) {
			if (how == "denied" || how == "asked") && !slices.ContainsFunc(found, func(d Danger) bool { return coarse(d.Kind) == kind && d.Stands == Now }) && kind == "moves" {
				continue
			}
			t.Errorf("%q: %s is not read: %+v", text, says, found)
		}
		for _, d := range found {
			if k := coarse(d.Kind); d.Stands == Now && k != "" && k != "moves" && !(k == "near" && (kind == "hurt" || kind == "unfit")) && (k != kind || how != "" && !strings.HasPrefix(how, "told")) {
				t.Errorf("%q, which says %s, is read as %+v", text, says, d)
			}
		}
	}
	if rows < 60 {
		t.Fatalf("only %d messages", rows)
	}
}

// TestSeenFirst: of what is seen the one is meant that the words are of.
func TestSeenFirst(t *testing.T) {
	for text, want := range map[string]Kind{
		"the oak moved, it's creeping":                                              "anchor",
		"hm the oak is sort of bowing, bark mark has wandered about a finger to us": "anchor",
		"a stone rolled under the left wheel and its parked there":                  "stuck",
		"Load did not run, it stands on the chocks":                                 "",
		"it didn't run":       "",
		"it rolled":           "runs",
		"it did not roll far": "runs",
		"it's creeping":       "runs",
		"yes gravel, Cy looked: oak is alive and sound": "",
		"the oaks are all sound":                        "",
		"there is a sound":                              "sound",
		"there was a sound from the block":              "sound",
		"the mark stands":                               "",
	} {
		if got := SeenIn(Dangers(text, []string{"Ada", "Bo", "Cy"})); got != want {
			t.Errorf("%q tells of %q, want %q", text, got, want)
		}
	}
}

// TestWayOfAnAmbulance: how an ambulance would come tells of nobody hurt; a call for one does.
func TestWayOfAnAmbulance(t *testing.T) {
	for text, want := range map[string]bool{
		"ambulance way: gate 3 off the L2051, kit is in the landy": false, "yes, ambulance can find us by the chapel": false,
		"ambulance comes by the main road": false, "ambulance ok, kit in my cab": false,
		"ambulance": true, "an ambulance, quick": true, "ambulance for Di": true, "ambulance way: gate 3, Di is bleeding": true, "ambulance come quick": true,
	} {
		if got := SeenIn(Dangers(text, []string{"Di"})) == Hurt; got != want {
			t.Errorf("%q: somebody is hurt: %v", text, got)
		}
	}
}
