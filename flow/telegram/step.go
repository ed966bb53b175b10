package telegram

import (
	"context"
	"encoding/json"
	"strings"

	tg "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"linetender/flow"
)

const longestText = 4096

// step is one call that a parcel needs.
type step struct {
	kind   stepKind
	press  string    // of endPress
	slot   string    // of settle: whose buttons go
	show   flow.Show // of upload
	text   string
	markup *models.InlineKeyboardMarkup
	loose  bool // without its topic, because the topic is gone
	anew   bool // of refresh: what is to be changed can't be; it is sent again
	paper  bool // of upload: as a document, because the picture was refused
}

type stepKind int

const (
	endPress stepKind = iota // stop the phone waiting, with text in place if there is one
	settle                   // take the buttons off an earlier message and show text there
	say                      // send a message
	refresh                  // change the message that is kept up to date, or send it the first time
	upload                   // send a picture or a page
)

// speaks reports whether the step counts for the channel's limits.
func (s step) speaks() bool { return s.kind != endPress }

// work is a parcel on its way: what is left to do, and what the channel has answered.
type work struct {
	begun   bool // a call of it was made
	late    bool // it is said to be from before a stop
	message flow.Message
	steps   []step
	receipt []byte // where the buttons are
	bare    bool   // the channel took no markup; plain text is tried
	done    bool   // all is said; only the mark is missing

	// Of the picture that is being sent:
	alt      string // what it says
	uploads  int    // that broke off
	pictured bool   // the channel was asked to take it as a picture
}

// slot names the receipt of a parcel: a message that is kept up to date and a message with
// buttons are both found again by their names.
func (w *work) slot() string {
	switch {
	case w.receipt == nil:
		return ""
	case w.message.Live != "":
		return w.message.Live
	}
	return w.message.Slot
}

// receipt is what is kept of a sent message under its slot.
type receipt struct {
	Message int    `json:"message"`
	Chat    int64  `json:"chat,omitempty"`   // where; a group that became a supergroup counts its messages anew
	Parcel  uint64 `json:"parcel,omitempty"` // that it shows; of a message that is kept up to date
}

// unpack lays out the calls that a message needs, in order: the phone that waits first, then the
// earlier buttons, then the words, then what goes with them; but of an urgent message the words
// before all else.
func unpack(m flow.Message) (w *work, left int) {
	w = &work{message: m}
	text := plain(m.Text())
	inPlace := m.Notice && m.Handle != "" && m.Live == "" && units(text) <= longestNotice
	if m.Urgent {
		inPlace = false
		left = w.words(text)
	}
	if m.Handle != "" {
		s := step{kind: endPress, press: m.Handle}
		if inPlace {
			s.text = text
		}
		w.steps = append(w.steps, s)
	}
	for _, s := range m.Settles {
		w.steps = append(w.steps, step{kind: settle, slot: s.Slot, text: cut(plain(s.Text))})
	}
	if !inPlace && !m.Urgent {
		left = w.words(text)
	}
	for _, s := range m.Shows {
		w.steps = append(w.steps, showing(s)...)
	}
	return w, left
}

func (w *work) words(text string) (left int) {
	if w.message.Live == "" || strings.TrimSpace(text) == "" {
		return w.say(text)
	}
	st := step{kind: refresh, text: cut(text)}
	st.markup, left = keyboard(w.message)
	w.steps = append(w.steps, st)
	return left
}

// cut keeps what one message holds: of a question and a long answer under it, the question.
func cut(text string) string {
	if units(text) <= longestText {
		return text
	}
	return pieces(text, longestText)[0]
}

// say adds the steps that send text, with the buttons under the last of them.
func (w *work) say(text string) (left int) {
	for _, piece := range pieces(text, longestText) {
		w.steps = append(w.steps, step{kind: say, text: piece})
	}
	if n := len(w.steps) - 1; n >= 0 && w.steps[n].kind == say && !w.bare {
		w.steps[n].markup, left = keyboard(w.message)
	}
	return left
}

// do makes the call of one step. A settle whose message is not known is done.
func (s *Sender) do(ctx context.Context, d due, chat, thread int64, w *work, st step) *trouble {
	limit := callTime
	if st.kind == upload {
		limit = uploadTime
	}
	ctx, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	switch st.kind {
	case refresh:
		return s.update(ctx, d, chat, thread, w, st)
	case upload:
		return s.show(ctx, d, chat, thread, w, st)
	case endPress:
		if st.text != "" && s.ch.presses.mute(st.press) {
			return &trouble{kind: refused, why: "query is too old: it was answered without words"}
		}
		s.ch.presses.take(st.press, false)
		return s.ch.answerPress(ctx, st.press, st.text, units(st.text) > longestToast)
	case settle:
		at, ok, err := s.receipt(d.Chat, st.slot, chat)
		if err != nil {
			return &trouble{kind: away, why: err.Error()}
		}
		if !ok {
			return nil
		}
		_, err = s.ch.say(ctx, "editMessageText", &tg.EditMessageTextParams{
			ChatID: chat, MessageID: at.Message, Text: st.text, LinkPreviewOptions: noPreview(),
		})
		return judge(err)
	}
	id, err := s.send(ctx, chat, thread, st)
	if err != nil {
		return judge(err)
	}
	if st.markup != nil {
		w.receipt, _ = json.Marshal(receipt{Message: id, Chat: chat})
	}
	return nil
}

// send sends the text of a step with its buttons, and returns the id of the message.
func (s *Sender) send(ctx context.Context, chat, thread int64, st step) (id int, err error) {
	p := &tg.SendMessageParams{ChatID: chat, Text: st.text, LinkPreviewOptions: noPreview()}
	if !st.loose {
		p.MessageThreadID = int(thread)
	}
	if st.markup != nil {
		p.ReplyMarkup = st.markup
	}
	return s.ch.say(ctx, "sendMessage", p)
}

// receipt is where the message of a slot is, if it is known and still in the chat that has the id
// present.
func (s *Sender) receipt(chat, slot string, present int64) (at receipt, ok bool, err error) {
	raw, ok, err := s.box.Receipt(chat, slot)
	if err != nil || !ok || json.Unmarshal(raw, &at) != nil || at.Message == 0 || at.Chat != 0 && at.Chat != present {
		return receipt{}, false, err
	}
	return at, true, nil
}

func noPreview() *models.LinkPreviewOptions {
	yes := true
	return &models.LinkPreviewOptions{IsDisabled: &yes}
}
