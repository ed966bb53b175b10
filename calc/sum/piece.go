package sum

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// mindRule says what a rule of thumb is good for.
func (s *sheet) mindRule() {
	s.mind("a rule of thumb may say no, never yes", "it holds for a new piece of that kind; only a stamp says what this one may carry, and an unmarked one counts nothing")
}

func ropeRule(s *sheet) {
	material := handbook.Wire
	if s.given("material") {
		material = s.word("material")
	}
	rule := ""
	if s.given("rule") {
		rule = s.word("rule")
	}
	var d, c bound.Of[unit.Length]
	if s.given("circumference") {
		c = s.length("circumference")
		d = c.Scale(1 / math.Pi)
	} else {
		d = s.length("diameter")
		c = d.Scale(math.Pi)
	}
	if s.err != nil {
		return
	}
	if material == handbook.Wire {
		s.wire(rule, d)
		return
	}
	if rule == "australia" {
		s.fail("rule", "the australian rule is for wire rope; leave it out for %s, or write rule=navy", material)
		return
	}
	_, row, ok := handbook.RopeBreaking(material, c.Best)
	if !ok {
		s.fail("material", "there is no rule of thumb for %s; go by its tag, or write manila, nylon, polyester or polypropylene", material)
		return
	}
	if s.given("diameter") {
		s.step("circumference = diameter × π", "%s × 3.1416 = %s", num(d.Best.Inches()), num(c.Best.Inches())+" in")
	}
	breaking := s.over("material", func(x []float64) (float64, error) {
		f, _, _ := handbook.RopeBreaking(material, unit.Metres(x[0]))
		return f.Newtons(), nil
	}, flat(c))
	manila, manilaRow, _ := handbook.RopeBreaking("manila", unit.Inches(1))
	unitInch, _, _ := handbook.RopeBreaking(material, unit.Inches(1))
	step, sum := fmt.Sprintf("breaking strength of %s in pounds = %s × circumference² in inches", material, num(unitInch.PoundsForce())),
		fmt.Sprintf("%s × %s² = %s lbf", num(unitInch.PoundsForce()), num(c.Best.Inches()), num(unit.Newtons(breaking.Best).PoundsForce()))
	if row.Table != manilaRow.Table {
		over, _, _ := handbook.StrengthOverManila(material)
		sum = fmt.Sprintf("%s × manila's %s × %s² = %s lbf", num(float64(over)), num(manila.PoundsForce()), num(c.Best.Inches()), num(unit.Newtons(breaking.Best).PoundsForce()))
		s.row(manilaRow)
	}
	s.force("breaking_n", step, sum, breaking, Low)
	s.row(row)
	factor, by, _ := handbook.DesignFactor("rope")
	s.mind("breaking strength is no working limit", "%s ÷ %s = %s may be used of a new rope without a knot", s.newtons(breaking.Low), num(float64(factor)), s.newtons(breaking.Low/float64(factor)))
	s.row(by)
	if material == "manila" {
		picked, _ := handbook.FibreWorking(c.Low)
		by := num(float64(handbook.FibreDivisor()))
		s.step("check: the Navy picks a line by circumference = √("+by+" × short tons)", "%s² ÷ %s = %s short tons = %s", num(c.Low.Inches()), by, num(picked.ShortTonsForce()), s.newtons(picked.Newtons()))
	}
	s.mindRule()
}

