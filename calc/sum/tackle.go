package sum

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

func tackleHaul(s *sheet) {
	if s.given("parts") || s.given("efficiency") || s.given("haul_from") {
		byLoss(s)
	} else {
		byManual(s)
	}
}

// byManual is the manuals' rule: a tenth of the load for each sheave.
func byManual(s *sheet) {
	load := flat(s.readForce("load"))
	parts, sheaves := s.advantage()
	if s.given("rule") {
		s.word("rule")
	}
	share, row := handbook.ManualRulePerSheave()
	friction := s.over("load", func(x []float64) (float64, error) {
		_, f, err := tackle.Manual(unit.Newtons(x[0]), parts, sheaves, share)
		return f.Newtons(), err
	}, load)
	haul := s.over("load", func(x []float64) (float64, error) {
		f, _, err := tackle.Manual(unit.Newtons(x[0]), parts, sheaves, share)
		return f.Newtons(), err
	}, load)
	if s.err != nil {
		return
	}
	gain := load.Best / haul.Best
	s.step("friction = load × "+num(float64(share))+" × sheaves", "%s × %s × %d = %s", num(load.Best), num(float64(share)), sheaves, s.newtons(friction.Best))
	s.step("total = load + friction", "%s + %s = %s", num(load.Best), num(friction.Best), s.newtons(load.Best+friction.Best))
	s.force("haul_n", "haul = total ÷ advantage", fmt.Sprintf("%s ÷ %d", num(load.Best+friction.Best), parts), haul, High)
	s.put("friction_n", "n", friction, High)
	s.put("advantage", "", exactly(gain), Low)
	s.step("advantage with friction = load ÷ haul", "%s ÷ %s = %s", num(load.Best), num(haul.Best), num(gain))
	s.mindFriction(load.Best, haul.Best, parts)
	s.mindWeights()
	s.row(row)
}

// mindFriction warns of a gain by head, parts alone.
func (s *sheet) mindFriction(load, haul float64, parts int) {
	if less := load / float64(parts); s.err == nil && less < haul {
		s.mind("the parts alone leave the sheaves' friction out", "%s ÷ %d = %s, %s %% too little", num(load), parts, s.newtons(less), short(100*(1-less/haul)))
	}
}

// advantage reads a gain without friction and the sheaves it is had with, and
// recognises a rope counted on both sides of its sheaves.
func (s *sheet) advantage() (parts, sheaves int) {
	parts, sheaves = s.whole("advantage", mostParts), s.whole("sheaves", mostParts)
	if s.err != nil {
		return parts, sheaves
	}
	switch {
	case sheaves == 0 && parts > 1:
		s.mind("with no sheave counted the friction is left out", "a tackle that gains %d has at least %s", parts, sheavesOf(leastSheaves(parts)))
	case leastSheaves(parts) > sheaves: // each can at best double, in a tackle upon tackle
		s.fail("advantage", "%d can't be had from %s; one rope through %s has at most %d parts: count each part that pulls on the moving block once, not once on each side of a sheave",
			parts, sheavesOf(sheaves), sheavesOf(sheaves), sheaves+1)
	case parts > sheaves+1:
		s.mind("one rope's tension counted twice?", "one rope through %s has at most %d parts; %d takes a second tackle that hauls the first one's line", sheavesOf(sheaves), sheaves+1, parts)
	}
	return parts, sheaves
}

// leastSheaves is how few sheaves can gain so much, each doubling it.
func leastSheaves(parts int) int {
	n := 0
	for 1<<n < parts {
		n++
	}
	return n
}

func sheavesOf(n int) string {
	if n == 1 {
		return "1 sheave"
	}
	return fmt.Sprintf("%d sheaves", n)
}

