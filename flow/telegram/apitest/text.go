package apitest

import "strings"

// longest is the length of a message's text, and of a caption, in UTF-16 units after entities.
const (
	longestText    = 4096
	longestCaption = 1024
	mostButtons    = 100
)

var entityTypes = map[string]bool{
	"mention": true, "hashtag": true, "cashtag": true, "bot_command": true, "url": true, "email": true,
	"phone_number": true, "bold": true, "italic": true, "underline": true, "strikethrough": true, "spoiler": true,
	"blockquote": true, "expandable_blockquote": true, "code": true, "pre": true, "text_link": true, "text_mention": true,
	"custom_emoji": true,
}

// readText takes a text or a caption with its entities out of a call; the caller holds mu.
func (s *Server) readText(p params, name string) (text string, found []Entity, err error) {
	text = p.text(name)
	entities := "entities"
	longest := longestText
	if name == "caption" {
		entities, longest = "caption_entities", longestCaption
	}
	switch p.text("parse_mode") {
	case "":
		for _, e := range p.list(entities) {
			e := params(e.(map[string]any))
			one := Entity{e.text("type"), int(e.number("offset")), int(e.number("length"))}
			if !entityTypes[one.Type] || one.Offset < 0 || one.Length < 1 || one.Offset+one.Length > Units(text) {
				return "", nil, s.breach(p, "entity %v does not lie in a text of %d units", one, Units(text))
			}
			found = append(found, one)
		}
		found = append(found, commandsIn(text)...)
	case "HTML":
		if text, found, err = parseHTML(text); err != nil {
			return "", nil, s.breach(p, "can't parse entities: %v", err)
		}
	default:
		return "", nil, s.breach(p, "parse mode %q is not played by apitest", p.text("parse_mode"))
	}
	if n := Units(text); n > longest {
		return "", nil, s.breach(p, "message is too long: %d of %d", n, longest)
	}
	if name == "text" && strings.TrimSpace(text) == "" {
		return "", nil, s.breach(p, "message text is empty")
	}
	return strings.TrimSpace(text), found, nil
}

// lenient takes out of a call's keyboard what the channel forgives: the copy_text without
// text that the Go bot library puts on every button.
func lenient(p params) {
	for _, row := range p.object("reply_markup").list("inline_keyboard") {
		buttons, _ := row.([]any)
		for _, b := range buttons {
			b, _ := b.(map[string]any)
			if copyText, ok := b["copy_text"].(map[string]any); ok && copyText["text"] == "" {
				delete(b, "copy_text")
			}
		}
	}
}

// readMarkup returns the rows of an inline keyboard, or forced if the call brings another markup;
// the caller holds mu.
func (s *Server) readMarkup(p params) (rows []any, forced bool, err error) {
	markup := p.object("reply_markup")
	if markup == nil {
		return nil, false, nil
	}
	if _, inline := markup["inline_keyboard"]; !inline {
		return nil, true, nil
	}
	n := 0
	for _, row := range markup.list("inline_keyboard") {
		row := row.([]any)
		if len(row) == 0 {
			continue
		}
		rows = append(rows, row)
		for _, b := range row {
			n++
			b := b.(map[string]any)
			kinds := 0
			for k := range b {
				if k != "text" && k != "style" && k != "icon_custom_emoji_id" {
					kinds++
				}
			}
			if kinds != 1 {
				return nil, false, s.breach(p, "button %q must have exactly one kind, it has %d", b["text"], kinds)
			}
			if b["text"] == "" {
				return nil, false, s.breach(p, "a button has no label")
			}
		}
	}
	if n > mostButtons {
		return nil, false, s.breach(p, "reply markup is too long: %d buttons", n)
	}
	return rows, false, nil
}
