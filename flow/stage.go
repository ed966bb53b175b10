package flow

import (
	"context"
	"fmt"
	"sync"

	"github.com/looplab/fsm"
)

// A Stage is where the pull stands. Stages in which the puller may move lie
// between hold points; at a hold point everything stands, and it goes on only
// by the release of that hold's number. Its value is what is stored.
type Stage string

// The stages, in the order of a pull.
const (
	NotBegun     Stage = "not-begun"
	StopDrill    Stage = "stop-drill"    // the last check: a stop is called and obeyed
	AllPlaced    Stage = "all-placed"    // hold: everybody is in place, the line lies slack
	SlackOut     Stage = "slack-out"     // the puller creeps until the line rises
	SlackIsOut   Stage = "slack-is-out"  // hold: the line is straight and carries nothing
	Tightening   Stage = "tightening"    // the light tension is put on
	LightTension Stage = "light-tension" // hold: it stands under it while the rig is looked over from outside
	FirstMove    Stage = "first-move"    // the load goes a hand's breadth, 0.3 m at most
	Bite         Stage = "bite"          // one travel between two holds
	Crest        Stage = "crest"         // a bite that takes the wheels over a crest or lip
	Held         Stage = "held"          // hold: brake, chocks and holding line keep what was gained
	Proving      Stage = "proving"       // the haul line is eased 10 cm: the load must not move
	HoldProved   Stage = "hold-proved"   // hold: what holds the load has shown that it does
	LineSlack    Stage = "line-slack"    // hold: the haul line lies slack and the load has not moved; hands go in by its release
	Rerig        Stage = "re-rig"        // the haul line is slack; blocks or puller are shifted
	RerigHeld    Stage = "re-rig-held"   // hold: that was broken off; what keeps the load is looked at again
	Securing     Stage = "securing"      // hold: the load stands and is chocked both ways
	SlackOff     Stage = "slack-off"     // the haul line is eased through the puller
	SlackIsOff   Stage = "slack-is-off"  // hold: the load stands by itself
	Unrig        Stage = "unrig"         // the gear comes off, the holding line last
	UnrigHeld    Stage = "unrig-held"    // hold: that was broken off; the load must still stand by itself
	GearCheck    Stage = "gear-check"    // the gear is counted and looked over
	PullOver     Stage = "pull-over"
)

// A Cue is what takes the pull from one stage to the next.
type Cue string

// The cues.
const (
	Begins     Cue = "begins"
	Drilled    Cue = "drilled"
	TakesSlack Cue = "takes-slack"
	SlackTaken Cue = "slack-taken"
	Tightens   Cue = "tightens"
	Tightened  Cue = "tightened"
	FirstMoves Cue = "first-moves"
	Bites      Cue = "bites"
	Crests     Cue = "crests"
	Holds      Cue = "holds"
	Proves     Cue = "proves"
	Proved     Cue = "proved"
	Slacks     Cue = "slacks"
	Shifts     Cue = "shifts"
	Rigged     Cue = "rigged"
	Stays      Cue = "stays" // the haul line goes slack and nothing is shifted
	Arrives    Cue = "arrives"
	Eases      Cue = "eases"
	Eased      Cue = "eased"
	Catches    Cue = "catches"
	Unrigs     Cue = "unrigs"
	Unrigged   Cue = "unrigged"
	LookedOver Cue = "looked-over"
	Backs      Cue = "backs" // to the slack line, before the load has moved by this rig
	HandsOut   Cue = "hands-out"
	HandsIn    Cue = "hands-in"
	GearStays  Cue = "gear-stays"
	GearOff    Cue = "gear-off"
	Redrills   Cue = "redrills" // somebody else has a part since the stop was drilled
)

// A Step is one row of the pull's machine: a cue takes the pull from any stage
// of From to To.
type Step struct {
	Cue  Cue
	From []Stage
	To   Stage
}

// Steps returns the machine of the pull as data. After a stop or a hold at once
// it goes on from a hold point, never from a stage that moves: see [Stage.rest].
func Steps() []Step {
	return []Step{
		{Begins, []Stage{NotBegun}, StopDrill},
		{Drilled, []Stage{StopDrill}, AllPlaced},
		{TakesSlack, []Stage{AllPlaced}, SlackOut},
		{SlackTaken, []Stage{SlackOut}, SlackIsOut},
		{Tightens, []Stage{SlackIsOut}, Tightening},
		{Tightened, []Stage{Tightening}, LightTension},
		{FirstMoves, []Stage{LightTension}, FirstMove},
		{Holds, []Stage{FirstMove, Bite, Crest, Proving, HoldProved, LineSlack}, Held},
		{Bites, []Stage{Held}, Bite},
		{Crests, []Stage{Held}, Crest},
		{Proves, []Stage{Held}, Proving},
		{Proved, []Stage{Proving}, HoldProved},
		{Slacks, []Stage{HoldProved}, LineSlack},
		{Shifts, []Stage{HoldProved, LineSlack}, Rerig}, // from a proved hold in logs from before there was a hold between
		{Rigged, []Stage{Rerig}, AllPlaced},
		{Stays, []Stage{HoldProved, LineSlack}, AllPlaced},
		{Arrives, []Stage{AllPlaced, Held, HoldProved, LineSlack, RerigHeld}, Securing},
		{Eases, []Stage{Securing}, SlackOff},
		{Eased, []Stage{SlackOff}, SlackIsOff},
		{Unrigs, []Stage{SlackIsOff}, Unrig},
		{Unrigged, []Stage{Unrig}, GearCheck},
		{LookedOver, []Stage{GearCheck}, PullOver},
		{Backs, []Stage{SlackOut, SlackIsOut, Tightening, LightTension}, AllPlaced},
		{Catches, []Stage{SlackOff, SlackIsOff}, Securing},
		{HandsOut, []Stage{Rerig}, RerigHeld},
		{HandsIn, []Stage{RerigHeld}, Rerig},
		{GearStays, []Stage{Unrig, GearCheck}, UnrigHeld},
		{GearOff, []Stage{UnrigHeld}, Unrig},
		{Redrills, []Stage{AllPlaced}, StopDrill},
	}
}

