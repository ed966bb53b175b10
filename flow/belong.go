package flow

import (
	"maps"
	"slices"
	"strings"

	"linetender/calc/bound"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A rating belongs to the piece that it is stamped on, and a tree's thickness
// to that tree. Where another kind of thing takes its place, what was told of
// the old one must not make the new one look good: it is dropped, said so, and
// asked anew.

// belongings are the fields that go with a thing, by the field that says what
// it is. What stands for the place and not for the thing stays.
var belongings = map[string][]string{
	"load.tow_point.kind":     {"rating", "rating_kind", "condition"},
	"load.holding_point.kind": {"rating", "rating_kind", "condition"},
	"puller.hitch":            {"hitch_rating", "hitch_rating_kind", "hitch_height"},
	"puller.kind":             {"rating", "rating_kind", "winch_layer", "drum", "capstan", "people"},
	"anchors[].kind": {"name", "diameter", "alive", "lean", "tied_back", "strap_held", "pattern", "soil", "mass", "chocked", "braked", "in_line", "ground", "slope", "slope_from", "rating", "rating_kind",
		"length", "depth", "equalised", "sling_angle"},
	"gear[].kind": {"name", "rating", "rating_kind", "material", "diameter", "length", "sheaves", "equalised", "knots", "sling_angle", "sling_hitch", "side_angle",
		"condition", "improvised"},
}

// ofMachine are the fields that go with the puller itself. They stay where only
// its kind was put right and it is still called the same.
var ofMachine = []string{"mass", "driven", "hitch", "hitch_rating", "hitch_rating_kind", "hitch_height", "axle_height", "wheelbase", "front_share", "cg_height", "rollover_frame"}

// outdated returns what the changes leave without its thing: paths that have a
// value and that none of the changes gives another. by holds what it was of.
func (t *turn) outdated(changes []change) (paths []string, by map[string]string) {
	by = map[string]string{}
	told := func(path string) bool {
		return slices.ContainsFunc(changes, func(c change) bool { return c.path == path })
	}
	drop := func(path, of string) {
		if _, said := t.s.Sheet.Get(path); said && !told(path) && by[path] == "" {
			paths, by[path] = append(paths, path), of
		}
	}
	for _, c := range changes {
		was, said := t.s.Sheet.Get(c.path)
		if !said || c.value == "" {
			continue
		}
		base := c.path[:strings.LastIndexByte(c.path, '.')+1]
		fields := belongings[place.ReplaceAllString(c.path, "[]")]
		if was == c.value {
			if fields = nil; t.otherOne(c.path, changes) {
				fields = belongings[place.ReplaceAllString(c.path, "[]")]
			}
			if fields == nil {
				continue
			}
		}
		if c.path == "puller.name" && t.otherMachine(was, changes) {
			fields = slices.Concat(belongings["puller.kind"], ofMachine)
		}
		if c.path == "puller.kind" && !t.sameMachine(changes) || c.path == "puller.mass" && (t.retold(changes) || t.heavierOne(c, was, changes)) {
			fields = slices.Concat(fields, ofMachine)
		}
		for _, f := range fields {
			of := t.word(c.path, was)
			if name, ok := t.s.Sheet.Get(base + "name"); ok && strings.Contains(base, "[") {
				of = name
			}
			drop(base+f, of)
		}
		if strings.HasSuffix(c.path, "rating") { // a working limit is one of the figure that was read with it
			drop(c.path+"_kind", "")
		}
	}
	return paths, by
}

// putRight1 reports whether what is told anew of a piece is still that piece: of
// what it is told by, at most one thing differs from what was told, and one is
// as it was or nothing of the kind is told.
func (t *turn) putRight1(base string, changes []change) bool {
	if t.otherRope(base, changes) {
		return false
	}
	unlike, like := 0, 0
	for _, c := range changes {
		f, of := strings.CutPrefix(c.path, base)
		was, stands := t.s.Sheet.Get(c.path)
		switch {
		case !of || f != "name" && !slices.Contains(identity, f) || !stands:
		case strings.EqualFold(strings.ReplaceAll(was, " ", ""), strings.ReplaceAll(c.value, " ", "")):
			like++
		default:
			unlike++
		}
	}
	return unlike == 0 || unlike == 1 && like > 0
}

// sameThickness is how far the thickness of a rope may be put right and be of that rope
// still. Judgment: it is read off a tag or measured to a millimetre or two; what is a size
// further is another rope, which nobody has looked over.
const sameThickness = 0.1

// otherRope reports whether the thickness that is told is another rope's.
func (t *turn) otherRope(base string, changes []change) bool {
	if kind, _ := t.s.Sheet.Get(base + "kind"); kind != "rope" {
		return false
	}
	at := slices.IndexFunc(changes, func(c change) bool { return c.path == base+"diameter" })
	was, told := t.s.Sheet.Get(base + "diameter")
	if at < 0 || !told {
		return false
	}
	old, err := bound.ReadLength(was)
	now, bad := bound.ReadLength(changes[at].value)
	if err != nil || bad != nil {
		return false
	}
	ratio := now.Value.Best.Metres() / old.Value.Best.Metres()
	return ratio < 1-sameThickness || ratio > 1+sameThickness
}

// sameMachine reports whether the puller goes by the name that it had.
func (t *turn) sameMachine(changes []change) bool {
	name, said := t.s.Sheet.Get("puller.name")
	for _, c := range changes {
		if c.path == "puller.name" {
			return said && c.value == name
		}
	}
	return said
}

// retold reports whether the puller is told anew, its weight and its wheels or its ground,
// where it is changed as a whole, and not by the name that it had: it may be another that
// nobody here knows by name, a "land rover".
func (t *turn) retold(changes []change) bool {
	more := slices.ContainsFunc(changes, func(c change) bool { return c.path == "puller.driven" || c.path == "puller.ground" })
	if t.s.State != Amend || t.s.Topic != "puller" || !more {
		return false
	}
	return !slices.ContainsFunc(changes, func(c change) bool { return c.path == "puller.name" }) || !t.sameMachine(changes)
}

// heavierOne reports whether the puller is changed as a whole to a machine of so much
// weight, and more than it had: "change puller 5 t tractor" where a tractor of 3.1 t
// pulls. Which wheels of that one drive nobody has told; who only puts the weight right
// changes the puller's weight.
func (t *turn) heavierOne(mass change, was string, changes []change) bool {
	named := slices.ContainsFunc(changes, func(c change) bool { return c.path == "puller.kind" })
	return t.s.State == Amend && t.s.Topic == "puller" && named && worseEnd("puller.mass", was, mass.value)
}

// otherMachine reports whether another machine of the same kind takes the place
// of the puller that went by a name.
func (t *turn) otherMachine(was string, changes []change) bool {
	kind, _ := t.s.Sheet.Get("puller.kind")
	same := slices.ContainsFunc(changes, func(c change) bool { return c.path == "puller.kind" && c.value == kind })
	for _, c := range changes {
		if c.path == "puller.name" {
			return same && !sameNoun(was, c.value)
		}
	}
	return false
}

// newPuller reports whether what is heard names another machine as the puller:
// what it says of the puller is then that one's.
func (t *turn) newPuller(facts []hear.Fact) bool {
	was, told := t.s.Sheet.Get("puller.name")
	return told && slices.ContainsFunc(facts, func(f hear.Fact) bool { return f.Field == "puller.name" && !sameNoun(was, f.Value) })
}

// sameNoun reports whether two names end in the same word, or one says no more
// than that it is a machine.
func sameNoun(a, b string) bool {
	last := func(s string) string { return strings.ToLower(s[strings.LastIndexByte(s, ' ')+1:]) }
	vague := func(s string) bool {
		return slices.Contains([]string{"machine", "vehicle", "puller", "4x4", "4wd", "6x6"}, last(s))
	}
	return last(a) == last(b) || vague(a) || vague(b)
}

// dropped takes outdated values off the sheet and opens the questions that
// they were the answers to. What it returns says so.
func (t *turn) dropped(paths []string, by map[string]string) (say func()) {
	lines := map[string]wording.Names{}
	var of []string
	for _, path := range paths {
		was, _ := t.s.Sheet.Get(path)
		if !strings.HasSuffix(path, "_kind") && !strings.HasSuffix(path, ".name") {
			if lines[by[path]] == nil {
				of = append(of, by[path])
			}
			lines[by[path]] = append(lines[by[path]], t.plain(path, was))
		}
		t.takeOff(path)
	}
	return func() {
		for _, o := range of {
			t.say(wording.ReadDropped, wording.Args{"What": o, "Names": lines[o]})
		}
	}
}

// takeOff takes one value off the sheet and opens the question that it answers.
func (t *turn) takeOff(path string) {
	was, _ := t.s.Sheet.Get(path)
	t.act(Act{Do: DoSet, Path: path, Was: was, How: Told})
	if name := topicFilling(path); t.s.Settled[name] != "" {
		t.act(Act{Do: DoReopen, Topic: name})
	}
}

// belongsTo reports whether a path is told of the thing that one of some
// fields names.
func belongsTo(path string, fields []string) bool {
	for _, f := range fields {
		base := f[:strings.LastIndexByte(f, '.')+1]
		if rest, ok := strings.CutPrefix(path, base); ok && slices.Contains(belongings[f], rest) {
			return true
		}
	}
	return false
}

// clearGear takes all gear off the list, says so, and opens what was asked of
// them.
func (t *turn) clearGear() {
	t.stand()
	var old wording.Names
	for i := range t.s.Sheet.Gear {
		old = append(old, t.pieceLine("gear", i, gearFields, nil))
	}
	t.say(wording.ReadReplaced, wording.Args{"Names": old})
	t.emptyList("gear", Told)
}

// emptyList takes all pieces or anchors off the sheet, and opens what was asked of them.
func (t *turn) emptyList(list string, how How) {
	t.thinsBad(list, func(int) bool { return false })
	t.act(Act{Do: DoSet, Path: list, How: how})
	for _, name := range slices.Sorted(maps.Keys(t.s.Settled)) {
		if strings.HasPrefix(name, list+"[") {
			t.act(Act{Do: DoReopen, Topic: name})
		}
	}
}

// dug asks again whether the belly rests on the ground where the wheels were
// dug free since it did.
func (t *turn) dug(changes []change) {
	if belly, _ := t.s.Sheet.Get("load.belly"); belly != "true" || t.s.Settled["belly"] == "" {
		return
	}
	for _, c := range changes {
		if c.path == "load.sunk" && c.value == "none" && !slices.ContainsFunc(changes, func(c change) bool { return c.path == "load.belly" }) {
			t.act(Act{Do: DoAgain, Topic: "belly", Reason: t.saying(wording.StaleDug)})
		}
	}
}
