package flow

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"linetender/flow/wording"
)

// TestFitBoard: a board of too much keeps a stop, who has not answered, the last
// words and the time, loses whole lines from its end, and says how many.
func TestFitBoard(t *testing.T) {
	x := newTurn(testEngine(), Input{Chat: "c"})
	x.s = newSession()
	lines := []wording.Key{wording.BoardHead, wording.BoardStop, wording.BoardMoving, wording.BoardBlocks, wording.BoardDiffers, wording.BoardPeople, wording.BoardOthers, wording.BoardWords, wording.BoardAt}
	long := strings.Repeat("very long ", 20)
	args := wording.Args{"Code": "larch-42", "Text": "pulling", "Name": "Ada", "Names": wording.Names{"Bo", "Cy"}, "Why": long, "What": long, "Was": "2 t", "List": wording.Lines{long, long, long}, "Result": "12:00", "Total": 3}
	fill := func() {
		x.replies = nil
		for _, k := range lines {
			x.say(k, args)
		}
		x.fitBoard()
	}
	fill()
	var kept []wording.Key
	size := 0
	for _, r := range x.replies {
		kept = append(kept, r.key)
		size += 2 + utf8.RuneCountInString(x.sayingWith(r.key, r.args))
	}
	if size > boardMost+2 {
		t.Errorf("the board has %d characters", size)
	}
	for _, want := range []wording.Key{wording.BoardStop, wording.BoardMoving, wording.BoardBlocks, wording.BoardDiffers, wording.BoardMore, wording.BoardWords, wording.BoardAt} {
		if !slices.Contains(kept, want) {
			t.Errorf("the board has lost %s: %v", want, kept)
		}
	}
	if slices.Contains(kept, wording.BoardOthers) || x.replies[len(x.replies)-2].args["Count"] != len(lines)+1-len(kept) {
		t.Errorf("cut, it says %v with %v", kept, x.replies[len(x.replies)-2].args)
	}
	args["List"], args["Why"], args["What"] = wording.Lines{"one"}, "it", "weight"
	if fill(); len(x.replies) != len(lines) {
		t.Errorf("a board that fits is cut to %d lines", len(x.replies))
	}
	if got := x.few(wording.Names(nine)); len(got) != 7 || got[6] != "3 more" {
		t.Errorf("nine names are cut to %v", got)
	}
}
