package calc

import (
	"fmt"
	"math"

	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// working returns the derivation as steps that a pocket calculator can follow:
// the worst corner, which is what decides, with the best figure beside it.
func (s search) working(o weighed) []Step {
	w := &work{}
	n, m := s.n, s.n.load.Mass
	w.add("weight", "mass × 9.80665 m/s²", fmt.Sprintf("%s kg", num(m.High.Kilograms())), newtons(unit.Weight(m.High)), "CGPM 1901, standard gravity")
	steep := n.load.Way.High
	w.add("grade", "weight × sin(slope)", fmt.Sprintf("%s, %s", newtons(unit.Weight(m.High)), deg(steep)), newtons(n.sum.Grade.High), "statics")
	w.add("rolling", "coefficient × weight × cos(slope) × share on free wheels",
		fmt.Sprintf("%s, share %s", num(float64(n.load.Rolling.High)), num(1-float64(n.load.Locked.Low))), newtons(n.sum.Rolling.High), n.rows["rolling"].Cite())
	if n.sum.Drag.High > 0 {
		w.add("drag", "sliding coefficient × weight × cos(slope) × (share locked + share on the belly)",
			fmt.Sprintf("%s, share %s + %s", num(float64(n.load.Sliding.High)), num(float64(n.load.Locked.High)), num(float64(n.load.Belly.High))), newtons(n.sum.Drag.High), n.rows["sliding"].Cite())
	}
	if n.sum.Mire.High > 0 {
		w.add("mire", "depth factor × weight", num(float64(n.load.Mire.High)), newtons(n.sum.Mire.High), n.rows["mire"].Cite())
	}
	if n.sum.Lip.High > 0 {
		w.add("step", "axle's share × weight × cos(slope) × √(2rh − h²) ÷ (r − h)", fmt.Sprintf("share × root term %s", num(float64(n.load.Step.High))), newtons(n.sum.Lip.High), "statics, moments about the step's edge")
	}
	w.add("resistance", "grade + the greater of rolling with drag, and mire, + step; worst corner of all ranges", "as above", newtons(n.sum.Total.High), "statics")
	w.add("force along the line", "resistance ÷ cos(angle off the line)", fmt.Sprintf("%s, %s", newtons(n.sum.Total.High), deg(n.off.High)), newtons(n.force.High), "statics")
	s.explainTackle(w, o)
	s.explainPuller(w, o)
	s.explainWay(w, o)
	s.explainPieces(w, o)
	return w.steps
}

type work struct{ steps []Step }

func (w *work) add(topic, formula, in, out, source string) {
	w.steps = append(w.steps, Step{Topic: topic, Formula: formula, In: in, Out: out, Source: source})
}

func (s search) explainTackle(w *work, o weighed) {
	_, row := sheaves(s.c.Tackle, s.see)
	r := o.rig.first
	if !r.Straight() {
		first := "1 + η + … + ηⁿ⁻¹"
		if r.From.String() == "standing" {
			first = "η + η² + … + ηⁿ"
		}
		w.add("advantage", first+" for the parts on the moving block, η left by each sheave",
			fmt.Sprintf("η %s, %d parts, %d sheaves", num(float64(o.s.eta.Low)), r.Parts, r.Sheaves()), num(float64(o.s.advantage.Low)), row.Cite()+"; Pipeline Rules of Thumb Handbook p. 6")
		w.add("anchor of the tackle", "sum of all the lines on it, at the sheaves that make it most", newtons(s.n.pullHigh()), newtons(o.s.anchor.High), "statics, vector sum")
	}
	w.add("haul", "force ÷ advantage, ÷ η for each lead block, or the manuals' rule when that is more",
		fmt.Sprintf("%s ÷ %s, %d lead blocks", newtons(s.n.pullHigh()), num(float64(o.s.advantage.Low)), o.rig.leads), newtons(o.s.haul.High), "statics")
	sh, r10 := handbook.ManualRulePerSheave()
	w.add("haul by the manuals' rule", "force × (1 + 0.1 × sheaves) ÷ parts", fmt.Sprintf("share %s a sheave, %d parts", num(float64(sh)), o.rig.parts()), newtons(o.s.manual), r10.Cite())
}

func (s search) explainPuller(w *work, o weighed) {
	if o.power == nil || o.power.available == nil {
		return
	}
	for _, l := range o.power.limits {
		src := "statics"
		if l.row.Table != "" {
			src = l.row.Cite()
		}
		w.add("puller: "+l.name, l.rule, "low ends for the least", newtons(l.f.Low), src)
	}
	a := *o.power.available
	if o.s.haul.High > 0 {
		w.add("margin", "least that the puller gives ÷ most that the haul needs, at least 1.0", fmt.Sprintf("%s ÷ %s", newtons(a.Low), newtons(o.s.haul.High)), num(float64(a.Low)/float64(o.s.haul.High)), "common practice")
	}
	if o.power.most != nil {
		w.add("puller's most", "grip at its high end × whole weight (and its weight downhill); a winch's stall; 1,050 N a person", o.power.p.Kind, newtons(*o.power.most), "common practice")
	}
}

func (s search) explainWay(w *work, o weighed) {
	if o.s.travel != nil {
		w.add("travel of the haul line", "parts × distance", fmt.Sprintf("%d × %s m", o.rig.parts(), num(s.c.Distance.High.Metres())), num(o.s.travel.High.Metres())+" m", "statics")
	}
	if o.s.rope != nil {
		w.add("rope", "(parts × reach + lead) × 1.1 + 3 m", fmt.Sprintf("%d × %s m + %s m", o.rig.first.Parts, num(s.c.Reach.High.Metres()), num(s.c.Lead.High.Metres())), num(o.s.rope.High.Metres())+" m", "common practice")
	}
	if !s.n.holds {
		return
	}
	w.add("held at rest", "weight × sin(slope), no rolling credited", deg(s.n.load.Way.High), newtons(s.n.static.High), "statics")
	for _, a := range o.path.hold.Arrest {
		l := o.path.hold.line
		w.add("arrest", "S + √(S² + 2 S s EA ÷ L)", fmt.Sprintf("S %s, s %s m, EA %s, L %s m", newtons(s.n.static.High), num(a.Slack.Metres()), newtons(l.Stiffness.High), num(l.Length.Low.Metres())), newtons(a.Force.High), "statics, energy of the run-up into the line's stretch")
	}
}

func (s search) explainPieces(w *work, o weighed) {
	gear, anchors := members(o)
	for _, g := range gear {
		if g.Ratio != nil {
			w.add("use of the "+label(g.Kind, g.Name, g.Use), "tension ÷ working limit; a breaking figure is divided by its design factor first, knots and leaning legs taken off",
				fmt.Sprintf("%s ÷ %s", newtons(g.Tension), newtons(*g.Working)), num(*g.Ratio), "ASME B30.9, B30.26 (from memory)")
		}
	}
	for _, a := range anchors {
		if a.Ratio != nil {
			w.add("use of the "+label(a.Kind, a.Name, a.Use), "sum of its lines ÷ what may be used, the factor of two in it", fmt.Sprintf("%s ÷ %s", newtons(a.Force), newtons(*a.Capacity)), num(*a.Ratio), "common practice")
		}
	}
}

func label(kind, name, use string) string {
	if name == "" {
		name = kind
	}
	if name == use {
		return name
	}
	return fmt.Sprintf("%s (%s)", name, use)
}

func newtons(f unit.Force) string { return num(f.Newtons()) + " N" }

func deg(a unit.Angle) string { return num(a.Degrees()) + "°" }

// num writes a figure of the working with enough digits to follow it.
func num(v float64) string {
	if v == 0 || math.Abs(v) >= 1e6 || math.Abs(v) >= 100 {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.4g", v)
}
