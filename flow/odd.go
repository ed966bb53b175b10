package flow

import (
	"strings"

	"linetender/calc/job"
	"linetender/flow/wording"
)

// heldOdd is what a doubtful figure is kept under until it is told again.
const heldOdd = "odd "

// doubted asks back, once, about a figure that can be and hardly is, and leaves
// it out meanwhile: it is never put right for anybody. Told again it is taken
// as it is, and the sheet says that somebody is sure of it.
func (t *turn) doubted(changes []change) []change {
	var odd []job.Odd
	if c, err := t.s.Sheet.Case(); err == nil {
		odd = c.Odd
	}
	out := make([]change, 0, len(changes))
	for _, c := range changes {
		o, doubt := job.Unlikely(c.path, c.value)
		was, _ := t.s.Sheet.Get(c.path)
		again := t.s.Held[heldOdd+c.path] == c.value
		for _, known := range odd { // what only the rest of the piece makes odd
			if known.Field == c.path && was == c.value {
				doubt, again = true, true
			}
		}
		switch {
		case doubt && !again:
			t.doubts = true
			t.say(wording.RefuseOdd, wording.Args{"Text": o.Text})
			t.act(Act{Do: DoHold, Path: heldOdd + c.path, Value: c.value})
			continue
		case doubt:
			out = append(out, change{set: set{"sure", t.sureOf(out, c.path)}, how: c.how, quiet: true})
		}
		out = append(out, c)
	}
	return out
}

// sureOf is the list of what people are sure of, with one field more.
func (t *turn) sureOf(changes []change, path string) string {
	list, _ := t.s.Sheet.Get("sure")
	for _, c := range changes {
		if c.path == "sure" {
			list = c.value
		}
	}
	if list == "" || list == "none" {
		return path
	}
	for _, p := range strings.Split(list, ",") {
		if strings.TrimSpace(p) == path {
			return list
		}
	}
	return list + ", " + path
}
