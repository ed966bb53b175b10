package telegram

import (
	"strings"
	"unicode"
	"unicode/utf16"
)

// The channel counts text in UTF-16 code units: entity offsets, and the longest message.

// units is the length of s as the channel counts it.
func units(s string) int {
	n := 0
	for _, r := range s {
		n += max(1, utf16.RuneLen(r))
	}
	return n
}

// byteAt is the index in s of the given unit; false if s ends before it or it lies inside a character.
func byteAt(s string, unit int) (int, bool) {
	n := 0
	for i, r := range s {
		if n == unit {
			return i, true
		}
		if n > unit {
			return 0, false
		}
		n += max(1, utf16.RuneLen(r))
	}
	return len(s), n == unit
}

// pieces cuts text into parts of at most limit units: between paragraphs if that can be, else
// between lines, else between words, else anywhere.
func pieces(text string, limit int) []string {
	var list []string
	text = strings.TrimSpace(text)
	for units(text) > limit {
		end := 0 // the most that fits, in bytes
		n := 0
		for i, r := range text {
			n += max(1, utf16.RuneLen(r))
			if n > limit {
				end = i
				break
			}
		}
		cut := end
		for _, gap := range []string{"\n\n", "\n", " "} {
			// A gap far to the front would make a stub of a message; then the next finer one is better.
			if i := strings.LastIndex(text[:end], gap); i > end/2 {
				cut = i
				break
			}
		}
		list = append(list, strings.TrimSpace(text[:cut]))
		text = strings.TrimSpace(text[cut:])
	}
	if text != "" {
		list = append(list, text)
	}
	return list
}

// plain takes out of text what could deceive the eye or upset the channel: control characters
// and marks that turn the direction of writing around.
func plain(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n', r == '\t':
			return r
		case unicode.IsControl(r), '\u202a' <= r && r <= '\u202e', '\u2066' <= r && r <= '\u2069', r == '\u200e', r == '\u200f', r == '\u061c':
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, "\ufffd"))
}
