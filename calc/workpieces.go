package calc

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"linetender/calc/handbook"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

// What a seat carries is told by the sums of the rig: each of them belongs to the
// uses that it is on, and the one that comes to a seat's own figure is its
// derivation.

// borne is one of them: the sum as it is keyed in, and what it comes to.
type borne struct {
	uses []string
	what string
	sum  string
	v    float64
}

var (
	hauledUses = []string{"haul"}
	movingUses = []string{"moving-block", "load", "tow-point"}
	fixedUses  = []string{"standing-block", "anchor", "standing"}
	leadUses   = []string{"lead-block", "lead"}
	endUses    = []string{"puller", "hitch", "anchor", "haul"}
	heldUses   = []string{"holding", "holding-point"}
)

// loads lists what a rig puts on its places, with each gain as a factor.
func (s *search) loads(o weighed) []borne {
	r, eta, pull := o.rig, o.s.eta, s.n.pullHigh()
	out := []borne{{movingUses, "the force along the line", inNewtons(pull), pull.Newtons()}}
	a1 := must(tackle.Advantage(r.first, eta))
	first := o.s.tensions[0]
	dead := must(tackle.HeldDeadEnd(r.first, pull, eta.Low))
	deadSum := inNewtons(first) // from the moving block it is the haul line's, whichever way friction works
	if r.first.From == tackle.Standing && eta.Low < 1 {
		deadSum = fmt.Sprintf("%s × (1 − %s) ÷ (1 − %s^%d)", inNewtons(pull), in(float64(eta.Low)), in(float64(eta.Low)), r.first.Parts)
	} else if r.first.From == tackle.Standing {
		deadSum = fmt.Sprintf("%s ÷ %d", inNewtons(pull), r.first.Parts)
	}
	most := max(first, dead)
	sum := fmt.Sprintf("max(%s, %s)", inNewtons(first), deadSum)
	if line := firstLine(s.n.pull(), r, a1).High; r.compound() {
		most, sum = max(most, line), fmt.Sprintf("max(%s, %s)", inNewtons(line), sum)
	} else {
		most, sum = max(most, o.s.haul.High), fmt.Sprintf("max(%s, max(%s, %s))", inNewtons(o.s.haul.High), inNewtons(first), deadSum)
	}
	out = append(out, borne{hauledUses, "the most of the haul at the puller, of the tackle's haul line, and of its dead end while the load is held", sum, most.Newtons()})
	if !r.first.Straight() {
		out = append(out, borne{fixedUses, "the anchor of the tackle", inNewtons(o.s.anchor.High), o.s.anchor.High.Newtons()})
	}
	if r.compound() {
		line := firstLine(s.n.pull(), r, a1)
		anchor := must(tackle.Anchor(r.second, line, eta)).High
		out = append(out, borne{movingUses, "the haul line of the first tackle", inNewtons(line.High), line.High.Newtons()},
			borne{fixedUses, "the anchor of the second tackle", inNewtons(anchor), anchor.Newtons()})
	}
	out = append(out, borne{endUses, "the haul at the puller", inNewtons(o.s.haul.High), o.s.haul.High.Newtons()})
	if r.leads > 0 {
		out = append(out, borne{leadUses, "the anchor of a lead block", inNewtons(o.s.lead.High), o.s.lead.High.Newtons()})
	}
	if s.n.holds {
		check := o.path.hold.check
		out = append(out, borne{heldUses, "the holding line", inNewtons(check), check.Newtons()},
			borne{[]string{"tow-point", "holding-point"}, "both lines while one takes over from the other", inNewtons(pull) + " + " + inNewtons(check), (pull + check).Newtons()})
	}
	return out
}

