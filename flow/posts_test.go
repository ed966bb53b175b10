package flow

import (
	"slices"
	"strings"
	"testing"

	"linetender/calc"
	"linetender/calc/handbook"
	"linetender/calc/job"
)

// TestPostsByCrewSize holds the table of posts to the trade's: who is added
// with each person, and which duties fall to whom before.
//
// Source: common practice.
func TestPostsByCrewSize(t *testing.T) {
	for _, row := range []struct {
		people int
		doers  map[string]string
	}{
		{2, map[string]string{"driver": "driver", "signal": "leader", "rigger": "leader", "lookout": "leader"}},
		{3, map[string]string{"driver": "driver", "signal": "leader", "anchor": "rigger", "chocks": "rigger"}},
		{4, map[string]string{"holder": "holder", "chocks": "rigger", "anchor": "rigger"}},
		{5, map[string]string{"chocks": "chocks", "anchor": "rigger", "lookout": "leader"}},
		{6, map[string]string{"lookout": "lookout", "signal": "leader"}},
		{7, map[string]string{"signal": "signal", "leader": "leader"}},
		{8, map[string]string{"recorder": "recorder"}},
		{12, map[string]string{"recorder": "recorder"}},
	} {
		s := newSession()
		for _, p := range handbook.Posts(row.people, true) {
			s.Seats = append(s.Seats, Seat{Post: p, Name: p.Does})
		}
		if got, want := len(s.Seats), min(row.people, 8); got != want {
			t.Errorf("%d people have %d posts, want %d", row.people, got, want)
		}
		for duty, want := range row.doers {
			if got := s.doer(duty); got == nil || got.Post.Does != want {
				t.Errorf("of %d people %v does %s, want %s", row.people, got, duty, want)
			}
		}
	}
}

// TestDoublingUp: never the driver with anything, the leader with holder or
// chocks, or who watches the anchor with what turns the head away.
//
// Source: common practice.
func TestDoublingUp(t *testing.T) {
	all := []string{"driver", "leader", "signal", "rigger", "holder", "chocks", "lookout", "recorder"}
	for _, does := range all {
		if mayDouble("driver", does) || mayDouble(does, "driver") {
			t.Errorf("a driver may be %s as well", does)
		}
	}
	for _, never := range [][2]string{{"leader", "holder"}, {"leader", "chocks"}, {"rigger", "lookout"}, {"rigger", "recorder"}, {"rigger", "holder"}, {"signal", "lookout"}} {
		if mayDouble(never[0], never[1]) || mayDouble(never[1], never[0]) {
			t.Errorf("one person may be %s and %s", never[0], never[1])
		}
	}
	for _, may := range [][2]string{{"leader", "signal"}, {"lookout", "leader"}, {"rigger", "chocks"}} {
		if !mayDouble(may[0], may[1]) {
			t.Errorf("one person may not be %s and %s", may[0], may[1])
		}
	}
	for _, holds := range []bool{true, false} {
		for n := 2; n <= handbook.MostPosts(holds); n++ {
			var seats []Seat
			for i, p := range handbook.Posts(n, holds) {
				seats = append(seats, Seat{Post: p, Name: itoa(i)})
			}
			if a, b, is := clash(seats); is {
				t.Errorf("%d people: %v and %v clash", n, a, b)
			}
		}
	}
}

// TestEmptyPosts: without a driver, a leader, chocks, a watch at an anchor or
// a holder where one is needed nobody pulls, and two people can't hold.
func TestEmptyPosts(t *testing.T) {
	for _, row := range []struct {
		name   string
		people int
		holds  bool
		empty  string
		want   []string
	}{
		{"four, all taken", 4, true, "", nil},
		{"no driver", 4, true, "driver", []string{"driver"}},
		{"no rigger", 4, true, "rigger", []string{"anchor", "chocks", "rigger"}},
		{"no holder", 4, true, "holder", []string{"holder"}},
		{"no holder where nothing rolls", 4, false, "holder", nil},
		{"no chocks of four where nothing rolls", 4, false, "chocks", []string{"chocks"}},
		{"seven, where nothing rolls", 7, false, "", nil},
		{"nine, where nothing rolls", 9, false, "", nil},
		{"no leader", 4, true, "leader", []string{"leader", "signal"}},
		{"no chocks", 5, true, "chocks", []string{"chocks"}},
		{"no lookout", 6, true, "lookout", []string{"lookout"}},
		{"no lookout of five, the leader's part", 5, true, "", nil},
		{"no signals of seven", 7, true, "signal", []string{"signal"}},
		{"no recorder of eight", 8, true, "recorder", []string{"recorder"}},
		{"eight, all taken", 8, true, "", nil},
		{"twelve, all taken", 12, true, "", nil},
		{"three, where it may roll", 3, true, "", []string{"holder"}},
		{"three, where nothing rolls", 3, false, "", nil},
		{"two, where it may roll", 2, true, "", []string{"holder"}},
		{"two, where nothing rolls", 2, false, "", nil},
		{"nobody placed", 0, false, "", []string{"driver", "leader", "signal", "anchor", "chocks"}},
		{"one with a hand winch", 1, false, "", nil},
	} {
		x := newTurn(testEngine(), Input{})
		x.s = newSession()
		if row.people > 0 {
			x.s.Sheet.Crew = &row.people
		}
		x.s.Sheet.Anchors = []job.AnchorSheet{{Kind: "tree"}}
		x.known, x.planned = true, &calc.Plan{Holding: &calc.Holding{Needed: row.holds}}
		if row.people > 1 {
			for _, p := range handbook.Posts(row.people, row.holds) {
				x.s.Seats = append(x.s.Seats, Seat{Post: p, Name: p.Does, Taken: p.Does != row.empty})
			}
		}
		if got := x.emptyPosts(); !slices.Equal(got, row.want) {
			t.Errorf("%s: %v are empty, want %v", row.name, got, row.want)
		}
	}
}

