package flow

import (
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
// a slip or a load that stayed stuck, which was told here, is a try that failed.
func (t *turn) knownTries(c siteCheck, value string) string {
	failed := 0
	for _, r := range t.s.Reports {
		if r.Kind == "slips" || r.Kind == "stuck" {
			failed++
		}
	}
	told, _ := strconv.Atoi(value)
	if c.field != "tries" || failed <= told {
		return value
	}
	t.say(wording.ChecksTriesKnown, wording.Args{"Number": failed})
	return itoa(min(failed, 2))
}
