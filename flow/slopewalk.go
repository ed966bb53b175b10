package flow

import (
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
