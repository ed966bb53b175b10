package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestCodeFrom: a code is understood however it was typed after it was read
// out, and what is none is not made one.
func TestCodeFrom(t *testing.T) {
	const want = "alder-cricket-bison-thistle-61"
	for _, text := range []string{
		want, "Alder Cricket Bison Thistle 61", " ALDER  cricket bison\tthistle 61 ", "\"alder cricket bison thistle 61\"", "alder–cricket—bison‑thistle−61",
		"alder, cricket, bison, thistle, 61.", "alder_cricket_bison_thistle_61", "alder - cricket - bison - thistle - 61",
	} {
		if got, ok := flow.CodeFrom(text); !ok || got != want {
			t.Errorf("CodeFrom(%q) = %q, %v, want %q", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "alder-cricket-bison-61", "alder-cricket-bison-thistle-6", "alder-cricket-bison-thistle-611", "one two 3 four 55", "alder cricket bison thistle sixty"} {
		if got, ok := flow.CodeFrom(text); ok || got != "" {
			t.Errorf("CodeFrom(%q) = %q, %v, want none", text, got, ok)
		}
	}
}

// TestCodesAsTheyAreTyped: a code with blanks and capitals lets in; one with a
// word wrong begins no job of its own; words that only look like one are words.
func TestCodesAsTheyAreTyped(t *testing.T) {
	p := newPhones(t)
	p.say("Ada", "/start")
	code := ""
	for _, word := range strings.Fields(p.say("Ada", "crew code")["test/Ada"][0].Text()) {
		if strings.Count(word, "-") == 4 {
			code = strings.Trim(word, ".,")
		}
	}
	if got := said(p.say("Bo", "/start "+strings.ToUpper(strings.ReplaceAll(code, "-", " ")))["test/Bo"]); !strings.HasPrefix(got, "welcome.crew") {
		t.Errorf("typed with blanks and capitals it says %s", got)
	}
	if got := said(p.say("Cy", "/start alder-cricket-bison-tisel-61")["test/Cy"]); got != "door.wrong" {
		t.Errorf("with a word wrong it says %s", got)
	}
	if got := said(p.say("Ada", "join the two big trees 12")["test/Ada"]); strings.Contains(got, "door.") {
		t.Errorf("words of a sentence are taken for a code: %s", got)
	}
}
