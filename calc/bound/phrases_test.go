package bound

import (
	"math"
	"slices"
	"testing"

	"linetender/calc/unit"
)

// said is a quantity as people write it, and what it says. The tables are the
// seeds of the fuzzers too. Figures are worked by hand from the definitions.
type said struct {
	text      string
	low, high float64 // in the unit of the table
	unit      string
	flags     string // v vague, r ranged, a rough ("about"), m measured, c customary
}

const (
	lb    = 0.45359237
	short = 2000 * lb
	long  = 2240 * lb
)

var massPhrases = []said{
	{"2400 kg", 2400, 2400, "kg", ""},
	{"2400kg", 2400, 2400, "kg", ""},
	{"2400 KG", 2400, 2400, "kg", ""},
	{" 2400  kg. ", 2400, 2400, "kg", ""},
	{"2000 kilo", 2000, 2000, "kg", ""},
	{"2.4 t", 2400, 2400, "t", ""},
	{"2,4 t", 2400, 2400, "t", ""},
	{"2.400 t", 2400, 2400, "t", ""},
	{".5 t", 500, 500, "t", ""},
	{",5 t", 500, 500, "t", ""},
	{"0,500 t", 500, 500, "t", ""},
	{"3.1t", 3100, 3100, "t", ""},
	{"6 tonne", 6000, 6000, "t", ""},
	{"2 metric tons", 2000, 2000, "t", ""},
	{"2 metric tonnes", 2000, 2000, "t", ""},
	{"5,200 lb", 5200 * lb, 5200 * lb, "lb", "c"},
	{"6600 lbs", 6600 * lb, 6600 * lb, "lb", "c"},
	{"5200 pounds", 5200 * lb, 5200 * lb, "lb", "c"},
	{"5k lbs", 5000 * lb, 5000 * lb, "lb", "c"},
	{"5.2k lb", 5200 * lb, 5200 * lb, "lb", "c"},
	{"1,234.5 lb", 1234.5 * lb, 1234.5 * lb, "lb", "c"},
	{"1.234,5 kg", 1234.5, 1234.5, "kg", ""},
	{"1,234,567 kg", 1234567, 1234567, "kg", ""},
	{"1.234.567 kg", 1234567, 1234567, "kg", ""},
	{"12 000 kg", 12000, 12000, "kg", ""},
	{"12\u00a0000\u202fkg", 12000, 12000, "kg", ""},
	{"12 000,5 kg", 12000.5, 12000.5, "kg", ""},
	{"1/2 t", 500, 500, "t", ""},
	{"1 1/2 t", 1500, 1500, "t", ""},
	{"1-1/2 t", 1500, 1500, "t", ""},
	{"1½ t", 1500, 1500, "t", ""},
	{"1 ½ t", 1500, 1500, "t", ""},
	{"¾ t", 750, 750, "t", ""},
	{"11 stone", 154 * lb, 154 * lb, "st", "c"},
	{"11 stone 6 lb", 160 * lb, 160 * lb, "st", "c"},
	{"11 st 6", 160 * lb, 160 * lb, "st", "c"},
	{"1 t 200 kg", 1200, 1200, "t", ""},
	{"0 kg", 0, 0, "kg", ""},

	{"2.4 ton", 2.4 * short, 2.4 * long, "ton", "vc"},
	{"14 tons", 14 * short, 14 * long, "ton", "vc"},
	{"a ton", short, long, "ton", "vc"},
	{"half a ton", short / 2, long / 2, "ton", "vc"},
	{"half ton", short / 2, long / 2, "ton", "vc"},
	{"a ton and a half", 1.5 * short, 1.5 * long, "ton", "vc"},
	{"ton and a half", 1.5 * short, 1.5 * long, "ton", "vc"},
	{"three quarters of a ton", 0.75 * short, 0.75 * long, "ton", "vc"},
	{"3/4-ton", 0.75 * short, 0.75 * long, "ton", "vc"},
	{"1 ton 3 cwt", short + 300*lb, long + 336*lb, "ton", "vc"},
	{"2 tons 3 cwt", 2*short + 300*lb, 2*long + 336*lb, "ton", "vc"},
	{"12 cwt", 1200 * lb, 1344 * lb, "cwt", "vc"},
	{"twelve hundredweight", 1200 * lb, 1344 * lb, "cwt", "vc"},
	{"3 hundredweights 20 lb", 320 * lb, 356 * lb, "cwt", "vc"},
	{"3 short tons", 3 * short, 3 * short, "short ton", "c"},
	{"3 US tons", 3 * short, 3 * short, "short ton", "c"},
	{"3 long tons", 3 * long, 3 * long, "long ton", "c"},
	{"3 imperial tons", 3 * long, 3 * long, "long ton", "c"},
	{"3 short cwt", 300 * lb, 300 * lb, "short cwt", "c"},
	{"3 long hundredweight", 336 * lb, 336 * lb, "long cwt", "c"},
	{"2 tons to 2500 kg", 2 * short, 2500, "kg", "vrc"},
	{"2 to 3 tons", 2 * short, 3 * long, "ton", "vrc"},
	{"2 tons +/- 10%", 1.8 * short, 2.2 * long, "ton", "vrc"},

	{"two and a half tonnes", 2500, 2500, "t", ""},
	{"two-and-a-half tonnes", 2500, 2500, "t", ""},
	{"2 and a half t", 2500, 2500, "t", ""},
	{"a tonne and a half", 1500, 1500, "t", ""},
	{"one and three quarter tonnes", 1750, 1750, "t", ""},
	{"two point four tonnes", 2400, 2400, "t", ""},
	{"two point seven five tonnes", 2750, 2750, "t", ""},
	{"zero point five tonnes", 500, 500, "t", ""},
	{"a couple of tonnes", 2000, 2000, "t", "a"},
	{"a couple hundred kilos", 200, 200, "kg", "a"},
	{"a couple of hundred kilos", 200, 200, "kg", "a"},
	{"hundred kilos", 100, 100, "kg", ""},
	{"thousand kilos", 1000, 1000, "kg", ""},
	{"a thousand and one kilos", 1001, 1001, "kg", ""},
	{"a hundred and fifty kilos", 150, 150, "kg", ""},
	{"nine hundred ninety nine kg", 999, 999, "kg", ""},
	{"twenty-four hundred kilos", 2400, 2400, "kg", ""},
	{"two thousand four hundred kilos", 2400, 2400, "kg", ""},
	{"two and a half thousand kilos", 2500, 2500, "kg", ""},
	{"2.4 thousand kg", 2400, 2400, "kg", ""},
	{"five hundred thousand kg", 500000, 500000, "kg", ""},

	{"2.2 to 2.6 t", 2200, 2600, "t", "r"},
	{"2.2-2.6 t", 2200, 2600, "t", "r"},
	{"2.2 – 2.6 t", 2200, 2600, "t", "r"},
	{"2.2 t to 2600 kg", 2200, 2600, "kg", "r"},
	{"2.6 t to 2600 kg", 2600, 2600, "kg", "r"},
	{"from 2.2 to 2.6 t", 2200, 2600, "t", "r"},
	{"2 or 3 tonnes", 2000, 3000, "t", "r"},
	{"between two and three tonnes", 2000, 3000, "t", "r"},
	{"between 2 and a half and 3 tonnes", 2500, 3000, "t", "r"},
	{"between two hundred and three hundred kg", 200, 300, "kg", "r"},
	{"five to six hundred kilos", 500, 600, "kg", "r"},
	{"2 to 3 thousand kg", 2000, 3000, "kg", "r"},
	{"2-3k kg", 2000, 3000, "kg", "r"},
	{"two to ten thousand kg", 2000, 10000, "kg", "r"},
	{"800 to one thousand kg", 800, 1000, "kg", "r"},
	{"2 t to 2 t", 2000, 2000, "t", "r"},
	{"2400 kg +/- 10%", 2160, 2640, "kg", "r"},
	{"2400 kg +/- 10 percent", 2160, 2640, "kg", "r"},
	{"2400 kg (± 10 %)", 2160, 2640, "kg", "r"},
	{"2400 kg, plus or minus 10 per cent", 2160, 2640, "kg", "r"},
	{"2400 kg give or take 50 kg", 2350, 2450, "kg", "r"},
	{"2400 ± 50 kg", 2350, 2450, "kg", "r"},
	{"2.4 t ± 50 kg", 2350, 2450, "t", "r"},
	{"2400 kg ± 100 %", 0, 4800, "kg", "r"},

	{"about 2.4 t", 2400, 2400, "t", "a"},
	{"approx. 2.4 t", 2400, 2400, "t", "a"},
	{"~2.4t", 2400, 2400, "t", "a"},
	{"≈ 2.4 t", 2400, 2400, "t", "a"},
	{"2.4 t or so", 2400, 2400, "t", "a"},
	{"2.4 t more or less", 2400, 2400, "t", "a"},
	{"bout 2.4 ton", 2.4 * short, 2.4 * long, "ton", "vac"},
	{"2 t to about 3 t", 2000, 3000, "t", "ra"},
	{"about 2 to 3 t", 2000, 3000, "t", "ra"},
}

