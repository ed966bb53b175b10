package flow

import (
	"errors"
	"fmt"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// An Engine turns one input into what is to be kept and what is to be said.
// It reads only the log and keeps nothing between turns but the plans it
// reckoned and the jobs it read last, which change nothing, so many turns may
// run at once.
type Engine struct {
	// Reckon plans one case. It must be pure: equal cases, equal plans.
	Reckon func(job.Case) calc.Plan

	// Words is the language of the conversation.
	Words *wording.Book

	// Random returns a number from 0 up to n, not n itself. Job codes and
	// invitations are made with it.
	Random func(n int) int

	// Link, when not nil, returns an address that sends a code to the program
	// when it is opened. Empty where the channel has none.
	Link func(code string) string

	// Command, when not nil, returns what is typed at another terminal of the
	// machine to come into a job with a code.
	Command func(code string) string

	// Pictures says that the channels can make what a Show names. Without it
	// nothing is shown but words.
	Pictures bool

	// Anyone lets every chat start a job; without it only those that the
	// door knows.
	Anyone bool

	recent recent
	recall recall
}

// choiceStop is the choice that halts, from any message however old.
const choiceStop = "stop"

// longestText is the most of one message that is read.
const longestText = 4096

// Turn reads what it needs of log and returns what in does.
func (e *Engine) Turn(log Log, in Input) (Turn, error) {
	_, out, err := e.work(log, in)
	return out, err
}

// work is Turn, with what it worked on.
func (e *Engine) work(log Log, in Input) (*turn, Turn, error) {
	t := newTurn(e, in)
	t.log = log
	chat, err := e.loadChat(log, in.Chat)
	if err != nil {
		return t, Turn{}, &storageError{err}
	}
	t.chat = chat
	if code, ok := opens(in.Text); ok && in.Press == nil {
		done, err := t.openJob(log, code)
		if err != nil || done != nil {
			return t, deref(done), err
		}
	}
	if code, ok := codeIn(in.Text); ok && in.Press == nil && !t.stops() {
		done, err := t.joins(log, code)
		if err != nil || done != nil {
			return t, deref(done), err
		}
	}
	if !e.Anyone && !in.Local && in.Tick == "" && !in.Away {
		done, err := t.door(log)
		if err != nil || done != nil {
			return t, deref(done), err
		}
	}
	at := t.chat.job
	if in.Tick != "" {
		at = in.Tick
	}
	if at != "" {
		s, err := e.load(log, at)
		switch {
		case errors.Is(err, errUnknownState) || errors.Is(err, errUnreadable):
			out, err := t.stranded(err)
			return t, out, err
		case err != nil:
			return t, Turn{}, &storageError{err}
		case s.State != Closed && s.Last > 0: // it may have been removed meanwhile
			t.s, t.began = s, s.spot()
		}
	}
	if err := t.findLeft(log); err != nil {
		return t, Turn{}, err
	}
	if t.s == nil && (in.Tick != "" || in.Away) {
		return t, Turn{Update: in.Update, Chat: in.Chat}, nil // over meanwhile
	}
	if t.s == nil && t.left == nil && t.chat.front.guest != "" && !t.chat.front.in && !e.Anyone && !in.Local && !t.stops() {
		t.say(wording.DoorClosed, nil) // the job it was let into is over
		out, err := t.finish()
		return t, out, err
	}
	if in.Tick != "" { // nobody sent it, so what is known of the chat stands in the job
		t.mail.partial = t.s.partialChat(in.Chat)
	}
	t.arrive()
	t.take()
	out, err := t.finish()
	return t, out, err
}

func deref(t *Turn) Turn {
	if t == nil {
		return Turn{}
	}
	return *t
}

// errUnreadable is returned for a log whose entries don't fold.
var errUnreadable = errors.New("the log of the job can't be read to its end")

// load folds the stream of a job.
func load(log Log, code string) (*Session, error) { return fold(log, code, newSession()) }

// fold takes into s what a job's stream has after its last entry.
func fold(log Log, code string, s *Session) (*Session, error) {
	var bad error
	err := log.Replay(jobStream(code), s.Last, func(n uint64, body []byte) error {
		e, err := DecodeEntry(body)
		if err == nil {
			err = s.fold(n, e)
		}
		s.Chain = Link(s.Chain, body)
		if err != nil {
			bad = err
		}
		return err
	})
	switch {
	case errors.Is(bad, errUnknownState):
		return nil, bad
	case bad != nil:
		return nil, fmt.Errorf("%w: %w", errUnreadable, bad)
	case err != nil:
		return nil, fmt.Errorf("replay job %q: %w", code, err)
	}
	return s, nil
}

// stranded answers in a job that this release can't go on with. Only a new
// one can be begun; the old log stays as it is.
func (t *turn) stranded(cause error) (Turn, error) {
	if t.in.Press == nil {
		if h := hear.Listen(t.in.Text, hear.TopicNone); h.Act == hear.New {
			t.begin()
			t.next()
			return t.finish()
		}
	}
	k := wording.OpenUnknown
	if errors.Is(cause, errUnreadable) {
		k = wording.OpenBroken
	}
	t.say(k, wording.Args{"Code": t.chat.job})
	return t.finish()
}

// sorry tells a chat that an arrival of it had to be put aside.
func (e *Engine) sorry(a Arrival) (Turn, error) {
	text, err := e.Words.Say(0, wording.RefuseTrouble, nil)
	if err != nil {
		return Turn{}, err
	}
	body, err := Message{Parts: []Said{{Key: string(wording.RefuseTrouble), Text: text}}}.Encode()
	if err != nil {
		return Turn{}, err
	}
	return Turn{Update: "sorry/" + a.Key, Chat: a.Chat, Outbox: []Parcel{{Chat: a.Chat, Body: body}}}, nil
}
