package telegram

import (
	"context"
	"encoding/json"
	"time"

	tg "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"linetender/flow"
)

const longestText = 4096

// step is one call that a parcel needs.
type step struct {
	kind   stepKind
	press  string // of endPress
	slot   string // of settle: whose buttons go
	text   string
	markup *models.InlineKeyboardMarkup
	loose  bool // of say: without its topic, because the topic is gone
}

type stepKind int

const (
	endPress stepKind = iota // stop the phone waiting, with text in place if there is one
	settle                   // take the buttons off an earlier message and show text there
	say                      // send a message
)

// speaks reports whether the step counts for the channel's limits.
func (s step) speaks() bool { return s.kind != endPress }

// work is a parcel on its way: what is left to do, and what the channel has answered.
type work struct {
	message flow.Message
	steps   []step
	receipt []byte // where the buttons are
	bare    bool   // the channel took no markup; plain text is tried
	done    bool   // all is said; only the mark is missing
}

// receipt is what is kept of a sent message under its slot.
type receipt struct {
	Message int `json:"message"`
}

// unpack lays out the calls that a message needs, in order: the phone that waits first, then the
// earlier buttons, then the words; but of an urgent message the words before all else.
func unpack(m flow.Message) (w *work, left int) {
	w = &work{message: m}
	text := plain(m.Text())
	inPlace := m.Notice && m.Handle != "" && units(text) <= longestNotice
	if m.Urgent {
		inPlace = false
		left = w.say(text)
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
		left = w.say(text)
	}
	return w, left
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
	ctx, cancel := context.WithTimeout(ctx, callTime)
	defer cancel()
	switch st.kind {
	case endPress:
		if st.text != "" && s.ch.presses.mute(st.press) {
			return &trouble{kind: refused, why: "query is too old: it was answered without words"}
		}
		s.ch.presses.take(st.press, false)
		return s.ch.answerPress(ctx, st.press, st.text, units(st.text) > longestToast)
	case settle:
		raw, ok, err := s.box.Receipt(d.Chat, st.slot)
		if err != nil {
			return &trouble{kind: away, why: err.Error()}
		}
		var at receipt
		if !ok || json.Unmarshal(raw, &at) != nil || at.Message == 0 {
			return nil
		}
		_, err = s.ch.api.EditMessageText(ctx, &tg.EditMessageTextParams{
			ChatID: chat, MessageID: at.Message, Text: st.text, LinkPreviewOptions: noPreview(),
		})
		return judge(err)
	}
	p := &tg.SendMessageParams{ChatID: chat, Text: st.text, LinkPreviewOptions: noPreview()}
	if !st.loose {
		p.MessageThreadID = int(thread)
	}
	if st.markup != nil {
		p.ReplyMarkup = st.markup
	}
	sent, err := s.ch.api.SendMessage(ctx, p)
	if err != nil {
		return judge(err)
	}
	if st.markup != nil {
		w.receipt, _ = json.Marshal(receipt{sent.ID})
	}
	return nil
}

func noPreview() *models.LinkPreviewOptions {
	yes := true
	return &models.LinkPreviewOptions{IsDisabled: &yes}
}

// settled is what the channel says of an edit that has nothing left to do: it shows that already, or
// the message is gone or too old to be changed.
var settled = []string{"message is not modified", "message to edit not found", "message can't be edited", "message_id_invalid", "there is no text in the message"}

// skip drops the step that failed if it was only to stop a phone waiting, which it does by itself.
func (w *work) skip(t *trouble) bool {
	st := w.steps[0]
	if st.kind != endPress || st.text != "" || t.kind == badToken {
		return false
	}
	w.steps = w.steps[1:]
	return true
}

// adapt changes what is left of a parcel so that a refusal is not the end of it. False means that
// nothing more can be done with it.
func (w *work) adapt(t *trouble) bool {
	st := &w.steps[0]
	switch {
	case st.kind == settle && (t.kind == refused || t.kind == gone) && t.says(settled...):
		w.steps = w.steps[1:]
	case st.kind == endPress && t.kind == refused:
		// The press is too old to be answered in place. What was to be said there is said aloud.
		text := st.text
		w.steps = w.steps[1:]
		if text != "" {
			w.say(text)
		}
	case st.kind == settle && t.kind == refused:
		w.steps = w.steps[1:] // the old buttons stay; pressing one changes nothing
	case st.kind == say && t.kind == refused && t.says("thread not found", "topic_closed", "topic_deleted") && !st.loose:
		for i := range w.steps {
			w.steps[i].loose = true
		}
	case st.kind == say && t.kind == refused && !w.bare && t.says("too long", "parse", "markup", "button", "entit"):
		w.bare = true
		rest := pieces(st.text, longestText/2)
		var again []step
		for _, text := range rest {
			again = append(again, step{kind: say, text: text, loose: st.loose})
		}
		for _, later := range w.steps[1:] {
			later.markup = nil
			again = append(again, later)
		}
		w.steps = again
	default:
		return false
	}
	return true
}

// Backoff limits: what is urgent is tried again soon.
const (
	urgentPause = 3 * time.Second
	mostFailing = 50 // answers of 5xx to one parcel before it is given up; being away is never given up
)
