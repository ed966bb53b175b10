package sum

import (
	"fmt"
	"math"

	"linetender/calc/bound"
	"linetender/calc/gear"
	"linetender/calc/handbook"
	"linetender/calc/resistance"
	"linetender/calc/slope"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

const statics = "derived, statics"

// weight writes down a mass's weight and returns it.
func (s *sheet) weight(m bound.Of[unit.Mass]) figure {
	w := figure{Low: unit.Weight(m.Low).Newtons(), Best: unit.Weight(m.Best).Newtons(), High: unit.Weight(m.High).Newtons()}
	s.step("weight = mass × 9.80665 m/s²", "%s × %s = %s", num(m.Best.Kilograms()), fmt.Sprint(unit.StandardGravity), s.newtons(w.Best))
	return w
}

func slopeOf(s *sheet) {
	r := s.slope("of")
	a := flat(r.Value)
	deg := s.over("of", func(x []float64) (float64, error) { return unit.Radians(x[0]).Degrees(), nil }, a)
	rise := s.over("of", func(x []float64) (float64, error) { return unit.Radians(x[0]).Tan(), nil }, a)
	share := s.over("of", func(x []float64) (float64, error) { return unit.Radians(x[0]).Sin(), nil }, a)
	s.put("angle_deg", "deg", deg, High)
	s.put("rise_per_run", "", rise, High)
	s.put("weight_share", "", share, High)
	s.step("rise over level run = tangent of the slope", "tan %s = %s", degrees(a.Best), num(rise.Best))
	s.step("share of the weight that pulls down the slope = sine of the slope", "sin %s = %s", degrees(a.Best), num(share.Best))
	s.mindTangent(r)
	s.planWith("the slope", a, High, degrees)
	s.cite(statics)
}

// mindTangent warns of per cent, or a level's gap, taken as the weight's share.
func (s *sheet) mindTangent(r bound.Reading[unit.Angle]) {
	if s.err != nil || r.Value.Best <= 0 {
		return
	}
	tan, sin := r.Value.Best.Tan(), r.Value.Best.Sin()
	switch r.Unit {
	case "%", "1 in n", "level":
		s.mind("this is rise over level run, the tangent; the weight's share is the sine",
			"%s taken as the share would be %s %% more than %s", num(tan), short(100*(tan/sin-1)), num(sin))
	case "board":
		s.mind("a board on the slope shows the sine, not the tangent",
			"rise over board is %s, rise over level run %s", num(sin), num(tan))
	}
}

// short writes a percentage to two figures.
func short(x float64) string { return fmt.Sprintf("%.2g", x) }

func grade(s *sheet) {
	m := s.mass("mass")
	r := s.slope("of")
	if s.err != nil {
		return
	}
	w := s.weight(m)
	in := []figure{flat(m), flat(r.Value)}
	along := s.over("of", func(x []float64) (float64, error) {
		f, err := slope.Pull(unit.Kilograms(x[0]), unit.Radians(x[1]))
		return f.Newtons(), err
	}, in...)
	normal := s.over("of", func(x []float64) (float64, error) {
		f, err := slope.Normal(unit.Kilograms(x[0]), unit.Radians(x[1]))
		return f.Newtons(), err
	}, in...)
	s.force("along_n", "along the slope = weight × sin(slope)", fmt.Sprintf("%s × sin %s", num(w.Best), degrees(r.Value.Best.Radians())), along, High)
	s.force("normal_n", "on the ground = weight × cos(slope)", fmt.Sprintf("%s × cos %s", num(w.Best), degrees(r.Value.Best.Radians())), normal, High)
	s.cite(statics)
	if along.Best > 0 {
		rule, err := slope.Sixtieth(m.Best, r.Value.Best)
		s.topic("of", err)
		_, row := handbook.GradeRule()
		s.step("check: a sixtieth of the weight for each degree", "%s, %s %% %s than the sine", s.newtons(rule.Newtons()),
			short(100*math.Abs(rule.Newtons()/along.Best-1)), less(rule.Newtons() < along.Best))
		s.row(row)
		s.mind("the slope takes a share of the weight, not all of it", "%s %% of it; what rolls, drags or is sunk comes on top", short(100*along.Best/w.Best))
	}
	s.mindTangent(r)
}

func less(yes bool) string {
	if yes {
		return "less"
	}
	return "more"
}

func sidePull(s *sheet) {
	f := flat(s.readForce("force"))
	var a figure
	key := "angle"
	if s.given("angle") {
		a = flat(s.slope("angle").Value)
	} else {
		key = "offset"
		span, offset := flat(s.length("span")), flat(s.length("offset"))
		a = s.over(key, func(x []float64) (float64, error) {
			return unit.Rise(unit.Metres(2*x[1]), unit.Metres(x[0])).Radians(), nil
		}, span, offset)
		s.step("angle = arctan(offset ÷ half of the span)", "arctan(%s ÷ %s) = %s", num(offset.Best), num(span.Best/2), degrees(a.Best))
	}
	t := s.over(key, func(x []float64) (float64, error) {
		t, err := tackle.SidePull(unit.Newtons(x[0]), unit.Radians(x[1]))
		return t.Newtons(), err
	}, f, a)
	s.force("tension_n", "tension = side force ÷ (2 × sin(angle))", fmt.Sprintf("%s ÷ (2 × sin %s)", num(f.Best), degrees(a.Best)), t, High)
	s.mind("it is one tension, the same in both halves", "%s in each half and at each end; their sum, %s, is nowhere", s.newtons(t.Best), s.newtons(2*t.Best))
	s.mindWeights()
	s.cite(statics)
}

func blockLoad(s *sheet) {
	t, a := flat(s.readForce("tension")), flat(s.turn("angle"))
	load := s.over("angle", func(x []float64) (float64, error) {
		f, err := tackle.BlockLoad(unit.Newtons(x[0]), unit.Radians(x[1]))
		return f.Newtons(), err
	}, t, a)
	s.force("load_n", "load on the block = 2 × tension × cos(half the angle)", fmt.Sprintf("2 × %s × cos %s", num(t.Best), degrees(a.Best/2)), load, High)
	if s.err == nil && load.Best > t.Best {
		s.mind("block, strop and anchor carry both lines, not one line's tension", "%s times it; straight through is 180°, doubled back is 0°", num(load.Best/t.Best))
	}
	s.mindWeights()
	s.cite(statics)
}

func slingLeg(s *sheet) {
	m := s.mass("mass")
	legs := s.whole("legs", mostParts)
	long, high := s.length("length"), s.length("height")
	if s.err == nil && high.High > long.Low {
		s.fail("height", "the hook can't stand higher than the legs are long; write a height up to %s, or swap the two", s.metres(long.Low.Metres()))
	}
	if s.err != nil {
		return
	}
	w := s.weight(m)
	most, row := handbook.PartsThatCount(true)
	counted := min(legs, most)
	if counted < legs {
		s.mind("of more legs than two only two carry for sure", "%d of %d legs count", counted, legs)
	}
	leg := s.over("height", func(x []float64) (float64, error) {
		f, err := gear.SlingLeg(unit.Newtons(x[0]), counted, unit.Metres(x[1]), unit.Metres(x[2]))
		return f.Newtons(), err
	}, w, flat(long), flat(high))
	s.force("leg_n", "tension in a leg = weight ÷ legs × length ÷ height",
		fmt.Sprintf("%s ÷ %d × %s ÷ %s", num(w.Best), counted, num(long.Best.Metres()), num(high.Best.Metres())), leg, High)
	lean := unit.Radians(math.Acos(float64(high.Low) / float64(long.High)))
	steepest, limit := handbook.SlingAngleMost()
	if lean >= steepest {
		s.mind("the legs lean too far", "%s from the line of pull; from %s° on a sling is not to be used", degrees(lean.Radians()), num(steepest.Degrees()))
		s.row(limit)
	}
	s.mind("legs don't share the weight straight up", "%s a leg, not %s", s.newtons(leg.Best), s.newtons(w.Best/float64(legs)))
	s.row(row)
}

func post(s *sheet) {
	turns, friction := flat(s.number("turns", mostTurns)), flat(s.number("friction", 2))
	t := flat(s.readForce("tension"))
	// The ratio, and from it both readings of a tension: as the hand's it holds
	// the ratio times itself, as the line's it asks the hand for a share.
	ratio := s.over("turns", func(x []float64) (float64, error) {
		_, r, err := tackle.Post(tackle.Turns(x[0]), bound.Ratio(x[1]), unit.Newtons(1))
		return float64(r), err
	}, turns, friction)
	hold := s.over("turns", func(x []float64) (float64, error) { return x[0] * x[1], nil }, t, ratio)
	hand := s.over("turns", func(x []float64) (float64, error) { return x[0] / x[1], nil }, t, ratio)
	s.step("ratio = e to the power of (2 × π × turns × friction)", "e^(2 × 3.1416 × %s × %s) = %s", num(turns.Best), num(friction.Best), num(ratio.Best))
	s.put("hold_n", "n", hold, Low)
	s.put("hand_n", "n", hand, High)
	s.put("ratio", "", ratio, Low)
	s.step("held, when the tension is the hand's = tension × ratio", "%s × %s = %s", num(t.Best), num(ratio.Best), s.newtons(hold.Best))
	s.step("hand, when the tension is the line's = tension ÷ ratio", "%s ÷ %s = %s", num(t.Best), num(ratio.Best), s.newtons(hand.Best))
	s.planWith("hold", hold, Low, s.newtons)
	s.planWith("hand", hand, High, s.newtons)
	s.planWith("ratio", ratio, Low, num)
	low, row := postFriction()
	if s.err == nil && friction.High > low {
		_, careful, err := tackle.Post(tackle.Turns(turns.Low), bound.Ratio(low), unit.Newtons(1))
		s.topic("turns", err)
		s.mind("a slick or wet rope grips less", "with a friction of %s the ratio is %s and the hand must hold %s", num(low), num(float64(careful)), s.newtons(t.High/float64(careful)))
		s.row(row)
	}
	s.mindWeights()
	s.cite(statics + " (the belt equation)")
}

func postFriction() (float64, handbook.Row) {
	mu, row, _ := handbook.PostFriction("slick rope on post")
	return float64(mu.Low), row
}

func lip(s *sheet) {
	m := s.mass("mass")
	h, r := s.length("height"), s.length("radius")
	if s.err == nil && h.High >= r.Low {
		s.fail("height", "no pull takes a wheel over a step as high as its hub; dig or ramp it to under %s, the wheel's radius", s.metres(r.Low.Metres()))
	}
	if s.err != nil {
		return
	}
	w := s.weight(m)
	f := s.over("height", func(x []float64) (float64, error) {
		f, err := resistance.Lip(unit.Newtons(x[0]), unit.Metres(x[1]), unit.Metres(x[2]))
		return f.Newtons(), err
	}, w, flat(h), flat(r))
	s.force("force_n", "pull = weight on the axle × √(2 × radius × height − height²) ÷ (radius − height)",
		fmt.Sprintf("%s × √(2 × %s × %s − %s²) ÷ (%s − %s)", num(w.Best), num(r.Best.Metres()), num(h.Best.Metres()), num(h.Best.Metres()), num(r.Best.Metres()), num(h.Best.Metres())), f, High)
	free, row := handbook.LipFree()
	if h.High > r.Low.Scale(float64(free)) {
		s.mind("over half of the radius the pull soars", "dig or ramp the step down; at half of the radius it is %s", s.newtons(halfStep(w.Best, float64(free))))
		s.row(row)
	}
	s.mind("only the weight on the axle that climbs counts", "the level pull at its hub, besides what rolls and what the slope takes")
	s.cite(statics)
}

// halfStep is the pull over a step of so much of the radius.
func halfStep(weight, share float64) float64 {
	f, err := resistance.Lip(unit.Newtons(weight), unit.Metres(share), unit.Metres(1))
	if err != nil {
		panic("sum: " + err.Error())
	}
	return f.Newtons()
}