const (
	g   = 9.80665
	lbf = lb * g
)

// massSums are weights in parts. No force is read so: two legs of 2 t are not
// a sling of 4 t.
var massSums = []said{
	{"1.8 t + 300 kg", 2100, 2100, "t", ""},
	{"1500 kg + 750 kg + 0,2 t", 2450, 2450, "kg", ""},
	{"2 ton + half a ton", 2.5 * short, 2.5 * long, "ton", "vc"},
	{"2 to 2.4 t plus about 300 kg", 2300, 2700, "t", "ra"},
	{"2 t + 500 lb", 2000 + 500*lb, 2000 + 500*lb, "t", "c"},
}

var forcePhrases = []said{
	{"12 kN", 12000, 12000, "kN", ""},
	{"22 kn", 22000, 22000, "kN", ""},
	{"838 N", 838, 838, "N", ""},
	{"12,000 newtons", 12000, 12000, "N", ""},
	{"900 daN", 9000, 9000, "daN", ""},
	{"1200 kgf", 1200 * g, 1200 * g, "kgf", ""},
	{"1200 kilograms-force", 1200 * g, 1200 * g, "kgf", ""},
	{"1.2 tf", 1200 * g, 1200 * g, "tf", ""},
	{"2600 lbf", 2600 * lbf, 2600 * lbf, "lbf", "c"},
	{"2600 pounds force", 2600 * lbf, 2600 * lbf, "lbf", "c"},
	{"5 kips", 5000 * lbf, 5000 * lbf, "kip", "c"},
	{"2.2t", 2200 * g, 2200 * g, "t", ""},
	{"3.25 t", 3250 * g, 3250 * g, "t", ""},
	{"2000 lb", 2000 * lbf, 2000 * lbf, "lb", "c"},
	{"300kg", 300 * g, 300 * g, "kg", ""},
	{"5 ton", 5 * short * g, 5 * long * g, "ton", "vc"},
	{"5 tons force", 5 * short * g, 5 * long * g, "ton", "vc"},
	{"10-12 kN", 10000, 12000, "kN", "r"},
	{"12 kN +/- 10%", 10800, 13200, "kN", "r"},
	{"two and a half tonnes", 2500 * g, 2500 * g, "t", ""},
}

