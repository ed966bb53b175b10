package flow

import (
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// slipTold takes that the puller slipped from who tells it after the load was reported
// as stuck, while what that makes doubtful is asked again: "puller slipped i mean". What
// gave way was the puller then, and it counts with what it gave at most.
func (t *turn) slipTold(s sight, text string) bool {
	n := len(t.s.Sheet.Seen)
	if s.learns != "slip" || !hear.PullerSlips(t.told(text)) || t.s.State == Halted || n == 0 || n >= mostSeen || t.s.Sheet.Seen[n-1].What != "stuck" {
		return false
	}
	w := t.s.Sheet.Seen[n-1]
	w.What, w.Force = "slip", ""
	trial, err := t.s.Sheet.Clone()
	if err != nil {
		t.err = err
		return true
	}
	if trial.Seen = append(trial.Seen, w); trial.Check() != nil {
		return false
	}
	t.act(Act{Do: DoReport, Path: s.kind, Value: wording.Plain(text)})
	who := t.whoName()
	say := func() {
		t.say(wording.PullSaw, wording.Args{"Name": who, "Text": t.saying(wording.Key("saw." + s.kind))})
	}
	t.tellAllAndHere(false, say)
	t.addSeen(n, w)
	if now := t.plan(); now != nil && n < len(now.Seen) && now.Seen[n].Text != "" {
		t.andWatch(func() { t.say(wording.PullLearnt, wording.Args{"Text": now.Seen[n].Text}) })
	}
	t.ask()
	return true
}
