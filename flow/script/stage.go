package script

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"linetender/flow"
)

// DemoPace is what people take for the next message in the demo, where no
// channel has to keep up.
const DemoPace = 17 * time.Second

// Pause is what people take for the next message, so that a channel with its
// limits has said all it had to say. Every channel is played at this pace. It is
// no whole minute, so that nobody speaks at the very moment that a job waits for.
const Pause = 61 * time.Second

// A Stage plays conversations of several people on a log, without a channel:
// everybody's chat is called after them. Time is the stage's own, and a job
// gets its turn at the moment that it waits for.
type Stage struct {
	Engine *flow.Engine
	Log    interface {
		flow.Log
		flow.Heads
	}
	At     time.Time
	Offset string        // of the site, such as +02:00
	Scheme string        // before a name it makes a chat, such as "test/"
	Pace   time.Duration // between two lines; 0 is Pause

	jobs []string
	n    int
	last map[string]flow.Message // with buttons, by chat
}

// errNoButton is what a press of a button leads to that is not there.
var errNoButton = errors.New("there is no such button")

// Line plays one line of a conversation and returns all that is said until
// the next, in order, by chat.
func (s *Stage) Line(l Line) (map[string][]flow.Message, error) {
	if l.Who == "" {
		return s.Pass(l.Wait)
	}
	out, err := s.Say(l.Who, l.Input)
	if err != nil {
		return nil, err
	}
	pace := s.Pace
	if pace == 0 {
		pace = Pause
	}
	more, err := s.Pass(pace)
	for chat, m := range more {
		out[chat] = append(out[chat], m...)
	}
	return out, err
}

// Say lets somebody write words, or press the button of a label in brackets.
//
// Errors: of the engine and the log; for a button that is not there.
func (s *Stage) Say(who, input string) (map[string][]flow.Message, error) {
	in := s.input(who)
	label, press := Step{Input: input}.Press()
	if !press {
		in.Text = input
		return s.run(in)
	}
	m := s.last[in.Chat]
	for _, c := range m.Choices {
		if c.Label == label {
			in.Press = &flow.Press{Session: m.Session, Revision: m.Revision, Choice: c.Choice}
			return s.run(in)
		}
	}
	return nil, fmt.Errorf("%s presses %q under %q: %w", who, label, m.Text(), errNoButton)
}

// Last returns the latest message with buttons in somebody's chat.
func (s *Stage) Last(who string) flow.Message { return s.last[s.Scheme+who] }

// Pass lets time pass.
func (s *Stage) Pass(d time.Duration) (map[string][]flow.Message, error) {
	out := map[string][]flow.Message{}
	end := s.At.Add(d)
	for range 100 {
		due, at, err := s.due(end)
		if err != nil {
			return nil, err
		}
		if due.Code == "" {
			s.At = end
			return out, nil
		}
		if at.After(s.At) {
			s.At = at
		}
		in := s.input("")
		in.Chat, in.Person, in.Tick = due.Chat, flow.Person{}, due.Code
		more, err := s.run(in)
		if err != nil {
			return nil, err
		}
		for chat, m := range more {
			out[chat] = append(out[chat], m...)
		}
	}
	return nil, errors.New("a job waits again and again for a moment that has passed")
}

// due returns the job that waits for the first moment before end.
func (s *Stage) due(end time.Time) (first flow.Head, at time.Time, err error) {
	at = end
	for _, job := range s.jobs {
		body, _, err := s.Log.Head(job)
		if err != nil {
			return first, at, err
		}
		h, err := flow.DecodeHead(body)
		if err != nil {
			return first, at, err
		}
		if wake, err := time.Parse(time.RFC3339, h.Wake); err == nil && wake.Before(at) {
			first, at = h, wake
		}
	}
	return first, at, nil
}

func (s *Stage) input(who string) flow.Input {
	s.n++
	chat := s.Scheme + who
	return flow.Input{
		Update: fmt.Sprintf("%sturn/%d", s.Scheme, s.n), Chat: chat, Person: flow.Person{ID: chat, Name: who},
		At: s.At, Offset: s.Offset, Direct: true,
	}
}

// run gives an input its turn.
func (s *Stage) run(in flow.Input) (map[string][]flow.Message, error) {
	turn, err := s.Engine.Turn(s.Log, in)
	if err != nil {
		return nil, fmt.Errorf("turn on %q of %s: %w", in.Text, in.Chat, err)
	}
	if _, err := s.Log.Commit(turn); err != nil {
		return nil, fmt.Errorf("commit on %q of %s: %w", in.Text, in.Chat, err)
	}
	for _, w := range turn.Writes {
		if strings.HasPrefix(w.Stream, flow.JobStream("")) && w.After == 0 {
			s.jobs = append(s.jobs, w.Stream)
		}
	}
	if s.last == nil {
		s.last = map[string]flow.Message{}
	}
	out := map[string][]flow.Message{}
	for _, parcel := range turn.Outbox {
		m, err := flow.DecodeMessage(parcel.Body)
		if err != nil {
			return nil, err
		}
		out[parcel.Chat] = append(out[parcel.Chat], m)
		if !m.Notice && m.Live == "" && (len(m.Choices) > 0 || parcel.Chat == in.Chat) {
			s.last[parcel.Chat] = m
		}
	}
	return out, nil
}

// Tell writes down what was said, for the people in the order given. What is
// kept up to date in place is left out.
func (s *Stage) Tell(out map[string][]flow.Message, people []string) []Told {
	var all []Told
	for _, who := range people {
		var told Told
		for _, m := range out[s.Scheme+who] {
			if m.Live != "" {
				continue
			}
			told.Who, told.Urgent = who, told.Urgent || m.Urgent
			told.Said = append(told.Said, m.Parts...)
			told.Label = nil
			for _, c := range m.Choices {
				told.Label = append(told.Label, c.Label)
			}
		}
		if told.Who != "" {
			all = append(all, told)
		}
	}
	return all
}
