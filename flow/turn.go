package flow

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"time"
	"unicode/utf8"

	"linetender/calc"
	"linetender/calc/unit"
	"linetender/flow/wording"
)

// A turn works on one input. What it does to the job goes through act and
// fire, so that replaying its entry does the same.
type turn struct {
	e    *Engine
	in   Input
	chat *chatState
	s    *Session // nil while the chat has no job

	entry   Entry // of the job
	kept    []Act // of the chat
	replies []reply
	offers  []offer // buttons under the last message
	notice  bool    // only for the press
	urgent  bool
	silent  bool     // nothing was said on purpose
	before  []Write  // of a job that the chat has left in this turn
	over    []Settle // buttons of that job
	planned *calc.Plan
	known   bool // planned is up to date
	err     error
}

// reply is one paragraph to be said.
type reply struct {
	key   wording.Key
	args  wording.Args
	apart bool // begins a message of its own
}

// act does something to the job and keeps it in the entry.
func (t *turn) act(a Act) {
	if t.err != nil {
		return
	}
	if err := t.s.apply(a, t.entry); err != nil {
		t.err = err
		return
	}
	t.entry.Acts = append(t.entry.Acts, a)
	if a.Do == DoSet || a.Do == DoSign {
		t.known = false
	}
}

// fire moves the job on. Being there already is no event.
func (t *turn) fire(e Event) {
	if t.err != nil {
		return
	}
	for _, m := range Moves() {
		if m.Event == e && m.To == t.s.State {
			return
		}
	}
	t.act(Act{Do: DoMove, Event: e})
}

// say adds a paragraph.
func (t *turn) say(k wording.Key, args wording.Args) {
	t.replies = append(t.replies, reply{key: k, args: args})
}

// sayApart begins a new message with a paragraph.
func (t *turn) sayApart(k wording.Key, args wording.Args) {
	t.replies = append(t.replies, reply{key: k, args: args, apart: true})
}

// plan reckons the job as it is known, once for each state of the sheet. Nil
// while weight, slope, ground or direction are missing.
func (t *turn) plan() *calc.Plan {
	if t.known {
		return t.planned
	}
	t.known, t.planned = true, nil
	sheet := t.s.Sheet
	if t.s.Settled["block"] == "" { // until blocks were asked for, more may be named
		more := true
		sheet.GearMore = &more
	}
	c, err := sheet.Case()
	if err != nil {
		return nil
	}
	p := t.e.Reckon(c)
	t.planned = &p
	t.entry.Decided = finding(p)
	return t.planned
}

// finding is what is kept of a plan.
func finding(p calc.Plan) *Finding {
	text, err := json.Marshal(p)
	if err != nil {
		// A plan is finite numbers and text; anything else is our bug.
		panic("flow: plan: " + err.Error())
	}
	sum := sha256.Sum256(text)
	return &Finding{Decision: string(p.Decision), Why: p.Why, Digest: hex.EncodeToString(sum[:8])}
}

// units returns the system in which the person thinks.
func (t *turn) units() unit.System {
	if t.s != nil && !t.s.Unsure {
		return t.s.Units
	}
	return t.chat.units
}

// longest is about what one message on a phone may hold, in characters.
const longest = 350

// messages turns the replies into messages. Paragraphs share one as long as
// they fit; the question is always in the last, with the buttons.
func (t *turn) messages() ([]Message, error) {
	var out []Message
	size := 0
	for _, r := range t.replies {
		text, err := t.e.Words.Say(t.units(), r.key, r.args)
		if err != nil {
			return nil, err
		}
		n := utf8.RuneCountInString(text)
		if len(out) == 0 || r.apart || size+n > longest {
			out, size = append(out, Message{}), 0
		}
		m := &out[len(out)-1]
		m.Parts = append(m.Parts, Said{Key: string(r.key), Text: text})
		size += n + 2
	}
	return out, nil
}

// finish makes the turn's messages complete and returns what is to be kept
// and sent.
func (t *turn) finish() (Turn, error) {
	if t.err != nil {
		return Turn{}, t.err
	}
	out := Turn{Update: t.in.Update, Chat: t.in.Chat}
	messages, err := t.messages()
	if err != nil {
		return Turn{}, err
	}
	if err := t.dress(messages); err != nil {
		return Turn{}, err
	}
	for _, m := range messages {
		t.entry.Said = append(t.entry.Said, m.Parts...)
		body, err := m.Encode()
		if err != nil {
			return Turn{}, err
		}
		out.Outbox = append(out.Outbox, Parcel{Chat: t.in.Chat, Urgent: m.Urgent, Body: body})
	}
	out.Writes = append(out.Writes, t.before...)
	if t.s != nil {
		w, err := t.write()
		if err != nil {
			return Turn{}, err
		}
		out.Writes = append(out.Writes, w)
	}
	if len(t.kept) > 0 || t.s == nil {
		w, err := t.chat.write(t)
		if err != nil {
			return Turn{}, err
		}
		out.Writes = append(out.Writes, w)
	}
	return out, nil
}

