package bound

import (
	"math"

	"linetender/calc/unit"
)

// scale is one unit as a text may name it.
type scale struct {
	name      string      // canonical short name
	low, high float64     // SI of one; they differ only where the name is vague
	system    unit.System // who thinks in it
	doubt     doubt
	bend      func(float64) float64 // from the scale's own line to SI, nil for itself
	finer     []string              // canonical names of what may follow: feet, then inches
	then      string                // the one that a bare number behind it is in
}

// si returns x of the scale's own line in SI.
func (c *scale) si(x float64) float64 {
	if c.bend == nil {
		return x
	}
	return c.bend(x)
}

// doubt says which mark before three digits may have been meant the other way.
// A point in a small unit, a comma in a large one: 2.400 kg and 2,400 t are both
// 2.4 t to half of the world, and 2,400 kg or 2.400 t are not in doubt in this trade.
type doubt int

const (
	doubtPoint doubt = 1 << iota
	doubtComma
)

// dimension is a kind of quantity: its scales by every name they go by, and how
// to tell a person what is wanted.
type dimension struct {
	noun    string // "weight"
	wants   string
	example string
	ranges  string // an example of a range
	other   string // an example of a spread
	scales  map[string]*scale
	special func(*scan) (amount, bool) // a form of its own, tried first
	bare    *scale                     // what a figure without a unit is in, if it may be
	sums    bool                       // may come in parts with a plus between
}

// naming adds a scale under its names.
func (d *dimension) naming(c scale, names ...string) {
	for _, n := range append(names, c.name) {
		d.scales[n] = &c
	}
}

// The kinds of quantity that are read. Nothing changes them once they are made.
var (
	massText   = masses()
	forceText  = forces()
	lengthText = lengths()
	angleText  = angles()
	slopeText  = slopes()
	ratioText  = ratios()
)

// addMasses gives d the scales of mass, each worth what si says.
func addMasses(d *dimension, si func(unit.Mass) float64) {
	add := func(name string, low, high unit.Mass, system unit.System, doubt doubt, finer []string, names ...string) {
		c := scale{name: name, low: si(low), high: si(high), system: system, doubt: doubt, finer: finer}
		if name == "st" {
			c.then = "lb"
		}
		d.naming(c, names...)
	}
	one := func(name string, m unit.Mass, system unit.System, doubt doubt, finer []string, names ...string) {
		add(name, m, m, system, doubt, finer, names...)
	}
	short, long := unit.ShortTons(1), unit.LongTons(1)
	shortHundredweight, longHundredweight := unit.ShortHundredweights(1), unit.LongHundredweights(1)
	pounds := []string{"lb"}
	tonParts := []string{"cwt", "short cwt", "long cwt", "lb"}

	one("kg", unit.Kilograms(1), unit.Metric, doubtPoint, nil,
		"kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes")
	one("t", unit.Tonnes(1), unit.Metric, doubtComma, []string{"kg"},
		"ts", "te", "mt", "tonn", "tonns", "tonne", "tonnes", "metric ton", "metric tons", "metric tonne", "metric tonnes", "metric t")
	one("lb", unit.PoundsMass(1), unit.Customary, doubtPoint, nil, "lbs", "pound", "pounds")
	one("st", unit.Stones(1), unit.Customary, doubtComma|doubtPoint, pounds, "stone", "stones")
	add("ton", short, long, unit.Customary, doubtComma, tonParts, "tons")
	one("short ton", short, unit.Customary, doubtComma, tonParts, "short tons", "us ton", "us tons")
	one("long ton", long, unit.Customary, doubtComma, tonParts,
		"long tons", "imperial ton", "imperial tons", "uk ton", "uk tons", "british ton", "british tons")
	add("cwt", shortHundredweight, longHundredweight, unit.Customary, doubtComma|doubtPoint, pounds,
		"cwts", "hundredweight", "hundredweights")
	one("short cwt", shortHundredweight, unit.Customary, doubtComma|doubtPoint, pounds,
		"short hundredweight", "short hundredweights", "us cwt", "us hundredweight", "us hundredweights")
	one("long cwt", longHundredweight, unit.Customary, doubtComma|doubtPoint, pounds,
		"long hundredweight", "long hundredweights", "imperial cwt", "imperial hundredweight", "imperial hundredweights",
		"uk cwt", "uk hundredweight", "uk hundredweights")
}

func masses() *dimension {
	d := &dimension{
		noun: "weight", wants: "a number and a unit", example: "2400 kg or 5200 lb",
		ranges: "2.2 to 2.6 t", other: "2400 kg +/- 10%", scales: map[string]*scale{}, sums: true,
	}
	addMasses(d, unit.Mass.Kilograms)
	return d
}

