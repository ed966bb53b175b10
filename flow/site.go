package flow

import (
	"cmp"

	"linetender/calc"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/unit"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A siteCheck is something that only people on the spot can see. Field is in
// the sheet's site; id is the check of the plan that it decides. Its sentence
// is a claim: yes means that it holds.
type siteCheck struct {
	field string
	id    string
	row   string // its row of the check table, where several go by the id
	bad   string // the value that fails
	apply func(job.Sheet, rigParts) bool
	eyes  []string // the duties whose people can see it, the first choice first
	two   bool     // it blocks: the doer and one other person look
}

// siteChecks are the go/no-go list as it is walked: what ends the job first,
// then people, then the gear from load to puller, then the last look.
var siteChecks = []siteCheck{
	{field: "consent", id: "X3", bad: "false", eyes: []string{"leader"}, two: true},
	{field: "lifting", id: "X1", bad: "true", eyes: []string{"leader"}, two: true},
	{field: "tries", id: "X2", bad: "2", eyes: []string{"leader"}, two: true},
	{field: "light", id: "H7", bad: "false", eyes: []string{"leader", "signal", "lookout", "holder", "driver"}},
	{field: "aid", id: "C2", bad: "false", eyes: []string{"lookout", "recorder", "holder", "leader"}},
	{field: "public", id: "P3", row: "P3/road", bad: "true", eyes: []string{"lookout", "leader", "signal", "holder"}, apply: fewerThan("road")},
	{field: "under", id: "P1", row: "P1/under", bad: "true", eyes: []string{"chocks", "rigger", "lookout", "holder", "leader"}, two: true},
	{field: "aboard", id: "P2", bad: "true", eyes: []string{"rigger", "holder", "lookout", "leader"}},
	{field: "chocks", id: "T2", bad: "0", eyes: []string{"chocks", "rigger", "holder", "leader"}, two: true},
	{field: "hold_stays", id: "T1", row: "T1/stays", bad: "false", eyes: []string{"holder", "chocks", "rigger"}, two: true},
	{field: "anchor_marked", id: "A6", bad: "false", eyes: []string{"anchor"}, apply: hasAnchor},
	{field: "ends_joined", id: "R1", row: "R1/ends", bad: "false", eyes: []string{"rigger", "anchor"}, two: true},
	{field: "line_free", id: "R13", row: "R13/led", bad: "false", eyes: []string{"rigger", "anchor"}, two: true},
	{field: "edges_padded", id: "R13", row: "R13/padded", bad: "false", eyes: []string{"rigger", "holder"}},
	{field: "driver_shielded", id: "P6", bad: "false", eyes: []string{"driver", "leader"}},
	{field: "between", id: "P1", row: "P1/under", bad: "true", eyes: []string{"lookout", "leader", "signal", "holder"}, two: true},
	{field: "running_start", id: "X4", bad: "true", eyes: []string{"driver", "signal", "leader"}, two: true},
	{field: "sober", id: "P4", bad: "false", eyes: []string{"leader"}, two: true},
	{field: "briefed", id: "P4", bad: "false", eyes: []string{"leader"}, two: true},
	{field: "plan_seen", id: "C3", bad: "false", eyes: []string{"leader", "recorder"}, apply: sharesCard},
	{field: "leader_seen", id: "P3", row: "P3/split", bad: "false", eyes: []string{"driver", "signal", "leader"}, apply: fewerThan("split signals")},
	{field: "signals", id: "C1", bad: "false", eyes: []string{"signal", "driver", "leader"}, two: true},
	{field: "hands_off", id: "C1", bad: "false", eyes: []string{"rigger", "holder", "leader"}, two: true},
	{field: "clear", id: "P5", bad: "false", eyes: []string{"lookout", "leader", "signal"}, two: true},
}

// fewerThan is where a crew is smaller than one that has a person for it. Where
// one has, nothing hangs on the answer and nobody is asked.
func fewerThan(kind string) func(job.Sheet, rigParts) bool {
	enough, _, _ := handbook.CrewFor(kind)
	return func(s job.Sheet, _ rigParts) bool { return s.Crew != nil && *s.Crew < enough }
}

// sharesCard is where somebody has no phone in the job and sees the plan on
// another's. On a phone of one's own one has it.
func sharesCard(_ job.Sheet, r rigParts) bool { return !r.carded }

func siteCheckOf(field string) (siteCheck, bool) {
	for _, c := range siteChecks {
		if c.field == field {
			return c, true
		}
	}
	return siteCheck{}, false
}

func (c siteCheck) path() string { return "site." + c.field }

// source says where the check that it decides is from.
func (c siteCheck) source() string { return calc.CheckSource(cmp.Or(c.row, c.id)) }

// claim returns the key of the sentence that yes agrees with.
func (c siteCheck) claim() wording.Key { return wording.Key("check." + c.field) }

// short returns the key of the few words that it goes by.
func (c siteCheck) short() wording.Key { return wording.Key("itemname." + c.field) }

// claimed returns the key of the sentence that the answer value stands for,
// where that is neither a plain yes nor the failing one. A second person agrees
// with what the first has said, not with something better.
func (c siteCheck) claimed(value string) wording.Key {
	switch {
	case c.field == "tries" && value == "1":
		return wording.CheckTriesOnce
	case c.field == "chocks" && value == "1":
		return wording.CheckChocksOne
	}
	return c.claim()
}

// claimHere is the sentence that c stands for, with what the plan says of the
// place: what each end must bear.
func (t *turn) claimHere(c siteCheck, value string) string {
	claim := t.fits(c.claimed(value))
	p := t.plan()
	if c.field != "ends_joined" || p == nil || len(p.Ends) == 0 {
		return claim
	}
	var ends wording.Names
	k, without := wording.ChecksEnds, unit.Force(0)
	for _, e := range p.Ends {
		ends = append(ends, t.sayingWith(wording.ChecksEnd, wording.Args{"Force": wording.Load{Force: e.Working}, "Place": e.At}))
		if e.AtMost {
			k = wording.ChecksEndsMost
		}
		without = max(without, e.Without)
	}
	if without > 0 {
		return t.sayingWith(wording.ChecksEndsRuled, wording.Args{"Criterion": claim, "Names": ends, "Force": wording.Load{Force: without}})
	}
	return t.sayingWith(k, wording.Args{"Criterion": claim, "Names": ends})
}

// topic returns the question for c.
func (c siteCheck) topic() topic {
	good := "true"
	if c.bad == "true" {
		good = "false"
	}
	t := topic{name: c.path(), state: Checks, hears: hear.TopicCheck, fills: []string{c.path()}, noskip: true}
	switch c.field {
	case "tries":
		t.offers = sets(c.path(), "yes", "0", "once", "1", "no", "2")
	case "chocks":
		t.offers = sets(c.path(), "yes", "2", "one_only", "1", "no", "0")
	default:
		t.offers = sets(c.path(), "yes", good, "no", c.bad)
	}
	return t
}

// fails reports whether the sheet's answer to c is the failing one.
func (c siteCheck) fails(s job.Sheet) bool {
	v, ok := s.Get(c.path())
	return ok && failing(c, v)
}
