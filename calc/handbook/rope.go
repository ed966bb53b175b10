package handbook

import (
	"math"
	"slices"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

// Wire is the one rope material that is not fibre; it has rules of its own.
const Wire = "wire"

const (
	tableStretch  = "stretch at break"
	tableRope     = "rope"
	tableBend     = "bend"
	tableKnot     = "knot"
	tableNoJoin   = "knot that may not join"
	tableStrength = "strength over manila"
	otherKnot     = "other"
)

// Materials returns the rope materials the tables know.
func Materials() []string { return Keys(tableStretch) }

func isMaterial(m string) bool {
	_, ok := Find(tableStretch, m)
	return ok
}

// StretchAtBreak returns the strain at which a rope of a material breaks. Its
// stiffness EA is breaking strength over strain: at its high end (low strain)
// for an arrest, at its low end (high strain) for stored energy.
func StretchAtBreak(material string) (bound.Of[bound.Ratio], Row, bool) {
	return ratio(tableStretch, material)
}

// Stretchy reports whether a material stores enough energy that a short piece
// of it makes a whole stiff line dangerous.
func Stretchy(material string) (stretchy bool, r Row, ok bool) {
	stretch, _, ok := StretchAtBreak(material)
	if !ok {
		return false, Row{}, false
	}
	limit, r := exact(tableRope, "stretchy from")
	return stretch.High >= limit, r, true
}

// NylonWet returns the share of its strength that nylon keeps when wet.
func NylonWet() (bound.Ratio, Row) { return exact(tableRope, "nylon wet") }

// DamagedFrom returns the share of its breaking strength at which one pull
// ruins natural-fibre rope.
func DamagedFrom() (bound.Ratio, Row) { return exact(tableRope, "damaged from") }

// BendShare returns the share of its strength a rope keeps bent over a pin or
// edge of diameter pin, by the ratio of the diameters, rounded down to the next
// row. A pin thinner than the rope has no figure: it must not be used.
func BendShare(pin, rope unit.Length) (bound.Ratio, Row, bool) {
	over := pin.Metres() / rope.Metres()
	var found Row
	for _, key := range Keys(tableBend) {
		least, ok := strings.CutSuffix(key, " from")
		if !ok {
			continue
		}
		if from := must(tableBend, key); over >= from.best {
			found = must(tableBend, least)
		}
	}
	if found == (Row{}) || math.IsInf(over, 0) || math.IsNaN(over) {
		return 0, Row{}, false
	}
	return found.Ratio().Low, found, true
}

// BendLeast returns what the table of bends leaves of a rope at the tightest.
func BendLeast() bound.Ratio {
	least := bound.Ratio(1)
	for _, key := range Keys(tableBend) {
		if !strings.HasSuffix(key, " from") {
			least = min(least, must(tableBend, key).Ratio().Low)
		}
	}
	return least
}

// SheaveOverRope returns the least diameter of a sheave over that of a rope of
// a material running on it.
func SheaveOverRope(material string) (bound.Ratio, Row, bool) {
	if !isMaterial(material) {
		return 0, Row{}, false
	}
	key := "sheave over fibre"
	if material == Wire {
		key = "sheave over wire"
	}
	k, r := exact(tableRope, key)
	return k, r, true
}

// BlockShell returns the length of a block's shell over the circumference of
// the fibre rope it is made for.
func BlockShell() (bound.Ratio, Row) { return exact(tableRope, "shell over circumference") }

// KnotEfficiency returns the share of its strength that a rope keeps with a
// knot or splice in it. A knot the tables do not name counts as the worst they
// do: the row then is that of any other knot. Whether it holds, [KnowsKnot] says.
func KnotEfficiency(name string) (bound.Of[bound.Ratio], Row) {
	if of, r, ok := ratio(tableKnot, KnotName(name)); ok {
		return of, r
	}
	r := must(tableKnot, otherKnot)
	return r.Ratio(), r
}

// KnotNames returns the knots and splices that have a figure of their own.
func KnotNames() []string {
	names := slices.DeleteFunc(Keys(tableKnot), func(k string) bool { return k == otherKnot })
	slices.Sort(names)
	return names
}

// KnowsKnot reports whether a knot or splice has a row of its own, as one that holds or as
// one that may spill. Of any other nobody can say that it holds at all.
func KnowsKnot(name string) bool {
	name = KnotName(name)
	_, own := Find(tableKnot, name)
	_, never := Find(tableNoJoin, name)
	return (own || never) && name != otherKnot
}

// IsSplice reports whether what is named so is a splice, which is how an eye is made,
// and no knot.
func IsSplice(name string) bool { return strings.HasSuffix(KnotName(name), "splice") }

// MayJoin reports whether a knot may join two ropes in a loaded line at all.
func MayJoin(name string) (bool, Row) {
	r, never := Find(tableNoJoin, KnotName(name))
	return !never, r
}

// KnotName writes a knot's name as the table does: lower case, single spaces,
// without the word knot.
func KnotName(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(c rune) bool { return c == ' ' || c == '-' || c == '_' })
	words = slices.DeleteFunc(words, func(w string) bool { return w == "knot" })
	return strings.Join(words, " ")
}