// byLoss is statics: each sheave passes on a share of the tension.
func byLoss(s *sheet) {
	load := flat(s.readForce("load"))
	parts := s.whole("parts", mostParts)
	eta := s.efficiency()
	from := tackle.Standing
	if s.word("haul_from") == "moving" {
		from = tackle.Moving
	}
	r := tackle.Reeving{Parts: parts, From: from}
	advantage := func(eta float64) (float64, error) {
		a, err := tackle.Advantage(r, bound.Exactly(bound.Ratio(eta)))
		return float64(a.Best), err
	}
	gain := s.over("efficiency", func(x []float64) (float64, error) { return advantage(x[0]) }, eta)
	haul := s.over("efficiency", func(x []float64) (float64, error) {
		a, err := advantage(x[1])
		return x[0] / a, err
	}, load, eta)
	friction := s.over("efficiency", func(x []float64) (float64, error) {
		a, err := advantage(x[1])
		return x[0] * (float64(parts)/a - 1), err
	}, load, eta)
	if s.err != nil {
		return
	}
	s.step("sheaves the rope passes", "%d parts hauled from the %s block: %s", parts, from, sheavesOf(r.Sheaves()))
	s.step("advantage with friction = sum of the parts' tensions for a haul of 1", "%s = %s", terms(r, eta.Best), num(gain.Best))
	s.force("haul_n", "haul = load ÷ advantage", fmt.Sprintf("%s ÷ %s", num(load.Best), num(gain.Best)), haul, High)
	s.put("friction_n", "n", friction, High)
	s.step("friction = haul × parts − load", "%s × %d − %s = %s", num(haul.Best), parts, num(load.Best), s.newtons(friction.Best))
	s.put("advantage", "", gain, Low)
	s.planWith("advantage", gain, Low, num)
	share, row := handbook.ManualRulePerSheave()
	manual, _, err := tackle.Manual(unit.Newtons(load.High), parts, r.Sheaves(), share)
	s.topic("parts", err)
	s.step("beside it, the manuals' share of the load for each sheave", "%s × (1 + %s × %d) ÷ %d = %s; plan with the greater", num(load.High), num(float64(share)), r.Sheaves(), parts, s.newtons(manual.Newtons()))
	s.mindFriction(load.Best, haul.Best, parts)
	if eta.Best < 1 {
		ceiling, err := tackle.Ceiling(from, bound.Ratio(eta.Best))
		s.topic("efficiency", err)
		s.mind("friction has a ceiling", "with this sheave no number of parts gains more than %s", num(float64(ceiling)))
	}
	s.mindWeights()
	s.cite(statics)
	s.cite("Pipeline Rules of Thumb Handbook, p. 6")
	s.row(row)
}

// efficiency reads a sheave's efficiency, or a kind of sheave that has one.
func (s *sheet) efficiency() figure {
	text := strings.ToLower(oneLine(s.args["efficiency"]))
	if of, row, ok := handbook.SheaveEfficiency(text); ok && s.err == nil {
		s.step("efficiency of a "+text+" sheave", "%s (%s to %s)", num(float64(of.Best)), num(float64(of.Low)), num(float64(of.High)))
		s.row(row)
		return flat(of)
	}
	return flat(s.number("efficiency", 1))
}

// shownTerms are written out one by one.
const shownTerms = 8

func terms(r tackle.Reeving, eta float64) string {
	var parts []string
	for i := range r.Parts {
		if i == shownTerms {
			parts = append(parts, "…")
			break
		}
		power := i
		if r.From == tackle.Standing {
			power++
		}
		parts = append(parts, num(math.Pow(eta, float64(power))))
	}
	return strings.Join(parts, " + ")
}

// Most tackles that may haul one another.
const mostTackles = 6

func compound(s *sheet) {
	gains := s.list("advantages")
	if s.err != nil {
		return
	}
	product, text := 1, make([]string, len(gains))
	sum := 0
	for i, g := range gains {
		product, sum, text[i] = product*g, sum+g, num(float64(g))
	}
	s.step("advantage = product of the tackles' advantages", "%s = %d", strings.Join(text, " × "), product)
	s.count("advantage", product)
	s.mind("only a tackle that hauls the other one's haul line multiplies", "side by side on the load they add, to %d at most, where they share at all", sum)
	s.mind("friction is not in it", "work out the haul of each tackle in turn: sum tackle")
	s.cite("NAVEDTRA 14251 Steelworker V2, ch. 6")
}

func (s *sheet) list(name string) []int {
	numbers, err := wholes(s.args[name])
	if err != nil {
		s.fail(name, "%v", err)
	}
	return numbers
}

// wholes reads whole numbers, such as 4,3 or 4 and 3 or 4 x 3.
func wholes(text string) ([]int, error) {
	joins := func(c rune) bool { return strings.ContainsRune(", ;x×*+&\t\n", c) }
	var numbers []int
	for _, part := range strings.FieldsFunc(strings.ToLower(text), joins) {
		if slices.Contains([]string{"and", "on", "times", "by", "upon"}, part) {
			continue
		}
		n, err := bound.ReadCount(part)
		if err != nil {
			return nil, fmt.Errorf("%s", sentence(err))
		}
		if n < 1 || n > mostParts {
			return nil, fmt.Errorf("%d does not fit; write whole numbers from 1 to %d, such as 4,3", n, mostParts)
		}
		numbers = append(numbers, n)
	}
	if len(numbers) < 2 || len(numbers) > mostTackles {
		return nil, fmt.Errorf("%q does not name 2 to %d tackles; write one whole number for each, such as 4,3", clip(oneLine(text)), mostTackles)
	}
	return numbers, nil
}

