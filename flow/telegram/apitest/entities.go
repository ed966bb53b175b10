package apitest

import (
	"fmt"
	"html"
	"strings"
)

// Entity is a stretch of a message's text with a meaning, in UTF-16 units.
type Entity struct {
	Type   string
	Offset int
	Length int
}

var htmlTags = map[string]string{
	"b": "bold", "strong": "bold", "i": "italic", "em": "italic", "u": "underline", "ins": "underline",
	"s": "strikethrough", "strike": "strikethrough", "del": "strikethrough", "code": "code", "pre": "pre",
	"a": "text_link", "blockquote": "blockquote", "tg-spoiler": "spoiler",
}

// parseHTML takes the tags that the channel knows out of s.
func parseHTML(s string) (text string, found []Entity, err error) {
	type open struct {
		tag string
		at  int
	}
	var out strings.Builder
	var stack []open
	for s != "" {
		lt := strings.IndexByte(s, '<')
		if lt < 0 {
			lt = len(s)
		}
		out.WriteString(html.UnescapeString(s[:lt]))
		if s = s[lt:]; s == "" {
			break
		}
		gt := strings.IndexByte(s, '>')
		if gt < 0 {
			return "", nil, fmt.Errorf("unclosed start tag")
		}
		tag := s[1:gt]
		s = s[gt+1:]
		if name, closing := strings.CutPrefix(tag, "/"); closing {
			if len(stack) == 0 || stack[len(stack)-1].tag != name {
				return "", nil, fmt.Errorf("unmatched end tag %q", name)
			}
			top := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			if n := Units(out.String()) - top.at; n > 0 {
				found = append(found, Entity{htmlTags[name], top.at, n})
			}
			continue
		}
		name, _, _ := strings.Cut(tag, " ")
		if htmlTags[name] == "" {
			return "", nil, fmt.Errorf("unsupported start tag %q", name)
		}
		stack = append(stack, open{name, Units(out.String())})
	}
	if len(stack) > 0 {
		return "", nil, fmt.Errorf("can't find end tag corresponding to start tag %q", stack[len(stack)-1].tag)
	}
	return out.String(), found, nil
}

// commandsIn finds the commands of a text as a phone marks them: a slash at the start or after a
// space, then letters, digits and underscores, then perhaps @name.
func commandsIn(text string) []Entity {
	var found []Entity
	runes := []rune(text)
	at := 0
	for i := 0; i < len(runes); i++ {
		r := runes[i]
		if r != '/' || (i > 0 && runes[i-1] != ' ' && runes[i-1] != '\n') {
			at += Units(string(r))
			continue
		}
		end := i + 1
		for end < len(runes) && isCommandRune(runes[end]) {
			end++
		}
		n := end - i - 1
		if end < len(runes) && runes[end] == '@' {
			name := end + 1
			for name < len(runes) && isCommandRune(runes[name]) {
				name++
			}
			if name > end+1 {
				end = name
			}
		}
		if n > 0 && n <= 32 {
			found = append(found, Entity{"bot_command", at, end - i})
		}
		at += end - i
		i = end - 1
	}
	return found
}

func isCommandRune(r rune) bool {
	return r == '_' || '0' <= r && r <= '9' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z'
}
