package sum

import (
	"fmt"

	"linetender/calc/anchor"
	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/unit"
)

func pickets(s *sheet) {
	soil := s.word("soil")
	var loam unit.Force
	if s.given("steel") {
		n := s.whole("steel", mostParts)
		each, most, row := handbook.SteelPicketHold()
		loam = min(each.Scale(float64(n)), most)
		s.step("hold in good ground = pickets × hold of each, up to the most that pickets suit", "%d × %s, at most %s: %s", n, s.newtons(each.Newtons()), s.newtons(most.Newtons()), s.newtons(loam.Newtons()))
		s.row(row)
	} else {
		pattern := s.word("pattern")
		if s.err != nil {
			return
		}
		hold, row, _ := handbook.PicketHold(pattern)
		loam = hold
		s.step("hold of "+pattern+" in undisturbed loam, as printed", "%s lbf = %s", num(hold.PoundsForce()), s.newtons(hold.Newtons()))
		s.row(row)
	}
	if s.err != nil {
		return
	}
	share, row, _ := handbook.PicketSoil(soil)
	capacity := s.over("soil", func(x []float64) (float64, error) {
		f, err := anchor.Picket(loam, bound.Ratio(x[0]), 1)
		return f.Newtons(), err
	}, flat(share))
	s.force("capacity_n", "hold in "+soil+" = hold × share", fmt.Sprintf("%s × %s", num(loam.Newtons()), num(float64(share.Best))), capacity, Low)
	s.row(row)
	s.mindFactor(capacity.Low)
}

// mindFactor says what a plan leaves of an anchor's figure.
func (s *sheet) mindFactor(capacity float64) {
	factor, row, _ := handbook.DesignFactor("anchor")
	s.mind("it is the book's figure, with no factor taken off", "a plan uses ÷ %s = %s", num(float64(factor)), s.newtons(capacity/float64(factor)))
	s.row(row)
}

func deadman(s *sheet) {
	breaking := flat(s.readForce("breaking"))
	depth, face := s.length("depth"), s.length("face")
	way, soil := s.word("slope"), s.word("soil")
	if s.err != nil {
		return
	}
	pressure, row, ok := handbook.DeadmanPressure(depth.Low, way)
	if !ok {
		shallowest := handbook.Keys("deadman depth")[0]
		s.fail("depth", "%s is too shallow for a figure; bury it at least %s deep", s.metres(depth.Low.Metres()), shallowest)
		return
	}
	share, soilRow, _ := handbook.DeadmanSoil(soil)
	trench, trenchRow := handbook.DeadmanTrench()
	long := s.over("breaking", func(x []float64) (float64, error) {
		l, err := anchor.DeadmanLength(anchor.Log{Face: unit.Metres(x[1]), Trench: trench, Pressure: pressure, Soil: bound.Ratio(x[2])}, unit.Newtons(x[0]))
		return l.Metres(), err
	}, breaking, flat(face), flat(share))
	if s.err != nil {
		return
	}
	bearing := unit.Metres(long.Best) - trench
	s.step("bearing pressure in loam, as printed for the depth rounded down and the slope of the pull", "%s psf = %s Pa", num(pressure.PoundsPerSquareFoot()), num(pressure.Pascals()))
	s.step("bearing area = breaking strength ÷ (pressure × soil's share)", "%s ÷ (%s × %s) = %s m²", num(breaking.Best), num(pressure.Pascals()), num(float64(share.Best)), num(bearing.Metres()*face.Best.Metres()))
	s.step("bearing length = area ÷ height of the face", "%s ÷ %s = %s", num(bearing.Metres()*face.Best.Metres()), num(face.Best.Metres()), s.metres(bearing.Metres()))
	s.put("length_m", "m", long, High)
	s.step("length = bearing length + trench of the rope", "%s + %s = %s", num(bearing.Metres()), num(trench.Metres()), s.metres(long.Best))
	s.planWith("the length", long, High, s.metres)
	timber, slenderRow := handbook.DeadmanSlender(false)
	log, _ := handbook.DeadmanSlender(true)
	slender := long.High / face.Low.Metres()
	s.holds("passes_ratio", slender <= float64(timber))
	s.step("length ÷ face, at most "+num(float64(timber))+" for a timber", "%s ÷ %s = %s, %s", num(long.High), num(face.Low.Metres()), num(slender), passes(slender <= float64(timber)))
	s.step("for a round log, length ÷ diameter at most "+num(float64(log)), "%s, %s", num(slender), passes(slender <= float64(log)))
	if soil == "rock" {
		s.mind("rock is worth more only where it is hardpan or whole", "on broken stone count as in loam: %s", s.metres(long.High))
	}
	s.mind("a wide trench takes out more of the log", "one manual adds a flat foot, the other the trench's own width; if it is wider than %s, add the difference", s.metres(trench.Metres()))
	for _, r := range []handbook.Row{row, soilRow, trenchRow, slenderRow} {
		s.row(r)
	}
	s.mind("the length stands the rope's breaking strength", "so no other factor is taken; the pull leaves the trench no steeper than %s", way)
}

func passes(yes bool) string {
	if yes {
		return "passes"
	}
	return "too slender: it bends before it bears"
}
