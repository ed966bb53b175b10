package flow

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"linetender/flow/wording"
)

// mail is what one turn says in one chat.
type mail struct {
	chat    string
	replies []reply
	offers  []offer // buttons under the last message
	notice  bool    // only for the press
	urgent  bool
	live    string // the message that is kept up to date, where it is one
	shows   []Show
	partial bool // only commands, replies and presses reach the program from there
}

// reply is one paragraph to be said.
type reply struct {
	key    wording.Key
	args   wording.Args
	apart  bool // begins a message of its own
	asks   bool // is what stands to be answered where the input came
	secret bool // is said and not kept: it holds a code
	shows  []Show
}

// say adds a paragraph.
func (m *mail) say(k wording.Key, args wording.Args) {
	m.replies = append(m.replies, reply{key: k, args: args})
}

// sayApart begins a new message with a paragraph.
func (m *mail) sayApart(k wording.Key, args wording.Args) {
	m.replies = append(m.replies, reply{key: k, args: args, apart: true})
}

// saySecret adds a paragraph whose words are sent and not kept.
func (m *mail) saySecret(k wording.Key, args wording.Args) {
	m.replies = append(m.replies, reply{key: k, args: args, secret: true})
}

// newTurn begins the work on an input.
func newTurn(e *Engine, in Input) *turn {
	t := &turn{e: e, in: in, chat: newChat(in.Chat), entry: newEntry(in)}
	t.mail = &mail{chat: in.Chat, partial: in.Partial}
	t.mails = []*mail{t.mail}
	return t
}

// inChat says what say says in another chat.
func (t *turn) inChat(chat string, say func()) {
	was := t.mail
	t.mail = t.mailTo(chat, "")
	say()
	t.mail = was
}

// inLive says what say says in the message of a chat that is kept up to date
// under a name. It replaces what an earlier call in this turn has said there.
func (t *turn) inLive(chat, name string, say func()) {
	was := t.mail
	t.mail = t.mailTo(chat, name)
	t.mail.replies, t.mail.offers = nil, nil
	say()
	t.mail = was
}

func (t *turn) mailTo(chat, live string) *mail {
	for _, m := range t.mails {
		if m.chat == chat && m.live == live {
			return m
		}
	}
	m := &mail{chat: chat, live: live}
	if t.s != nil {
		m.partial = t.s.partialChat(chat)
	}
	t.mails = append(t.mails, m)
	return m
}

// longest is what one message on a phone may hold, in characters. What is kept
// up to date in place is one message however long.
const longest = 350

// messages turns the replies of a chat into messages. Paragraphs share one as
// long as they fit, and one that is too long by itself goes on in the next; the
// question is always in the last, with the buttons. hidden are the paragraphs
// that the log does not get, by message and place in it.
func (t *turn) messages(m *mail) (out []Message, hidden map[[2]int]bool, err error) {
	size, room := 0, longest
	if m.partial { // the way to a stop comes on top
		room -= 2 + utf8.RuneCountInString(t.saying(wording.StopWay))
	}
	hidden = map[[2]int]bool{}
	for _, r := range m.replies {
		text, err := t.e.Words.Say(t.units(), r.key, r.args)
		if err != nil {
			return nil, nil, err
		}
		parts := []string{text}
		if m.live == "" {
			parts = cutUp(text, room)
		}
		for i, part := range parts {
			n := utf8.RuneCountInString(part)
			if len(out) == 0 || m.live == "" && (r.apart && i == 0 || size+n > room) {
				out, size = append(out, Message{Live: m.live}), 0
			}
			last := &out[len(out)-1]
			if r.secret {
				hidden[[2]int{len(out) - 1, len(last.Parts)}] = true
			}
			last.Parts = append(last.Parts, Said{Key: string(r.key), Text: part})
			size += n + 2
		}
		last := &out[len(out)-1]
		last.Shows = append(last.Shows, r.shows...)
	}
	if len(m.shows) > 0 {
		if len(out) == 0 {
			out = append(out, Message{})
		}
		out[len(out)-1].Shows = append(out[len(out)-1].Shows, m.shows...)
	}
	return out, hidden, nil
}

// cutUp cuts a text into parts of at most room characters: between lines if
// that can be, else between sentences, else between words, else anywhere.
func cutUp(text string, room int) []string {
	var parts []string
	for utf8.RuneCountInString(text) > room {
		end := len(string([]rune(text)[:room]))
		at := end
		for _, gap := range []string{"\n", ". ", ", ", " "} {
			if i := strings.LastIndex(text[:end], gap); i > end/2 {
				at = i + len(gap)
				break
			}
		}
		parts = append(parts, strings.TrimSpace(text[:at]))
		text = strings.TrimSpace(text[at:])
	}
	return append(parts, text)
}

