package unit

import (
	"math"
	"math/big"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// conversion is one pair of constructor and accessor, and what the law says one
// of its unit is worth.
type conversion struct {
	name   string
	si     string // exact SI value of one unit, as a product of decimals and quotients
	source string
	gnu    string // how GNU units names the unit, and its SI
	gnuSI  string
	in     func(float64) float64
	out    func(float64) float64
}

const (
	agreement = "international yard and pound agreement, 1959: yard 0.9144 m, pound 0.45359237 kg"
	gravity   = "3rd CGPM, 1901: 980.665 cm/s²"
	brochure  = "SI brochure, 9th ed., 2019"
)

func conversions() []conversion {
	force := func(name, si, source, gnu string, in func(float64) Force, out func(Force) float64) conversion {
		return conversion{name, si, source, gnu, "newton", func(x float64) float64 { return float64(in(x)) }, func(x float64) float64 { return out(Force(x)) }}
	}
	mass := func(name, si, source, gnu string, in func(float64) Mass, out func(Mass) float64) conversion {
		return conversion{name, si, source, gnu, "kg", func(x float64) float64 { return float64(in(x)) }, func(x float64) float64 { return out(Mass(x)) }}
	}
	length := func(name, si, source, gnu string, in func(float64) Length, out func(Length) float64) conversion {
		return conversion{name, si, source, gnu, "m", func(x float64) float64 { return float64(in(x)) }, func(x float64) float64 { return out(Length(x)) }}
	}
	speed := func(name, si, source, gnu string, in func(float64) Speed, out func(Speed) float64) conversion {
		return conversion{name, si, source, gnu, "m/s", func(x float64) float64 { return float64(in(x)) }, func(x float64) float64 { return out(Speed(x)) }}
	}
	energy := func(name, si, gnu string, in func(float64) Energy, out func(Energy) float64) conversion {
		return conversion{name, si, brochure, gnu, "joule", func(x float64) float64 { return float64(in(x)) }, func(x float64) float64 { return out(Energy(x)) }}
	}
	pressure := func(name, si, source, gnu string, in func(float64) Pressure, out func(Pressure) float64) conversion {
		return conversion{name, si, source, gnu, "pascal", func(x float64) float64 { return float64(in(x)) }, func(x float64) float64 { return out(Pressure(x)) }}
	}
	return []conversion{
		force("newton", "1", brochure, "newton", Newtons, Force.Newtons),
		force("kilonewton", "1000", brochure, "kilonewton", Kilonewtons, Force.Kilonewtons),
		force("pound-force", "0.45359237*9.80665", agreement+"; "+gravity, "lbf", PoundsForce, Force.PoundsForce),
		force("kilogram-force", "9.80665", gravity, "kgf", KilogramsForce, Force.KilogramsForce),
		force("tonne-force", "1000*9.80665", gravity, "tonne force", TonnesForce, Force.TonnesForce),
		mass("kilogram", "1", brochure, "kg", Kilograms, Mass.Kilograms),
		mass("tonne", "1000", brochure+", table 8", "tonne", Tonnes, Mass.Tonnes),
		mass("pound", "0.45359237", agreement, "lb", PoundsMass, Mass.PoundsMass),
		mass("short ton", "2000*0.45359237", agreement+"; 2000 lb", "shortton", ShortTons, Mass.ShortTons),
		mass("long ton", "2240*0.45359237", agreement+"; 2240 lb", "longton", LongTons, Mass.LongTons),
		mass("short hundredweight", "100*0.45359237", agreement+"; 100 lb", "ushundredweight", ShortHundredweights, Mass.ShortHundredweights),
		mass("long hundredweight", "112*0.45359237", agreement+"; 112 lb", "brhundredweight", LongHundredweights, Mass.LongHundredweights),
		mass("stone", "14*0.45359237", agreement+"; 14 lb", "stone", Stones, Mass.Stones),
		length("metre", "1", brochure, "m", Metres, Length.Metres),
		length("centimetre", "0.01", brochure, "cm", Centimetres, Length.Centimetres),
		length("millimetre", "0.001", brochure, "mm", Millimetres, Length.Millimetres),
		length("kilometre", "1000", brochure, "km", Kilometres, Length.Kilometres),
		length("yard", "0.9144", agreement, "yard", Yards, Length.Yards),
		length("foot", "0.9144/3", agreement+"; a third of the yard", "foot", Feet, Length.Feet),
		length("inch", "0.9144/36", agreement+"; a 36th of the yard", "inch", Inches, Length.Inches),
		force("short ton-force", "2000*0.45359237*9.80665", agreement+"; "+gravity, "shortton force", func(x float64) Force { return Weight(ShortTons(x)) }, Force.ShortTonsForce),
		{"second", "1", brochure, "second", "second", func(x float64) float64 { return float64(Seconds(x)) }, func(x float64) float64 { return Duration(x).Seconds() }},
		{"minute", "60", brochure + ", table 8", "minute", "second", func(x float64) float64 { return float64(Minutes(x)) }, func(x float64) float64 { return x / 60 }},
		speed("metre per second", "1", brochure, "m/s", MetresPerSecond, Speed.MetresPerSecond),
		speed("kilometre per hour", "1000/3600", brochure+", table 8", "km/hour", func(x float64) Speed { return MetresPerSecond(x * 1000 / 3600) }, Speed.KilometresPerHour),
		speed("mile per hour", "1760*0.9144/3600", agreement, "mile/hour", func(x float64) Speed { return MetresPerSecond(x * 1609.344 / 3600) }, Speed.MilesPerHour),
		energy("joule", "1", "joule", Joules, Energy.Joules),
		energy("kilojoule", "1000", "kilojoule", Kilojoules, Energy.Kilojoules),
		pressure("pascal", "1", brochure, "pascal", Pascals, Pressure.Pascals),
		pressure("pound per square foot", "0.45359237*9.80665/0.3048/0.3048", agreement+"; "+gravity, "lbf/ft^2", PoundsPerSquareFoot, Pressure.PoundsPerSquareFoot),
	}
}

// value works out a product of decimals and quotients without rounding.
func value(t *testing.T, expr string) *big.Rat {
	t.Helper()
	v, op := big.NewRat(1, 1), byte('*')
	for expr != "" {
		i := strings.IndexAny(expr, "*/")
		term, next, rest := expr, byte(0), ""
		if i >= 0 {
			term, next, rest = expr[:i], expr[i], expr[i+1:]
		}
		r, ok := new(big.Rat).SetString(term)
		if !ok {
			t.Fatalf("no number: %q", term)
		}
		if op == '/' {
			r.Inv(r)
		}
		v.Mul(v, r)
		op, expr = next, rest
	}
	return v
}

// ulps is how far off a converted value may be, in units of float64's last place:
// one rounding for the factor, one for the product and one for the way back.
const ulps = 3

// smallest is the least figure held to its last place: below it a factor can take the
// product among the subnormal numbers, which have fewer digits than any other.
const smallest = 1e-290

func near(got, want float64) bool {
	size := math.Max(math.Abs(want), smallest)
	return math.Abs(got-want) <= ulps*(math.Nextafter(size, math.Inf(1))-size)
}

// TestNearTheSmallestNumbers holds the comparison to both sides of its floor.
func TestNearTheSmallestNumbers(t *testing.T) {
	for _, tc := range []struct {
		got, want float64
		near      bool
	}{
		{8.900295434028817e-308, 8.900295434028806e-308, true},
		{2.416411531485e-311, 2.416411531483e-311, true},
		{1e-280, 1.0001e-280, false},
		{0, 1e-280, false},
		{math.NaN(), 1, false},
	} {
		if got := near(tc.got, tc.want); got != tc.near {
			t.Errorf("%v beside %v: near is %v, want %v", tc.got, tc.want, got, tc.near)
		}
	}
}

func TestOneUnitIsWhatTheLawSays(t *testing.T) {
	for _, c := range conversions() {
		want, _ := value(t, c.si).Float64()
		if got := c.in(1); !near(got, want) {
			t.Errorf("%s: got %v, want %v (%s)", c.name, got, want, c.source)
		}
		if got := c.out(want); !near(got, 1) {
			t.Errorf("%s: %v SI is %v of it, want 1 (%s)", c.name, want, got, c.source)
		}
	}
}

// TestAgainstGNUUnits asks a program that keeps its own table of definitions.
func TestAgainstGNUUnits(t *testing.T) {
	program, err := exec.LookPath("units")
	if err != nil {
		t.Skip("GNU units is not installed: the second opinion on the definitions was not asked")
	}
	for _, c := range conversions() {
		out, err := exec.Command(program, "--terse", "--output-format", "%.17g", c.gnu, c.gnuSI).Output()
		if err != nil {
			t.Errorf("%s: units %q %q: %v", c.name, c.gnu, c.gnuSI, err)
			continue
		}
		want, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
		if err != nil {
			t.Errorf("%s: units printed %q", c.name, out)
			continue
		}
		if got := c.in(1); !near(got, want) {
			t.Errorf("%s: got %v, GNU units has %v", c.name, got, want)
		}
	}
}

func TestThereAndBack(t *testing.T) {
	for _, c := range conversions() {
		t.Run(c.name, rapid.MakeCheck(func(t *rapid.T) {
			x := rapid.Float64Range(-1e12, 1e12).Draw(t, c.name)
			if math.Abs(x) < 1e-12 {
				x = 0 // far below it, a product loses digits to underflow
			}
			if got := c.out(c.in(x)); !near(got, x) {
				t.Fatalf("%v came back as %v", x, got)
			}
			if y := c.in(x); x > 0 != (y > 0) || x < 0 != (y < 0) {
				t.Fatalf("%v became %v: the sign changed", x, y)
			}
		}))
	}
}

// TestConstants holds the computed factors against their printed values.
func TestConstants(t *testing.T) {
	for _, tc := range []struct {
		name      string
		got, want float64
		source    string
	}{
		{"pound-force in newtons", newtonsPerPound, 4.4482216152605, "exact product of its two definitions"},
		{"short ton in kilograms", float64(ShortTons(1)), 907.18474, "2000 × 0.45359237"},
		{"long ton in kilograms", float64(LongTons(1)), 1016.0469088, "2240 × 0.45359237"},
		{"foot in metres", float64(Feet(1)), 0.3048, "0.9144 ÷ 3"},
		{"inch in metres", float64(Inches(1)), 0.0254, "0.9144 ÷ 36"},
	} {
		if !near(tc.got, tc.want) {
			t.Errorf("%s: got %v, want %v (%s)", tc.name, tc.got, tc.want, tc.source)
		}
	}
	// half a unit in the last printed digit of the usual rounded figure
	if got := PoundsPerSquareFoot(1).Pascals() / 1000; math.Abs(got-0.04788) > 0.000005 {
		t.Errorf("1 psf: got %v kPa, want 0.04788", got)
	}
}