// perHaul lists what a newton of haul at the puller comes to on each place, where
// the sheaves make it most.
func (s *search) perHaul(o weighed) []borne {
	r, eta := o.rig, o.s.eta
	lose, passed := math.Pow(float64(eta.High), float64(r.leads)), ""
	if r.leads > 0 {
		passed = fmt.Sprintf(" × %s^%d", in(float64(eta.High)), r.leads)
	}
	a1 := float64(must(tackle.Advantage(r.first, eta)).High)
	fixed := func(r tackle.Reeving, gain float64) (string, float64) {
		if r.From == tackle.Moving {
			return fmt.Sprintf(" × (1 − 1 ÷ %s)", in(gain)), 1 - 1/gain
		}
		return fmt.Sprintf(" × (1 + 1 ÷ %s)", in(gain)), 1 + 1/gain
	}
	load, onLoad := in(a1)+passed, a1*lose
	out := []borne{}
	if r.compound() {
		a2 := float64(must(tackle.Advantage(r.second, eta)).High)
		line, onLine := in(a2)+passed, a2*lose
		load, onLoad = in(a1)+" × "+line, a1*a2*lose
		share, k := fixed(r.second, a2)
		out = append(out, borne{movingUses, "gain of the second tackle", line, onLine}, borne{fixedUses, "gain of the second tackle on its anchor", line + share, onLine * k},
			borne{hauledUses, "gain of the second tackle, and no less than the haul itself", "max(1, " + line + ")", max(1, onLine)})
	}
	share, k := fixed(r.first, a1)
	return append(out, borne{movingUses, "gain on the load with the best sheaves", load, onLoad}, borne{heldUses, "gain on the load with the best sheaves", load, onLoad},
		borne{fixedUses, "gain on the anchor with the best sheaves", load + share, onLoad * k}, borne{endUses, "", "1", 1},
		s.perLead(o))
}

func (s *search) perLead(o weighed) borne {
	if o.rig.leads == 0 || o.s.haul.High <= 0 {
		return borne{leadUses, "", "0", 0}
	}
	angle := unit.Angle(0)
	if s.c.Tackle.LeadAngle != nil {
		angle = s.c.Tackle.LeadAngle.Low
	}
	return borne{leadUses, "both lines of a lead block", fmt.Sprintf("2 × cos(%s ÷ 2)", inDeg(angle)), float64(o.s.lead.High) / float64(o.s.haul.High)}
}

// found is the sum of a list that comes to v, one of this use before all others.
// Several places of one use may be on one thing: then it is the sum of two.
func found(of []borne, use string, v float64) (borne, bool) {
	is := func(w float64) bool { return math.Abs(w-v) <= noise*max(1, math.Abs(v)) }
	var any *borne
	for i, b := range of {
		if !is(b.v) {
			continue
		}
		if slices.Contains(b.uses, use) {
			return b, true
		}
		if any == nil {
			any = &of[i]
		}
	}
	if any != nil {
		return *any, true
	}
	for _, a := range of {
		for _, b := range of {
			for n := 1; n <= mostLeads; n++ {
				if sum := a.v*float64(n) + b.v; slices.Contains(a.uses, use) && slices.Contains(b.uses, use) && is(sum) {
					first := a.sum
					if n > 1 {
						first = fmt.Sprintf("%d × %s", n, a.sum)
					}
					return borne{what: "the sum of all that is on it", sum: first + " + " + b.sum, v: v}, true
				}
			}
		}
	}
	return borne{}, false
}

// mostLeads is how many alike places one thing is looked at for.
const mostLeads = 8

// onSeat is the sum of a list for a seat's figure: the share of its leg of it, and
// with what hangs on the same thing by another name.
func onSeat(of []borne, t seat, v func(seat) float64) (borne, bool) {
	own, more := v(t), []string{}
	for _, o := range t.beside {
		b, ok := onSeat(of, o, v)
		if !ok {
			return b, false
		}
		own -= v(o)
		more = append(more, b.sum)
	}
	k, leg := 1.0, ""
	if t.legs != nil {
		steepest, _ := handbook.SlingAngleMost()
		k, leg = 0.5/math.Cos(min(t.legs.angle, steepest).Radians()), fmt.Sprintf(" × 0.5 ÷ cos(%s)", inDeg(min(t.legs.angle, steepest)))
	}
	b, ok := found(of, t.use, own/k)
	if ok && leg != "" {
		b.sum, b.what = "("+b.sum+")"+leg, b.what+", the share of its leg"
	}
	if len(more) > 0 {
		b.what = "all that hangs on it, whatever it was listed as"
		b.sum = strings.Join(append([]string{b.sum}, more...), " + ")
	}
	return b, ok
}

