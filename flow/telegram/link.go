package telegram

import "strings"

// longestStart is the most that a link can carry. Source: the channel's page on deep links.
const longestStart = 64

// Link returns the link that opens a private chat with the program and sends it code, as "/start
// code". It is empty before Start has succeeded, and for a code that no link can carry.
func (c *Channel) Link(code string) string {
	if c.me.name == "" || code == "" || len(code) > longestStart || strings.Trim(code, tokenRunes) != "" {
		return ""
	}
	return "https://t.me/" + c.me.name + "?start=" + code
}
