package apitest

import (
	"bytes"
	"fmt"
	"image"
	_ "image/gif"  // kinds of picture that the channel takes
	_ "image/jpeg" //
	_ "image/png"  //
	"net/http"
	"strings"
)

type handler func(s *Server, p params, files map[string]Upload) (any, error)

// handlers play the methods; each is called with mu held, after the call was checked against
// the table.
var handlers = map[string]handler{
	"getMe": getMe, "setWebhook": setWebhook, "deleteWebhook": deleteWebhook, "getWebhookInfo": webhookInfo,
	"sendMessage": sendMessage, "sendPhoto": sendPhoto, "sendDocument": sendDocument, "sendLocation": sendLocation,
	"sendChatAction": sendChatAction, "editMessageText": editText, "editMessageCaption": editCaption,
	"editMessageMedia": editMedia, "editMessageReplyMarkup": editMarkup, "deleteMessage": deleteMessage,
	"answerCallbackQuery": answerCallback, "getFile": getFile, "getChat": getChat, "getChatMember": getChatMember,
	"leaveChat": leaveChat, "setMyCommands": setCommands, "getMyCommands": getCommands, "deleteMyCommands": deleteCommands,
}

func getMe(s *Server, _ params, _ map[string]Upload) (any, error) {
	j := s.me.json()
	j["can_join_groups"], j["can_read_all_group_messages"], j["supports_inline_queries"] = true, !s.privacy, false
	return j, nil
}

// say files a message of the bot with what every send method shares.
func (s *Server) say(p params, m *message) (any, error) {
	rows, forced, err := s.readMarkup(p)
	if err != nil {
		return nil, err
	}
	c, err := s.chatOf(p)
	if err != nil {
		return nil, err
	}
	if m.thread = p.number("message_thread_id"); m.thread != 0 && !c.hasThread(m.thread) {
		return nil, badRequest("message thread not found")
	}
	if reply := p.object("reply_parameters"); reply != nil {
		m.replyTo = c.find(reply.number("message_id"))
		if m.replyTo == nil && !reply.flag("allow_sending_without_reply") {
			return nil, badRequest("message to be replied not found")
		}
	}
	m.from, m.keyboard, m.forced = s.me, rows, forced
	c.botLast = true
	return c.add(m).json(), nil
}

func sendMessage(s *Server, p params, _ map[string]Upload) (any, error) {
	text, entities, err := s.readText(p, "text")
	if err != nil {
		return nil, err
	}
	return s.say(p, &message{kind: "text", text: text, entities: entities})
}

func sendPhoto(s *Server, p params, _ map[string]Upload) (any, error) {
	return s.sendFile(p, "photo", p["photo"])
}

func sendDocument(s *Server, p params, _ map[string]Upload) (any, error) {
	return s.sendFile(p, "document", p["document"])
}

func (s *Server) sendFile(p params, kind string, v any) (any, error) {
	caption, entities, err := s.readText(p, "caption")
	if err != nil {
		return nil, err
	}
	m := &message{kind: kind, text: caption, entities: entities}
	if err := s.attach(p, m, v); err != nil {
		return nil, err
	}
	return s.say(p, m)
}

func sendLocation(s *Server, p params, _ map[string]Upload) (any, error) {
	place := map[string]any{"latitude": p["latitude"], "longitude": p["longitude"]}
	return s.say(p, &message{kind: "location", content: map[string]any{"location": place}})
}

func sendChatAction(s *Server, p params, _ map[string]Upload) (any, error) {
	if _, err := s.chatOf(p); err != nil {
		return nil, err
	}
	return true, nil
}

const (
	largestPhoto    = 10 << 20
	largestFile     = 50 << 20
	largestDownload = 20 << 20
)

// file is one that the channel keeps.
type file struct {
	kind string
	Upload
	width, height int
}

func (f file) unique() string { return fmt.Sprintf("AQ%s%d", f.kind, len(f.Data)) }

// attach puts an uploaded file, or one known by its file_id, into a message.
func (s *Server) attach(p params, m *message, v any) error {
	id, _ := v.(string)
	f, known := s.files[id]
	if up, ok := v.(Upload); ok {
		f = file{kind: m.kind, Upload: up}
		if err := s.judge(p, &f); err != nil {
			return err
		}
		id = fmt.Sprintf("AgAC-%s-%d", m.kind, len(s.files)+1)
		s.files[id] = f
	} else if !known || f.kind != m.kind {
		return badRequest("wrong file identifier/HTTP URL specified")
	}
	m.file = f.Upload
	one := map[string]any{"file_id": id, "file_unique_id": f.unique(), "file_size": len(f.Data)}
	if m.kind == "photo" {
		one["width"], one["height"] = f.width, f.height
		m.content = map[string]any{"photo": []any{one}}
	} else {
		one["file_name"], one["mime_type"] = f.Name, http.DetectContentType(f.Data)
		m.content = map[string]any{"document": one}
	}
	return nil
}

func (s *Server) judge(p params, f *file) error {
	switch {
	case len(f.Data) == 0:
		return s.breach(p, "file must be non-empty")
	case len(f.Data) > largestFile, f.kind == "photo" && len(f.Data) > largestPhoto:
		return s.breach(p, "file of %d bytes is too big for a %s", len(f.Data), f.kind)
	case f.kind != "photo":
		return nil
	}
	c, _, err := image.DecodeConfig(bytes.NewReader(f.Data))
	if err != nil {
		return s.breach(p, "IMAGE_PROCESS_FAILED: %v", err)
	}
	f.width, f.height = c.Width, c.Height
	if long, short := max(c.Width, c.Height), min(c.Width, c.Height); c.Width+c.Height > 10000 || long > 20*short {
		return s.breach(p, "PHOTO_INVALID_DIMENSIONS: %d x %d", c.Width, c.Height)
	}
	return nil
}

func getFile(s *Server, p params, _ map[string]Upload) (any, error) {
	id := p.text("file_id")
	f, ok := s.files[id]
	switch {
	case !ok:
		return nil, badRequest("invalid file_id")
	case len(f.Data) > largestDownload:
		return nil, badRequest("file is too big")
	}
	return map[string]any{"file_id": id, "file_unique_id": f.unique(), "file_size": len(f.Data), "file_path": f.kind + "s/" + id}, nil
}

// Download is the name by which a Fault strikes the address of a file, which is no method.
const Download = "download"

func (s *Server) serveFile(w http.ResponseWriter, r *http.Request, path string) {
	s.mu.Lock()
	_, id, _ := strings.Cut(path, "/")
	f, ok := s.files[id]
	s.mu.Unlock()
	if !ok {
		writeRefusal(w, &refusal{code: http.StatusNotFound, text: "Not Found"})
		return
	}
	if fault := s.strike(Download, params{}); fault != nil {
		fault.answer(s, w, r, f.Data)
		return
	}
	w.Write(f.Data)
}
