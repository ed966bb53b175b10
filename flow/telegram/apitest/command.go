package apitest

import (
	"fmt"
	"slices"
	"strings"
)

const commandRunes = "abcdefghijklmnopqrstuvwxyz0123456789_"

var scopeTypes = []string{"default", "all_private_chats", "all_group_chats", "all_chat_administrators", "chat", "chat_administrators", "chat_member"}

// scopeKey names the list that a call about commands means.
func (s *Server) scopeKey(p params) (string, error) {
	scope := p.object("scope")
	kind := scope.text("type")
	if scope == nil {
		kind = "default"
	}
	if !slices.Contains(scopeTypes, kind) {
		return "", s.breach(p, "unknown command scope %q", kind)
	}
	if lang := p.text("language_code"); lang != "" && len(lang) != 2 {
		return "", s.breach(p, "language code %q has not two letters", lang)
	}
	return fmt.Sprintf("%s/%v/%v/%s", kind, scope["chat_id"], scope["user_id"], p.text("language_code")), nil
}

func setCommands(s *Server, p params, _ map[string]Upload) (any, error) {
	key, err := s.scopeKey(p)
	if err != nil {
		return nil, err
	}
	list := p.list("commands")
	if len(list) > 100 {
		return nil, s.breach(p, "too many commands: %d", len(list))
	}
	seen := map[string]bool{}
	for _, c := range list {
		name := params(c.(map[string]any)).text("command")
		if strings.Trim(name, commandRunes) != "" || seen[name] {
			return nil, s.breach(p, "BOT_COMMAND_INVALID: %q", name)
		}
		seen[name] = true
	}
	s.commands[key] = list
	return true, nil
}

func getCommands(s *Server, p params, _ map[string]Upload) (any, error) {
	key, err := s.scopeKey(p)
	if err != nil {
		return nil, err
	}
	return append([]any{}, s.commands[key]...), nil
}

func deleteCommands(s *Server, p params, _ map[string]Upload) (any, error) {
	key, err := s.scopeKey(p)
	if err != nil {
		return nil, err
	}
	delete(s.commands, key)
	return true, nil
}

// Commands returns the names of the commands registered for a scope type ("default",
// "all_group_chats", ...) without a language, in order.
func (s *Server) Commands(scope string) []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	var names []string
	for _, c := range s.commands[fmt.Sprintf("%s/%v/%v/", scope, nil, nil)] {
		names = append(names, params(c.(map[string]any)).text("command"))
	}
	return names
}