// Moves reports whether the line is tight or about to be and what is on it may
// move.
func (s Stage) Moves() bool { return s.Pulls() || s == SlackOff }

// Pulls reports whether the puller may pull: no such stage is entered or stays
// while a check that blocks is open, a stop is on, a post is empty or the plan
// is no go.
func (s Stage) Pulls() bool {
	switch s {
	case SlackOut, Tightening, FirstMove, Bite, Crest, Proving:
		return true
	}
	return false
}

// Holds reports whether s is a hold point, which has a number.
func (s Stage) Holds() bool {
	switch s {
	case AllPlaced, SlackIsOut, LightTension, Held, HoldProved, LineSlack, RerigHeld, Securing, SlackIsOff, UnrigHeld, GearCheck:
		return true
	}
	return false
}

// Hands reports whether people have their hands on the gear: broken off, that is
// taken up again only from a hold point, as a motion is.
func (s Stage) Hands() bool { return s == Rerig || s == Unrig }

// Lies reports whether the pull has begun and its line may still carry
// something: such a job is not closed before it is unrigged.
func (s Stage) Lies() bool { return s != NotBegun && s != StopDrill && s != PullOver }

// Rigged reports whether the rig stands for the pull: from the drill on, until
// all is taken away.
func (s Stage) Rigged() bool { return s == StopDrill || s.Lies() }

// needsPlan reports whether the pull goes on from s only by a plan that is go.
// To secure the load, let the line off and take the gear away needs none.
func (s Stage) needsPlan() bool {
	switch s {
	case NotBegun, Securing, SlackOff, SlackIsOff, Unrig, UnrigHeld, GearCheck, PullOver:
		return false
	}
	return true
}

// rest returns the cue that takes a stage to where the pull goes on after it
// was broken off; empty where it stands already. A stop also gives up a tight
// line that has moved nothing yet.
func (s Stage) rest(stop bool) Cue {
	switch s {
	case SlackOut, Tightening:
		return Backs
	case SlackIsOut, LightTension:
		if stop {
			return Backs
		}
	case FirstMove, Bite, Crest, Proving:
		return Holds
	case HoldProved, LineSlack:
		if stop {
			return Holds
		}
	case SlackOff:
		return Catches
	case Rerig:
		return HandsOut
	case Unrig:
		return GearStays
	case GearCheck:
		if stop {
			return GearStays
		}
	case SlackIsOff:
		if stop {
			return Catches
		}
	}
	return ""
}

// stageMachine returns a fresh machine that stands at s, as machine does.
func stageMachine(s Stage) *fsm.FSM {
	var events fsm.Events
	for _, m := range Steps() {
		from := make([]string, len(m.From))
		for i, f := range m.From {
			from[i] = string(f)
		}
		events = append(events, fsm.EventDesc{Name: string(m.Cue), Src: from, Dst: string(m.To)})
	}
	return fsm.NewFSM(string(s), events, nil)
}

// stageWays is where every cue leads, asked of the library once.
var stageWays = sync.OnceValue(func() map[stageWay]Stage {
	out := map[stageWay]Stage{}
	for _, m := range Steps() {
		for _, f := range m.From {
			if to, err := stageLead(f, m.Cue); err == nil {
				out[stageWay{f, m.Cue}] = to
			}
		}
	}
	return out
})

// stageWay is a cue where a pull stands.
type stageWay struct {
	from Stage
	cue  Cue
}

// stageAfter returns where the cue takes a pull that stands at s.
func stageAfter(s Stage, c Cue) (Stage, error) {
	if to, ok := stageWays()[stageWay{s, c}]; ok {
		return to, nil
	}
	return stageLead(s, c)
}

// stageLead asks the library.
func stageLead(s Stage, c Cue) (Stage, error) {
	m := stageMachine(s)
	if err := m.Event(context.Background(), string(c)); err != nil {
		return "", fmt.Errorf("%w: %s at %s: %w", errNoMove, c, s, err)
	}
	return Stage(m.Current()), nil
}

// StageDiagram returns the machine of the pull as a Mermaid state diagram.
func StageDiagram() (string, error) {
	return fsm.VisualizeForMermaidWithGraphType(stageMachine(NotBegun), fsm.StateDiagram)
}
