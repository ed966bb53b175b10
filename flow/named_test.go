package flow_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

// manyThings is a job with several of each kind, so that what is said must find
// the one that it is said of.
var manyThings = [][2]string{
	{"hazards", "none"}, {"load.mass", "9 t"}, {"load.mass_from", "plate"}, {"load.slope", "8 deg"}, {"load.slope_from", "level"},
	{"load.ground", "grass"}, {"load.sunk", "none"}, {"load.locked", "0"}, {"load.pull", "uphill"},
	{"puller.kind", "winch"}, {"puller.name", "rattler"}, {"puller.mass", "4.1 t"}, {"puller.ground", "grass"}, {"puller.rating", "5.5 t"}, {"puller.rating_kind", "working"}, {"puller.winch_layer", "2"},
	{"puller.slope", "0 to 2 deg"}, {"puller.pull", "level"}, {"puller.hitch", "drawbar"}, {"puller.hitch_rating", "6 t"},
	{"load.tow_point.kind", "rated-eye"}, {"load.tow_point.rating", "8 t"}, {"load.tow_point.rating_kind", "working"}, {"load.tow_point.condition", "good"},
	{"anchors[0].kind", "tree"}, {"anchors[0].name", "oak"}, {"anchors[0].diameter", "50 cm"}, {"anchors[0].alive", "true"}, {"anchors[0].lean", "false"},
	{"anchors[1].kind", "tree"}, {"anchors[1].name", "ash"}, {"anchors[1].diameter", "40 cm"},
	{"distance", "12 m"}, {"reach", "20 m"}, {"lead", "15 m"},
	{"gear[0].kind", "rope"}, {"gear[0].length", "60 m"}, {"gear[0].diameter", "20 mm"}, {"gear[0].material", "wire"},
	{"gear[0].rating", "6 t"}, {"gear[0].rating_kind", "working"}, {"gear[0].condition", "good"}, {"gear[0].improvised", "false"}, {"gear[0].knots", "none"},
	{"gear[1].kind", "block"}, {"gear[1].rating", "8 t"}, {"gear[1].rating_kind", "working"}, {"gear[1].count", "2"},
	{"gear[2].kind", "shackle"}, {"gear[2].count", "2"}, {"gear[2].rating", "3.25 t"}, {"gear[2].rating_kind", "working"},
	{"gear[3].kind", "sling"}, {"gear[3].rating", "2 t"}, {"gear[3].rating_kind", "working"}, {"gear[3].length", "2 m"},
	{"gear[4].kind", "sling"}, {"gear[4].rating", "5 t"}, {"gear[4].rating_kind", "working"}, {"gear[4].length", "3 m"},
	{"gear[5].kind", "sling"}, {"gear[5].length", "3 m"},
	{"gear[6].kind", "rope"}, {"gear[6].length", "30 m"}, {"gear[6].diameter", "16 mm"}, {"gear[6].material", "wire"},
	{"crew", "4"},
}

// A named is what is asked, what is told otherwise than in manyThings, what is
// written then, and what it must change: by path, "" for what goes. Whatever
// else changes on the sheet is a fault.
type named struct {
	at    string
	other [][2]string
	say   []string
	want  map[string]string
}

