package calc

import (
	"testing"

	"pgregory.net/rapid"
)

// What is offered after a slip or a load that stuck is so once it is told: the
// case with the change, planned anew with what was seen, is no no-go.
func TestChangesHoldAfterASlip(t *testing.T) {
	lone(t)
	tried := 0
	checkMeeting(t, func() bool { return tried > 0 }, func(t *rapid.T) {
		c := pinned(read(t, withSeen(t)))
		p := Reckon(c)
		if p.Decision != NoGo || len(p.Changes) == 0 {
			return
		}
		l, _ := learn(c)
		c.Learnt = &l
		found := newSearch(c, view{})
		for _, r := range remedies(c, &found, found.run()[0]) {
			k, d := least(c, r, new(room))
			if d == NoGo {
				continue
			}
			tried++
			told := clone(c)
			r.set(&told, k)
			told.Learnt = nil
			if now := Reckon(told).Decision; now != d {
				t.Fatalf("%s: then %s, and told it is %s", r.do(c, k), d, now)
			}
		}
	})
	t.Logf("%d changes told", tried)
}
