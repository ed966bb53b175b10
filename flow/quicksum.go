package flow

import (
	"errors"
	"strconv"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/job"
	"linetender/calc/sum"
	"linetender/calc/unit"
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
	plan := f.Plan()
	text := ""
	switch {
	case f.Count != nil:
		text = strconv.Itoa(*f.Count)
	case f.Holds != nil && *f.Holds:
		text = t.saying(wording.ChoiceYes)
	case f.Holds != nil:
		text = t.saying(wording.ChoiceNo)
	case f.Unit == "n" && f.By == sum.Low:
		t.say(wording.SumLimit, wording.Args{"What": what, "Limit": wording.Limit{Force: unit.Newtons(plan)}})
		return
	case f.Unit == "n":
		t.say(wording.SumForce, wording.Args{"What": what, "Force": wording.Load{Force: unit.Newtons(plan)}})
		return
	case f.Unit == "m":
		t.say(wording.SumLength, wording.Args{"What": what, "Length": bound.Exactly(unit.Metres(plan))})
		return
	case f.Unit == "kg":
		t.say(wording.SumMass, wording.Args{"What": what, "Mass": bound.Exactly(unit.Kilograms(plan))})
		return
	default:
		text = strconv.FormatFloat(plan, 'g', 3, 64)
		if f.Unit != "" {
			text += " " + map[string]string{"deg": "°", "j": "J"}[f.Unit]
		}
	}
	t.say(wording.SumFigure, wording.Args{"What": what, "Text": text})
}