func forces() *dimension {
	d := &dimension{
		noun: "force", wants: "a number and a unit", example: "12 kN, 2600 lb or 1.2 t",
		ranges: "10 to 12 kN", other: "12 kN +/- 10%", scales: map[string]*scale{},
	}
	addMasses(d, func(m unit.Mass) float64 { return unit.Weight(m).Newtons() })
	one := func(name string, f unit.Force, system unit.System, doubt doubt, names ...string) {
		d.naming(scale{name: name, low: f.Newtons(), high: f.Newtons(), system: system, doubt: doubt}, names...)
	}
	one("N", unit.Newtons(1), unit.Metric, doubtPoint, "n", "newton", "newtons")
	one("daN", unit.Newtons(10), unit.Metric, doubtPoint, "dan", "dans", "decanewton", "decanewtons", "dekanewton", "dekanewtons")
	one("kN", unit.Kilonewtons(1), unit.Metric, doubtComma, "kn", "kns", "kilonewton", "kilonewtons")
	one("kgf", unit.KilogramsForce(1), unit.Metric, doubtPoint, "kp", "kilogram force", "kilograms force", "kilo force", "kilos force", "kg force")
	one("tf", unit.TonnesForce(1), unit.Metric, doubtComma, "tonne force", "tonnes force", "metric ton force", "metric tons force")
	one("lbf", unit.PoundsForce(1), unit.Customary, doubtPoint, "lbfs", "lb f", "pound force", "pounds force", "lb force", "lbs force")
	one("kip", unit.PoundsForce(1000), unit.Customary, doubtComma, "kips")
	d.scales["ton force"], d.scales["tons force"] = d.scales["ton"], d.scales["ton"]
	return d
}

func lengths() *dimension {
	d := &dimension{
		noun: "length", wants: "a number and a unit", example: "24 mm, 1/2 in or 3 ft 6 in",
		ranges: "10 to 12 m", other: "30 m +/- 10%", scales: map[string]*scale{},
	}
	add := func(name string, l unit.Length, system unit.System, doubt doubt, finer []string, names ...string) {
		c := scale{name: name, low: l.Metres(), high: l.Metres(), system: system, doubt: doubt, finer: finer}
		if name == "ft" {
			c.then = "in"
		}
		d.naming(c, names...)
	}
	add("mm", unit.Millimetres(1), unit.Metric, doubtComma|doubtPoint, nil,
		"mms", "millimetre", "millimetres", "millimeter", "millimeters",
		"mil", "mils") // as ropes are spoken of, and not the thousandth of an inch: common practice
	add("cm", unit.Centimetres(1), unit.Metric, doubtComma|doubtPoint, []string{"mm"},
		"cms", "centimetre", "centimetres", "centimeter", "centimeters")
	add("m", unit.Metres(1), unit.Metric, doubtComma, []string{"cm", "mm"},
		"metre", "metres", "meter", "meters", "mtr", "mtrs")
	add("km", unit.Kilometres(1), unit.Metric, doubtComma, []string{"m"},
		"kms", "kilometre", "kilometres", "kilometer", "kilometers")
	add("in", unit.Inches(1), unit.Customary, 0, nil, "ins", "inch", "inches", `"`)
	add("ft", unit.Feet(1), unit.Customary, 0, []string{"in"}, "foot", "feet", "'")
	add("yd", unit.Yards(1), unit.Customary, 0, []string{"ft", "in"}, "yds", "yard", "yards")
	return d
}

// addDegrees gives d the only unit of an angle.
func addDegrees(d *dimension) {
	one := unit.Degrees(1).Radians()
	d.naming(scale{name: "deg", low: one, high: one, doubt: doubtComma}, "degs", "degree", "degrees", "°")
}

func angles() *dimension {
	d := &dimension{
		noun: "angle", wants: "it in degrees", example: "30 deg",
		ranges: "20 to 30 deg", other: "30 deg +/- 5 deg", scales: map[string]*scale{},
	}
	addDegrees(d)
	return d
}

func slopes() *dimension {
	d := &dimension{
		noun: "slope", wants: "degrees, per cent, a rise in a level run, or what a level or a board shows",
		example: "14 deg, 25 %, 1 in 4, or level 48 in, gap 9 in",
		ranges:  "12 to 16 deg", other: "14 deg +/- 1 deg", scales: map[string]*scale{}, special: oneIn,
	}
	addDegrees(d)
	// A grade's own line is its tangent: a spread of a tenth is a tenth of the
	// rise, and only the ends become angles.
	d.naming(scale{name: "%", low: 0.01, high: 0.01, doubt: doubtComma, bend: math.Atan},
		"percent", "per cent", "pct", "percents")
	return d
}

// oneInScale is the scale of "1 in n", whose figure is already a tangent.
var oneInScale = &scale{name: "1 in n", low: 1, high: 1, bend: math.Atan}

// ratios are pure numbers and shares: 0.6, 60 %, two thirds.
func ratios() *dimension {
	d := &dimension{
		noun: "number", wants: "a number", example: "4, 0.6, 60 % or two thirds",
		ranges: "0.5 to 0.7", other: "0.6 +/- 10%", scales: map[string]*scale{},
		bare: &scale{low: 1, high: 1},
	}
	d.naming(scale{name: "%", low: 0.01, high: 0.01, doubt: doubtComma}, "percent", "per cent", "pct")
	return d
}
