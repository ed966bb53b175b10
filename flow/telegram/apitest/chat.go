package apitest

import (
	"net/http"
	"slices"
	"time"
)

// User is someone on the channel.
type User struct {
	server *Server
	id     int64
	name   string
	bot    bool
}

// User returns the user with that id, who is called name if new.
func (s *Server) User(id int64, name string) *User {
	s.mu.Lock()
	defer s.mu.Unlock()
	if u, ok := s.users[id]; ok {
		return u
	}
	u := &User{server: s, id: id, name: name}
	s.users[id] = u
	return u
}

// ID is the user's id.
func (u *User) ID() int64 { return u.id }

func (u *User) json() map[string]any {
	j := map[string]any{"id": u.id, "is_bot": u.bot, "first_name": u.name}
	if u.bot {
		j["username"] = BotName
	} else {
		j["language_code"] = "en"
	}
	return j
}

// chat is a conversation and what it shows.
type chat struct {
	id      int64
	kind    string // private, group, supergroup
	title   string
	with    *User // of a private chat
	members map[int64]*User
	log     []*message
	ids     *int64
	movedTo int64
	blocked bool // the user blocked the bot
	botOut  bool // the bot is not in the group
	botLast bool // no other bot has spoken since this one
}

func (c *chat) json() map[string]any {
	if c.kind == "private" {
		return map[string]any{"id": c.id, "type": c.kind, "first_name": c.with.name}
	}
	return map[string]any{"id": c.id, "type": c.kind, "title": c.title}
}

func (c *chat) find(id int64) *message {
	for i := len(c.log) - 1; i >= 0; i-- {
		if c.log[i].id == id && !c.log[i].deleted {
			return c.log[i]
		}
	}
	return nil
}

// chatOf returns the chat that a call names, or the refusal that the channel gives.
func (s *Server) chatOf(p params) (*chat, error) {
	c, ok := s.chats[p.number("chat_id")]
	switch {
	case !ok:
		return nil, badRequest("chat not found")
	case c.movedTo != 0:
		r := badRequest("group chat was upgraded to a supergroup chat")
		r.migrateTo = c.movedTo
		return nil, r
	case c.blocked:
		return nil, &refusal{code: http.StatusForbidden, text: "Forbidden: bot was blocked by the user"}
	case c.botOut:
		return nil, &refusal{code: http.StatusForbidden, text: "Forbidden: bot was kicked from the " + c.kind + " chat"}
	}
	return c, nil
}

// message is one message as the chat keeps it.
type message struct {
	chat     *chat
	id       int64
	from     *User
	date     time.Time
	thread   int64
	kind     string // text, photo, document, voice, ... or service
	text     string // or the caption
	entities []Entity
	content  map[string]any // further members of the JSON object
	file     Upload
	replyTo  *message
	keyboard []any // rows of the inline keyboard
	forced   bool  // it came with another markup than an inline keyboard
	edits    int
	deleted  bool
	frozen   bool
}

func (m *message) json() map[string]any {
	j := map[string]any{
		"message_id": m.id, "chat": m.chat.json(), "from": m.from.json(), "date": m.date.Unix(),
	}
	for k, v := range m.content {
		j[k] = v
	}
	text, entities := "text", "entities"
	if m.kind != "text" {
		text, entities = "caption", "caption_entities"
	}
	if m.text != "" {
		j[text] = m.text
		if len(m.entities) > 0 {
			var list []any
			for _, e := range m.entities {
				one := map[string]any{"type": e.Type, "offset": e.Offset, "length": e.Length}
				if e.Type == "text_link" {
					one["url"] = "https://rope.example/"
				}
				list = append(list, one)
			}
			j[entities] = list
		}
	}
	if m.thread != 0 {
		j["message_thread_id"], j["is_topic_message"] = m.thread, true
	}
	if m.edits > 0 {
		j["edit_date"] = m.date.Unix() + int64(m.edits)
	}
	if m.replyTo != nil {
		short := *m.replyTo
		short.replyTo = nil // the channel gives one level
		j["reply_to_message"] = short.json()
	}
	if len(m.keyboard) > 0 {
		j["reply_markup"] = map[string]any{"inline_keyboard": m.keyboard}
	}
	return j
}

// add files a new message under the next id of its chat.
func (c *chat) add(m *message) *message {
	*c.ids++
	m.chat, m.id, m.date = c, *c.ids, time.Now()
	c.log = append(c.log, m)
	return m
}

// Shown is a message as the people in the chat see it now.
type Shown struct {
	ID       int64
	From     int64
	Bot      bool
	Kind     string // text, photo, document, voice, service, ...
	Text     string // or the caption
	Entities []Entity
	Buttons  [][]Button
	Forced   bool // it asks for a reply, or puts up a reply keyboard
	File     Upload
	ReplyTo  int64
	Thread   int64
	Edits    int
}

// Button is one button of an inline keyboard.
type Button struct {
	Label string
	Data  string
	URL   string
}

// Button returns the data of the button with that label.
func (m Shown) Button(label string) (data string, ok bool) {
	for _, row := range m.Buttons {
		for _, b := range row {
			if b.Label == label {
				return b.Data, true
			}
		}
	}
	return "", false
}

// Messages returns what a chat shows, edits applied, deleted messages gone.
func (s *Server) Messages(chatID int64) []Shown {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := s.chats[chatID]
	if c == nil {
		return nil
	}
	var list []Shown
	for _, m := range c.log {
		if !m.deleted {
			list = append(list, m.shown())
		}
	}
	return list
}

// Said returns what the bot's messages in a chat show now.
func (s *Server) Said(chatID int64) []Shown {
	var list []Shown
	for _, m := range s.Messages(chatID) {
		if m.Bot {
			list = append(list, m)
		}
	}
	return list
}

// Last returns the bot's latest message in a chat; the zero Shown if it said nothing.
func (s *Server) Last(chatID int64) Shown {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := s.chats[chatID]
	if c == nil {
		return Shown{}
	}
	for _, m := range slices.Backward(c.log) {
		if m.from.bot && !m.deleted {
			return m.shown()
		}
	}
	return Shown{}
}

func (m *message) shown() Shown {
	sh := Shown{
		ID: m.id, From: m.from.id, Bot: m.from.bot, Kind: m.kind, Text: m.text, Entities: m.entities,
		Forced: m.forced, File: m.file, Thread: m.thread, Edits: m.edits,
	}
	if m.replyTo != nil {
		sh.ReplyTo = m.replyTo.id
	}
	for _, row := range m.keyboard {
		var shown []Button
		for _, b := range row.([]any) {
			b := params(b.(map[string]any))
			shown = append(shown, Button{b.text("text"), b.text("callback_data"), b.text("url")})
		}
		sh.Buttons = append(sh.Buttons, shown)
	}
	return sh
}
