package main

import (
	"context"
	"encoding/json"
	"net/http"
	"sync"
	"testing"
	"time"

	tg "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"linetender/flow/telegram/apitest"
)

// onLibrary is a bot that does nothing but let the bot library hand each
// update to hear, in a goroutine of its own, as the library does.
func onLibrary(b *testing.B, hear func(ctx context.Context, api *tg.Bot, chat int64, u *models.Update)) bot {
	return func(srv *apitest.Server, client *http.Client, answered func(int64)) (stop func()) {
		api, err := tg.New(srv.Token(), tg.WithServerURL(srv.URL()), tg.WithHTTPClient(time.Minute, client), tg.WithSkipGetMe(),
			tg.WithErrorsHandler(func(err error) {
				if b.Context().Err() == nil {
					b.Log(err)
				}
			}),
			tg.WithDefaultHandler(func(ctx context.Context, api *tg.Bot, u *models.Update) {
				chat := int64(0)
				switch {
				case u.Message != nil:
					chat = u.Message.Chat.ID
				case u.CallbackQuery != nil:
					chat = u.CallbackQuery.Message.Message.Chat.ID
				}
				hear(ctx, api, chat, u)
				answered(chat)
			}))
		if err != nil {
			b.Fatal(err)
		}
		ctx, cancel := context.WithCancel(b.Context())
		ended := make(chan struct{})
		go func() { defer close(ended); api.Start(ctx) }()
		return func() { cancel(); <-ended }
	}
}

// bareEcho is the least that answers: it says what it hears.
func bareEcho(b *testing.B) bot {
	return onLibrary(b, func(ctx context.Context, api *tg.Bot, chat int64, u *models.Update) {
		text := "a press"
		if u.Message != nil {
			text = u.Message.Text
		}
		if _, err := api.SendMessage(ctx, &tg.SendMessageParams{ChatID: chat, Text: text}); err != nil {
			b.Error(err)
		}
	})
}

// saysEcho is a bare echo that says the same whatever it hears.
func saysEcho(b *testing.B, text string) bot {
	return onLibrary(b, func(ctx context.Context, api *tg.Bot, chat int64, _ *models.Update) {
		if _, err := api.SendMessage(ctx, &tg.SendMessageParams{ChatID: chat, Text: text}); err != nil {
			b.Error(err)
		}
	})
}

// recorded are the calls that the program made for each line of each chat.
type recorded struct {
	made  int
	lines map[int64][][]call
}

// call is one of them, as the library takes it. One member is set.
type call struct {
	send   *tg.SendMessageParams
	edit   *tg.EditMessageTextParams // of the message that was sent as number MessageID in the chat
	answer *tg.AnswerCallbackQueryParams
}

// record lets the program meet a crowd and writes down what it calls.
func record(b *testing.B, c crowd, program bot) recorded {
	b.Helper()
	_, became := c.meet(b, program)
	all := map[int64][]apitest.Call{}
	rec := recorded{lines: map[int64][][]call{}}
	for _, made := range became.srv.Calls(chatCalls...) {
		chat := made.Chat()
		if made.Method == "answerCallbackQuery" {
			chat = became.presses[made.Params["callback_query_id"].(string)]
		}
		all[chat] = append(all[chat], made)
		rec.made++
	}
	for chat, made := range all {
		sent := map[int64]int{} // number in the chat, by id
		for _, m := range became.srv.Said(chat) {
			sent[m.ID] = len(sent)
		}
		lines := make([][]call, c.lines)
		for n, m := range made {
			line := n * c.lines / len(made)
			if c.polite {
				for line = 0; line < c.lines-1 && became.ends[chat][line].Before(m.At); line++ {
				}
			}
			lines[line] = append(lines[line], readCall(b, m, sent))
		}
		rec.lines[chat] = lines
	}
	return rec
}

func readCall(b *testing.B, made apitest.Call, sent map[int64]int) (c call) {
	b.Helper()
	body, err := json.Marshal(made.Params)
	if err != nil {
		b.Fatal(err)
	}
	read := func(into any) {
		if err := json.Unmarshal(body, into); err != nil {
			b.Fatal(err)
		}
	}
	var markup struct {
		Keyboard *models.InlineKeyboardMarkup `json:"reply_markup"`
	}
	read(&markup)
	switch made.Method {
	case "sendMessage":
		c.send = &tg.SendMessageParams{}
		read(c.send)
		c.send.ChatID, c.send.ReplyMarkup = made.Chat(), nil
		if markup.Keyboard != nil {
			c.send.ReplyMarkup = markup.Keyboard
		}
	case "editMessageText":
		c.edit = &tg.EditMessageTextParams{}
		read(c.edit)
		c.edit.ChatID, c.edit.ReplyMarkup = made.Chat(), nil
		if markup.Keyboard != nil {
			c.edit.ReplyMarkup = markup.Keyboard
		}
		n, ok := sent[int64(c.edit.MessageID)]
		if !ok {
			b.Fatalf("an edit of message %d, which nobody sent", c.edit.MessageID)
		}
		c.edit.MessageID = n
	default:
		c.answer = &tg.AnswerCallbackQueryParams{}
		read(c.answer)
	}
	return c
}

// echo makes for each line of a chat the calls that the program made for it,
// one after the other and in the chat's order, as the program has to.
func (r recorded) echo(b *testing.B) bot {
	type state struct {
		mu   sync.Mutex
		line int
		sent []int
	}
	chats := map[int64]*state{}
	for chat := range r.lines {
		chats[chat] = &state{}
	}
	return onLibrary(b, func(ctx context.Context, api *tg.Bot, chat int64, u *models.Update) {
		st := chats[chat]
		st.mu.Lock()
		defer st.mu.Unlock()
		for _, c := range r.lines[chat][st.line] {
			var err error
			switch {
			case c.send != nil:
				var m *models.Message
				if m, err = api.SendMessage(ctx, c.send); err == nil {
					st.sent = append(st.sent, m.ID)
				}
			case c.edit != nil:
				edit := *c.edit
				edit.MessageID = st.sent[c.edit.MessageID]
				_, err = api.EditMessageText(ctx, &edit)
			case u.CallbackQuery != nil:
				answer := *c.answer
				answer.CallbackQueryID = u.CallbackQuery.ID
				_, err = api.AnswerCallbackQuery(ctx, &answer)
			}
			if err != nil {
				b.Error(err)
			}
		}
		st.line++
	})
}
