package calc

import "linetender/calc/job"

// Decide returns the decision that [Reckon] comes to, and nothing else: what
// would be worth measuring and what would turn a no-go round is most of the
// work of a plan.
func Decide(c job.Case) Decision {
	s := &search{c: learnt(c), shelf: stock(c), room: new(room), ends: true}
	s.reckon(true)
	return s.first().v.decision
}
