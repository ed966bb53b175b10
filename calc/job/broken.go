package job

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"
)

// Where JSON is broken it is said in plain words: the line, the column and what would
// be right there. The decoder's own words are for who wrote it.

// place says where a byte of a text is, both counted from one; a column is a letter.
func place(text []byte, at int) string {
	at = min(max(at, 0), len(text))
	line := text[:at]
	start := bytes.LastIndexByte(line, '\n') + 1
	return fmt.Sprintf("line %d, column %d", 1+bytes.Count(line, []byte{'\n'}), 1+utf8.RuneCount(line[start:]))
}

// firstBad returns the first byte that is no UTF-8, or -1.
func firstBad(text []byte) int {
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRune(text[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

// wrongAt returns the first byte that does not fit, -1 where all do. The stream of
// tokens does not tell it well; the text read whole does.
func (w *walker) wrongAt() int {
	var whole any
	var bad *json.SyntaxError
	if !errors.As(json.Unmarshal(w.text, &whole), &bad) {
		return -1
	}
	if strings.HasPrefix(bad.Error(), "unexpected end") {
		return len(w.text)
	}
	return int(bad.Offset) - 1
}

// broken says what stands where the text stops being JSON, and what would be right.
func (w *walker) broken(at int) string {
	wrong, n := utf8.DecodeRune(w.text[at:])
	before := bytes.TrimRight(w.text[:at], " \t\r\n")
	last := byte(0)
	if len(before) > 0 {
		last = before[len(before)-1]
	}
	right := "write a comma between two fields and a colon between a field and its value"
	switch {
	case wrong == '/' || wrong == '#':
		right = "leave the remark out; JSON has none"
	case last == 0:
		right = `write one JSON object, such as {"load": {...}}`
	case wrong == '\'' || strings.ContainsRune("\u2018\u2019\u201c\u201d", wrong):
		right = "write straight double quotes round names and texts"
	case wrong == ',' && (last == ',' || last == '{' || last == '['), (wrong == '}' || wrong == ']') && last == ',':
		right = "leave out the comma that nothing follows"
	case wrong == '\n' || wrong == '\r' || wrong == '\t':
		right = "close the text with a double quote before the line ends, and write no tabs in it"
	case wrong == '"' && (last == '"' || last == '}' || last == ']' || last >= '0' && last <= '9' || last == 'e' || last == 'l'):
		right = "write a comma before it, or a colon if it is a field's value"
	case 'a' <= last && last <= 'z':
		right = "write texts in double quotes; the only bare words are true, false and null"
	case last == ':' || last == '{' || last == ',' || last == '[':
		right = "write texts and names in double quotes"
	}
	shown := string(w.text[at : at+n])
	if wrong < ' ' {
		return place(w.text, at) + "; " + right
	}
	return place(w.text, at) + ", where " + shown + " stands; " + right
}
