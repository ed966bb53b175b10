package flow

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
)

// The pull is a machine of its own (stage.go, drawn in stage.md). Text never
// carries a motion signal: it releases hold points by their number, or stops.
// A hold point waits for those who must confirm it, each in their own words;
// the lead releases, a coordinator may withhold, and silence means held.
//
// Every change is an act, so that the replayed pull is the live one.

// A Hold is one hold point.
type Hold struct {
	Number   int
	Stage    Stage
	After    Stage // where the pull came from
	At       string
	Sure     []Sure
	Doubt    []string // duties whose claim was said not to be so, and has not been said to be so since
	Withheld []Person
	Reasons  map[string]string // why somebody withholds it, by who they are, where they said
	Released Stage             // where its release led; empty while it is not released
	By       Person
	Over     string // when it was released
	Quiet    bool   // it was told that nobody answers
}

// Sure is one confirmation.
type Sure struct {
	Duty string
	Name string // who answers for it, by name
	By   Person // whose phone said so
	At   string
}

// A Travel is one bite.
type Travel struct {
	Stage  Stage
	Hold   int    // whose release began it
	From   string // when
	To     string
	Most   string // the longest that it was to be, as it was told
	Moved  string // by the load, where it was told
	TookIn string // of rope
	Rerigs int    // how often it had been laid out anew before
	Told   []Gone // how far it went, as each phone tells it
}

// hold returns the hold point that the pull stands at; nil where it stands at
// none or its number was released.
func (s *Session) hold() *Hold {
	if !s.Stage.Holds() || len(s.Holds) == 0 {
		return nil
	}
	if h := &s.Holds[len(s.Holds)-1]; h.Released == "" && h.Stage == s.Stage {
		return h
	}
	return nil
}

// holdNumbered returns the open hold point of a number.
func (s *Session) holdNumbered(number string) (*Hold, error) {
	n, err := strconv.Atoi(number)
	if err != nil {
		return nil, fmt.Errorf("hold point %q: %w", number, err)
	}
	h := s.hold()
	if h == nil || h.Number != n {
		return nil, fmt.Errorf("hold point %d is not open", n)
	}
	return h, nil
}

// applyPull does one act of the pull.
func (s *Session) applyPull(a Act, e Entry) error {
	switch a.Do {
	case DoStage:
		return s.step(a.Cue, e)
	case DoRelease:
		h, err := s.holdNumbered(a.Value)
		if err != nil {
			return err
		}
		if len(h.Withheld) > 0 {
			return fmt.Errorf("hold point %d is withheld", h.Number)
		}
		to, err := stageAfter(s.Stage, a.Cue)
		if err != nil {
			return err
		}
		h.Released, h.By, h.Over = to, e.Who, e.At
		if a.Cue == TakesSlack {
			s.Rove, s.Roved = a.Topic, strconv.Itoa(s.RigNo)
			s.HeldAt = holdingAnchor(s.Rig)
			delete(s.Held, heldMark) // the line lay slack, and the anchor was looked at anew
		}
		if err := s.step(a.Cue, e); err != nil {
			return err
		}
		if to.Pulls() {
			if err := s.pullsBy(); err != nil {
				return err
			}
		}
		if n := len(s.Bites); n > 0 && to.travels() {
			s.Bites[n-1].Most = a.Second
		}
	case DoAnew:
		if s.Stage.Holds() {
			after := s.Stage
			if len(s.Holds) > 0 {
				after = s.Holds[len(s.Holds)-1].After
				if s.Holds[len(s.Holds)-1].sure(easing) {
					after = AllPlaced // it was eased there
				}
			}
			s.openHold(after, e)
		}
	case DoQuiet, DoSure, DoDoubt, DoWithhold, DoLift:
		if a.Value == "" && (a.Do == DoWithhold || a.Do == DoLift) {
			s.applyVeto(a, e)
			return nil
		}
		h, err := s.holdNumbered(a.Value)
		if err != nil {
			return err
		}
		h.apply(a, e)
	case DoUnreport:
		s.unreport(a)
	case DoFault, DoMended:
		s.applyFault(a, e)
	case DoDrill:
		s.Called = a.Value == "" // else the one that was called has failed
	case DoReport:
		s.report(a, e)
		s.shaken(a.Path)
	case DoSlack:
		s.Slack = a.Value
	case DoAgain:
		if !slices.ContainsFunc(s.Again, func(g Again) bool { return g.Topic == a.Topic }) {
			s.Again = append(s.Again, Again{Topic: a.Topic, Why: a.Reason})
		}
		delete(s.Settled, a.Topic)
		delete(s.Quick, a.Topic)
	case DoFresh:
		s.Fresh, s.Stands = e.At, ""
	case DoCause:
		if stop := s.stop(); stop != nil && a.Path == heldNoneHurt {
			stop.NoneHurt = true
		} else if stop != nil {
			stop.is(a.Value)
			again := "" // with which it was called again
			if a.Moment != "" {
				again = e.Heard.Text
			}
			s.shaken(a.Value)
			stop.Drill = stop.Drill && drills(a.Value, again)
			s.Called = s.Called && stop.Drill
			if a.Moment != "" { // it was called again
				stop.Moment = a.Moment
				stop.Calls++
				stop.Others = append(stop.Others, e.Who)
				stop.looks(a.Value)
			} else if a.Path == causeTold {
				stop.looks(a.Value)
			}
		}
	case DoDebrief:
		s.debrief(a, e)
	default:
		return fmt.Errorf("act %q is not one this release does", a.Do)
	}
	return nil
}

