package calc

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/resistance"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

// working returns the derivation as steps that a pocket calculator can follow.
// What goes into a step is written as the sum to key in, at the one corner of
// all ranges that makes the need most and the means least, because that is
// what decides.
func (s *search) working(o weighed, p Plan) []Step {
	w := &work{}
	n := s.n
	l, sum := n.corner()
	weight := unit.Weight(l.Mass.High)
	cos := "cos(" + inDeg(l.Way.High) + ")"
	w.add("weight", "mass × standard gravity", in(l.Mass.High.Kilograms())+" kg × 9.80665", newtons(weight), "CGPM 1901, standard gravity")
	w.add("grade", "weight × sin(slope), at the slope that makes the sum most", fmt.Sprintf("%s × sin(%s)", inNewtons(weight), inDeg(l.Way.High)), newtons(sum.Grade.High), "statics")
	w.add("rolling", "coefficient × weight × cos(slope) × share on free wheels",
		fmt.Sprintf("%s × %s × %s × (1 − %s)", in(float64(l.Rolling.High)), inNewtons(weight), cos, in(float64(l.Locked.High))), newtons(sum.Rolling.High), n.rows["rolling"].Cite())
	friction := inNewtons(sum.Rolling.High)
	if sum.Drag.High > 0 {
		w.add("drag", "sliding coefficient × weight × cos(slope) × (share locked + share on the belly)",
			fmt.Sprintf("%s × %s × %s × (%s + %s)", in(float64(l.Sliding.High)), inNewtons(weight), cos, in(float64(l.Locked.High)), in(float64(l.Belly.High))), newtons(sum.Drag.High), n.rows["sliding"].Cite())
		friction += " + " + inNewtons(sum.Drag.High)
	}
	if sum.Mire.High > 0 {
		w.add("mire", "depth factor × weight", fmt.Sprintf("%s × %s", in(float64(l.Mire.High)), inNewtons(weight)), newtons(sum.Mire.High), n.rows["mire"].Cite())
		friction = fmt.Sprintf("max(%s, %s)", friction, inNewtons(sum.Mire.High))
	}
	if sum.Lip.High > 0 {
		n.explainEdge(w)
		w.add("step", "share that the step asks for × weight × cos(slope)", fmt.Sprintf("%s × %s × %s", in(float64(l.Step.High)), inNewtons(weight), cos), newtons(sum.Lip.High), "statics, moments about the step's edge")
		friction += " + " + inNewtons(sum.Lip.High)
	}
	w.add("resistance", "grade + the greater of rolling with drag, and mire, + step", inNewtons(sum.Grade.High)+" + "+friction, newtons(sum.Total.High), "statics")
	off := n.off.High
	if sum.Total.High < 0 {
		off = n.off.Low // what runs by itself is eased least by a line that leads straight
	}
	w.add("force along the line", "resistance ÷ cos(angle off the line)", fmt.Sprintf("%s ÷ cos(%s)", inNewtons(sum.Total.High), inDeg(off)), newtons(n.before().High), "statics")
	w.add("side load", "resistance × tan(angle off the line)", fmt.Sprintf("%s × tan(%s)", inNewtons(sum.Total.High), inDeg(off)), newtons(n.side.High), "statics")
	s.explainCauses(w, sum)
	if n.force != n.before() {
		sum := s.c.Learnt.Sum
		if sum == "" || n.force != s.c.Learnt.Need { // no other high end, or another load since
			sum = inNewtons(n.force.High)
		}
		w.add("force by what was seen", "least or most that was on the load while it stood or moved", sum, newtons(n.force.High), "derived, equilibrium of the tackle")
	}
	s.explainTackle(w, o)
	s.explainPuller(w, o)
	s.explainWay(w, o, p)
	s.explainPieces(w, o)
	s.explainEnds(w, o, p)
	return w.steps
}