func (s *search) explainPieces(w *work, o weighed) {
	loads, pers := s.loads(o), s.perHaul(o)
	told := map[string]bool{}
	once := func(topic, formula, in, out, source string) {
		if k := topic + in; !told[k] {
			told[k] = true
			w.add(topic, formula, in, out, source)
		}
	}
	seats := slices.Clone(o.path.seats)
	slices.SortStableFunc(seats, func(a, b seat) int { // as the plan has them
		switch {
		case weight(a) > weight(b):
			return -1
		case weight(a) < weight(b):
			return 1
		}
		return 0
	})
	for _, t := range seats {
		name := t.named()
		if b, ok := onSeat(loads, t, func(t seat) float64 { return t.tension.Newtons() }); ok {
			once("load on "+name, b.what, b.sum, newtons(t.tension), "statics")
		}
		limit := t.limit()
		if t.working != nil && limit.sum != "" {
			once("may carry: "+name, limit.what, limit.sum, newtons(*t.working), limit.source)
		}
		if r, known := t.ratio(); known && !math.IsInf(r, 1) {
			sum := fmt.Sprintf("%s ÷ %s", inNewtons(t.tension), inNewtons(*t.working))
			if t.tension < 0 {
				sum = "max(0, " + sum + ")"
			}
			once("use of "+name, "what it carries ÷ what it may carry", sum, num(r), "statics")
		}
		if t.peak != nil {
			s.explainPeak(once, o, pers, t, name)
		}
		if t.peak != nil && t.breaks != nil && limit.breaks != "" && *t.breaks > 0 {
			once("breaks: "+name, limit.how, limit.breaks, newtons(*t.breaks), limit.source)
		}
	}
}

// explainPeak tells what a seat takes at the puller's most.
func (s *search) explainPeak(once func(topic, formula, in, out, source string), o weighed, pers []borne, t seat, name string) {
	most := o.power.most
	if most == nil || *most <= 0 {
		once("at the puller's most: "+name, "the puller gives nothing", inNewtons(*t.peak), newtons(*t.peak), "statics")
		return
	}
	own, what, sums := *t.peak, "", []string{}
	for _, b := range t.beside {
		if b.peak == nil {
			continue
		}
		own -= *b.peak
		_, sum, ok := s.peakSum(pers, b, *b.peak, *most)
		if !ok {
			return
		}
		what, sums = "all that hangs on it, whatever it was listed as", append(sums, sum)
	}
	formula, sum, ok := s.peakSum(pers, t, own, *most)
	if !ok {
		return
	}
	if what == "" {
		what = formula
	}
	once("at the puller's most: "+name, what, strings.Join(append([]string{sum}, sums...), " + "), newtons(*t.peak), "statics")
}

// peakSum is the sum for what a seat alone takes of the puller's most.
func (s *search) peakSum(pers []borne, t seat, peak, most unit.Force) (what, sum string, ok bool) {
	held, and := unit.Force(0), ""
	if t.hold {
		if held = s.n.static.High; t.legs != nil {
			steepest, _ := handbook.SlingAngleMost()
			held = held.Scale(0.5 / math.Cos(min(t.legs.angle, steepest).Radians()))
		}
		and = " + " + inNewtons(held)
	}
	t.beside = nil
	b, ok := onSeat(pers, t, func(seat) float64 { return float64(peak-held) / float64(most) })
	if !ok {
		return "", "", false
	}
	what = "puller's most"
	if b.what != "" {
		what += " × " + b.what
	}
	k := b.sum
	if strings.ContainsAny(k, "+−÷, ") {
		k = "(" + k + ")"
	}
	sum = fmt.Sprintf("%s × %s%s", inNewtons(most), k, and)
	if b.sum == "1" {
		sum = inNewtons(most) + and
	}
	if and != "" {
		what += " + held at rest: the puller pulls against it"
	}
	return what, sum, true
}

