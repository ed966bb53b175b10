package flow

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"linetender/calc/job"
	"linetender/calc/unit"
)

// A Session is one job as its log has it. It is never stored: [Session.apply]
// makes it from the entries, live and replayed alike.
type Session struct {
	Code  string
	Last  uint64 // number of the last entry; also the revision of its buttons
	Began string
	Lead  Person

	State State
	Stood string // since when it is at its state and stage
	Topic string // the question now; empty where the state itself is the question
	From  Spot   // where amend, halted and away go back to
	Trail []Spot // questions with an answer, in the order in which they got it

	Sheet   job.Sheet
	How     map[string]How // where the value of a path is from
	Settled map[string]How // topics that have had their answer
	Asked   int            // topics asked before the first figure
	Misses  int            // in a row
	Figured bool           // the first figure was given
	Toldof  string         // digest of the plan that was last told
	ToldAs  string         // what it decided
	ToldWhy string         // what kept it from a go, as blocking writes it
	Units   unit.System
	Unsure  bool // nobody has written a unit yet

	Held    map[string]string // parts of an answer that comes in several
	Marks   map[string]Mark   // checks that people on the spot have answered
	Spoken  map[string]Speech // words in which the load, and the puller, were told of
	Crew    []string
	Open    map[string]Settle // buttons that are up, by chat
	Shown   map[string]uint64 // their revision, by chat
	Found   *Finding
	StoodAs *Finding // as it was decided while it was still to be pulled
	Update  string   // of the last entry

	Party []Member        // in the order in which they came
	Rooms map[string]Room // chats that are not one person's own
	Codes map[string]Code // that let people in, by digest
	Seats []Seat

	Refusals  []Refusal         // noes of those who were asked to sign, that stand
	Puts      []Put             // what those who are to sign were asked
	Putted    int               // how often
	Seated    int               // how often a seat was given
	Seconds   map[string]Mark   // what the second person said to a check that blocks
	Rounds    map[string]int    // how often a check was taken back
	Parts     map[string]Mark   // what was said of a check that is so in part, or not yet
	Quick     map[string]string // who was asked back about a check, having answered sooner than anybody can look
	Since     map[string]Since  // how long what is wanted in a chat has been wanted there
	Issued    map[string]int    // how many of them
	Rig       []string          // how it is rigged, from the first item of the list on
	RigNo     int               // how often that was set down
	HeldAt    string            // the anchor, of the arrangement, that the holding line went to when slack was last taken out
	Pulled    *job.Sheet        // as the last release to pull found it
	PulledRig []string          // and the arrangement
	Roved     string            // which of these was laid out
	Cards     map[string]string // digest of the card that somebody was handed
	Wants     map[string]string // what is asked, by chat, where several take part
	Stops     []Stop

	Stage   Stage
	Hold    int      // number of the hold point that the pull last came to
	Holds   []Hold   // all of them, in order
	Pulls   int      // how often a pull was released, to tighten the line or to move the load
	Bites   []Travel // of the load, one for each first move, bite and crest
	Reports []Report // of what was seen during the pull
	Slack   string   // in the holding line, as it was last told
	Worn    []Worn   // gear that was told to be damaged, or was there at a shock
	Rerigs  int
	Called  bool   // the stop drill is called and not over
	Fresh   string // when what the plan rests on was last told or asked again
	Again   []Again
	Past    map[string]string // parts of the debrief that have their answer
	Near    []Nearly          // near misses
	Rows    []Row             // what was planned against what happened
	Rove    string            // parts and way of the tackle that was laid out

	Unread  []Unread // what was written where something is to be confirmed, and not read
	Unreads int      // how often

	Queries []Query  // what people asked each other
	Defects []Defect // told of, and not put right yet
	Vetoes  []Veto   // of those afar, said where no hold point stood

	Reckoned string // when the plan became what it is
	Stands   string // how old answers are that count again; empty for none
	Kept     []Kept // answers that count again when what was told is what it was

	Differs  []Differ // answers that two phones tell differently
	Differed int      // how often that was so

	Pin string // the last place that a phone said, latitude and longitude

	Chain string // after the last entry, see Link
}