// TestNamedThings: what a message says goes to the thing that it names, whatever
// is asked meanwhile, and to nothing else.
func TestNamedThings(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	machine := [][2]string{{"anchors[2].kind", "vehicle"}}
	for _, r := range []named{
		{at: "gear[5].rating", say: []string{"block is 1 of them, wll 7.5t"}, want: map[string]string{"gear[1].rating": "7.5 t"}},
		{at: "gear[5].rating", say: []string{"drawbar, rated 7 t"}, want: map[string]string{}}, // more than before: asked again
		{at: "gear[5].rating", say: []string{"drawbar, rated 5 t"}, want: map[string]string{"puller.hitch_rating": "5 t"}},
		{at: "puller.hitch_rating", other: [][2]string{{"puller.mass", ""}}, say: []string{"n the rattler is 4.1 t"}, want: map[string]string{"puller.mass": "4.1 t"}},
		{at: "puller.winch_layer", say: []string{"thats wrong, hitch rating is 7 t plate on the winch frame"}, want: map[string]string{"puller.hitch_rating": "7 t"}},
		{at: "anchors[2].chocked", other: machine, say: []string{"yes chocked, its ed's loader 14 t on gravel"},
			want: map[string]string{"anchors[2].chocked": "true", "anchors[2].mass": "14 t", "anchors[2].ground": "gravel", "anchors[2].name": "loader"}},
		{at: "anchors[2].chocked", other: machine, say: []string{"use the loader for the holding line not the oak"},
			want: map[string]string{"anchors[2].name": "loader", "anchors[2].use": "holding"}},
		{say: []string{"use the loader for the holding line not the oak", "the loader is 14 t"},
			want: map[string]string{"anchors[2].kind": "vehicle", "anchors[2].name": "loader", "anchors[2].use": "holding", "anchors[2].mass": "14 t"}},
		{at: "anchors[2].chocked", other: machine, say: []string{"the old winch wire, 60 m 11mm WLL 2 t tag, round the oak"}, want: map[string]string{}},
		{at: "gear[5].rating", say: []string{"ed pulls with the loading shovel 14t instead of the rattler winch"},
			want: map[string]string{"puller.kind": "wheeled", "puller.name": "loading shovel", "puller.mass": "14 t", "puller.hitch": "", "puller.hitch_rating": "",
				"puller.rating": "", "puller.rating_kind": "", "puller.winch_layer": ""}},
		{say: []string{"ed pulls with the loading shovel 14t"},
			want: map[string]string{"puller.kind": "wheeled", "puller.name": "loading shovel", "puller.mass": "14 t", "puller.hitch": "", "puller.hitch_rating": "",
				"puller.rating": "", "puller.rating_kind": "", "puller.winch_layer": ""}},
		{at: "reach", other: [][2]string{{"puller.kind", "wheeled"}, {"puller.name", "tractor"}, {"puller.rating", ""}, {"puller.winch_layer", ""}},
			say:  []string{"ed pulls with the loader 14t instead of the tractor"},
			want: map[string]string{"puller.name": "loader", "puller.mass": "14 t", "puller.hitch": "", "puller.hitch_rating": ""}},
		{at: "tow_point.rating", other: [][2]string{{"load.tow_point.rating", ""}}, say: []string{"drawbar, rated 5 t"}, want: map[string]string{"puller.hitch_rating": "5 t"}},
		{at: "tow_point", other: [][2]string{{"load.tow_point", ""}, {"puller.hitch", ""}}, say: []string{"drawbar, rated 7 t"}, want: map[string]string{}},
		{at: "gear[5].rating", say: []string{"sorry sling 1 is 6 t wll, made for it no damage no knots"},
			want: map[string]string{"gear[3].rating": "6 t", "gear[3].condition": "good", "gear[3].knots": "none", "gear[3].improvised": "false"}},
		{at: "gear[5].rating", say: []string{"only 1 block good tho, other one leave it out, no stamp"}, want: map[string]string{"gear[1].count": "1"}},
		{say: []string{"only 1 block"}, want: map[string]string{"gear[1].count": "1"}},
		{at: "gear[6].rating", say: []string{"sorry first rope is 70 m, 20mm wire, WLL 6 t, good, no knots, made for it"}, want: map[string]string{"gear[0].length": "70 m", "gear[0].diameter": "20 mm"}},
		{at: "gear[6].rating", say: []string{"change rope", "a", "70 m, 20mm wire, WLL 6 t"}, want: map[string]string{"gear[0].length": "70 m", "gear[0].diameter": "20 mm"}},
		{at: "gear[6].rating", say: []string{"change rope", "b"}, want: map[string]string{}},
		{at: "gear[6].rating", say: []string{"change sling", "3 m 6 t wll"}, want: map[string]string{}},
		{at: "puller.rating_kind", say: []string{"breaking 80 kN says the paper"}, want: map[string]string{"puller.rating": "80 kN", "puller.rating_kind": "breaking"}},
		{at: "gear[6].condition", say: []string{"breaking 80 kN says the paper"}, want: map[string]string{"gear[6].rating": "80 kN", "gear[6].rating_kind": "breaking"}},
		{say: []string{"Forget the oak n ash"}, want: map[string]string{"anchors[0].kind": "", "anchors[0].name": "", "anchors[0].diameter": "", "anchors[0].alive": "", "anchors[0].lean": "",
			"anchors[1].kind": "", "anchors[1].name": "", "anchors[1].diameter": "",
			"reach": "", "lead": ""}}, // how far it was to them
		{at: "gear[6].rating", other: [][2]string{{"gear[5]", ""}, {"gear[6]", ""}}, say: []string{"leave sling 2 out, we wont use it"},
			want: map[string]string{"gear[4].kind": "", "gear[4].rating": "", "gear[4].rating_kind": "", "gear[4].length": ""}},
		{at: "gear", other: [][2]string{{"gear", ""}}, say: []string{"2 snatch blocks, one stamped WLL 8t other stamp cant read, 3 shackles 6.5 t, one 4.75t, green one 2t, tree strap 5t"},
			want: map[string]string{"gear[0].kind": "block", "gear[0].count": "1", "gear[0].rating_kind": "unmarked", "gear[1].kind": "block", "gear[1].count": "1", "gear[1].rating": "8 t",
				"gear[1].rating_kind": "working", "gear[2].kind": "shackle", "gear[2].count": "3", "gear[2].rating": "6.5 t", "gear[3].kind": "shackle", "gear[3].count": "1",
				"gear[3].rating": "4.75 t", "gear[4].kind": "sling", "gear[4].use": "anchor", "gear[4].rating": "5 t"}},
	} {
		c := newChair(t)
		c.say("/start")
		told := slices.Clone(manyThings)
		for _, o := range r.other {
			told = slices.DeleteFunc(told, func(kv [2]string) bool { return kv[0] == o[0] || o[1] == "" && strings.HasPrefix(kv[0], o[0]) })
			if o[1] != "" {
				told = append(told, o)
			}
		}
		turn, err := flow.StandAt(c.engine, c.log, c.input(), c.session().Code, r.at, told)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := c.log.Commit(turn); err != nil {
			t.Fatal(err)
		}
		c.log.sent()
		before := flat(t, c.session().Sheet)
		var sent []flow.Message
		for _, text := range r.say {
			sent = c.say(text)
		}
		after := flat(t, c.session().Sheet)
		for _, path := range slices.Sorted(maps.Keys(after)) {
			want, ok := r.want[path]
			if ok && !alike(after[path], want) || !ok && after[path] != before[path] {
				t.Errorf("at %s, %q: %s = %s, not %q; they are told\n%s", r.at, r.say, path, after[path], want, textOf(sent))
			}
		}
		for _, path := range slices.Sorted(maps.Keys(before)) {
			if _, still := after[path]; !still && r.want[path] == "" {
				if _, goes := r.want[path]; !goes {
					t.Errorf("at %s, %q: %s is gone; they are told\n%s", r.at, r.say, path, textOf(sent))
				}
			}
		}
		for path, want := range r.want {
			if _, there := after[path]; !there && want != "" {
				t.Errorf("at %s, %q: %s is not read; they are told\n%s", r.at, r.say, path, textOf(sent))
			}
		}
	}
}

// TestHandedOverFirst: a job for others says so before anything else, however it
// is looked at.
func TestHandedOverFirst(t *testing.T) {
	flow.Lone(t)
	for _, at := range []string{""} {
		c := newChair(t)
		c.say("/start")
		told := append(slices.Clone(manyThings), [2]string{"hazards", "water"})
		turn, err := flow.StandAt(c.engine, c.log, c.input(), c.session().Code, at, told)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := c.log.Commit(turn); err != nil {
			t.Fatal(err)
		}
		c.log.sent()
		for _, word := range []string{"plan", "why", "plan"} {
			text := textOf(c.say(word))
			if strings.Contains(text, "OPEN") || strings.Contains(text, "NO-GO") || word == "plan" && !strings.Contains(text, "Hand this over") && !strings.Contains(text, "licensed recovery firm") {
				t.Errorf("at %q, %q says\n%s", at, word, text)
			}
		}
	}
}