// TestEyesAgreeWithThePlan: what needs two people is what blocks in the plan,
// and every item has somebody who can see it, whatever the size of the crew.
func TestEyesAgreeWithThePlan(t *testing.T) {
	Lone(t)
	t.Parallel()
	mass, slope := "2 t", "10 deg"
	crew := 3 // few enough that it matters who could watch a road or pass signals on
	c, err := job.Sheet{Crew: &crew, Load: job.LoadSheet{Mass: mass, Slope: slope, Pull: "uphill", Ground: "grass"}, Anchors: []job.AnchorSheet{{Kind: "tree"}}}.Case()
	if err != nil {
		t.Fatal(err)
	}
	p := calc.Reckon(c)
	for _, item := range siteChecks {
		found := false
		for _, k := range p.Checks {
			if k.ID != item.id || !slices.Contains(k.Fields, item.path()) {
				continue
			}
			found = true
			if two := k.Severity == calc.Block; two != item.two {
				t.Errorf("%s %ss; two people look: %v", item.field, k.Severity, item.two)
			}
		}
		if !found && !sharesCheck(item.field) {
			t.Errorf("no check of the plan asks for %s", item.field)
		}
		if len(item.eyes) == 0 {
			t.Errorf("nobody can see %s", item.field)
		}
		for n := 2; n <= handbook.MostPosts(true); n++ {
			x := newTurn(testEngine(), Input{})
			x.s = newSession()
			x.s.Sheet.Crew = &n
			for _, post := range handbook.Posts(n, true) {
				x.s.Seats = append(x.s.Seats, Seat{Post: post, Name: post.Does, Taken: true})
			}
			by, on := x.shares()[item.path()]
			if !on {
				continue
			}
			first, second, ok := by.first, by.second, by.twice || !item.two
			if first.Name == "" || !ok || strings.EqualFold(first.Name, second.Name) {
				t.Errorf("of %d people %q and %q look at %s", n, first.Name, second.Name, item.field)
			}
		}
	}
}

// TestListIsSharedOut: with four or more nobody has so much of the list that they
// answer it without looking, and nobody looks twice at one item.
func TestListIsSharedOut(t *testing.T) {
	Lone(t)
	for n := 4; n <= handbook.MostPosts(true); n++ {
		x := newTurn(testEngine(), Input{})
		x.s = newSession()
		x.s.Sheet.Crew = &n
		for _, post := range handbook.Posts(n, true) {
			x.s.Seats = append(x.s.Seats, Seat{Post: post, Name: post.Does, Taken: true})
		}
		load, all := map[string]int{}, 0
		for path, by := range x.shares() {
			load[by.first.Name]++
			all++
			if c, _ := siteCheckOf(strings.TrimPrefix(path, "site.")); c.two {
				load[by.second.Name]++
				all++
			}
		}
		for who, k := range load {
			if k > all/n+2 {
				t.Errorf("of %d people %s has %d of %d to look at: %v", n, who, k, all, load)
			}
		}
	}
}

// sharesCheck lists items that are asked with another one that the plan names.
func sharesCheck(field string) bool {
	return slices.Contains([]string{"under", "between", "sober", "signals", "hands_off", "briefed"}, field)
}

// TestSameName: how a phone finds the name that its person goes by.
func TestSameName(t *testing.T) {
	for _, row := range []struct {
		a, b string
		want bool
	}{
		{"Bo", "bo", true}, {"Bo Holm", "Bo", true}, {"Bo", "Bo Holm", true}, {"Bo Holm", "Bo Lund", false}, {"Bo", "Bob", false}, {"", "", false},
	} {
		if got := sameName(row.a, row.b); got != row.want {
			t.Errorf("%q and %q are one: %v, want %v", row.a, row.b, got, row.want)
		}
	}
}

// TestPlacingWords: the ways in which a lead places somebody.
func TestPlacingWords(t *testing.T) {
	for _, row := range []struct {
		text, name, part string
		also             bool
	}{
		{"bo drives", "bo", "driver", false}, {"bo is lookout", "bo", "lookout", false}, {"bo is the driver", "bo", "driver", false},
		{"bo is also chocks", "bo", "chocks", true}, {"bo drives the tractor", "bo", "driver", false}, {"bo holm is driver now", "bo holm", "driver", false},
		{"bo watches", "bo", watching, false}, {"bo watches the anchor", "bo", "rigger", false}, {"bo takes over the rope now", "bo", "holder", false}, {"bo gives the signals", "bo", "signal", false},
		{"bo on the rope", "bo", "holder", false}, {"bo takes over from cy", "", "", false}, {"the winch", "", "", false}, {"rope is wet", "", "", false}, {"bo drives well", "", "", false},
		{"bo on chocks", "bo", "chocks", false}, {"bo takes the holding line", "bo", "holder", false},
	} {
		list, _ := placements(row.text)
		if row.part == "" {
			if len(list) > 0 {
				t.Errorf("%q is read as %+v", row.text, list)
			}
			continue
		}
		if want := (placement{row.name, row.part, row.also}); len(list) != 1 || list[0] != want {
			t.Errorf("%q is read as %+v", row.text, list)
		}
	}
}