// Speech is of which vehicle a word was said first, and after which entry.
type Speech struct {
	After        uint64
	Load, Puller bool
}

// A Spot is where a question is asked.
type Spot struct {
	State State
	Topic string
}

// spot is where the job is.
func (s *Session) spot() Spot { return Spot{s.State, s.Topic} }

// A Mark is a person's answer to a check.
type Mark struct {
	Value string
	By    Person
	Name  string // whose eyes it was, where somebody else said it for them
	At    string
}

// Since is when something came to be wanted in a chat, and how often it was
// said again there.
type Since struct {
	At   string
	Said int
	Was  string // what was wanted there before
	By   string // whose turn changed it; empty for the clock
}

// errUnknownState is returned for a log that stands where this release has
// no state: it was written by another release.
var errUnknownState = errors.New("this release does not know the state")

func newSession() *Session {
	return &Session{
		State: Start, Stage: NotBegun, Unsure: true,
		How: map[string]How{}, Settled: map[string]How{}, Held: map[string]string{},
		Marks: map[string]Mark{}, Open: map[string]Settle{}, Shown: map[string]uint64{},
		Rooms: map[string]Room{}, Codes: map[string]Code{}, Wants: map[string]string{}, Past: map[string]string{},
		Seconds: map[string]Mark{}, Rounds: map[string]int{}, Since: map[string]Since{}, Cards: map[string]string{}, Issued: map[string]int{},
		Parts: map[string]Mark{}, Quick: map[string]string{},
		Spoken: map[string]Speech{},
	}
}

// fold takes in one entry of the job's stream.
func (s *Session) fold(n uint64, e Entry) error {
	for _, a := range e.Acts {
		if err := s.apply(a, e); err != nil {
			return fmt.Errorf("entry %d: %w", n, err)
		}
	}
	if !known(e.State) {
		return fmt.Errorf("entry %d: %w %q", n, errUnknownState, e.State)
	}
	if s.State != e.State {
		return fmt.Errorf("entry %d: replay stands at %s where the log has %s", n, s.State, e.State)
	}
	s.Last, s.Update = n, e.Update
	s.close(e, n)
	return nil
}

// close keeps what the next turn needs of what was said.
func (s *Session) close(e Entry, n uint64) {
	s.seen(e)
	if e.Decided != nil {
		if s.Found == nil || s.Found.Digest != e.Decided.Digest {
			s.Reckoned = e.At
		}
		s.Found = e.Decided
		if s.Pulled == nil || s.Stage.needsPlan() {
			s.StoodAs = e.Decided
		}
	}
	for _, sent := range e.Sent {
		if sent.Slot != "" {
			s.up(sent.Chat, Settle{Slot: sent.Slot, Text: asked(sent.Said, sent.Under)}, n)
		}
	}
	if e.Slot == "" {
		if len(e.Said) > 0 && !e.Notice {
			delete(s.Open, e.Chat)
			delete(s.Shown, e.Chat)
		}
		return
	}
	s.up(e.Chat, Settle{Slot: e.Slot, Text: asked(e.Said, e.Under)}, n)
}

// up keeps which buttons are up in a chat.
func (s *Session) up(chat string, b Settle, n uint64) {
	s.Open[chat] = b
	s.Shown[chat] = n
}

