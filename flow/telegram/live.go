package telegram

import (
	"bytes"
	"context"
	"encoding/json"

	tg "github.com/go-telegram/bot"

	"linetender/flow"
)

// A message that is kept up to date is sent once and changed in place from then on. Its receipt says
// which parcel it shows, so that an older one, which an urgent one has overtaken, never turns it back.

// mostBehind bounds how far behind a parcel a later one is looked for.
const mostBehind = 100

// update changes the message that is kept up to date, or sends it if there is none that can be changed.
func (s *Sender) update(ctx context.Context, d due, chat, thread int64, w *work, st step) *trouble {
	at, ok, err := s.receipt(d.Chat, w.message.Live, chat)
	switch {
	case err != nil:
		return &trouble{kind: away, why: err.Error()}
	case ok && at.Parcel > d.ID:
		return nil
	case ok && !st.anew:
		p := &tg.EditMessageTextParams{ChatID: chat, MessageID: at.Message, Text: st.text, LinkPreviewOptions: noPreview()}
		if st.markup != nil {
			p.ReplyMarkup = st.markup
		}
		_, err = s.ch.say(ctx, "editMessageText", p)
		if t := judge(err); t != nil && !(t.kind == refused && t.says(unchanged)) {
			return t
		}
	default:
		if at.Message, err = s.send(ctx, chat, thread, st); err != nil {
			return judge(err)
		}
	}
	w.receipt, _ = json.Marshal(receipt{Message: at.Message, Chat: chat, Parcel: d.ID})
	return nil
}

// updateOtherwise finds another way where an update was refused: without buttons if it is they that
// are not taken, else as a new message.
func (w *work) updateOtherwise(t *trouble) bool {
	st := &w.steps[0]
	switch {
	case !w.bare && t.says(refusedMarkup...):
		w.bare, st.markup = true, nil
		st.text = pieces(st.text, longestText/2)[0]
	case !st.anew:
		st.anew = true
	default:
		return false
	}
	return true
}

// skipStale drops the words of a message that is kept up to date if later ones wait behind it. What
// else it brings stays: a press that waits, earlier buttons, pictures.
func (s *Sender) skipStale(d due, w *work) {
	if len(w.steps) == 0 || w.steps[0].kind != refresh || d.Urgent || s.ch.behind == nil {
		return
	}
	stale := false
	err := s.ch.behind(d.Chat, d.ID, mostBehind, func(body []byte) bool {
		if bytes.Contains(body, []byte(`"live":`)) {
			m, err := flow.DecodeMessage(body)
			stale = err == nil && m.Live == w.message.Live && len(m.Parts) > 0
		}
		return !stale
	})
	if err != nil {
		s.ch.log.Error("the outbox can't be looked through", "chat", d.Chat, "err", err)
	}
	if stale {
		w.steps = w.steps[1:]
	}
}
