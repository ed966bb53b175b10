package handbook

import (
	"slices"
	"strconv"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

const (
	tableFactor    = "design factor"
	tableChain     = "chain"
	tableChainSize = "chain size"
	tableShare     = "sharing"
	tableSide      = "shackle side load"
	tableHitch     = "sling hitch"
)

// DesignFactor returns breaking strength over working limit for a kind of gear
// (rope, sling, strap, chain, shackle, block, hook, link, tow point, hitch) or
// for the computed capacity of an anchor.
func DesignFactor(kind string) (bound.Ratio, Row, bool) {
	of, r, ok := ratio(tableFactor, kind)
	return of.High, r, ok
}

// ChainWorking returns the working limit printed for a chain of a nominal size,
// in inches or its metric twin, and a grade of 30, 43, 70, 80 or 100. A size
// or grade that is not printed has none.
func ChainWorking(size unit.Length, grade int) (unit.Force, Row, bool) {
	for _, nominal := range Keys(tableChainSize) {
		span := must(tableChainSize, nominal).Length()
		if !(span.Low.Scale(1-rounding) <= size && size <= span.High.Scale(1+rounding)) {
			continue
		}
		r, ok := Find(tableChain, nominal+" G"+strconv.Itoa(grade))
		if !ok {
			return 0, Row{}, false
		}
		return r.Force().Low, r, true
	}
	return 0, Row{}, false
}

// ChainGrades returns the grades that have a printed working limit in a size of
// chain, least first; none for a size that is not printed. A chain without a
// mark counts at most as the first.
func ChainGrades(size unit.Length) []int {
	var grades []int
	for _, key := range Keys(tableChain) {
		_, word, _ := strings.Cut(key, " G")
		g, err := strconv.Atoi(word)
		if err != nil {
			panic("handbook: no grade in " + key)
		}
		if _, _, ok := ChainWorking(size, g); ok && !slices.Contains(grades, g) {
			grades = append(grades, g)
		}
	}
	slices.Sort(grades)
	return grades
}

// StrongestChain returns what a chain breaks at that has the most for the square
// of its link's thickness of all that are printed, with the design factor in it.
// It may only ever speak against a stamp.
func StrongestChain(link unit.Length) (unit.Force, Row) {
	var most unit.Force
	var row Row
	factor, _, _ := DesignFactor("chain")
	for _, nominal := range Keys(tableChainSize) {
		size := must(tableChainSize, nominal).Length().Low
		for _, grade := range ChainGrades(size) {
			f, r, _ := ChainWorking(size, grade)
			if f = f.Scale(float64(factor) * float64(link/size) * float64(link/size)); f > most {
				most, row = f, r
			}
		}
	}
	return most, row
}

// rounding lets a size read in one unit and compared in another match itself.
const rounding = 1e-9

// PartsThatCount returns how many of several legs or loops side by side may be
// counted: one, or two where they are made to share evenly.
func PartsThatCount(equalised bool) (int, Row) {
	if equalised {
		return exactCount(tableShare, "parts that count, equalised")
	}
	return exactCount(tableShare, "parts that count")
}

// ProofTest returns the load that custom gear is proof-tested to over its
// rating.
func ProofTest() (bound.Ratio, Row) { return exact(tableShare, "proof test over rating") }

// BreaksOverWorking returns how many times its working limit a piece marked
// only with that limit is taken to break at when the puller gives its most.
func BreaksOverWorking() (bound.Ratio, Row) { return exact(tableShare, "breaks over working") }

// BreaksOverWorkingAtMost returns how many times its working limit a rope marked only with
// that may break at, when its stiffness is reckoned at the high end.
func BreaksOverWorkingAtMost() (bound.Ratio, Row) {
	return exact(tableShare, "breaks over working at most")
}

// BlockStrop returns the rating of the shackle that holds a block over the
// block's own.
func BlockStrop() (bound.Ratio, Row) { return exact(tableShare, "block shackle over block") }

// SlingChoked returns the share of its rating that a sling, a strap or a chain
// keeps when it is choked: put round a thing and back through its own eye.
func SlingChoked() (bound.Of[bound.Ratio], Row) {
	of, r, _ := ratio(tableHitch, "choked")
	return of, r
}

// ShackleSideLeast returns what is left of a shackle's rating at the worst
// pull that it takes at all, square to its plane.
func ShackleSideLeast() bound.Ratio {
	share, _ := exact(tableSide, "to square")
	return share
}

// ShackleSide returns the share of its rating a shackle keeps when the pull
// comes at an angle to its plane; past square it may not be used at all.
func ShackleSide(off unit.Angle) (bound.Ratio, Row, bool) {
	for _, band := range []string{"in line", "to half", "to square"} {
		to := must(tableSide, band+" to")
		if off >= 0 && off <= to.Angle().High.Scale(1+rounding) {
			share, r := exact(tableSide, band)
			return share, r, true
		}
	}
	return 0, Row{}, false
}