// dress puts buttons, the way to stop and the end of earlier buttons on the
// messages.
func (t *turn) dress(messages []Message) error {
	if len(messages) == 0 {
		return nil
	}
	last := &messages[len(messages)-1]
	if t.in.Press != nil {
		// Whatever it led to, the phone that waits for the press is answered.
		messages[0].Handle = t.in.Handle
	}
	if t.s != nil {
		for i := range messages {
			messages[i].Session = t.s.Code
			messages[i].Revision = t.s.Last + 1
			messages[i].Urgent = t.urgent
		}
	}
	if t.notice {
		last.Notice, last.Handle = true, t.in.Handle
		t.entry.Notice = true
		return nil
	}
	for _, o := range t.offers {
		label, err := t.e.Words.Say(t.units(), wording.Key("choice."+o.choice), nil)
		if err != nil {
			return err
		}
		last.Choices = append(last.Choices, Choice{Choice: o.choice, Label: label})
	}
	if t.in.Partial { // without a job too: a halt is heard there as well
		if err := t.addStop(messages); err != nil {
			return err
		}
	}
	if t.s == nil {
		return nil
	}
	if len(last.Choices) > 0 {
		last.Slot = fmt.Sprintf("%s-%d", t.s.Code, t.s.Last+1)
		t.entry.Slot, t.entry.Under = last.Slot, len(last.Parts)
	}
	messages[0].Settles = append(messages[0].Settles, t.over...)
	messages[0].Settles = append(messages[0].Settles, t.settles()...)
	return nil
}

// settles ends the buttons that are up: what they stood under stays, with the
// answer below it.
func (t *turn) settles() []Settle {
	open, ok := t.s.Open[t.in.Chat]
	if !ok {
		return nil
	}
	if answer := t.answerShown(); answer != "" {
		open.Text += "\n» " + answer
	}
	return []Settle{open}
}

// addStop puts the way to a stop on every message: in such a chat the word
// alone may not reach the program.
func (t *turn) addStop(messages []Message) error {
	way, err := t.e.Words.Say(t.units(), wording.StopWay, nil)
	if err != nil {
		return err
	}
	label, err := t.e.Words.Say(t.units(), wording.ChoiceStop, nil)
	if err != nil {
		return err
	}
	for i := range messages {
		m := &messages[i]
		m.Parts = append(m.Parts, Said{Key: string(wording.StopWay), Text: way})
		m.Choices = append(m.Choices, Choice{Choice: choiceStop, Label: label})
	}
	return nil
}

// answerShown is what a settled question shows as its answer.
func (t *turn) answerShown() string {
	if t.in.Press != nil {
		label, err := t.e.Words.Say(t.units(), wording.Key("choice."+t.in.Press.Choice), nil)
		if err == nil {
			return label
		}
	}
	return wording.Plain(t.in.Text)
}

// write returns the job's part of the turn.
func (t *turn) write() (Write, error) {
	t.entry.State, t.entry.Topic, t.entry.Prev = t.s.State, t.s.Topic, t.s.Chain
	t.entry.N = t.s.Last + 1
	body, err := t.entry.encode()
	if err != nil {
		return Write{}, err
	}
	h := t.head()
	t.s.Chain = Link(t.s.Chain, body)
	h.N, h.Chain = t.entry.N, t.s.Chain
	head, err := json.Marshal(h)
	if err != nil {
		return Write{}, fmt.Errorf("encode head: %w", err)
	}
	return Write{Stream: jobStream(t.s.Code), After: t.s.Last, Entries: [][]byte{body}, Head: head}, nil
}

func (t *turn) head() Head {
	h := Head{Version: entryVersion, Code: t.s.Code, State: t.s.State, Lead: t.s.Lead.Name, Began: t.s.Began, Last: t.entry.At}
	h.Load, _ = t.s.Sheet.Get("load.mass")
	if f := t.entry.Decided; f != nil {
		h.Decision = f.Decision
	} else if t.s.Found != nil {
		h.Decision = t.s.Found.Decision
	}
	return h
}

func jobStream(code string) string  { return "job/" + code }
func chatStream(chat string) string { return "chat/" + chat }

// newEntry begins the record of a turn.
func newEntry(in Input) Entry {
	e := Entry{
		At: in.At.UTC().Format(time.RFC3339), Offset: in.Offset,
		Who: in.Person, Chat: in.Chat, Update: in.Update,
		Heard: Heard{Text: in.Text, Other: in.Other, Files: in.Files, Place: in.Place},
	}
	if in.Press != nil {
		e.Heard.Press = in.Press.Choice
	}
	return e
}
