package job_test

import (
	"strings"
	"testing"

	"linetender/calc/job"
)

// A piece whose own name says that it was made for something else is improvised,
// whatever is told of it; what only has such a word in its name is not.
func TestMakeshiftByItsName(t *testing.T) {
	for name, want := range map[string]bool{
		"bungee": true, "Bungee cord": true, "M12 bolt": true, "bolt and nut": true, "a climbing krab": true, "baler twine": true, "old seat belt": true,
		"welded-on scrap": true, "bolt shackle": false, "bow shackle with bolt": false, "eye bolt": false, "second rope, to hold": false, "log chain": false,
		"tow strap": false, "steel D-shackles": false, "wire rope": false, "": false,
	} {
		s := job.Sheet{Gear: []job.GearSheet{{Kind: "shackle", Name: name, Improvised: new(false)}}}
		s.Load.Mass, s.Load.Slope, s.Load.Pull, s.Load.Ground = "2 t", "5 deg", "uphill", "grass"
		c, err := s.Case()
		if err != nil {
			t.Fatal(err)
		}
		if got := *c.Gear[0].Improvised; got != want {
			t.Errorf("a shackle called %q is improvised: %v", name, got)
		}
		said := false
		for _, v := range c.Supplied {
			said = said || v.Field == "gear[0].improvised"
		}
		if said != want {
			t.Errorf("%q: supplied %v", name, c.Supplied)
		}
	}
}

// A plan says by name which puller pulls, so no two go by one name.
func TestPullersHaveNamesOfTheirOwn(t *testing.T) {
	for _, names := range [][2]string{{"tractor", " Tractor"}, {"tractor", "loader"}, {"", ""}} {
		s := job.Sheet{Pullers: []job.PullerSheet{{Kind: "wheeled", Name: names[0]}, {Kind: "wheeled", Name: names[1]}}}
		s.Load.Mass, s.Load.Slope, s.Load.Pull, s.Load.Ground = "2 t", "5 deg", "uphill", "grass"
		_, err := s.Case()
		if same := names[0] != "" && strings.EqualFold(names[0], strings.TrimSpace(names[1])); same != (err != nil) {
			t.Errorf("%q: %v", names, err)
		}
		if err != nil && !strings.Contains(err.Error(), "pullers[1].name: ") {
			t.Errorf("%v", err)
		}
	}
}
