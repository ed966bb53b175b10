package wording

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

// Load is a force that something has to carry: shown rounded up.
type Load struct{ Force unit.Force }

// Limit is a force that something may carry: shown rounded down.
type Limit struct{ Force unit.Force }

// Ratings are shown with three digits: finer would claim what no tag gives.
const digits = 3

// rounding is the direction in which the last digit goes.
type rounding func(float64) float64

var (
	up   rounding = func(x float64) float64 { return math.Ceil(x - 1e-9) }
	down rounding = func(x float64) float64 { return math.Floor(x + 1e-9) }
	near rounding = math.Round
)

// figure writes x with digits significant digits, thousands set apart.
func figure(x float64, digits int, round rounding) string {
	if x == 0 {
		return "0"
	}
	size := int(math.Floor(math.Log10(math.Abs(x)))) + 1
	decimals := digits - size
	scale := math.Pow10(decimals)
	x = round(x*scale) / scale
	text := strconv.FormatFloat(x, 'f', max(decimals, 0), 64)
	return unit.Thousands(unit.Short(text))
}

// scale is one unit of one system.
type scale struct {
	label Key
	in    func(float64) float64 // from SI
	least float64               // from this SI figure on
}

// unitsOf lists, largest first, the units of a dimension in a system.
func massScales(s unit.System) []scale {
	if s == unit.Customary {
		return []scale{{UnitLb, func(x float64) float64 { return unit.Kilograms(x).PoundsMass() }, 0}}
	}
	return []scale{
		{UnitTonne, func(x float64) float64 { return unit.Kilograms(x).Tonnes() }, 1000},
		{UnitKg, func(x float64) float64 { return x }, 0},
	}
}

func forceScales(s unit.System) []scale {
	if s == unit.Customary {
		return []scale{{UnitLbf, func(x float64) float64 { return unit.Newtons(x).PoundsForce() }, 0}}
	}
	return []scale{{UnitKn, func(x float64) float64 { return unit.Newtons(x).Kilonewtons() }, 0}}
}

func lengthScales(s unit.System) []scale {
	if s == unit.Customary {
		return []scale{
			{UnitFoot, func(x float64) float64 { return unit.Metres(x).Feet() }, unit.Feet(3).Metres()},
			{UnitInch, func(x float64) float64 { return unit.Metres(x).Inches() }, 0},
		}
	}
	return []scale{
		{UnitMetre, func(x float64) float64 { return x }, 1},
		{UnitCm, func(x float64) float64 { return unit.Metres(x).Centimetres() }, 0.1},
		{UnitMm, func(x float64) float64 { return unit.Metres(x).Millimetres() }, 0},
	}
}

func pick(scales []scale, size float64) scale {
	for _, c := range scales {
		if math.Abs(size) >= c.least*(1-1e-9) {
			return c
		}
	}
	return scales[len(scales)-1]
}

// quantity writes low to high in the person's system and, in brackets, in the
// other one.
func (b *Book) quantity(s unit.System, scales func(unit.System) []scale, low, high float64, round [2]rounding) string {
	other := unit.Customary
	if s == unit.Customary {
		other = unit.Metric
	}
	return b.word(Both, map[string]string{
		"First":  b.inSystem(scales(s), low, high, round),
		"Second": b.inSystem(scales(other), low, high, round),
	})
}

func (b *Book) inSystem(scales []scale, low, high float64, round [2]rounding) string {
	c := pick(scales, high)
	from, to := figure(c.in(low), digits, round[0]), figure(c.in(high), digits, round[1])
	label := b.word(c.label, nil)
	if from == to {
		return b.word(Amount, map[string]string{"Figure": to, "Unit": label})
	}
	return b.word(Span, map[string]string{"From": from, "To": to, "Unit": label})
}

func ends[Q bound.Quantity](r bound.Of[Q]) (low, high float64) {
	return float64(r.Low), float64(r.High)
}

// metricFirst is a figure as the calculation writes it, for whom it does not
// know: metric, and the other system in brackets.
var metricFirst = regexp.MustCompile(`([\d.,]*\d (?:kN|t|kg|m|cm|mm)) \(([\d.,]*\d (?:lbf|lb|ft|in))\)`)

// ownFirst sets a person's own units first in a text that has both.
func ownFirst(s unit.System, text string) string {
	if s != unit.Customary || !strings.Contains(text, " (") {
		return text
	}
	return metricFirst.ReplaceAllString(text, "$2 ($1)")
}

// slope writes an angle as degrees and as rise in run, the two ways in which
// people picture it.
func (b *Book) slope(a unit.Angle) string {
	args := map[string]string{"Degrees": figure(a.Degrees(), 2, near)}
	rise := math.Tan(a.Radians())
	if rise < 0.005 {
		return b.word(SlopeFlat, args)
	}
	args["Run"] = figure(1/rise, 2, near)
	return b.word(SlopeBoth, args)
}

func (b *Book) slopes(r bound.Of[unit.Angle]) string {
	return b.word(SlopeSpan, map[string]string{
		"Best": b.slope(r.Best),
		"Low":  figure(max(r.Low.Degrees(), 0), 2, down),
		"High": figure(r.High.Degrees(), 2, up),
	})
}

// Mass, Limit and Length write a quantity in one system alone, to stand
// beside what the person wrote in the other.

// Mass writes a weight.
func (b *Book) Mass(s unit.System, m bound.Of[unit.Mass]) string {
	low, high := ends(m)
	return b.inSystem(massScales(s), low, high, [2]rounding{near, near})
}

// Limit writes what something may carry, rounded down.
func (b *Book) Limit(s unit.System, f unit.Force) string {
	return b.inSystem(forceScales(s), f.Newtons(), f.Newtons(), [2]rounding{down, down})
}

// Length writes a length.
func (b *Book) Length(s unit.System, l bound.Of[unit.Length]) string {
	low, high := ends(l)
	return b.inSystem(lengthScales(s), low, high, [2]rounding{near, near})
}
