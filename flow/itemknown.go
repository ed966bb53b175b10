package flow

import (
	"slices"
	"strconv"

	"linetender/flow/wording"
)

// An item of the list counts for no more than what was told here already: no yes
// stands against it.

// judgedSober is what an answer to whether all are fit counts for: a yes is a no
// while somebody has a post who is told not to be.
func (t *turn) judgedSober(c siteCheck, value string) string {
	seated := t.unfitSeated()
	if c.field != "sober" || failing(c, value) || len(seated) == 0 {
		return value
	}
	t.say(wording.SeatUnfitSits, wording.Args{"Names": seated, "Name": seated[0]})
	return c.bad
}

// knownTries is what an answer to whether nobody has tried and failed counts for:
// a slip or a load that stayed stuck, which was told here, is a try that failed, and all
// that was told of one pull is one.
func (t *turn) knownTries(c siteCheck, value string) string {
	pulls := map[int]bool{}
	for _, r := range t.s.Reports {
		if r.Kind == "slips" || r.Kind == "stuck" {
			pulls[r.Pull] = true
		}
	}
	failed := len(pulls)
	told, _ := strconv.Atoi(value)
	if c.field != "tries" || failed <= told {
		return value
	}
	t.say(wording.ChecksTriesKnown, wording.Args{"Number": failed})
	return itoa(min(failed, 2))
}

// joinsWeak says of a yes to what joins the ends that it counts for none that all known
// pieces of the kind are too weak for, and what is asked instead; it reports whether
// that is so.
func (t *turn) joinsWeak(c siteCheck, value string) bool {
	if c.field != "ends_joined" || failing(c, value) {
		return false
	}
	p := t.plan()
	if p == nil {
		return false
	}
	var ends, weak wording.Names
	for _, e := range p.Ends {
		if len(e.Weak) == 0 {
			continue
		}
		ends = append(ends, t.sayingWith(wording.ChecksEnd, wording.Args{"Force": wording.Load{Force: e.Working}, "Place": e.At}))
		for _, j := range e.Weak {
			said := t.sayingWith(wording.ChecksJoiner, wording.Args{"What": t.pieceName(j.Kind, j.Name, ""), "Limit": wording.Limit{Force: j.Working}})
			if !slices.Contains(weak, said) {
				weak = append(weak, said)
			}
		}
	}
	if len(ends) == 0 {
		return false
	}
	t.say(wording.ChecksEndsWeak, wording.Args{"Names": ends})
	t.say(wording.ChecksEndsTell, wording.Args{"Names": weak})
	return true
}
