package flow

import (
	"regexp"
	"slices"

	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/flow/wording"
)

// moved is how people say that a puller stands somewhere else now.
var moved = regexp.MustCompile(`(?i)\b(?:moved|elsewhere|somewhere else|(?:an)?other (?:spot|place|side)|drove (?:it|over|round|on)|went round|on the (?:road|track) now)\b`)

// notMoved are words that it has not, or that something else has.
var notMoved = regexp.MustCompile(`(?i)\b(?:(?:not|never|\w+n'?t)(?: \w+)? moved|(?:load|trailer|truck|lorry|van|car|rope|line|block|anchor|tree|strop|sling|mark)(?: has| have|'s)? moved)\b`)

// sameSpot drops a better word for the ground that a puller slipped on, and says
// that the old one stays: what it was seen to do there bounds it, whatever the spot
// is called. A worse word counts, and one with which the lead says that it has moved.
//
// Source: judgment, errs low.
func (t *turn) sameSpot(changes []change) []change {
	if (t.isLead() || t.s.alone()) && moved.MatchString(t.in.Text) && !notMoved.MatchString(t.in.Text) || !slices.ContainsFunc(t.s.Sheet.Seen, func(w job.SeenSheet) bool { return w.What == "slip" }) {
		return changes
	}
	return slices.DeleteFunc(slices.Clone(changes), func(c change) bool {
		if c.path != "puller.ground" {
			return false
		}
		was, told := t.s.Sheet.Get(c.path)
		old, _, known := handbook.Grip(handbook.Ground(was))
		now, _, ok := handbook.Grip(handbook.Ground(c.value))
		if !told || was == c.value || known && ok && now.Low <= old.Low && now.High <= old.High {
			return false
		}
		t.say(wording.RefuseSameSpot, wording.Args{"What": t.nameOf(c.path), "Text": t.word(c.path, was)})
		return true
	})
}
