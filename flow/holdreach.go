package flow

import (
	"regexp"
	"slices"
)

// How far the anchor of the holding line is was told of one anchor. Where another
// takes its place nobody has said it of that one.

const holdReach = "holding_reach"

// ofAnchor is what tells that an anchor is another one.
var ofAnchor = regexp.MustCompile(`^(anchors\[\d+\])\.(kind|name|use)$`)

// otherHold takes back how far the holding line's anchor is where a change that was
// written, of what was there before, makes another anchor of it, and the same words
// don't say it anew.
func (t *turn) otherHold(path, was string, changes []change) {
	m := ofAnchor.FindStringSubmatch(path)
	old, told := t.s.Sheet.Get(holdReach)
	if m == nil || !told || slices.ContainsFunc(changes, func(c change) bool { return c.path == holdReach }) {
		return
	}
	now, _ := t.s.Sheet.Get(path)
	use, _ := t.s.Sheet.Get(m[1] + ".use")
	if now == was || use != "holding" && was != "holding" || was == "" && m[2] != "use" {
		return
	}
	t.act(Act{Do: DoSet, Path: holdReach, Was: old, How: Told})
	t.act(Act{Do: DoReopen, Topic: holdReach})
}
