package flow

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"github.com/looplab/fsm"
)

// A State is where a job stands: the place or the phase that the current
// question belongs to. Its value is what is stored, so it never changes its
// meaning; a state that is given up keeps its name to itself.
type State string

// The states.
const (
	People   State = "people"   // is anyone hurt, inside or in the way; what else could kill here
	Weight   State = "weight"   // what it weighs, with its load
	Slope    State = "slope"    // how steep the way is
	Ground   State = "ground"   // what it stands on, how deep, whether its wheels turn
	Way      State = "way"      // which way it will be pulled
	Puller   State = "puller"   // what pulls, on what, made fast where
	Anchor   State = "anchor"   // what there is to make fast to
	AtLoad   State = "load"     // what is left to find out at the load
	AtAnchor State = "holdfast" // what is left to find out at the anchor
	AtPuller State = "drive"    // what is left to find out at the puller
	AtGear   State = "gear"     // what is left to find out at the gear
	Crew     State = "crew"     // who is there
	Checks   State = "checks"   // the go/no-go list, one by one
	Signing  State = "signing"  // a named yes to a check that takes one
	Verdict  State = "verdict"  // the plan has been said; nothing more would change it
	Referred State = "referred" // for a licensed professional or the emergency service
	Amend    State = "amend"    // an earlier answer is being given again
	Halted   State = "halted"   // somebody called stop
	Away     State = "away"     // left for now
	Pulling  State = "pulling"  // the pull, hold point by hold point; its own machine says where
	Debrief  State = "debrief"  // the load is secured and the gear is off: what went how
	Closed   State = "closed"   // over
)

// An Event is what happened in a turn that moves the job on.
type Event string

// The events. One that needs something is fired when that is what is to be
// found out next.
const (
	NeedPeople Event = "need-people"
	NeedWeight Event = "need-weight"
	NeedSlope  Event = "need-slope"
	NeedGround Event = "need-ground"
	NeedWay    Event = "need-way"
	NeedPuller Event = "need-puller"
	NeedAnchor Event = "need-anchor"
	NeedLoad   Event = "need-load"
	NeedHold   Event = "need-holdfast"
	NeedDrive  Event = "need-drive"
	NeedGear   Event = "need-gear"
	NeedCrew   Event = "need-crew"
	NeedCheck  Event = "need-check"
	NeedSign   Event = "need-signature"
	Decided    Event = "decided"
	Refers     Event = "refers"
	Reopens    Event = "reopens"
	Stops      Event = "stops"
	Leaves     Event = "leaves"
	Pulls      Event = "pulls"
	Debriefs   Event = "debriefs"
	Closes     Event = "closes"
)

// A Move is one row of the machine: event takes the job from any state of
// From to To.
type Move struct {
	Event Event
	From  []State
	To    State
}

// Start is the state in which a job begins.
const Start = People

var (
	first = []State{People, Weight, Slope, Ground, Way, Puller, Anchor}
	rest  = []State{AtLoad, AtAnchor, AtPuller, AtGear, Crew}
	late  = []State{Checks, Signing, Verdict, Pulling}
	// From a hub a job goes back to wherever it is needed next.
	hubs = []State{Amend, Halted, Away}
)

// Moves returns the machine as data: which event takes a job from where to
// where. A question that is asked again is no event.
func Moves() []Move {
	asking := join(first, rest)
	going := join(asking, late)
	open := join(going, []State{Referred, Amend, Halted, Away, Debrief})
	moves := []Move{
		{NeedPeople, without(join(asking, hubs), People), People},
		{NeedWeight, without(join(asking, hubs), Weight), Weight},
		{NeedSlope, without(join(asking, hubs), Slope), Slope},
		{NeedGround, without(join(asking, hubs), Ground), Ground},
		{NeedWay, without(join(asking, hubs), Way), Way},
		{NeedPuller, without(join(asking, hubs), Puller), Puller},
		{NeedAnchor, without(join(asking, hubs), Anchor), Anchor},
		{NeedLoad, without(join(asking, late, hubs), AtLoad), AtLoad},
		{NeedHold, without(join(asking, late, hubs), AtAnchor), AtAnchor},
		{NeedDrive, without(join(asking, late, hubs), AtPuller), AtPuller},
		{NeedGear, without(join(asking, late, hubs), AtGear), AtGear},
		{NeedCrew, without(join(asking, late, hubs), Crew), Crew},
		{NeedCheck, without(join(asking, late, hubs), Checks), Checks},
		{NeedSign, join([]State{Checks, Verdict}, hubs), Signing},
		{Decided, without(join(going, hubs), Verdict), Verdict},
		{Pulls, join([]State{Verdict, Checks}, hubs), Pulling},
		{Debriefs, join([]State{Pulling}, hubs), Debrief},
		{Refers, without(open, Referred), Referred},
		{Reopens, without(open, Amend), Amend},
		{Stops, without(open, Halted), Halted},
		{Leaves, without(open, Away), Away},
		{Closes, open, Closed},
	}
	return moves
}

// machine returns a fresh machine that has some moves and stands at s. One
// machine makes one move: the library's can be left stuck, and one shared by
// chats would make them wait for each other.
func machine(s State, moves ...Move) *fsm.FSM {
	var events fsm.Events
	for _, m := range moves {
		from := make([]string, len(m.From))
		for i, f := range m.From {
			from[i] = string(f)
		}
		events = append(events, fsm.EventDesc{Name: string(m.Event), Src: from, Dst: string(m.To)})
	}
	return fsm.NewFSM(string(s), events, nil)
}

// known reports whether this release has the state.
func known(s State) bool {
	if s == Start {
		return true
	}
	for _, m := range moves() {
		if m.To == s {
			return true
		}
	}
	return false
}

// errNoMove is returned for an event that can't happen where the job stands.
var errNoMove = errors.New("no such move")

// moves is Moves made once, for those who only look.
var moves = sync.OnceValue(Moves)

// ways is where every event leads, as the library has it, asked of it once:
// to build its machine takes longer than all else that a move does.
var ways = sync.OnceValue(func() map[way]State {
	out := map[way]State{}
	for _, m := range moves() {
		for _, f := range m.From {
			if to, err := lead(f, m.Event); err == nil {
				out[way{f, m.Event}] = to
			}
		}
	}
	return out
})

// way is an event where a job stands.
type way struct {
	from  State
	event Event
}

// after returns where the event takes a job that stands at s.
func after(s State, e Event) (State, error) {
	if to, ok := ways()[way{s, e}]; ok {
		return to, nil
	}
	return lead(s, e)
}

// of are the moves of an event: the library needs no more of them to make one.
func of(e Event) []Move {
	return slices.DeleteFunc(slices.Clone(moves()), func(m Move) bool { return m.Event != e })
}

// lead asks the library.
func lead(s State, e Event) (State, error) {
	m := machine(s, of(e)...)
	// The context of the turn could be cancelled in the middle of the event,
	// which would leave the machine stuck; it does no work that could wait.
	if err := m.Event(context.Background(), string(e)); err != nil {
		return "", fmt.Errorf("%w: %s at %s: %w", errNoMove, e, s, err)
	}
	return State(m.Current()), nil
}

// Diagram returns the machine as a Mermaid state diagram.
func Diagram() (string, error) {
	return fsm.VisualizeForMermaidWithGraphType(machine(Start, moves()...), fsm.StateDiagram)
}

func join(lists ...[]State) []State {
	var out []State
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}

func without(list []State, s State) []State {
	var out []State
	for _, l := range list {
		if l != s {
			out = append(out, l)
		}
	}
	return out
}