const (
	inch = 0.0254
	foot = 0.3048
)

var lengthPhrases = []said{
	{"24mm", 0.024, 0.024, "mm", ""},
	{"30 cm", 0.3, 0.3, "cm", ""},
	{"12 m", 12, 12, "m", ""},
	{"1,5 m", 1.5, 1.5, "m", ""},
	{"0,250 m", 0.25, 0.25, "m", ""},
	{"40 metres", 40, 40, "m", ""},
	{"1.2 km", 1200, 1200, "km", ""},
	{"1 m 20 cm", 1.2, 1.2, "m", ""},
	{"1/2 in", inch / 2, inch / 2, "in", "c"},
	{"1 1/2\"", 1.5 * inch, 1.5 * inch, "in", "c"},
	{"1-1/2 in", 1.5 * inch, 1.5 * inch, "in", "c"},
	{"½ inch", inch / 2, inch / 2, "in", "c"},
	{"2½″", 2.5 * inch, 2.5 * inch, "in", "c"},
	{"20 inch", 20 * inch, 20 * inch, "in", "c"},
	{"5/8 of an inch", 0.625 * inch, 0.625 * inch, "in", "c"},
	{"three-eighths of an inch", 0.375 * inch, 0.375 * inch, "in", "c"},
	{"five eighths inch", 0.625 * inch, 0.625 * inch, "in", "c"},
	{"seven sixteenths inch", 0.4375 * inch, 0.4375 * inch, "in", "c"},
	{"half-inch", inch / 2, inch / 2, "in", "c"},
	{"two-inch", 2 * inch, 2 * inch, "in", "c"},
	{"an inch and a quarter", 1.25 * inch, 1.25 * inch, "in", "c"},
	{"3 ft 6 in", 3.5 * foot, 3.5 * foot, "ft", "c"},
	{"3'6\"", 3.5 * foot, 3.5 * foot, "ft", "c"},
	{"3′6″", 3.5 * foot, 3.5 * foot, "ft", "c"},
	{"3’ 6’’", 3.5 * foot, 3.5 * foot, "ft", "c"},
	{"3'-6\"", 3.5 * foot, 3.5 * foot, "ft", "c"},
	{"3'6", 3.5 * foot, 3.5 * foot, "ft", "c"},
	{"three feet six", 3.5 * foot, 3.5 * foot, "ft", "c"},
	{"3 feet and a half", 3.5 * foot, 3.5 * foot, "ft", "c"},
	{"6 ft 2 1/2 in", 74.5 * inch, 74.5 * inch, "ft", "c"},
	{"1 ft - 11 in", 23 * inch, 23 * inch, "ft", "c"},
	{"3' - 6'", 3 * foot, 6 * foot, "ft", "rc"},
	{"1'-18\"", foot, 1.5 * foot, "in", "rc"},
	{"30 yards", 27.432, 27.432, "yd", "c"},
	{"2 yd 1 ft 3 in", 87 * inch, 87 * inch, "yd", "c"},
	{"6 to 8 ft", 6 * foot, 8 * foot, "ft", "rc"},
	{"8 ft 6 to 9 ft", 8.5 * foot, 9 * foot, "ft", "rc"},
	{"1/2-3/4 in", 0.5 * inch, 0.75 * inch, "in", "rc"},
	{"30 m ± 2 m", 28, 32, "m", "r"},
	{"0 m", 0, 0, "m", ""},
}