// post makes the messages of one chat complete and puts them into out.
func (t *turn) post(m *mail, out *Turn) error {
	messages, hidden, err := t.messages(m)
	if err != nil || len(messages) == 0 {
		return err
	}
	own := m == t.mails[0]
	slot, under, err := t.dress(m, messages)
	if err != nil {
		return err
	}
	var kept []Said // what was put on every message for those who must press is kept too
	for i, msg := range messages {
		for j, said := range msg.Parts {
			if hidden[[2]int{i, j}] {
				said.Text = ""
			}
			kept = append(kept, said)
		}
	}
	switch {
	case own:
		t.entry.Said, t.entry.Slot, t.entry.Under, t.entry.Notice = kept, slot, under, m.notice
	case m.live == "":
		t.entry.Sent = append(t.entry.Sent, Sent{Chat: m.chat, Said: kept, Slot: slot, Under: under})
	}
	for _, msg := range messages {
		body, err := msg.Encode()
		if err != nil {
			return err
		}
		out.Outbox = append(out.Outbox, Parcel{Chat: m.chat, Urgent: msg.Urgent, Body: body})
	}
	return nil
}

// dress puts buttons, the way to stop and the end of earlier buttons on the
// messages of a chat. slot names the buttons, if there are any; under is the
// number of paragraphs they stand under.
func (t *turn) dress(m *mail, messages []Message) (slot string, under int, err error) {
	own := m == t.mails[0]
	last := &messages[len(messages)-1]
	if own && t.in.Press != nil {
		// Whatever it led to, the phone that waits for the press is answered.
		messages[0].Handle = t.in.Handle
	}
	if t.s != nil {
		for i := range messages {
			messages[i].Session = t.s.Code
			messages[i].Revision = t.s.Last + 1
			messages[i].Urgent = m.urgent
		}
	} else if t.left != nil { // its buttons are of the job that they lead back to
		for i := range messages {
			messages[i].Session, messages[i].Revision = t.left.Code, t.left.Last
		}
	}
	if m.notice {
		last.Notice, last.Handle = true, t.in.Handle
		return "", 0, nil
	}
	for _, o := range m.offers {
		label, err := t.label1(o)
		if err != nil {
			return "", 0, err
		}
		last.Choices = append(last.Choices, Choice{Choice: o.choice, Label: label})
	}
	last.Numbered = own && len(last.Choices) > 0 && t.picksByNumber()
	if m.partial { // without a job too: a halt is heard there as well
		if err := t.addStop(messages); err != nil {
			return "", 0, err
		}
	}
	if t.s == nil || m.live != "" {
		return "", 0, nil
	}
	if len(last.Choices) > 0 {
		last.Slot = fmt.Sprintf("%s-%d", t.s.Code, t.s.Last+1)
		slot, under = last.Slot, len(last.Parts)
	}
	if own {
		messages[0].Settles = append(messages[0].Settles, t.over...)
	}
	if own || slot != "" {
		messages[0].Settles = append(messages[0].Settles, t.settles(m.chat, own)...)
	}
	return slot, under, nil
}

// label1 is what a button says.
func (t *turn) label1(o offer) (string, error) {
	if o.label != "" {
		return o.label, nil
	}
	return t.e.Words.Say(t.units(), wording.Key("choice."+o.choice), nil)
}

// settles ends the buttons that are up in a chat: what they stood under stays,
// with the answer below it where it was given there.
func (t *turn) settles(chat string, answered bool) []Settle {
	open, ok := t.s.Open[chat]
	if !ok {
		return nil
	}
	if answered {
		if answer := t.answerShown(); answer != "" {
			open.Text += "\n» " + answer
		}
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
		if len(m.Choices) == 0 || m.Choices[len(m.Choices)-1].Choice != choiceStop {
			m.Choices = append(m.Choices, Choice{Choice: choiceStop, Label: label})
		}
	}
	return nil
}

// answerShown is what a settled question shows as its answer.
func (t *turn) answerShown() string {
	if t.said != "" {
		return t.said
	}
	if t.in.Press != nil {
		label, err := t.e.Words.Say(t.units(), wording.Key("choice."+t.in.Press.Choice), nil)
		if err == nil {
			return label
		}
	}
	return wording.Plain(t.in.Text)
}
