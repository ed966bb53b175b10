package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc/bound"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// measureSlope walks a person with a level or a board through it.
func (t *turn) measureSlope(tool string) {
	if t.s.State == Slope {
		t.act(Act{Do: DoAsk, Topic: tool + "_length"})
		t.ask()
		return
	}
	t.act(Act{Do: DoAsk, Topic: tool + "_length"})
	t.ask()
}

// heardLengths takes the two lengths of a slope, one by one or both at once.
func (t *turn) heardLengths(tp topic, h hear.Heard) bool {
	if slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return f.Field == "load.slope" }) {
		done := t.hearFacts(h, false)
		if slices.Contains(done, "load.slope") {
			t.settleSlope()
		} else {
			t.ask()
		}
		return true
	}
	read, err := bound.ReadLength(t.in.Text)
	if err != nil || !(read.Value.Low > 0) {
		t.miss("")
		return true
	}
	tool, part, _ := strings.Cut(tp.name, "_")
	if part == "length" {
		t.act(Act{Do: DoHold, Path: "slope." + tool, Value: t.in.Text})
		next := tool + "_gap"
		if tool == "board" {
			next = "board_rise"
		}
		t.act(Act{Do: DoAsk, Topic: next})
		t.say(wording.ReadWord, wording.Args{"What": t.name(tp.name), "Text": t.in.Text})
		t.ask()
		return true
	}
	slope := tool + " " + t.s.Held["slope."+tool] + ", " + part + " " + t.in.Text
	if done := t.put([]change{{set: set{"load.slope", slope}, how: Told}}); len(done) == 0 {
		t.ask()
		return true
	}
	t.settleSlope()
	return true
}

// settleSlope ends a walk through level or board.
func (t *turn) settleSlope() {
	t.act(Act{Do: DoSet, Path: "load.slope_from", Value: "level", How: Told})
	if t.s.Settled["slope"] != "" {
		t.act(Act{Do: DoReopen, Topic: "slope"})
	}
	t.settle("slope", Told)
	t.next()
}

// A board and a gap: a board is laid on the slope, a gap is what a level shows.
var (
	boardWord = regexp.MustCompile(`(?i)\b(?:board|plank|straight ?edge|batten)\b`)
	levelWord = regexp.MustCompile(`(?i)\b(?:level|levelled|leveled|bubble|spirit|rise|higher)\b`)
	gapWord   = regexp.MustCompile(`(?i)\bgap\b`)
)

// boardAndGap asks which of the two was done where a board and a gap are told and nothing
// says how the board lay, and reports whether it did.
func (t *turn) boardAndGap(text string) bool {
	two := lengthInText.FindAllString(text, -1)
	if len(two) != 2 || !boardWord.MatchString(text) || !gapWord.MatchString(text) || levelWord.MatchString(text) {
		return false
	}
	a, b := strings.TrimSpace(two[0]), strings.TrimSpace(two[1])
	long, err1 := bound.ReadLength(a)
	short, err2 := bound.ReadLength(b)
	if err1 != nil || err2 != nil {
		return false
	}
	if short.Value.Best > long.Value.Best {
		a, b = b, a
	}
	t.act(Act{Do: DoMiss})
	t.remark(wording.RefuseBoardGap, wording.Args{"Text": "level " + a + ", gap " + b, "Second": "board " + a + ", rise " + b})
	return true
}