// explainEdge tells what share of the weight a step asks for, the highest of it and
// the smallest wheel.
func (n need) explainEdge(w *work) {
	e, at := n.edge, n.load.Step.High
	h, r := e.Height.High, e.Radius.Low
	k := must(resistance.Lip(unit.Newtons(1), h, r)).Newtons()
	long, back := inMetres(r), inMetres(h)
	w.add("over the edge", "√(2rh − h²) ÷ (r − h)", fmt.Sprintf("√(2 × %s × %s − (%s)^2) ÷ (%s − %s)", long, back, back, long, back), num(k), "statics, moments about the step's edge")
	formula, sum := "the greater axle's share × that", fmt.Sprintf("%s × %s", in(float64(e.Axle.High)), in(k))
	if slides := min(e.Axle.High, e.Locked.High); slides > 0 {
		mu := in(float64(e.Sliding.High))
		formula += " + share of it that may be locked × what that takes more, (k + µ) ÷ (1 − k × µ) − k − µ"
		sum += fmt.Sprintf(" + %s × ((%s + %s) ÷ (1 − %s × %s) − %s − %s)", in(float64(slides)), in(k), mu, in(k), mu, in(k), mu)
	}
	w.add("share that the step asks for", formula, sum, num(float64(at)), "statics, a locked wheel slides up the edge's tangent")
}

// explainCauses tells the most of each cause by itself, where that is not what it
// is while the load resists most: wheels that roll do not drag.
func (s *search) explainCauses(w *work, worst resistance.Sum) {
	l := s.n.load
	weight := inNewtons(unit.Weight(l.Mass.High))
	way := l.Way.High // the flattest
	if l.Way.Low.Cos() > way.Cos() {
		way = l.Way.Low
	}
	if l.Way.Low < 0 && 0 < l.Way.High {
		way = 0
	}
	on := fmt.Sprintf("%s × cos(%s)", weight, inDeg(way))
	for _, c := range []struct {
		name        string
		most, there unit.Force
		formula, in string
	}{
		{"grade", s.n.sum.Grade.High, worst.Grade.High, "weight × sin(slope)", s.mostGrade()},
		{"rolling", s.n.sum.Rolling.High, worst.Rolling.High, "coefficient × weight × cos(slope) × share on free wheels", fmt.Sprintf("%s × %s × (1 − %s)", in(float64(l.Rolling.High)), on, in(float64(l.Locked.Low)))},
		{"drag", s.n.sum.Drag.High, worst.Drag.High, "sliding coefficient × weight × cos(slope) × (share locked + share on the belly)", fmt.Sprintf("%s × %s × (%s + %s)", in(float64(l.Sliding.High)), on, in(float64(l.Locked.High)), in(float64(l.Belly.High)))},
		{"mire", s.n.sum.Mire.High, worst.Mire.High, "depth factor × weight", fmt.Sprintf("%s × %s", in(float64(l.Mire.High)), weight)},
		{"step", s.n.sum.Lip.High, worst.Lip.High, "share that the step asks for × weight × cos(slope)", fmt.Sprintf("%s × %s", in(float64(l.Step.High)), on)},
	} {
		if math.Abs(float64(c.most-c.there)) > noise*math.Abs(float64(c.most)) {
			w.add(c.name+" at its most", c.formula+", by itself", c.in, newtons(c.most), "statics")
		}
	}
}

// mostGrade is the sum for the most that the grade alone comes to: where it
// helps, the least weight helps least.
func (s *search) mostGrade() string {
	l := s.n.load
	m := l.Mass.High
	if l.Way.High < 0 {
		m = l.Mass.Low
	}
	return fmt.Sprintf("%s × sin(%s)", inNewtons(unit.Weight(m)), inDeg(l.Way.High))
}

