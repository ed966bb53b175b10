package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/wording"
)

// Whoever replaces an answer is told in one line whether the decision or the
// parts are others now, before anything else that follows from it.

// replaces reports whether one of the changes takes the place of an answer.
func (t *turn) replaces(changes []change) bool {
	return slices.ContainsFunc(changes, func(c change) bool {
		was, told := t.s.Sheet.Get(c.path)
		return told && was != c.value
	})
}

// stand keeps the plan as it is before the first answer of the turn is
// replaced. Nothing was told that could turn before the first figure.
func (t *turn) stand() {
	if !t.s.Figured || t.asItStood != nil {
		return
	}
	decided := t.entry.Decided // it is of the plan before
	t.asItStood = t.plan()
	t.entry.Decided = decided
}

// turned says what replacing answers has turned.
func (t *turn) turned() {
	before, now := t.asItStood, t.plan()
	t.asItStood = nil
	if before == nil || now == nil || now.Decision == calc.Refer {
		return
	}
	var names wording.Names
	if now.Decision != before.Decision {
		names = append(names, t.instead(t.saying(decisionKey(now.Decision)), t.saying(decisionKey(before.Decision))))
		if t.s.ToldAs != "" && t.s.ToldAs != string(now.Decision) {
			t.act(Act{Do: DoTold}) // what comes next is set against no plan that is over
		}
	}
	if b, n := before.Tackle, now.Tackle; b != nil && n != nil && b.Parts != n.Parts {
		names = append(names, t.sayingWith(wording.PlanTurnedParts, wording.Args{"Text": itoa(n.Parts), "Was": itoa(b.Parts)}))
	}
	if len(names) > 0 {
		t.say(wording.PlanTurned, wording.Args{"Names": names})
	}
	if lighter := t.onlyTold(); lighter != "" && gravity(now.Decision) < gravity(before.Decision) {
		t.say(wording.PlanTurnedTold, wording.Args{"What": lighter})
	}
}

// onlyTold names what of the load is told anew in this turn without a word that
// anybody did something to it: the place is the same, and only the figure is not.
func (t *turn) onlyTold() string {
	if somethingDone.MatchString(t.in.Text) {
		return ""
	}
	for _, a := range t.entry.Acts {
		if a.Do != DoSet || a.Was == "" || a.Was == a.Value {
			continue
		}
		switch a.Path {
		case "load.mass", "load.slope", "load.side_slope", "load.ground", "load.sunk", "load.locked", "puller.slope":
			if owner, ok := ownerOf(a.Path); ok {
				return t.name(owner.name)
			}
		}
	}
	return ""
}

// somethingDone are words that something was done to the load or its way.
var somethingDone = regexp.MustCompile(`(?i)\b(dug|digging|shovel\w*|unload\w*|took|taken|off ?load\w*|moved|rolled|pumped|drained|boards?|free\w*|released|jacked|levelled)\b`)

// gravity orders decisions from the best to the worst.
func gravity(d calc.Decision) int {
	return slices.Index([]calc.Decision{calc.Go, calc.Open, calc.NoGo, calc.Refer}, d)
}

func decisionKey(d calc.Decision) wording.Key {
	return wording.Key("decision." + strings.ReplaceAll(string(d), "-", "_"))
}
