package telegram

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	_ "image/jpeg" // kinds of picture that are sent as one
	_ "image/png"  //
	"strings"
	"time"

	tg "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"linetender/calc/unit"
	"linetender/flow"
	"linetender/flow/wording"
)

// A picture or a page goes after the words, and never holds them up: what can't be made, is refused or
// breaks off again and again is told in words instead. It is made anew from the log at each try, since
// the bot library reads it only once.

const (
	longestCaption = 1024
	uploadTime     = 2 * time.Minute // for one upload; the chat's next words wait for it
	mostUploads    = 3

	// What the channel takes as a picture and as a file. Source: the published Bot API, sendPhoto and
	// sendDocument.
	largestPhoto = 10 << 20
	widestPhoto  = 10_000 // width and height together
	longestPhoto = 20     // one by the other
	largestFile  = 50 << 20
)

// showing lays out a picture or a page: what its caption can't hold follows as words.
func showing(s flow.Show) []step {
	list := []step{{kind: upload, show: s}}
	for i, piece := range pieces(plain(s.Caption), longestCaption) {
		if i == 0 {
			list[0].text = piece
			continue
		}
		list = append(list, step{kind: say, text: piece})
	}
	return list
}

// errNoRender means that nobody makes pictures here.
var errNoRender = errors.New("this program was set up without a maker of pictures")

// rendered makes a picture. A panic in it is a bug of ours that must not end the rest.
func (s *Sender) rendered(ctx context.Context, what flow.Show) (out flow.Shown, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %v", p)
		}
	}()
	if s.ch.render == nil {
		return flow.Shown{}, errNoRender
	}
	out, err = s.ch.render(ctx, what)
	if err == nil && len(out.Bytes) == 0 {
		err = errors.New("it is empty")
	}
	return out, err
}

// show makes and sends a picture or a page.
func (s *Sender) show(ctx context.Context, d due, chat, thread int64, w *work, st step) *trouble {
	out, err := s.rendered(ctx, st.show)
	if err != nil {
		if ctx.Err() != nil {
			return transport(ctx.Err())
		}
		s.ch.log.Error("a picture or a page can't be made; words stand for it", "chat", d.Chat, "job", st.show.Job, "what", st.show.What, "err", err)
		return &trouble{kind: refused, why: "it can't be made"}
	}
	w.alt = out.Alt
	if len(out.Bytes) > largestFile {
		return &trouble{kind: refused, why: fmt.Sprintf("it has %d bytes", len(out.Bytes))}
	}
	if st.loose {
		thread = 0
	}
	file := &models.InputFileUpload{Filename: out.Name, Data: bytes.NewReader(out.Bytes)}
	if isPhoto(out) && !st.paper {
		w.pictured = true
		_, err = s.ch.api.SendPhoto(ctx, &tg.SendPhotoParams{ChatID: chat, MessageThreadID: int(thread), Photo: file, Caption: st.text})
	} else {
		_, err = s.ch.api.SendDocument(ctx, &tg.SendDocumentParams{ChatID: chat, MessageThreadID: int(thread), Document: file, Caption: st.text})
	}
	if err == nil {
		w.uploads, w.pictured, w.alt = 0, false, ""
	}
	return judge(err)
}

// isPhoto reports whether the channel takes it as a picture that is shown in the chat.
func isPhoto(out flow.Shown) bool {
	if out.Type != "image/png" && out.Type != "image/jpeg" || len(out.Bytes) > largestPhoto {
		return false
	}
	c, _, err := image.DecodeConfig(bytes.NewReader(out.Bytes))
	return err == nil && c.Width > 0 && c.Height > 0 && c.Width+c.Height <= widestPhoto &&
		max(c.Width, c.Height) <= longestPhoto*min(c.Width, c.Height)
}

// uploadOver turns an upload that has broken off too often into one that is refused.
func (w *work) uploadOver(t *trouble) *trouble {
	if len(w.steps) == 0 || w.steps[0].kind != upload || t.kind != away && t.kind != failing {
		return t
	}
	if w.uploads++; w.uploads < mostUploads {
		return t
	}
	w.pictured = false // as a document it would break off too
	return &trouble{kind: refused, why: t.why}
}

// showOtherwise finds another way where a picture was refused: as a document, else in words.
func (s *Sender) showOtherwise(w *work, t *trouble) bool {
	st := &w.steps[0]
	if st.kind != upload || t.kind != refused {
		return false
	}
	w.uploads = 0
	if w.pictured {
		st.paper, w.pictured = true, false
		return true
	}
	text := st.text
	for _, more := range []string{s.missing(st.show), plain(w.alt)} {
		if more != "" {
			text = strings.TrimSpace(text + "\n\n" + more)
		}
	}
	rest := w.steps[1:]
	w.steps, w.alt = nil, ""
	for _, piece := range pieces(text, longestText) {
		w.steps = append(w.steps, step{kind: say, text: piece, loose: st.loose})
	}
	w.steps = append(w.steps, rest...)
	return true
}

// missing says in words that something could not be shown.
func (s *Sender) missing(what flow.Show) string {
	k := wording.ShowNoPicture
	if what.What == flow.ShowCard || what.What == flow.ShowReport {
		k = wording.ShowNoPage
	}
	text, err := s.ch.words.Say(unit.Metric, k, nil)
	if err != nil {
		s.ch.log.Error("a sentence is missing", "key", k, "err", err)
	}
	return text
}