// corner is the load at the one choice of all its ranges that resists most.
func (n need) corner() (resistance.Load, resistance.Sum) {
	exact := n.load
	exact.Rolling, exact.Sliding = bound.Exactly(exact.Rolling.High), bound.Exactly(exact.Sliding.High)
	exact.Mire, exact.Belly, exact.Step = bound.Exactly(exact.Mire.High), bound.Exactly(exact.Belly.High), bound.Exactly(exact.Step.High)
	var worst resistance.Load
	var most resistance.Sum
	for i, locked := range []bound.Ratio{n.load.Locked.Low, n.load.Locked.High} {
		k := float64(exact.Rolling.High*(1-locked) + exact.Sliding.High*(locked+exact.Belly.High))
		lip, mire := float64(exact.Step.High), float64(exact.Mire.High)
		ways := []unit.Angle{n.load.Way.Low, n.load.Way.High}
		// Inside the range the sum may crest, or change over to the mire.
		meet := math.Acos(min(1, mire/max(k, mire, 1e-12)))
		for _, turn := range []float64{0, math.Atan2(1, k+lip), math.Atan2(1, lip), meet, -meet} {
			if a := unit.Radians(turn); n.load.Way.Low < a && a < n.load.Way.High {
				ways = append(ways, a)
			}
		}
		for j, way := range ways {
			for _, m := range []unit.Mass{n.load.Mass.Low, n.load.Mass.High} {
				l := exact
				l.Mass, l.Way, l.Locked = bound.Exactly(m), bound.Exactly(way), bound.Exactly(locked)
				if sum := must(resistance.Of(l)); i == 0 && j == 0 && most.Total == (Force{}) || sum.Total.High > most.Total.High {
					worst, most = l, sum
				}
			}
		}
	}
	return worst, most
}

type work struct{ steps []Step }

func (w *work) add(topic, formula, in, out, source string) {
	w.steps = append(w.steps, Step{Topic: topic, Formula: formula, In: in, Out: out, Source: source})
}

// gainSum is the sum that gives a tackle's gain.
func gainSum(r tackle.Reeving, eta bound.Ratio) string {
	e, first := in(float64(eta)), ""
	if r.From == tackle.Standing {
		first = e + " × "
	}
	if eta == 1 {
		return fmt.Sprint(r.Parts)
	}
	return fmt.Sprintf("%s(1 − %s^%d) ÷ (1 − %s)", first, e, r.Parts, e)
}

// heldSum is the sum that gives what a tackle hauled from the moving block holds over
// what its haul line carries then: each sheave helps.
func heldSum(r tackle.Reeving, eta bound.Ratio) string {
	if eta == 1 {
		return fmt.Sprint(r.Parts)
	}
	e := in(float64(eta))
	return fmt.Sprintf("(1 ÷ %s^%d − 1) ÷ (1 ÷ %s − 1)", e, r.Parts, e)
}

