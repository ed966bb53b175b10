package sum

import (
	"fmt"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/motion"
	"linetender/calc/puller"
	"linetender/calc/unit"
)

func winch(s *sheet) {
	rating := s.readForce("rating")
	layers := len(handbook.Keys("drum layer"))
	layer := s.whole("layer", layers)
	if s.err != nil {
		return
	}
	left, row, _ := handbook.DrumLayer(layer)
	pull := s.over("layer", func(x []float64) (float64, error) {
		f, err := puller.Winch(bound.Exactly(unit.Newtons(x[0])), bound.Exactly(bound.Ratio(x[1])))
		return f.Best.Newtons(), err
	}, flat(rating), flat(left))
	s.force("pull_n", fmt.Sprintf("pull on layer %d = rating × share left", layer), fmt.Sprintf("%s × %s", num(rating.Best.Newtons()), num(float64(left.Best))), pull, Low)
	if layer > 1 {
		s.mind("the rating holds on the bare drum alone", "%s %% of it is gone here; spool off to the first layer, leaving the wraps that must stay, or use a block", short(100*(1-float64(left.Best))))
	}
	s.row(row)
}

// elastic reads a rope and writes down its stiffness.
func (s *sheet) elastic() (motion.Line, bound.Of[unit.Force]) {
	long := s.length("length")
	material := s.word("material")
	breaking := s.readForce("breaking")
	if s.err != nil {
		return motion.Line{}, breaking
	}
	strain, row, _ := handbook.StretchAtBreak(material)
	ea, err := motion.Stiffness(breaking, strain)
	s.topic("breaking", err)
	s.step("stiffness EA = breaking strength ÷ stretch at break of "+material, "%s ÷ %s = %s N (stretch %s to %s)",
		num(breaking.Best.Newtons()), num(float64(strain.Best)), num(ea.Best.Newtons()), num(float64(strain.Low)), num(float64(strain.High)))
	s.row(row)
	return motion.Line{Stiffness: ea, Length: long}, breaking
}

// mindBreaking compares a tension with what the rope breaks at.
func (s *sheet) mindBreaking(t figure, breaking bound.Of[unit.Force]) {
	factor, row, _ := handbook.DesignFactor("rope")
	working := breaking.Low.Newtons() / float64(factor)
	switch {
	case s.err != nil:
	case t.High >= breaking.Low.Newtons():
		s.mind("the rope must be expected to break", "%s against a breaking strength of %s", s.newtons(t.High), s.newtons(breaking.Low.Newtons()))
	case t.High > working:
		s.mind("breaking strength is no working limit", "%s is over %s ÷ %s = %s", s.newtons(t.High), s.newtons(breaking.Low.Newtons()), num(float64(factor)), s.newtons(working))
		s.row(row)
	}
}

func energy(s *sheet) {
	tension := s.readForce("tension")
	line, breaking := s.elastic()
	if s.err != nil {
		return
	}
	stored, stretch, err := motion.Stored(tension, line)
	s.topic("tension", err)
	j, m := flat(stored), flat(stretch)
	if s.err == nil && !(j.Ordered() && m.Ordered()) {
		s.fail("tension", "the answer is too large to write; check the figures and their units")
	}
	s.put("stored_j", "j", j, High)
	s.put("stretch_m", "m", m, High)
	s.step("stretch = tension × length ÷ EA", "%s × %s ÷ %s = %s", num(tension.Best.Newtons()), num(line.Length.Best.Metres()), num(line.Stiffness.Best.Newtons()), s.metres(m.Best))
	s.step("energy = tension × stretch ÷ 2", "%s × %s ÷ 2 = %s J", num(tension.Best.Newtons()), num(m.Best), num(j.Best))
	s.planWith("the stretch", m, High, s.metres)
	s.planWith("the energy", j, High, func(x float64) string { return num(x) + " J" })
	fell, _ := handbook.Beside()
	w := unit.Weight(fell).Newtons()
	s.step(fmt.Sprintf("as much as %s kg falling so far = energy ÷ (%[1]s × %v)", num(fell.Kilograms()), unit.StandardGravity), "%s ÷ %s = %s", num(j.High), num(w), s.metres(j.High/w))
	s.mindBreaking(flat(tension), breaking)
	s.mindWeights()
	s.cite(statics + ", a rope that stretches in proportion")
}

func arrest(s *sheet) {
	m := s.mass("mass")
	r := s.slope("of")
	slack := flat(s.length("slack"))
	line, breaking := s.elastic()
	if s.err != nil {
		return
	}
	w := s.weight(m)
	static := s.over("of", func(x []float64) (float64, error) { return x[0] * unit.Radians(x[1]).Sin(), nil }, w, flat(r.Value))
	s.step("held at rest S = weight × sin(slope), nothing taken off for rolling", "%s × sin %s = %s", num(w.Best), degrees(r.Value.Best.Radians()), s.newtons(static.Best))
	peak := s.over("slack", func(x []float64) (float64, error) {
		f, err := motion.Arrest(bound.Exactly(unit.Newtons(x[0])), unit.Metres(x[1]),
			motion.Line{Stiffness: bound.Exactly(unit.Newtons(x[2])), Length: bound.Exactly(unit.Metres(x[3]))})
		return f.Best.Newtons(), err
	}, static, slack, flat(line.Stiffness), flat(line.Length))
	s.force("arrest_n", "peak = S + √(S² + 2 × S × slack × EA ÷ length)",
		fmt.Sprintf("%s + √(%s² + 2 × %s × %s × %s ÷ %s)", num(static.Best), num(static.Best), num(static.Best), num(slack.Best), num(line.Stiffness.Best.Newtons()), num(line.Length.Best.Metres())), peak, High)
	if s.err == nil && static.Best > 0 {
		s.mind("slack multiplies: even with none a sudden load is twice the one at rest", "%s times %s here", num(peak.Best/static.Best), s.newtons(static.Best))
	}
	s.mindTangent(r)
	s.mindBreaking(peak, breaking)
	s.cite(statics + ", energy of the run-up into the stretch of a linear rope")
}