// named is a seat as a step names it: what it is called and what it is there for.
func (t seat) named() string {
	use := strings.ReplaceAll(t.use, "-", " ")
	if t.piece == nil && t.fixed == nil {
		return "the " + use
	}
	return fmt.Sprintf("the %s (%s)", t.label, use)
}

// limited is how what a seat may carry, and what it breaks at, come about.
type limited struct{ what, sum, how, breaks, source string }

func (t seat) limit() limited {
	if t.working == nil {
		return limited{}
	}
	over, _ := handbook.BreaksOverWorking()
	atTwice := fmt.Sprintf("%s × %s", inNewtons(*t.working), in(float64(over)))
	const how = "working limit × what is counted on over it"
	if *t.working <= 0 {
		return limited{what: "unmarked, damaged, improvised, of a kind that may not be used, or out of reach of its table: it counts nothing", sum: "0", source: "common practice"}
	}
	switch {
	case t.piece != nil:
		return t.pieceLimit()
	case t.fixed != nil:
		l := t.fixed.limit()
		l.how, l.breaks = how, atTwice
		return l
	case t.use == "hitch" && t.stamped:
		of, row, _ := handbook.DesignFactor("hitch")
		stamp := inNewtons(*t.breaks)
		return limited{"stamp ÷ design factor", fmt.Sprintf("%s ÷ %s", stamp, in(float64(of))), "what a new one breaks at, less what is taken off", stamp, row.Cite()}
	case t.use == "hitch":
		return limited{"its rating", inNewtons(*t.working), how, atTwice, "common practice"}
	case t.point == nil || t.point.Rating.Force == nil:
		return limited{}
	}
	p, factor := t.point, 1.0
	l := limited{what: "stamp", how: "stamp, a working limit × what is counted on over it", source: "common practice"}
	l.sum = inNewtons(p.Rating.Force.Low)
	l.breaks = l.sum
	if p.Rating.Kind == "breaking" {
		of, row, _ := handbook.DesignFactor("tow point")
		factor, l.source = float64(of), row.Cite()
		l.what, l.sum = "stamp ÷ design factor", fmt.Sprintf("%s ÷ %s", l.sum, in(factor))
	} else {
		l.breaks += " × " + in(float64(over))
	}
	left := ""
	if p.SlingAngle != nil && p.SlingAngle.High > 0 {
		left += " × cos(" + inDeg(p.SlingAngle.High) + ")"
	}
	if p.Count > 1 {
		legs, _ := handbook.PartsThatCount(p.Equalised)
		left += fmt.Sprintf(" × %d", legs)
	}
	if left != "" {
		l.what += ", for its legs"
	}
	l.sum, l.breaks = l.sum+left, l.breaks+left
	return l
}

