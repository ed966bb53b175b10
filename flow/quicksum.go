package flow

import (
	"errors"
	"strconv"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/job"
	"linetender/calc/sum"
	"linetender/flow/wording"
)

// quickSum answers one question of the trade beside the job, with its working.
// Nothing of it goes on the sheet.
func (t *turn) quickSum(text string) {
	name, args, err := sum.Read(text)
	var r sum.Result
	if err == nil {
		r, err = sum.Run(name, args)
	}
	var refused *job.FieldError
	switch {
	case errors.As(err, &refused):
		t.say(wording.SumRefused, wording.Args{"Why": refused.Error()})
		return
	case err != nil:
		t.err = err
		return
	}
	for _, f := range r.Figures {
		t.sumFigure(f)
	}
	for _, s := range r.Working {
		t.say(wording.SumStep, wording.Args{"What": s.Step, "Text": s.Value})
	}
	t.say(wording.SumSource, wording.Args{"Source": r.Source})
}

// sumFigure says one result in both systems, rounded the way it is used: what
// is to be carried up, what may be carried down.
func (t *turn) sumFigure(f sum.Figure) {
	what := strings.ReplaceAll(strings.TrimSuffix(f.Name, "_"+f.Unit), "_", " ")
	text := ""
	switch {
	case f.Count != nil:
		text = strconv.Itoa(*f.Count)
	case f.Holds != nil && *f.Holds:
		text = t.saying(wording.ChoiceYes)
	case f.Holds != nil:
		text = t.saying(wording.ChoiceNo)
	}
	if force, ok := f.Force(); ok {
		if plan := sum.Plan(force, f.By); f.By == sum.Low {
			t.say(wording.SumLimit, wording.Args{"What": what, "Limit": wording.Limit{Force: plan}})
		} else {
			t.say(wording.SumForce, wording.Args{"What": what, "Force": wording.Load{Force: plan}})
		}
		return
	}
	if length, ok := f.Length(); ok {
		t.say(wording.SumLength, wording.Args{"What": what, "Length": bound.Exactly(sum.Plan(length, f.By))})
		return
	}
	if mass, ok := f.Mass(); ok {
		t.say(wording.SumMass, wording.Args{"What": what, "Mass": bound.Exactly(sum.Plan(mass, f.By))})
		return
	}
	written := func(v float64, unit string) string { return strconv.FormatFloat(v, 'g', 3, 64) + unit }
	if angle, ok := f.Angle(); ok {
		text = written(sum.Plan(angle, f.By).Degrees(), " °")
	}
	if energy, ok := f.Energy(); ok {
		text = written(sum.Plan(energy, f.By).Joules(), " J")
	}
	if ratio, ok := f.Ratio(); ok {
		text = written(float64(sum.Plan(ratio, f.By)), "")
	}
	t.say(wording.SumFigure, wording.Args{"What": what, "Text": text})
}
