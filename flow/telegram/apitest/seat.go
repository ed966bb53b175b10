package apitest

import (
	"fmt"
	"net/http"
	"strings"
	"time"
)

// Seat is a user's place in one chat: what the user does there.
type Seat struct {
	user   *User
	chat   *chat
	thread int64
}

// Private is the user's own chat with the bot.
func (u *User) Private() *Seat {
	s := u.server
	s.mu.Lock()
	defer s.mu.Unlock()
	c, ok := s.chats[u.id]
	if !ok {
		c = &chat{id: u.id, kind: "private", with: u, members: map[int64]*User{u.id: u}, ids: &s.lastID}
		s.chats[u.id] = c
	}
	return &Seat{user: u, chat: c}
}

// In is the same seat in a topic of a group.
func (st *Seat) In(thread int64) *Seat { return &Seat{st.user, st.chat, thread} }

// Chat is the id of the chat.
func (st *Seat) Chat() int64 { return st.chat.id }

// Sent is a message that a user sent: its id in the chat, and the id of the update that the
// bot got of it; 0 if the bot does not get to see it.
type Sent struct {
	Message int64
	Update  int64
}

// Say sends a text.
func (st *Seat) Say(text string) Sent { return st.Reply(0, text) }

// Reply sends a text as a reply to a message; 0 is no reply.
func (st *Seat) Reply(to int64, text string) Sent {
	return st.post(&message{kind: "text", text: text, entities: commandsIn(text)}, to)
}

// Photo sends a picture with a caption, which may be empty. As on the channel, the bot is told of it
// in several sizes.
func (st *Seat) Photo(caption string, data []byte) Sent {
	id := st.keep("photo", Upload{"photo.jpg", data})
	small := map[string]any{"file_id": id + "-small", "file_unique_id": "u" + id + "-small", "width": 90, "height": 67, "file_size": 1}
	size := map[string]any{"file_id": id, "file_unique_id": "u" + id, "width": 640, "height": 480, "file_size": len(data)}
	return st.post(&message{kind: "photo", text: caption, entities: commandsIn(caption), content: map[string]any{"photo": []any{small, size}}}, 0)
}

// Document sends a file.
func (st *Seat) Document(name string, data []byte) Sent {
	id := st.keep("document", Upload{name, data})
	doc := map[string]any{
		"file_id": id, "file_unique_id": "u" + id, "file_name": name, "file_size": len(data),
		"mime_type": http.DetectContentType(data),
	}
	return st.post(&message{kind: "document", content: map[string]any{"document": doc}}, 0)
}

// Video sends a film with a caption, which may be empty.
func (st *Seat) Video(caption string, data []byte) Sent {
	id := st.keep("video", Upload{"video.mp4", data})
	film := map[string]any{
		"file_id": id, "file_unique_id": "u" + id, "width": 640, "height": 480, "duration": 5,
		"mime_type": "video/mp4", "file_size": len(data),
	}
	return st.post(&message{kind: "video", text: caption, entities: commandsIn(caption), content: map[string]any{"video": film}}, 0)
}

// Voice sends a voice note of that many seconds.
func (st *Seat) Voice(seconds int) Sent {
	id := st.keep("voice", Upload{"voice.oga", []byte("OggS")})
	return st.Other("voice", map[string]any{"file_id": id, "file_unique_id": "u" + id, "duration": seconds})
}

// Sticker sends a sticker.
func (st *Seat) Sticker(emoji string) Sent {
	return st.Other("sticker", map[string]any{
		"file_id": "CAAC-sticker", "file_unique_id": "AgAD", "type": "regular", "width": 512, "height": 512,
		"is_animated": false, "is_video": false, "emoji": emoji,
	})
}

// Location sends a place.
func (st *Seat) Location(latitude, longitude float64) Sent {
	return st.Other("location", map[string]any{"latitude": latitude, "longitude": longitude})
}

// LiveLocation sends a place that is kept up to date for an hour; Move changes it.
func (st *Seat) LiveLocation(latitude, longitude, accuracy float64) Sent {
	return st.Other("location", map[string]any{
		"latitude": latitude, "longitude": longitude, "horizontal_accuracy": accuracy, "live_period": 3600,
	})
}

// Move changes a live location; the bot gets an edited_message.
func (st *Seat) Move(messageID int64, latitude, longitude float64) Sent {
	s := st.user.server
	s.tb.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	m := st.chat.find(messageID)
	if m == nil || m.from != st.user || m.kind != "location" {
		s.tb.Errorf("%s has no location %d to move", st.user.name, messageID)
		return Sent{}
	}
	m.content = map[string]any{"location": map[string]any{"latitude": latitude, "longitude": longitude, "live_period": 3600}}
	m.edits++
	return Sent{m.id, s.tell("edited_message", m)}
}

// Other sends a message whose content is the given member of the message object.
func (st *Seat) Other(kind string, content any) Sent {
	return st.post(&message{kind: kind, content: map[string]any{kind: content}}, 0)
}

// Edit changes the text of a message that the user sent; the bot gets an edited_message.
func (st *Seat) Edit(messageID int64, text string) Sent {
	s := st.user.server
	s.tb.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	m := st.chat.find(messageID)
	if m == nil || m.from != st.user || m.kind != "text" {
		s.tb.Errorf("%s has no text message %d to edit", st.user.name, messageID)
		return Sent{}
	}
	m.text, m.entities = text, commandsIn(text)
	m.edits++
	return Sent{m.id, s.tell("edited_message", m)}
}

func (st *Seat) keep(kind string, up Upload) string {
	s := st.user.server
	s.mu.Lock()
	defer s.mu.Unlock()
	id := fmt.Sprintf("BQAC-%s-%d", kind, len(s.files)+1)
	s.files[id] = file{kind: kind, Upload: up}
	return id
}

func (st *Seat) post(m *message, to int64) Sent {
	s := st.user.server
	s.tb.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	if to != 0 {
		if m.replyTo = st.chat.find(to); m.replyTo == nil {
			s.tb.Errorf("%s replies to message %d, which is not there", st.user.name, to)
		}
	}
	m.from, m.thread = st.user, st.thread
	st.chat.add(m)
	if !s.dated.IsZero() {
		m.date = s.dated
	}
	return Sent{m.id, s.tell("message", m)}
}

// Date has all that users write from now on written at that time, for what depends on the second in
// which something was written.
func (s *Server) Date(at time.Time) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.dated = at
}

// tell gives the bot an update of a user's message, if the bot is there to see it.
func (s *Server) tell(kind string, m *message) int64 {
	c := m.chat
	if c.blocked || c.botOut || c.movedTo != 0 || c.kind != "private" && s.privacy && !s.meant(m) {
		s.notify()
		return 0
	}
	return s.push(kind, m.json())
}

// meant reports whether a message in a group reaches a bot in privacy mode: service messages,
// commands to it by name, bare commands while no other bot has spoken since, and replies to its
// messages or to commands that were meant for it.
func (s *Server) meant(m *message) bool {
	if m.kind == "service" {
		return true
	}
	if m.replyTo != nil && (m.replyTo.from == s.me || s.meantByCommand(m.replyTo)) {
		return true
	}
	return s.meantByCommand(m)
}

func (s *Server) meantByCommand(m *message) bool {
	for _, e := range m.entities {
		if e.Type != "bot_command" || e.Offset != 0 {
			continue
		}
		word, _, _ := strings.Cut(m.text, " ")
		word, _, _ = strings.Cut(word, "\n")
		_, name, named := strings.Cut(word, "@")
		return named && strings.EqualFold(name, BotName) || !named && m.chat.botLast
	}
	return false
}