func (s *search) explainTackle(w *work, o weighed) {
	_, row := sheaves(s.c.Tackle, s.see)
	pull, eta := s.n.pullHigh(), o.s.eta
	line := pull
	explain := func(what string, r tackle.Reeving) {
		if r.Straight() {
			return
		}
		a := must(tackle.Advantage(r, eta))
		formula := "1 + η + … + ηⁿ⁻¹"
		if r.From == tackle.Standing {
			formula = "η + η² + … + ηⁿ"
		}
		w.add("advantage"+what, formula+", η left by each of the poorest sheaves: its sum in closed form", gainSum(r, eta.Low), num(float64(a.Low)), row.Cite()+"; Pipeline Rules of Thumb Handbook p. 6")
		if a.High > a.Low { // what the puller can give at most comes through these
			w.add("advantage with the best sheaves"+what, formula+", at the other end of what each leaves", gainSum(r, eta.High), num(float64(a.High)), row.Cite()+"; Pipeline Rules of Thumb Handbook p. 6")
		}
		share, at := "+", a.Low // most with poor sheaves
		corner := "with the poorest sheaves, the gain of the haul"
		if r.From == tackle.Moving { // most with good ones, or held with poor ones
			share, at, corner = "−", a.High, "with the best sheaves, hauled"
			if held := tackle.Held(r, eta.Low); held > at {
				at, corner = held, "with the poorest sheaves, held, where their friction takes the puller's part"
				w.add("gain while it is held"+what, "1 + 1 ÷ η + … + 1 ÷ ηⁿ⁻¹, with the poorest sheaves: their friction helps to hold", heldSum(r, eta.Low), num(float64(at)), row.Cite())
			}
		}
		anchor := must(tackle.Anchor(r, Force{High: line}, eta)).High
		w.add("anchor of the tackle"+what, "force × (1 "+share+" 1 ÷ gain), every line on the fixed side: "+corner,
			fmt.Sprintf("%s × (1 %s 1 ÷ %s)", inNewtons(line), share, in(float64(at))), newtons(anchor), "statics, vector sum")
		next := line.Scale(1 / float64(a.Low))
		w.add("haul line"+what, "force ÷ gain", fmt.Sprintf("%s ÷ %s", inNewtons(line), in(float64(a.Low))), newtons(next), "statics")
		line = next
	}
	explain("", o.rig.first)
	if worse := firstLine(Force{High: pull}, o.rig, must(tackle.Advantage(o.rig.first, eta))).High; worse > line {
		share, manual := handbook.ManualRulePerSheave()
		w.add("haul line of the first tackle by the manuals' rule", "force × (1 + so much for each sheave) ÷ parts, where that is more", fmt.Sprintf("%s × (1 + %s × %d) ÷ %d", inNewtons(pull), in(float64(share)), o.rig.first.Sheaves(), o.rig.first.Parts), newtons(worse), manual.Cite())
		line = worse
	}
	count := o.rig.first.Sheaves() + o.rig.leads
	if o.rig.compound() {
		explain(" of the second tackle", o.rig.second)
		count += o.rig.second.Sheaves()
	}
	for i, t := range o.s.tensions[1:] {
		w.add(fmt.Sprintf("part %d of the tackle, from the haul line on", i+2), "haul line × η for each sheave that it has passed",
			fmt.Sprintf("%s × %s^%d", inNewtons(o.s.tensions[0]), in(float64(eta.Low)), i+1), newtons(t), row.Cite())
	}
	if o.rig.compound() {
		a1, a2 := must(tackle.Advantage(o.rig.first, eta)).Low, must(tackle.Advantage(o.rig.second, eta)).Low
		w.add("advantage of both", "gain × gain of the second tackle", fmt.Sprintf("%s × %s", in(float64(a1)), in(float64(a2))), num(float64(o.s.advantage.Low)), "statics")
	}
	at := line.Scale(math.Pow(float64(eta.Low), -float64(o.rig.leads)))
	if o.rig.leads > 0 {
		w.add("lead blocks", "haul line ÷ η for each lead block", fmt.Sprintf("%s ÷ %s^%d", inNewtons(line), in(float64(eta.Low)), o.rig.leads), newtons(at), row.Cite())
	}
	share, manual := handbook.ManualRulePerSheave()
	w.add("haul by the manuals' rule", fmt.Sprintf("force × (1 + %s for each sheave) ÷ parts", in(float64(share))), fmt.Sprintf("%s × (1 + %s × %d) ÷ %d", inNewtons(pull), in(float64(share)), count, o.rig.parts()), newtons(o.s.manual), manual.Cite())
	w.add("haul", "the greater of the two", fmt.Sprintf("max(%s, %s)", inNewtons(at), inNewtons(o.s.manual)), newtons(o.s.haul.High), "common practice")
	if o.rig.leads > 0 {
		angle := unit.Angle(0)
		if s.c.Tackle.LeadAngle != nil {
			angle = s.c.Tackle.LeadAngle.Low
		}
		w.add("anchor of a lead block", "2 × haul × cos(half the angle between its lines)", fmt.Sprintf("2 × %s × cos(%s ÷ 2)", inNewtons(o.s.haul.High), inDeg(angle)), newtons(o.s.lead.High), "statics, vector sum")
	}
}

func (s *search) explainPuller(w *work, o weighed) {
	if o.power == nil || o.power.available == nil {
		return
	}
	for _, l := range o.power.limits {
		src := "statics"
		if l.row.Table != "" {
			src = l.row.Cite()
		}
		w.add("puller: "+l.name, l.rule, l.sum(), newtons(l.f.Low), src)
	}
	a := *o.power.available
	least := make([]string, len(o.power.limits))
	for i, l := range o.power.limits {
		least[i] = inNewtons(l.f.Low)
	}
	if len(least) > 1 {
		w.add("puller gives", "the least of what bounds it", "min("+strings.Join(least, ", ")+")", newtons(a.Low), "statics")
	}
	if o.s.haul.High > 0 {
		worst, _ := handbook.MarginWorst()
		w.add("margin", fmt.Sprintf("least that the puller gives ÷ most that the haul needs, at least %.1f", worst), fmt.Sprintf("%s ÷ %s", inNewtons(a.Low), inNewtons(o.s.haul.High)), num(float64(a.Low)/float64(o.s.haul.High)), "common practice")
	}
	if o.power.most != nil {
		w.add("puller's most", "grip at its high end × whole weight (and its weight downhill); a winch's stall; so much a person", o.power.mostSum(), newtons(*o.power.most), "common practice")
		if tip := o.power.tip; tip != nil && tip.Low > 0 {
			w.add("puller's most over what lifts its front", "puller's most ÷ pull that lifts the front at the hitch; over 1 takes a signature", fmt.Sprintf("%s ÷ %s", inNewtons(*o.power.most), inNewtons(tip.Low)), num(float64(*o.power.most)/float64(tip.Low)), "derived, moments about the rear wheels")
		}
	}
}