// apply does one act. It is the only thing that changes a session. Whoever is
// in the job is kept by the name that the crew use, whatever the channel calls
// them: somebody who came back may carry another name there, or none.
func (s *Session) apply(a Act, e Entry) error {
	e.Who.Name = s.nameOf(e.Who)
	s.unkeep(a)
	s.applyUnread(a, e)
	switch a.Do {
	case DoKeep:
		s.keep(a.Value)
	case DoAsWas:
		return s.keptBack(a.Value)
	case DoBegin:
		s.Code, s.Lead, s.Began = a.Value, e.Who, e.At
		s.join(Member{ID: e.Who.ID, Name: e.Who.Name, Chat: e.Chat, As: AsLead}, e.At)
	case DoMove:
		was := s.State
		if err := s.move(a.Event); err != nil {
			return err
		}
		if s.State != was {
			s.Stood = e.At
		}
	case DoAsk:
		if a.Topic != "" && a.Topic != s.Topic && !s.Figured {
			s.Asked++
		}
		if a.Topic != s.Topic {
			delete(s.Held, heldBare)
		}
		s.Topic = a.Topic
	case DoSet:
		was, _ := s.Sheet.Get(a.Path)
		if err := s.Sheet.Set(a.Path, a.Value); err != nil {
			return err
		}
		s.lieTold(a.Path, was)
		s.spoilt(a.Path, a.Value)
		if !strings.Contains(a.Path, ".") { // of a whole list: what is in it gets other places
			s.Differs = slices.DeleteFunc(s.Differs, func(d Differ) bool { return strings.HasPrefix(d.Path, a.Path+"[") })
		}
		if a.Value == "" {
			delete(s.How, a.Path)
		} else {
			s.How[a.Path] = a.How
			s.callIt(a.Path, e.Heard.Text)
		}
	case DoSettle:
		s.Settled[a.Topic] = a.How
		s.Again = slices.DeleteFunc(s.Again, func(g Again) bool { return g.Topic == a.Topic })
		s.Misses = 0
		if a.Topic == s.Topic {
			delete(s.Held, heldBare)
		}
		s.answered(a.Topic)
	case DoReopen:
		delete(s.Settled, a.Topic)
		if strings.HasPrefix(a.Topic, "site.") {
			s.Trail = slices.DeleteFunc(s.Trail, func(p Spot) bool { return p.Topic == a.Topic })
			delete(s.Marks, a.Topic)
			delete(s.Seconds, a.Topic)
			delete(s.Parts, a.Topic)
			delete(s.Quick, a.Topic)
			s.Rounds[a.Topic]++
		}
	case DoMiss:
		s.Misses++
	case DoUnits:
		s.Unsure = false
		s.Units = unit.Metric
		if a.Value == unit.Customary.String() {
			s.Units = unit.Customary
		}
	case DoNote, DoUnread, DoQuote, DoUnquote:
	case DoFigure:
		s.Figured = true
	case DoTold:
		s.Toldof, s.ToldAs, s.ToldWhy = a.Value, a.Path, a.Was
		if s.Stage == NotBegun {
			s.Fresh = cmp.Or(s.Stands, e.At)
		}
	case DoHold:
		if a.Path == "sign" {
			s.Puts = nil
		}
		if a.Value == "" {
			delete(s.Held, a.Path)
		} else {
			s.Held[a.Path] = a.Value
		}
	case DoPart:
		s.Parts[a.Topic] = Mark{Value: a.Value, By: e.Who, Name: first0(a.Names), At: e.At}
	case DoQuick:
		s.Quick[a.Topic] = e.Who.ID
	case DoCheck:
		delete(s.Parts, a.Topic)
		s.Marks[a.Topic] = Mark{Value: a.Value, By: e.Who, Name: first0(a.Names), At: e.At}
	case DoSecond:
		delete(s.Parts, a.Topic)
		s.Seconds[a.Topic] = Mark{Value: a.Value, By: e.Who, Name: first0(a.Names), At: e.At}
	case DoSeat, DoUnseat, DoTake:
		s.applySeat(a, e)
	case DoRemind:
		since := s.Since[a.Path]
		since.Said++
		s.Since[a.Path] = since
	case DoCard:
		s.Cards[a.Path] = a.Value
		if !isVoid(a.Value) && !isVoid(a.Was) {
			s.Issued[a.Path]++
		}
	case DoQuery, DoReply:
		s.applyTalk(a, e)
	case DoDiffer, DoAgree:
		s.applyDiffer(a, e)
	case DoSign:
		s.Sheet.Signed = append(s.Sheet.Signed, job.SignatureSheet{
			Check: a.Topic, By: first0(a.Names), Second: a.Second, Reason: a.Reason, Pieces: a.Pieces,
		})
	case DoPut, DoWord:
		s.applyPut(a, e)
	case DoRefuse:
		s.applyRefusal(a, e)
	case DoJoin:
		if a.Member == nil {
			return errors.New("somebody joined and it is not said who")
		}
		s.join(*a.Member, e.At)
	case DoGone:
		if m := s.member(a.Value); m != nil {
			m.Gone = true
			if a.Path != staysWithheld {
				s.unveto(m.ID)
			}
		}
	case DoRig:
		if was := holdingAnchor(s.Rig); a.Path == rigRenamed && s.HeldAt == was {
			s.HeldAt = holdingAnchor(a.Names)
		}
		s.Rig = slices.Clone(a.Names)
		if a.Path != rigRenamed {
			s.RigNo++
		}
	case DoAway, DoHere:
		if m := s.member(a.Value); m != nil {
			m.Away = a.Do == DoAway
		}
	case DoName:
		if m := s.member(a.Path); m != nil {
			m.Name = a.Value
			if s.Lead.ID == m.ID {
				s.Lead.Name = a.Value
			}
			for i := range s.Seats {
				if s.Seats[i].Member == m.ID {
					s.Seats[i].Name = a.Value
				}
			}
		}
	case DoLead:
		s.lead(a.Value)
	case DoWant:
		s.Since[a.Path] = Since{At: e.At, Was: s.Wants[a.Path], By: e.Who.ID}
		s.Wants[a.Path] = a.Value
	case DoStop:
		drill := (s.Called || s.Stage == StopDrill && s.single()) && (drills(a.Value, e.Heard.Text) || a.Path == stoodInDrill)
		s.Called = s.Called && drill // after a real one the drill is called anew
		s.Stops = append(s.Stops, Stop{Number: len(s.Stops) + 1, By: e.Who, At: e.At, Moment: a.Moment, Stage: s.Stage, Hold: s.Hold, Drill: drill, Cause: a.Value, Words: stopWords(e.Heard.Text)})
		s.Stops[len(s.Stops)-1].looks(a.Value)
		if !drill {
			s.shaken(s.Stops[len(s.Stops)-1].causes()...)
		}
	case DoStill:
		if stop := s.stop(); stop != nil && !slices.Contains(stop.Still, a.Value) {
			stop.Still = append(stop.Still, a.Value)
		}
	case DoOver:
		if stop := s.stop(); stop != nil {
			stop.Over, stop.Reason = e.At, a.Reason
		}
	case DoCode:
		s.Codes[a.Value] = Code{As: As(a.Path), At: e.At}
	case DoRevoke:
		clear(s.Codes)
	case DoCrew:
		s.Crew = slices.Clone(a.Names)
	default:
		return s.applyPull(a, e)
	}
	return nil
}

// answered notes that a question has its answer. One that had it before keeps
// its place, so that back leads to what was before.
func (s *Session) answered(topic string) {
	for i := range s.Trail {
		if s.Trail[i].Topic == topic {
			return
		}
	}
	s.Trail = append(s.Trail, Spot{State: s.State, Topic: topic})
}

// move fires an event. Where the machine leaves for a hub it remembers from
// where, so that the hub can lead back.
func (s *Session) move(e Event) error {
	to, err := after(s.State, e)
	if err != nil {
		return err
	}
	if slices.Contains(hubs, to) && !slices.Contains(hubs, s.State) {
		s.From = s.spot()
	}
	s.State = to
	s.Misses = 0
	return nil
}

func first0(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return names[0]
}
