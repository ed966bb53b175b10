package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
)

// A tree that moved, or of which anybody says that it is not sound, goes out of the
// plan as a damaged piece does, a holding line's as well: an anchor that has begun to
// go is looked at by somebody else before it holds anything again.
//
// Source: common practice.

var (
	// calledOff are the words of a stop before what it is for.
	calledOff = regexp.MustCompile(`(?i)^\W*(?:(?:stop+|halt|whoa+)\b[\s,.!:;-]*)+`)

	// notSound are words that speak against what something is made fast to.
	notSound = hear.Expression(`\b(unsound|not (?:very |really |at all )?(?:sound|safe|good|healthy|firm|solid)|isn'?t (?:very |really )?(?:sound|safe|good|healthy|firm|solid)|no good|rott(?:en|ing)|rots?|dead|dying|hollow|cracks?|cracked|split|splitting|mushrooms?|fungus)\b`)

	// trees are what a tree is called, and the parts of it.
	trees = hear.Expression(`\b(trees?|trunk|roots?|root ?plate|stump|oak|ash|beech|birch|pine|spruce|fir|larch|maple|elm|willow|poplar|alder|sycamore|chestnut|lime|hawthorn|anchors?)\b`)
	// stayed are words that it did not move.
	stayed = hear.Expression(`\b(?:not|never|hardly|\w+n'?t)\s+(?:\w+\s+)?(?:mov|shift|lift|lean|tilt|give|come)`)
	// anchorWord names none of them: of what only moved it is asked which it is.
	anchorWord = hear.Expression(`\banchors?\b`)
)

// badAnchors are the trees of the plan that a message speaks against: by its name
// where it names one that is there, else each.
func (t *turn) badAnchors(text string) []hear.Fact {
	low := hear.Lowered(text)
	if !t.s.Stage.Rigged() || isQuestion(low) || hear.HeardOnly(low) || !trees.MatchString(low) {
		return nil
	}
	moved := slices.ContainsFunc(t.told(text), func(d hear.Danger) bool { return d.Is("anchor") }) && trees.MatchString(anchorWord.ReplaceAllString(low, " "))
	moved = moved && !stayed.MatchString(low)
	if !moved && !(notSound.MatchString(low) && !harmless.MatchString(low)) {
		return nil
	}
	var all, named []hear.Fact
	for i, a := range t.s.Sheet.Anchors {
		if a.Kind != "tree" {
			continue
		}
		f := hear.Fact{Field: "anchors[" + itoa(i) + "].alive", Value: "false", Said: text}
		all = append(all, f)
		if a.Name != "" && strings.Contains(low, strings.ToLower(a.Name)) {
			named = append(named, f)
		}
	}
	if len(named) > 0 {
		return named
	}
	return all
}

// saidBad is what a message tells to be bad of which the sheet says better: what only
// happened to it is looked at by what the stop is for. Nothing while nothing is rigged.
func (t *turn) saidBad(text string) []change {
	if !t.s.Stage.Rigged() {
		return nil
	}
	return slices.DeleteFunc(t.newDamage(text), func(c change) bool { return c.value == "unknown" })
}

// stopHazards puts a hazard on the sheet that the words of a stop name: "stop, smells of
// diesel". Who is hurt, or inside, is read when the stop is over.
func (t *turn) stopHazards(text string) {
	if t.s.State != Halted {
		return
	}
	facts := hazardsOf(t.factsIn(calledOff.ReplaceAllString(text, "")))
	facts = slices.DeleteFunc(facts, func(f hear.Fact) bool {
		for _, k := range kinds(f.Value) {
			if k != peopleInside && !slices.Contains(hazards(t.s.Sheet), k) {
				return false
			}
		}
		return true
	})
	if len(facts) > 0 {
		t.factsNow(facts)
		t.ask()
	}
}

// stopTells takes out what the words of a stop tell to be damaged or unsound. What the
// lead says of it is on the sheet at once, what another says stands beside what was told
// before, and the worse counts.
func (t *turn) stopTells(text string) bool {
	if t.s == nil || t.in.Press != nil || t.me() == nil {
		return false
	}
	t.hitchDoubted(text)
	t.wentOver(text)
	t.stopHazards(text)
	worse := t.saidBad(text)
	if len(worse) == 0 {
		return false
	}
	if !t.isLead() {
		t.damageNow(text)
		return true
	}
	t.goBy(worse)
	if t.s.State == Halted {
		t.ask()
	}
	return true
}
