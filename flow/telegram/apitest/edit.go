package apitest

import (
	"reflect"
	"slices"
	"strings"
	"time"
)

// edit finds the bot's message that a call names and lets change work on a copy. If nothing
// changed, the call is refused, as on the channel.
func (s *Server) edit(p params, change func(m *message) error) (any, error) {
	rows, forced, err := s.readMarkup(p)
	if err != nil {
		return nil, err
	}
	if forced {
		return nil, s.breach(p, "an edit can bring an inline keyboard only")
	}
	if _, ok := p["inline_message_id"]; ok {
		return nil, s.breach(p, "inline messages are not played by apitest")
	}
	if p["chat_id"] == nil || p["message_id"] == nil {
		return nil, s.breach(p, "message identifier is not specified")
	}
	c, err := s.chatOf(p)
	if err != nil {
		return nil, err
	}
	m := c.find(p.number("message_id"))
	switch {
	case m == nil:
		return nil, badRequest("message to edit not found")
	case m.from != s.me || m.forced || m.frozen:
		return nil, badRequest("message can't be edited")
	}
	next := *m
	next.keyboard = rows
	if err := change(&next); err != nil {
		return nil, err
	}
	if next.text == m.text && slices.Equal(next.entities, m.entities) && reflect.DeepEqual(next.keyboard, m.keyboard) && next.sameFile(m) {
		return nil, badRequest("message is not modified: specified new message content and reply markup are exactly the same as a current content and reply markup of the message")
	}
	next.edits++
	*m = next
	return m.json(), nil
}

func (m *message) sameFile(o *message) bool { return reflect.DeepEqual(m.content, o.content) }

func editText(s *Server, p params, _ map[string]Upload) (any, error) {
	text, entities, err := s.readText(p, "text")
	if err != nil {
		return nil, err
	}
	return s.edit(p, func(m *message) error {
		if m.kind != "text" {
			return badRequest("there is no text in the message to edit")
		}
		m.text, m.entities = text, entities
		return nil
	})
}

func editCaption(s *Server, p params, _ map[string]Upload) (any, error) {
	caption, entities, err := s.readText(p, "caption")
	if err != nil {
		return nil, err
	}
	return s.edit(p, func(m *message) error {
		if m.kind == "text" {
			return badRequest("there is no caption in the message to edit")
		}
		m.text, m.entities = caption, entities
		return nil
	})
}

func editMedia(s *Server, p params, files map[string]Upload) (any, error) {
	media := p.object("media")
	kind := media.text("type")
	if kind != "photo" && kind != "document" {
		return nil, s.breach(p, "media of type %q is not played by apitest", kind)
	}
	inner := params{"chat_id": p["chat_id"], "caption": media["caption"], "caption_entities": media["caption_entities"], "parse_mode": media["parse_mode"]}
	caption, entities, err := s.readText(inner, "caption")
	if err != nil {
		return nil, err
	}
	var source any = media.text("media")
	if name, ok := strings.CutPrefix(media.text("media"), "attach://"); ok {
		up, sent := files[name]
		if !sent {
			return nil, s.breach(p, "media names the upload %q, which did not come", name)
		}
		source = up
	}
	return s.edit(p, func(m *message) error {
		m.kind, m.text, m.entities = kind, caption, entities
		return s.attach(p, m, source)
	})
}

func editMarkup(s *Server, p params, _ map[string]Upload) (any, error) {
	return s.edit(p, func(*message) error { return nil })
}

// deletable is how long a message can be deleted.
const deletable = 48 * time.Hour

func deleteMessage(s *Server, p params, _ map[string]Upload) (any, error) {
	c, err := s.chatOf(p)
	if err != nil {
		return nil, err
	}
	m := c.find(p.number("message_id"))
	switch {
	case m == nil:
		return nil, badRequest("message to delete not found")
	case m.frozen || time.Since(m.date) > deletable || m.from != s.me && c.kind != "private":
		return nil, badRequest("message can't be deleted")
	}
	m.deleted = true
	return true, nil
}

// Freeze makes a message one that can no longer be edited or deleted.
func (s *Server) Freeze(chatID, messageID int64) {
	s.tb.Helper()
	s.touch(chatID, messageID, func(m *message) { m.frozen = true })
}

// Delete takes a message away, as a person can in their own chat.
func (s *Server) Delete(chatID, messageID int64) {
	s.tb.Helper()
	s.touch(chatID, messageID, func(m *message) { m.deleted = true })
}

func (s *Server) touch(chatID, messageID int64, change func(*message)) {
	s.tb.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	if c := s.chats[chatID]; c != nil {
		if m := c.find(messageID); m != nil {
			change(m)
			return
		}
	}
	s.tb.Errorf("there is no message %d in chat %d", messageID, chatID)
}
