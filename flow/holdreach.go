package flow

import (
	"regexp"
	"slices"

	"linetender/flow/wording"
)

// What was told of how things lie rests on where they stand: how far it is to an
// anchor was told of one anchor, and of one way out. Where another takes its place
// nobody has said it of that one.

const holdReach = "holding_reach"

// lengthsOf are what was told of where an anchor stands, by its use.
var lengthsOf = map[string][]string{
	"standing": {"reach", "lead", "load.off_line"},
	"holding":  {holdReach},
	"lead":     {"lead", "tackle.lead_angle"},
}

// lengthsOfWay are what was told of the way out.
var lengthsOfWay = []string{"distance", "reach", "lead", "load.off_line", holdReach}

// ofAnchor is what tells that an anchor is another one.
var ofAnchor = regexp.MustCompile(`^(anchors\[\d+\])\.(kind|name|use)$`)

// otherPlace takes back what rests on where something stands, where a change that was
// written, of what was there before, makes another of it, and the same words don't say
// it anew.
func (t *turn) otherPlace(path, was string, changes []change) {
	now, _ := t.s.Sheet.Get(path)
	m := ofAnchor.FindStringSubmatch(path)
	switch {
	case now == was:
	case path == "load.pull" && was != "":
		t.untellLengths(lengthsOfWay, changes)
	case m == nil || was == "" && m[2] != "use":
	case m[2] != "use":
		use, _ := t.s.Sheet.Get(m[1] + ".use")
		t.untellLengths(lengthsOf[anchorUse(m[1], use)], changes)
	case anchorUse(m[1], was) != anchorUse(m[1], now):
		if !slices.ContainsFunc(t.entry.Acts, func(a Act) bool { return a.Do == DoSet && a.Path == m[1]+".kind" && a.Was == "" }) { // it was there before
			t.untellLengths(lengthsOf[anchorUse(m[1], was)], changes)
		}
		t.untellLengths(lengthsOf[anchorUse(m[1], now)], changes)
	}
}

// anchorUse is what an anchor is for: the first is the pull's, unless another use was
// told of it.
func anchorUse(at, use string) string {
	if use == "" && at == "anchors[0]" {
		return "standing"
	}
	return use
}

// untellLengths takes back and asks anew what was told of fields that the same words
// don't tell.
func (t *turn) untellLengths(fields []string, changes []change) {
	for _, f := range fields {
		old, told := t.s.Sheet.Get(f)
		if !told || slices.ContainsFunc(changes, func(c change) bool { return c.path == f }) {
			continue
		}
		t.wayGone = append(t.wayGone, t.plain(f, old))
		t.act(Act{Do: DoSet, Path: f, Was: old, How: Told})
		for _, tp := range laterTopics {
			if slices.Contains(tp.fills, f) {
				t.act(Act{Do: DoReopen, Topic: tp.name})
			}
		}
	}
}

// saysWayGone says what of the way was taken back, so that nobody thinks it counts still.
func (t *turn) saysWayGone() {
	if len(t.wayGone) > 0 {
		t.say(wording.ReadWayGone, wording.Args{"Names": t.wayGone})
	}
	t.wayGone = nil
}