func grade(t float64) float64 { return math.Atan(t) * 180 / math.Pi }
func board(s float64) float64 { return math.Asin(s) * 180 / math.Pi }

var slopePhrases = []said{
	{"14 deg", 14, 14, "deg", ""},
	{"14°", 14, 14, "deg", ""},
	{"14º", 14, 14, "deg", ""},
	{"10 degree", 10, 10, "deg", ""},
	{"12deg", 12, 12, "deg", ""},
	{"fifteen degrees", 15, 15, "deg", ""},
	{"0 deg", 0, 0, "deg", ""},
	{"25 %", grade(.25), grade(.25), "%", ""},
	{"25%", grade(.25), grade(.25), "%", ""},
	{"25 percent", grade(.25), grade(.25), "%", ""},
	{"25 per cent", grade(.25), grade(.25), "%", ""},
	{"25% grade", grade(.25), grade(.25), "%", ""},
	{"100 %", 45, 45, "%", ""},
	{"1 in 4", grade(.25), grade(.25), "1 in n", ""},
	{"one in four", grade(.25), grade(.25), "1 in n", ""},
	{"3 in 12", grade(.25), grade(.25), "1 in n", ""},
	{"1 in 2.5 slope", grade(.4), grade(.4), "1 in n", ""},
	{"3:12", grade(.25), grade(.25), "1 in n", ""},
	{"3 in 10 on the level", grade(.3), grade(.3), "1 in n", ""},
	{"3 in 10 on the board", board(.3), board(.3), "board", "m"},
	{"14 to 16 deg", 14, 16, "deg", "r"},
	{"about 14 deg", 14, 14, "deg", "a"},
	{"14 deg ± 1 deg", 13, 15, "deg", "r"},
	{"14 ± 1 deg", 13, 15, "deg", "r"},
	{"20 deg +/- 10%", 18, 22, "deg", "r"},
	{"1 in 5 to 1 in 4", grade(.2), grade(.25), "1 in n", "r"},
	{"between 1 in 4 and 1 in 5", grade(.2), grade(.25), "1 in n", "r"},
	{"25% to 16 deg", grade(.25), 16, "deg", "r"},
	{"25% ± 2%", grade(.23), grade(.27), "%", "r"}, // points of grade are the wider reading
	{"1 in 4 ± 10%", grade(.225), grade(.275), "1 in n", "r"},
	{"25% ± 1 deg", grade(.25) - 1, grade(.25) + 1, "%", "r"},
	{"level 48 in, gap 9 in", grade(9. / 48), grade(9. / 48), "level", "mc"},
	{"gap 9 in, level 48 in", grade(9. / 48), grade(9. / 48), "level", "mc"},
	{"48 in level, 9 in gap", grade(9. / 48), grade(9. / 48), "level", "mc"},
	{"9 in gap under a 48 in level", grade(9. / 48), grade(9. / 48), "level", "mc"},
	{"Level: 4 ft; gap: 9 in.", grade(9. / 48), grade(9. / 48), "level", "mc"},
	{"level 2 m gap 50 cm", grade(.25), grade(.25), "level", "m"},
	{"rise 3 ft, run 12 ft", grade(.25), grade(.25), "level", "mc"},
	{"board 48 in, rise 9 in", board(9. / 48), board(9. / 48), "board", "mc"},
	{"rise 9 in on a 48 in board", board(9. / 48), board(9. / 48), "board", "mc"},
	{"board 2 m, rise 30 to 40 cm", board(.15), board(.2), "board", "rm"},
	{"level 1 m ± 10 cm, gap 20 cm", grade(.2 / 1.1), grade(.2 / .9), "level", "rm"},
}

