package telegram

import (
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"
	"unicode/utf8"

	"linetender/flow"
)

func TestPieces(t *testing.T) {
	for _, tc := range []struct {
		text  string
		limit int
		want  []string
	}{
		{"", 10, nil},
		{"  \n ", 10, nil},
		{"short", 10, []string{"short"}},
		{"one two\n\nthree four", 12, []string{"one two", "three four"}},
		{"one two three\nfour five", 16, []string{"one two three", "four five"}},
		{"one two three four", 12, []string{"one two", "three four"}},
		{"abcdefghijkl", 5, []string{"abcde", "fghij", "kl"}},
		{"🚜🚜🚜", 4, []string{"🚜🚜", "🚜"}},
		{"🚜🚜🚜", 3, []string{"🚜", "🚜", "🚜"}},
		{"a\n\nbcdefghij", 8, []string{"a\n\nbcdef", "ghij"}},
	} {
		if got := pieces(tc.text, tc.limit); !slices.Equal(got, tc.want) {
			t.Errorf("pieces(%q, %d) = %q, want %q", tc.text, tc.limit, got, tc.want)
		}
	}
}

func FuzzPieces(f *testing.F) {
	f.Add("one two\n\nthree four", 12)
	f.Add("🚜🚜 é", 3)
	f.Fuzz(func(t *testing.T, text string, limit int) {
		limit = 2 + limit&0xff
		got := pieces(text, limit)
		// Each piece by itself: the end of one and the start of the next may make a space
		// between them, where text is not valid.
		squeeze := func(list ...string) string {
			var all strings.Builder
			for _, s := range list {
				all.WriteString(strings.Join(strings.Fields(s), ""))
			}
			return all.String()
		}
		if squeeze(got...) != squeeze(text) {
			t.Errorf("%q became %q", text, got)
		}
		for _, p := range got {
			if units(p) > limit || strings.TrimSpace(p) == "" {
				t.Errorf("piece %q of %d units, limit %d", p, units(p), limit)
			}
			if utf8.ValidString(text) && !utf8.ValidString(p) {
				t.Errorf("piece %q cuts a character", p)
			}
		}
	})
}

func TestPlain(t *testing.T) {
	for in, want := range map[string]string{
		"pull\n\tslowly":           "pull\n\tslowly",
		"go\u202eon\u2066 \u200fx": "goon x",
		"a\x00b\x1b[31mc\r\n":      "ab[31mc\n",
		"bad \xff byte":            "bad \ufffd byte",
		"<b>&amp; _x_ *y*":         "<b>&amp; _x_ *y*",
	} {
		if got := plain(in); got != want {
			t.Errorf("plain(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestByteAt(t *testing.T) {
	s := "é🚙 x"
	for unit, want := range map[int]int{0: 0, 1: 2, 3: 6, 4: 7, 5: 8} {
		if got, ok := byteAt(s, unit); !ok || got != want {
			t.Errorf("byteAt(%d) = %d, %v, want %d", unit, got, ok, want)
		}
	}
	for _, unit := range []int{2, 6, -1} {
		if got, ok := byteAt(s, unit); ok {
			t.Errorf("byteAt(%d) = %d", unit, got)
		}
	}
}

func TestChatKeys(t *testing.T) {
	for _, c := range [][2]int64{{4, 0}, {-1000000000007, 0}, {-7, 12}} {
		if id, thread, ok := readChatKey(ChatKey(c[0], c[1])); !ok || id != c[0] || thread != c[1] {
			t.Errorf("%v is read as %d %d %v", c, id, thread, ok)
		}
	}
	for _, bad := range []string{"", "telegram/", "telegram/0", "telegram/x", "terminal/4", "telegram/4/", "telegram/4/0", "telegram/4/-2"} {
		if _, _, ok := readChatKey(bad); ok {
			t.Errorf("%q was taken for a chat", bad)
		}
	}
}

func TestKeyboardLayout(t *testing.T) {
	m := flow.Message{Session: "K", Choices: []flow.Choice{
		{Choice: "1", Label: "Yes"}, {Choice: "2", Label: "No"}, {Choice: "3", Label: "Don't know"}, {Choice: "4", Label: "How"},
		{Choice: "5", Label: "On a label of its own, this long"}, {Choice: strings.Repeat("x", 64), Label: "Too much"}, {Choice: "6", Label: ""},
	}}
	markup, left := keyboard(m)
	var rows []string
	for _, row := range markup.InlineKeyboard {
		var labels []string
		for _, b := range row {
			labels = append(labels, b.Text)
		}
		rows = append(rows, strings.Join(labels, "|"))
	}
	want := []string{"Yes|No|Don't know", "How", "On a label of its own, this long"}
	if !slices.Equal(rows, want) || left != 2 {
		t.Errorf("rows %q, %d left, want %q, 2", rows, left, want)
	}
	if markup, left := keyboard(flow.Message{}); markup != nil || left != 0 {
		t.Errorf("no choices give %v, %d", markup, left)
	}
	var many flow.Message
	for range 120 {
		many.Choices = append(many.Choices, flow.Choice{Choice: "x", Label: "x"})
	}
	if _, left := keyboard(many); left != 20 {
		t.Errorf("%d of 120 left, want 20", left)
	}
}

func TestPacerForgetsChatsAtRest(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPacer(Limits{All: Rate{time.Millisecond, 5}, Chat: Rate{time.Second, 3}, Group: Rate{3 * time.Second, 3}})
		for chat := range int64(10 * tidyAt) {
			p.take(chat+1, time.Now())
			time.Sleep(10 * time.Millisecond)
		}
		if n := len(p.chats); n > 2*tidyAt {
			t.Errorf("%d chats remembered", n)
		}
	})
}

func TestPauses(t *testing.T) {
	for tries := range 30 {
		if d := pauseAfter(tries, longestPause); d <= 0 || d > longestPause*3/2 {
			t.Errorf("after %d tries: %v", tries, d)
		}
		if d := pauseAfter(tries, urgentPause); d > urgentPause*3/2 {
			t.Errorf("urgent, after %d tries: %v", tries, d)
		}
	}
	if early, late := pauseAfter(0, longestPause), pauseAfter(12, longestPause); early >= late {
		t.Errorf("the first pause is %v, a late one %v", early, late)
	}
}