func (s *search) explainWay(w *work, o weighed, p Plan) {
	if o.s.travel != nil {
		w.add("travel of the haul line", "parts × distance", fmt.Sprintf("%d × %s", o.rig.parts(), inMetres(s.c.Distance.High)), num(o.s.travel.High.Metres())+" m", "statics")
	}
	if o.s.rope != nil {
		more, tail, _ := handbook.RopeAllowance()
		w.add("rope", "(parts × reach + lead) × allowance + tail", fmt.Sprintf("(%d × %s + %s) × %s + %s", o.rig.first.Parts, inMetres(s.c.Reach.High), inMetres(s.c.Lead.High), in(float64(more)), inMetres(tail)), num(o.s.rope.High.Metres())+" m", "common practice")
	}
	if kept := o.kept(); kept > 0 {
		one := wrapOf(o.power.p)
		w.add("rope that stays on the drum", "wraps × π × thickness of the drum", fmt.Sprintf("%s × %s × %s", in(math.Round(float64(kept/one))), in(math.Pi), inMetres(one.Scale(1/math.Pi))), num(kept.Metres())+" m", "TM 9-2320-279-10-2 Table 2-7")
	}
	if kept := o.kept(); kept > 0 && p.Travel.Rope != nil {
		w.add("rope in all", "rope + what stays on the drum", fmt.Sprintf("%s + %s", inMetres(o.s.rope.High), inMetres(kept)), num(p.Travel.Rope.High.Metres())+" m", "statics")
	}
	if b := p.Travel.bite; b != nil && p.Travel.Bites != nil && *b > 0 {
		w.add("bites", "distance ÷ the longest bite, up to the next whole one", fmt.Sprintf("up(%s ÷ %s)", inMetres(s.c.Distance.High), inMetres(*b)), fmt.Sprint(*p.Travel.Bites), "common practice")
	}
	w.add("held at rest", "weight × sin(slope), no rolling credited", fmt.Sprintf("%s × sin(%s)", inNewtons(unit.Weight(s.n.load.Mass.High)), inDeg(max(0, s.c.Load.Slope.High))), newtons(s.n.static.High), "statics")
	s.explainStored(w, o, p)
	if !s.n.holds {
		return
	}
	s.explainHeld(w, o)
	for _, a := range o.path.hold.Arrest {
		l := o.path.hold.line
		w.add("arrest with "+inMetres(a.Slack)+" of slack", arrestRule, arrestSum(s.n.static.High, a.Slack, l.Stiffness.High, l.Length.Low), newtons(a.Force.High), arrestSource)
	}
}

func newtons(f unit.Force) string { return num(f.Newtons()) + " N" }

// What goes in is written with more figures than what comes out, so that the
// sum keyed in gives the figure that stands there.
func in(v float64) string {
	if v == 0 {
		return "0"
	}
	return trim(strconv.FormatFloat(v, 'f', max(0, 7-int(math.Floor(math.Log10(math.Abs(v))))), 64))
}

func inNewtons(f unit.Force) string { return in(f.Newtons()) + " N" }
func inMetres(l unit.Length) string { return in(l.Metres()) + " m" }
func inDeg(a unit.Angle) string     { return in(a.Degrees()) + "°" }

func trim(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// num writes a figure of the working with enough digits to follow it.
func num(v float64) string {
	if v == 0 || math.Abs(v) >= 1e6 || math.Abs(v) >= 100 {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.4g", v)
}