// wire is the working limit of wire rope, by one of two rules that differ.
func (s *sheet) wire(rule string, d bound.Of[unit.Length]) {
	if rule == "" {
		s.fail("rule", "this is missing; the two rules for wire rope differ, so write rule=navy or rule=australia, or a material that is no wire")
		return
	}
	working := s.over("diameter", func(x []float64) (float64, error) {
		f, _, _ := handbook.WireWorking(rule, unit.Metres(x[0]))
		return f.Newtons(), nil
	}, flat(d))
	_, row, _ := handbook.WireWorking(rule, d.Best)
	if rule == "navy" {
		s.force("working_n", "working limit in short tons = "+row.Figure()+" × diameter² in inches", fmt.Sprintf("%s × %s² = %s short tons", row.Figure(), num(d.Best.Inches()), num(unit.Newtons(working.Best).ShortTonsForce())), working, Low)
	} else {
		s.force("working_n", "working limit in kilograms = "+row.Figure()+" × diameter² in millimetres", fmt.Sprintf("%s × %s² = %s kgf", row.Figure(), num(d.Best.Millimetres()), num(unit.Newtons(working.Best).KilogramsForce())), working, Low)
	}
	s.row(row)
	other := map[string]string{"navy": "australia", "australia": "navy"}[rule]
	by, second, _ := handbook.WireWorking(other, d.Low)
	s.step("the other rule, "+other, "%s; the lower of the two says no", s.newtons(by.Newtons()))
	s.row(second)
	s.mindRule()
}

func chainRule(s *sheet) {
	s.bySquare(handbook.ChainRule)
	s.mind("it is for plain iron chain of old", "graded chain is stronger and has its grade stamped on it: sum chain")
}

func shackleRule(s *sheet) { s.bySquare(handbook.ShackleRule) }

// bySquare is a working limit in short tons by the square of a diameter in inches.
func (s *sheet) bySquare(rule func(unit.Length) (unit.Force, handbook.Row)) {
	d := s.length("diameter")
	working := s.over("diameter", func(x []float64) (float64, error) {
		f, _ := rule(unit.Metres(x[0]))
		return f.Newtons(), nil
	}, flat(d))
	_, row := rule(d.Best)
	s.force("working_n", "working limit in short tons = "+row.Figure()+" × diameter² in inches",
		fmt.Sprintf("%s × %s² = %s short tons", row.Figure(), num(d.Best.Inches()), num(unit.Newtons(working.Best).ShortTonsForce())), working, Low)
	s.row(row)
	s.mindRule()
}

func chain(s *sheet) {
	size := s.length("size")
	grade := s.word("grade")
	if s.err != nil {
		return
	}
	g := atoi(grade)
	if size.Low != size.High {
		s.fail("size", "a chain has one size; write it as stamped, such as 3/8 in or 10 mm")
		return
	}
	f, row, ok := handbook.ChainWorking(size.Best, g)
	grades := handbook.ChainGrades(size.Best)
	if len(grades) == 0 {
		s.fail("size", "%s is not in the table; it has %s and their metric twins", clip(oneLine(s.args["size"])), strings.Join(handbook.Keys("chain size"), ", "))
		return
	}
	if !ok {
		s.fail("grade", "the table has no grade %s of that size; it has %s", grade, strings.ReplaceAll(strings.Trim(fmt.Sprint(grades), "[]"), " ", ", "))
		return
	}
	s.force("working_n", "working limit as printed", fmt.Sprintf("grade %s, %s: %s lbf", grade, clip(oneLine(s.args["size"])), num(f.PoundsForce())), exactly(f.Newtons()), Low)
	if i := slices.Index(grades, g) - 1; i >= 0 {
		if lesser, _, _ := handbook.ChainWorking(size.Best, grades[i]); f < lesser {
			s.mind("printed so", "grade %d stands below grade %d at this size, %s lbf; it is not put right here", g, grades[i], num(lesser.PoundsForce()))
		}
	}
	least := grades[0]
	unmarked, _, _ := handbook.ChainWorking(size.Best, least)
	s.mind("the grade is what is stamped on the links", "an unmarked chain counts at most as grade %d, %s, and in a plan as nothing", least, s.newtons(unmarked.Newtons()))
	s.row(row)
}

// atoi is the number of a word that is one.
func atoi(word string) int {
	n, err := strconv.Atoi(word)
	if err != nil {
		panic("sum: no number: " + word)
	}
	return n
}
