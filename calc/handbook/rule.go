package handbook

import (
	"fmt"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

const (
	tableRule      = "rule of thumb"
	tableStrongest = "strongest sold"
)

// A rule of thumb sizes a piece from its thickness. It may say that even a
// sound new piece would not do; it never says that an unmarked one will.

// RopeBreaking returns the breaking strength of new fibre rope by the Navy's
// rule for manila and nylon, and for polyester and polypropylene by their
// strength over manila. Other materials have no rule.
func RopeBreaking(material string, circumference unit.Length) (unit.Force, Row, bool) {
	if r, ok := Find(tableRule, "breaking "+material); ok {
		return square(r, circumference), r, true
	}
	over, r, ok := ratio(tableStrength, material)
	if !ok {
		return 0, Row{}, false
	}
	manila := square(must(tableRule, "breaking manila"), circumference)
	return manila.Scale(float64(over.Best)), r, true
}

// FibreWorking returns the load for which the Navy picks a fibre line of this
// circumference: C = √(15 P), C in inches and P in short tons.
func FibreWorking(circumference unit.Length) (unit.Force, Row) {
	r := must(tableRule, "working fibre")
	return square(r, circumference), r
}

// FibreDivisor returns what the Navy multiplies the short tons by in the same
// rule, C² = 15 P.
func FibreDivisor() bound.Ratio { return bound.Ratio(1 / must(tableRule, "working fibre").best) }

// WireWorking returns the working limit of wire rope by a rule: "navy", eight
// short tons to the square inch of diameter, or "australia", eight kilograms
// to the square millimetre.
func WireWorking(rule string, diameter unit.Length) (unit.Force, Row, bool) {
	return bySize("working wire "+rule, diameter)
}

// ChainRule returns the working limit of plain iron chain by the Navy's rule;
// graded chain is stronger, see ChainWorking.
func ChainRule(diameter unit.Length) (unit.Force, Row) {
	f, r, _ := bySize("working chain", diameter)
	return f, r
}

// ShackleRule returns the working limit of a shackle by the Navy's rule, from
// the diameter of its body on the side of the pin.
func ShackleRule(diameter unit.Length) (unit.Force, Row) {
	f, r, _ := bySize("working shackle", diameter)
	return f, r
}

// HookRule returns the working limit of a hook by the Navy's rule, from the
// diameter of the hook's body.
func HookRule(diameter unit.Length) (unit.Force, Row) {
	f, r, _ := bySize("working hook", diameter)
	return f, r
}

// GradeRule returns the degrees that divide the weight for each degree of slope
// in the manuals' rule of thumb for the pull of a slope.
func GradeRule() (unit.Angle, Row) { return exactAngle(tableRule, "grade divisor") }

// GradeRuleEnd returns the slope past which the same rule takes the whole weight.
func GradeRuleEnd() (unit.Angle, Row) { return exactAngle(tableRule, "grade whole past") }

// StrengthOverManila returns a fibre rope's strength over that of manila of the
// same size.
func StrengthOverManila(material string) (bound.Ratio, Row, bool) {
	of, r, ok := ratio(tableStrength, material)
	return of.Best, r, ok
}

// StrongestRope returns what a rope of a material and thickness breaks at where
// it is the strongest that is sold. Of a material that nobody told it is that of
// the strongest of all. It may only ever speak against a stamp.
func StrongestRope(material string, diameter unit.Length) (unit.Force, Row, bool) {
	if material != "" {
		r, ok := Find(tableStrongest, "rope "+material)
		if !ok {
			return 0, Row{}, false
		}
		return square(r, diameter), r, true
	}
	var most unit.Force
	var row Row
	for _, key := range Keys(tableStrongest) {
		if name, is := strings.CutPrefix(key, "rope "); is {
			if f, r, _ := StrongestRope(name, diameter); f > most {
				most, row = f, r
			}
		}
	}
	return most, row, true
}

// StrongestShackle returns how many times [ShackleRule] the strongest shackle
// of that size may carry: steel of today some three times, alloy five.
func StrongestShackle() (bound.Ratio, Row) { return exact(tableStrongest, "shackle over rule") }

// DoubtOver returns how far over the strongest of its thickness a stamp is
// doubted.
func DoubtOver() (bound.Ratio, Row) { return exact(tableStrongest, "doubted over") }

func bySize(key string, size unit.Length) (unit.Force, Row, bool) {
	r, ok := Find(tableRule, key)
	if !ok {
		return 0, Row{}, false
	}
	return square(r, size), r, true
}

// square returns a rule's coefficient times the square of a size in the rule's
// own unit of length.
func square(r Row, size unit.Length) unit.Force {
	coefficient, ok := squares[r.Unit]
	if !ok {
		panic(fmt.Sprintf("handbook: %v is in %q, no rule for a size squared", r, r.Unit))
	}
	s := size.Inches()
	if strings.HasSuffix(r.Unit, "/mm2") {
		s = size.Millimetres()
	}
	return coefficient(r.best * s * s)
}