func tackleLimit(s *sheet) {
	rope := flat(s.readForce("rope_working"))
	parts, sheaves := s.advantage()
	share, row := handbook.ManualRulePerSheave()
	load := s.over("rope_working", func(x []float64) (float64, error) {
		f, err := tackle.Limit(unit.Newtons(x[0]), parts, sheaves, share)
		return f.Newtons(), err
	}, rope)
	s.force("load_n", "load = rope's working limit × advantage ÷ (1 + "+num(float64(share))+" × sheaves)",
		fmt.Sprintf("%s × %d ÷ %s", num(rope.Best), parts, num(1+float64(share)*float64(sheaves))), load, Low)
	factor, by, _ := handbook.DesignFactor("rope")
	s.mind("it is the working limit that counts, not the breaking strength", "a breaking strength is divided by %s first; %s as a breaking strength would leave %s",
		num(float64(factor)), s.newtons(rope.Best), s.newtons(load.Best/float64(factor)))
	s.mind("the tackle helps the rope alone", "tow point, strop and shackle of the moving block carry the whole %s", s.newtons(load.Best))
	s.cite("NAVEDTRA 14043 Builder 3&2")
	s.row(row)
	s.row(by)
}

// Source of the army's exercise rule.
const exercise = "US Army exercise sheet 63B34G01 Suppl 1a, after FM 9-43-2; TB 9-2350-292-10, steps 4-5"

func recovery(s *sheet) {
	m := s.mass("mass")
	depth := s.word("factor")
	puller := s.readForce("puller")
	if s.err != nil {
		return
	}
	factor := float64(atoi(depth))
	w := s.weight(m)
	resistance := w.Best * factor
	s.step("load resistance = weight × factor", "%s × %s = %s", num(w.Best), num(factor), s.newtons(resistance))
	worst := unit.Newtons(w.High * factor)
	share, _ := handbook.ManualRulePerSheave()
	fall := func(load unit.Force, parts int) unit.Force {
		f, _, err := tackle.Manual(load, parts, parts-1, share)
		s.topic("mass", err)
		return f
	}
	if limit := fall(worst, mostParts); !(limit < puller.Low) {
		s.fail("puller", "%s moves it with no number of parts: the sheaves' friction leaves %s to pull with %d; it takes a stronger puller, or less to pull",
			s.newtons(puller.Low.Newtons()), s.newtons(limit.Newtons()), mostParts)
		return
	}
	exact := worst.Newtons() / puller.Low.Newtons()
	parts := max(1, int(math.Ceil(exact-1e-9)))
	s.step("parts = load resistance ÷ puller, rounded up", "%s ÷ %s = %s, so %d", num(worst.Newtons()), num(puller.Low.Newtons()), num(exact), parts)
	for !(fall(worst, parts) < puller.Low) {
		s.step("fall line = total ÷ parts must be less than the puller", "%s with %s, not less than %s: one part more", s.newtons(fall(worst, parts).Newtons()), partsOf(parts), s.newtons(puller.Low.Newtons()))
		parts++
	}
	sheaves := parts - 1
	s.count("parts", parts)
	s.count("sheaves", sheaves)
	s.step("sheaves = parts − 1, as in the exercise", "%d − 1 = %d", parts, sheaves)
	friction := resistance * float64(share) * float64(sheaves)
	s.step("tackle resistance = load resistance × "+num(float64(share))+" × sheaves", "%s × %s × %d = %s", num(resistance), num(float64(share)), sheaves, s.newtons(friction))
	line := s.over("mass", func(x []float64) (float64, error) { return fall(unit.Newtons(x[0]*factor), parts).Newtons(), nil }, w)
	total := s.over("mass", func(x []float64) (float64, error) { return x[0] * float64(parts), nil }, line)
	s.force("total_n", "total = load resistance + tackle resistance", fmt.Sprintf("%s + %s", num(resistance), num(friction)), total, High)
	s.force("fall_line_n", "fall line = total ÷ parts", fmt.Sprintf("%s ÷ %d", num(total.Best), parts), line, High)
	s.step("fall line less than the puller", "%s is less than %s", s.newtons(line.High), s.newtons(puller.Low.Newtons()))
	s.mind("factors go by depth", "1 to the wheels, 2 to the fenders, 3 to the cab (names from memory); a slope is not in it: sum grade")
	s.cite(exercise)
}

func partsOf(n int) string {
	if n == 1 {
		return "1 part"
	}
	return fmt.Sprintf("%d parts", n)
}