var anglePhrases = []said{
	{"60 deg", 60, 60, "deg", ""},
	{"60°", 60, 60, "deg", ""},
	{"thirty degrees", 30, 30, "deg", ""},
	{"0 deg", 0, 0, "deg", ""},
	{"360 deg", 360, 360, "deg", ""},
	{"20 to 30 deg", 20, 30, "deg", "r"},
	{"45 ± 5 deg", 40, 50, "deg", "r"},
}

var ratioPhrases = []said{
	{"0.6", .6, .6, "", ""},
	{"0,6", .6, .6, "", ""},
	{"60 %", .6, .6, "%", ""},
	{"two thirds", 2. / 3, 2. / 3, "", ""},
	{"half", .5, .5, "", ""},
	{"0.5 to 0.7", .5, .7, "", "r"},
	{"60 to 70 %", .6, .7, "%", "r"},
	{"0.6 ± 0.1", .5, .7, "", "r"},
	{"0.6 ± 10%", .54, .66, "", "r"},
	{"1,500", 1500, 1500, "", ""},
}

// check compares a reading with what the table says, its figures through in.
func check[Q Quantity](t *testing.T, want said, got Reading[Q], err error, in func(Q) float64) {
	t.Helper()
	if err != nil {
		t.Errorf("%q: %v", want.text, err)
		return
	}
	same := func(got, want float64) bool { return math.Abs(got-want) <= 1e-12*math.Abs(want)+1e-15 }
	if !same(in(got.Value.Low), want.low) || !same(in(got.Value.High), want.high) || got.Unit != want.unit {
		t.Errorf("%q: got %v to %v %q, want %v to %v %q", want.text,
			in(got.Value.Low), in(got.Value.High), got.Unit, want.low, want.high, want.unit)
	}
	var flags string
	for _, f := range []struct {
		set  bool
		name string
	}{{got.Vague, "v"}, {got.Ranged, "r"}, {got.Rough, "a"}, {got.Measured, "m"}, {got.System == unit.Customary, "c"}} {
		if f.set {
			flags += f.name
		}
	}
	if flags != want.flags {
		t.Errorf("%q: got flags %q, want %q", want.text, flags, want.flags)
	}
	if msg := broken(got); msg != "" {
		t.Errorf("%q: %s: %+v", want.text, msg, got)
	}
}

func TestMassPhrases(t *testing.T) {
	for _, p := range slices.Concat(massPhrases, massSums) {
		r, err := ReadMass(p.text)
		check(t, p, r, err, unit.Mass.Kilograms)
	}
	for _, p := range massSums {
		if r, err := ReadForce(p.text); err == nil {
			t.Errorf("%q is read as a force of %v", p.text, r.Value)
		}
	}
}

func TestForcePhrases(t *testing.T) {
	for _, p := range forcePhrases {
		r, err := ReadForce(p.text)
		check(t, p, r, err, unit.Force.Newtons)
	}
}

func TestLengthPhrases(t *testing.T) {
	for _, p := range lengthPhrases {
		r, err := ReadLength(p.text)
		check(t, p, r, err, unit.Length.Metres)
	}
}

func TestSlopePhrases(t *testing.T) {
	for _, p := range slopePhrases {
		r, err := ReadSlope(p.text)
		check(t, p, r, err, unit.Angle.Degrees)
	}
}

func TestAnglePhrases(t *testing.T) {
	for _, p := range anglePhrases {
		r, err := ReadAngle(p.text)
		check(t, p, r, err, unit.Angle.Degrees)
	}
}

func TestRatioPhrases(t *testing.T) {
	for _, p := range ratioPhrases {
		r, err := ReadRatio(p.text)
		check(t, p, r, err, func(q Ratio) float64 { return float64(q) })
	}
}

// TestMassPhrasesAreForcesToo reads every weight as the force the trade means by it.
func TestMassPhrasesAreForcesToo(t *testing.T) {
	for _, p := range massPhrases {
		r, err := ReadForce(p.text)
		check(t, p, r, err, func(f unit.Force) float64 { return f.Newtons() / g })
	}
}