// pieceLimit is limit for a listed piece.
func (t seat) pieceLimit() limited {
	p, g := t.piece, t.piece.g
	over, _ := handbook.BreaksOverWorking()
	factor, row, _ := handbook.DesignFactor(g.Kind)
	l := limited{what: "stamp", how: "stamp, a working limit × what is counted on over it", source: "common practice"}
	stamp, breaking := g.Rating.Force.Low, g.Rating.Kind == "breaking"
	if p.factored != nil && p.factored.thin {
		doubt, _ := handbook.DoubtOver()
		thick, of, _ := strongest(g.Kind, g.Material, g.Diameter.High)
		l.sum, l.what, l.source, breaking = fmt.Sprintf("%s × %s", inNewtons(thick), in(float64(doubt))), "the strongest "+g.Kind+" of its thickness", of.Cite(), true
	} else {
		l.sum = inNewtons(stamp)
	}
	l.breaks = l.sum
	if breaking {
		l.sum += " ÷ " + in(float64(factor))
		l.what += " ÷ design factor"
		l.how = "what a new one breaks at, less what is taken off"
		if l.source == "common practice" {
			l.source = row.Cite()
		}
	} else {
		l.breaks += " × " + in(float64(over))
	}
	if p.proved {
		l.how, l.breaks = "stamp, a working limit × what is counted on over it", inNewtons(stamp)+" × "+in(float64(over))
	}
	left := ""
	take := func(k float64, what string) {
		if k != 1 {
			left += " × " + in(k)
			l.what += " × " + what
		}
	}
	take(float64(p.kept), "what its worst knot leaves")
	aside, _ := p.pulledAside()
	take(float64(aside), "what a pull out of its line leaves")
	if t.choked {
		take(float64(chokedShare), "what a choke leaves")
	}
	bend := left
	if t.bent != nil {
		take(math.Min(1, float64(t.bent.share/p.kept)), "what its bend takes besides")
	}
	bend = strings.TrimPrefix(left, bend)
	if g.SlingAngle != nil && g.SlingAngle.High > 0 {
		left += " × cos(" + inDeg(g.SlingAngle.High) + ")"
		l.what += " × cos(its leg)"
	}
	if g.Count > 1 {
		if legs := legsThatCount(g); legs > 1 {
			take(float64(legs), "legs that share evenly")
		}
	}
	l.sum += left
	if t.bent != nil && t.bent.open && t.breaks != nil && *t.breaks == *p.breaks { // where the bend would decide it, it is left out
		left = strings.Replace(left, bend, "", 1)
	}
	l.breaks += left
	return l
}

// limit is how what an anchor may be asked to hold comes about.
func (f fixed) limit() limited {
	a := f.a
	l := limited{source: "common practice"}
	if f.row.Table != "" {
		l.source = f.row.Cite()
	}
	factor, _, _ := handbook.DesignFactor("anchor")
	switch {
	case f.stated, a.Kind == "rock", a.Kind == "rated":
		l.what, l.sum = "what is told of it", inNewtons(a.Rating.Force.Low)
		if a.Rating.Kind != "working" {
			over, row, _ := handbook.DesignFactor("tow point")
			l.what, l.sum, l.source = "what it breaks at ÷ design factor", fmt.Sprintf("%s ÷ %s", l.sum, in(float64(over))), row.Cite()
		}
	case a.Kind == "tree", a.Kind == "stump":
		l.what, l.sum = "by its diameter, the factor of two in it", inNewtons(*f.capacity)
	case a.Kind == "picket":
		loam, _, _ := handbook.PicketHold(a.Pattern)
		soil, _, _ := handbook.PicketSoil(a.Soil)
		l.what, l.sum = "hold in firm loam × what the soil keeps ÷ factor", fmt.Sprintf("%s × %s ÷ %s", inNewtons(loam), in(float64(soil.Low)), in(float64(factor)))
	case a.Kind == "deadman":
		pressure, _, _ := handbook.DeadmanPressure(a.Depth.Low, "")
		soil, _, _ := handbook.DeadmanSoil(a.Soil)
		trench, _ := handbook.DeadmanTrench()
		slender, _ := handbook.DeadmanSlender(true)
		long := min(a.Length.Low, a.Diameter.Low.Scale(float64(slender)))
		l.what = "pressure in pascals × soil × face × (length that bears − trench) ÷ factor"
		l.sum = fmt.Sprintf("%s × %s × %s × max(0, %s − %s) ÷ %s", in(pressure.Pascals()), in(float64(soil.Low)), inMetres(a.Diameter.Low), inMetres(long), inMetres(trench), in(float64(factor)))
	case a.Kind == "vehicle":
		share, _ := handbook.VehicleAnchorShare()
		down := max(0, a.Slope.High)
		l.what = "weight × (grip × cos(slope) − sin(slope)) × share, the factor of two in it"
		l.sum = fmt.Sprintf("%s × max(0, %s × cos(%s) − sin(%s)) × %s", inNewtons(unit.Weight(a.Mass.Low)), in(float64(standingGrip(a.Ground))), inDeg(down), inDeg(down), in(float64(share)))
	}
	return l
}
