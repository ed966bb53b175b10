package wording

import (
	"strings"
	"unicode"
)

// Plain returns what a person wrote fit to be shown again: on one line,
// without control characters and without the marks that change the direction
// of writing, by which a text could pretend to say something else.
func Plain(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '\n' || r == '\t' || r == '\r':
			b.WriteByte(' ')
		case unicode.IsControl(r) || hidden(r) || r == unicode.ReplacementChar:
		default:
			b.WriteRune(r)
		}
	}
	return strings.TrimSpace(b.String())
}

// hidden reports whether r turns the direction of writing or shows nothing.
func hidden(r rune) bool {
	return unicode.Is(unicode.Bidi_Control, r) || r == '\u200b' || r == '\u2060' || r == '\ufeff' ||
		0xE0000 <= r && r <= 0xE007F || r == '\u2028' || r == '\u2029'
}