func (h *Hold) apply(a Act, e Entry) {
	switch a.Do {
	case DoQuiet:
		h.Quiet = true
	case DoSure:
		h.Doubt = slices.DeleteFunc(h.Doubt, func(d string) bool { return d == a.Path })
		if !h.sure(a.Path) {
			h.Sure = append(h.Sure, Sure{Duty: a.Path, Name: first0(a.Names), By: e.Who, At: e.At})
		}
	case DoDoubt:
		h.Sure = slices.DeleteFunc(h.Sure, func(y Sure) bool { return y.Duty == a.Path })
		if !slices.Contains(h.Doubt, a.Path) {
			h.Doubt = append(h.Doubt, a.Path)
		}
	case DoWithhold:
		if !slices.ContainsFunc(h.Withheld, func(p Person) bool { return p.ID == e.Who.ID }) {
			h.Withheld = append(h.Withheld, e.Who)
		}
		if a.Reason != "" {
			if h.Reasons == nil {
				h.Reasons = map[string]string{}
			}
			h.Reasons[e.Who.ID] = a.Reason
		}
	case DoLift:
		id := a.Path
		if id == "" {
			id = e.Who.ID
		}
		h.Withheld = slices.DeleteFunc(h.Withheld, func(p Person) bool { return p.ID == id })
	}
}

func (h *Hold) sure(duty string) bool {
	return slices.ContainsFunc(h.Sure, func(y Sure) bool { return y.Duty == duty })
}

var errStopOn = errors.New("a stop is on")

// step takes the pull on. A stage that pulls is not entered while a stop is on,
// whatever was asked for.
func (s *Session) step(c Cue, e Entry) error {
	was := s.Stage
	to, err := stageAfter(was, c)
	if err != nil {
		return err
	}
	if to.Pulls() && (s.stop() != nil || s.State != Pulling) {
		return fmt.Errorf("%s at %s: %w", c, was, errStopOn)
	}
	if n := len(s.Bites); n > 0 && was.travels() && s.Bites[n-1].To == "" {
		s.Bites[n-1].To = e.At
	}
	s.Stage, s.Stood = to, e.At
	if to.Pulls() && to != was {
		s.Pulls++
	}
	switch {
	case to.travels():
		s.Bites = append(s.Bites, Travel{Stage: to, Hold: s.Hold, From: e.At, Rerigs: s.Rerigs})
	case c == Rigged:
		s.Rerigs++
	case c == Drilled:
		s.Called = false
	}
	if to.Holds() {
		s.openHold(was, e)
	}
	return nil
}

// travels reports whether the load moves by a bite.
func (s Stage) travels() bool { return s == FirstMove || s == Bite || s == Crest }

func (s *Session) openHold(after Stage, e Entry) {
	h := Hold{Number: s.Hold + 1, Stage: s.Stage, After: after, At: e.At}
	if n := len(s.Holds); n > 0 && s.Holds[n-1].Released == "" && s.Stage != Securing {
		// It is another number, and the same pull that somebody withholds.
		h.Withheld, h.Reasons = slices.Clone(s.Holds[n-1].Withheld), maps.Clone(s.Holds[n-1].Reasons)
	}
	if s.Stage != Securing {
		s.takeVetoes(&h)
	}
	s.Hold++
	s.Holds = append(s.Holds, h)
}

// unveto lifts what somebody who has left had withheld, as logs were written that don't
// say it stays.
func (s *Session) unveto(id string) {
	s.Vetoes = slices.DeleteFunc(s.Vetoes, func(v Veto) bool { return v.By.ID == id })
	if n := len(s.Holds); n > 0 {
		h := &s.Holds[n-1]
		h.Withheld = slices.DeleteFunc(h.Withheld, func(p Person) bool { return p.ID == id })
	}
}
