package calc

import (
	"fmt"

	"linetender/calc/handbook"
	"linetender/calc/unit"
)

const (
	arrestRule   = "S + √(S² + 2 × S × slack × EA ÷ L)"
	arrestSource = "statics, energy of the run-up into the line's stretch"
)

// explainStiffness tells a rope's EA at an end of its range.
func explainStiffness(w *work, p *piece, stiffest bool) {
	strain, row, _ := handbook.StretchAtBreak(p.g.Material)
	end, breaking, by, ea := "softest", p.g.Rating.Force.Low, strain.High, unit.Force(0)
	times, _ := handbook.BreaksOverWorking()
	if stiffest {
		end, breaking, by = "stiffest", p.g.Rating.Force.High, strain.Low
		times, _ = handbook.BreaksOverWorkingAtMost()
	}
	of, formula := inNewtons(breaking), "breaking strength ÷ stretch at break"
	if p.g.Rating.Kind == "working" {
		of, formula = of+" × "+in(float64(times)), "working limit × what it may break at over that ÷ stretch at break"
		if most, byThick := p.breaksAtMost(); stiffest && byThick {
			of, formula = inNewtons(most), "what the strongest of its thickness breaks at ÷ stretch at break"
		}
	}
	if p.sideBySide() && stiffest {
		of, formula = fmt.Sprintf("%d × %s", p.g.Count, of), "all that hold × "+formula
	}
	whole, _ := p.stiffness()
	if ea = whole.Low; stiffest {
		ea = whole.High
	}
	w.add("EA of the "+p.label+" at its "+end, formula, fmt.Sprintf("%s ÷ %s", of, in(float64(by))), newtons(ea), row.Cite())
}

// explainHeld tells what the holding line, its anchor and its point are held to.
func (s *search) explainHeld(w *work, o weighed) {
	over, row := handbook.HoldingOverStatic()
	h := o.path.hold
	atRest := fmt.Sprintf("%s × %s", in(float64(over)), inNewtons(s.n.static.High))
	if !h.checked {
		w.add("holding line", "held at rest × what it must have over that", atRest, newtons(h.check), row.Cite())
		return
	}
	explainStiffness(w, h.rope, true)
	w.add("caught with the slack that is reckoned with", arrestRule, arrestSum(s.n.static.High, h.slack, h.line.Stiffness.High, h.line.Length.Low), newtons(h.caught), arrestSource)
	w.add("holding line", "the greater of held at rest × what it must have over that, and of catching the load", fmt.Sprintf("max(%s, %s)", atRest, inNewtons(h.caught)), newtons(h.check), row.Cite())
}

// explainStored tells how far to stand off and what the tight line stores.
func (s *search) explainStored(w *work, o weighed, p Plan) {
	e := p.Energy
	w.add("stand off", "the greatest of the least distance, so many times the longest tight span, and the whole line where it may fly back", e.far, num(e.Clear.Metres())+" m", "common practice")
	if e.Stored == nil {
		return
	}
	explainStiffness(w, e.tight.rope, false)
	w.add("energy in the tight line", "tension² × length ÷ (2 × EA)", fmt.Sprintf("(%s)^2 × %s ÷ (2 × %s)", e.tight.tension, inMetres(e.tight.long), inNewtons(e.tight.stiffness)), num(e.Stored.High.Joules())+" J", "statics, linear rope")
}

// explainEnds tells what joins each end of each line must bear.
func (s *search) explainEnds(w *work, o weighed, p Plan) {
	over, row := handbook.BreaksOverWorking()
	half, _ := handbook.PeakSigned()
	all, _ := handbook.PeakBlocked()
	for _, e := range p.Ends {
		share := half
		if e.ruled {
			share = all
		}
		formula, sum := "what is on it", inNewtons(e.Working)
		if e.AtMost {
			formula, sum = "puller's most on it ÷ (share of breaking it may come to × breaking over working)", fmt.Sprintf("%s ÷ (%s × %s)", inNewtons(e.peak), in(float64(share)), in(float64(over)))
		}
		w.add("what joins the line "+e.At, formula, sum, newtons(e.Working), row.Cite())
		if e.Without > 0 {
			w.add("the same without the signed rule, "+e.At, "puller's most on it ÷ (half of breaking × breaking over working)", fmt.Sprintf("%s ÷ (%s × %s)", inNewtons(e.without), in(float64(half)), in(float64(over))), newtons(e.Without), row.Cite())
		}
	}
}
