package bound

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"linetender/calc/unit"

	"pgregory.net/rapid"
)

// spell writes a whole number below a million in words.
func spell(n int) string {
	small := strings.Fields("zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen")
	ten := strings.Fields("- - twenty thirty forty fifty sixty seventy eighty ninety")
	with := func(head string, rest int, glue string) string {
		if rest == 0 {
			return head
		}
		return head + glue + spell(rest)
	}
	switch {
	case n < 20:
		return small[n]
	case n < 100:
		return with(ten[n/10], n%10, "-")
	case n < 1000:
		return with(small[n/100]+" hundred", n%100, " and ")
	}
	glue := " "
	if n%1000 < 100 {
		glue = " and "
	}
	return with(spell(n/1000)+" thousand", n%1000, glue)
}

func TestEveryNumberWordReadsBack(t *testing.T) {
	for n := 1; n < 1_000_000; n += 1 + n/500 {
		r, err := ReadMass(spell(n) + " kilos")
		if err != nil || r.Value != Exactly(unit.Kilograms(float64(n))) {
			t.Fatalf("%s: got %v, %v; want %d", spell(n), r.Value, err, n)
		}
	}
}

// TestHundredsReadBack says round figures as the trade does: twenty-four hundred.
func TestHundredsReadBack(t *testing.T) {
	for n := 11; n < 100; n++ {
		if n%10 == 0 {
			continue
		}
		text := spell(n) + " hundred pounds"
		if r, err := ReadMass(text); err != nil || r.Value != Exactly(unit.PoundsMass(float64(n)*100)) {
			t.Errorf("%s: got %v, %v; want %d", text, r.Value, err, n*100)
		}
	}
}

// group sets off a whole number in threes.
func group(n int, mark string) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + mark + s[i:]
	}
	return s
}

// TestEveryWayToWriteAFigure writes one figure in all the ways there are and
// reads them back.
func TestEveryWayToWriteAFigure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.IntRange(0, 9_999_999).Draw(t, "whole")
		tenths := rapid.IntRange(1, 9).Draw(t, "tenths")
		gap := rapid.SampledFrom([]string{"", " ", "\u00a0", "  "}).Draw(t, "gap")
		name := rapid.SampledFrom([]string{"kg", "KG", "kilos", "Kilograms"}).Draw(t, "unit")
		exact := unit.Kilograms(float64(whole))
		part := unit.Kilograms(float64(whole*10+tenths) / 10)
		for text, want := range map[string]unit.Mass{
			strconv.Itoa(whole):                             exact,
			group(whole, ","):                               exact,
			group(whole, " "):                               exact,
			group(whole, "\u202f"):                          exact,
			fmt.Sprintf("%d.0", whole):                      exact,
			fmt.Sprintf("%d.%d", whole, tenths):             part,
			fmt.Sprintf("%d,%d", whole, tenths):             part,
			fmt.Sprintf("%s.%d", group(whole, ","), tenths): part,
			fmt.Sprintf("%s,%d", group(whole, "."), tenths): part,
			fmt.Sprintf("%s,%d", group(whole, " "), tenths): part,
			fmt.Sprintf("%d.%d00000", whole, tenths):        part,
		} {
			r, err := ReadMass(text + gap + name)
			if err != nil || r.Value != Exactly(want) {
				t.Fatalf("%q: got %v, %v; want %v", text+gap+name, r.Value, err, want)
			}
		}
	})
}

// TestNoThousandfoldMistake is the reason for the refusals in doubt: whatever is
// read from a figure with one mark differs from another country's reading
// either not at all or in a way that a wrong case could not survive.
func TestNoThousandfoldMistake(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		head := rapid.IntRange(1, 999).Draw(t, "head")
		tail := rapid.IntRange(0, 999).Draw(t, "tail")
		for _, name := range []string{"t", "ton", "kN", "kip"} {
			if r, err := ReadForce(fmt.Sprintf("%d,%03d %s", head, tail, name)); err == nil {
				t.Fatalf("%d,%03d %s was read as %v", head, tail, name, r.Value)
			}
		}
		for _, name := range []string{"kg", "lb", "N", "daN", "kgf", "lbf"} {
			if r, err := ReadForce(fmt.Sprintf("%d.%03d %s", head, tail, name)); err == nil {
				t.Fatalf("%d.%03d %s was read as %v", head, tail, name, r.Value)
			}
		}
	})
}

// TestNamesOfOneUnitAreOneUnit catches a name that was given away twice.
func TestNamesOfOneUnitAreOneUnit(t *testing.T) {
	for _, d := range []*dimension{massText, forceText, lengthText, angleText, slopeText, ratioText} {
		first := map[string]*scale{}
		for name, c := range d.scales {
			if f, ok := first[c.name]; ok && f != c {
				t.Errorf("%s: %q is another %s than the rest", d.noun, name, c.name)
			}
			first[c.name] = c
		}
	}
}

// TestEveryUnitNameReads writes a figure in every unit under every name.
func TestEveryUnitNameReads(t *testing.T) {
	for noun, try := range map[string]func(string) (low, high float64, name string, err error){
		"weight": func(s string) (float64, float64, string, error) {
			r, err := ReadMass(s)
			return r.Value.Low.Kilograms(), r.Value.High.Kilograms(), r.Unit, err
		},
		"force": func(s string) (float64, float64, string, error) {
			r, err := ReadForce(s)
			return r.Value.Low.Newtons(), r.Value.High.Newtons(), r.Unit, err
		},
		"length": func(s string) (float64, float64, string, error) {
			r, err := ReadLength(s)
			return r.Value.Low.Metres(), r.Value.High.Metres(), r.Unit, err
		},
	} {
		d := map[string]*dimension{"weight": massText, "force": forceText, "length": lengthText}[noun]
		if len(d.scales) < 20 {
			t.Fatalf("only %d names for units of %s", len(d.scales), noun)
		}
		for name, c := range d.scales {
			for _, text := range []string{"2.5 " + name, "2.5" + name, "2.5 " + strings.ToUpper(name)} {
				low, high, got, err := try(text)
				if err != nil || got != c.name || !near(low, 2.5*c.low) || !near(high, 2.5*c.high) {
					t.Errorf("%s: got %v to %v %q, %v; want %v to %v %q", text, low, high, got, err, 2.5*c.low, 2.5*c.high, c.name)
				}
			}
		}
	}
}

// TestRangesReadBack writes ranges and spreads and reads them back.
func TestRangesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.IntRange(1, 5000).Draw(t, "low")
		more := rapid.IntRange(1, 5000).Draw(t, "more")
		share := rapid.IntRange(0, 100).Draw(t, "share")
		want := Between(unit.Kilograms(float64(low)), unit.Kilograms(float64(low+more)))
		for _, form := range []string{"%d to %d kg", "%d-%d kg", "%d – %dkg", "%d kg to %d kg", "between %d and %d kg", "from %d to %d kilos", "%d or %d kg"} {
			text := fmt.Sprintf(form, low, low+more)
			if r, err := ReadMass(text); err != nil || r.Value != want || !r.Ranged {
				t.Fatalf("%q: got %+v, %v; want %v", text, r, err, want)
			}
			// The wrong way round is a slip of the pen, never a range.
			if r, err := ReadMass(fmt.Sprintf(form, low+more, low)); err == nil {
				t.Fatalf("upside down, %q was read as %v", text, r.Value)
			}
		}
		spread := Spread(unit.Kilograms(float64(low)), float64(share)/100)
		for _, form := range []string{"%d kg +/- %d%%", "%d kg ± %d %%", "%d kg plus or minus %d percent", "%d kg (+/- %d per cent)"} {
			text := fmt.Sprintf(form, low, share)
			r, err := ReadMass(text)
			if err != nil || !near(r.Value.Low.Kilograms(), spread.Low.Kilograms()) && share != 100 || !near(r.Value.High.Kilograms(), spread.High.Kilograms()) || !near(r.Value.Best.Kilograms(), float64(low)) {
				t.Fatalf("%q: got %v, %v; want %v", text, r.Value, err, spread)
			}
		}
	})
}

// TestFractionsReadBack writes whole and part in the ways a rule is read.
func TestFractionsReadBack(t *testing.T) {
	words := map[int]string{2: "half", 4: "quarter", 8: "eighth", 16: "sixteenth"}
	for whole := 0; whole < 13; whole++ {
		for _, below := range []int{2, 4, 8, 16} {
			for above := 1; above < below; above += 2 {
				want := unit.Inches(float64(whole) + float64(above)/float64(below))
				forms := []string{fmt.Sprintf("%d/%d in", above, below), fmt.Sprintf("%d/%d\"", above, below),
					fmt.Sprintf("%s %ss of an inch", spell(above), words[below])}
				if whole > 0 {
					forms = []string{fmt.Sprintf("%d %d/%d in", whole, above, below), fmt.Sprintf("%d-%d/%d\"", whole, above, below),
						fmt.Sprintf("%d and %d/%d inches", whole, above, below),
						fmt.Sprintf("%s and %s %ss inches", spell(whole), spell(above), words[below])}
				}
				for _, text := range forms {
					text = strings.ReplaceAll(text, "halfs", "half")
					r, err := ReadLength(text)
					if err != nil || !near(r.Value.Low.Inches(), want.Inches()) || r.Value.Low != r.Value.High {
						t.Errorf("%q: got %v, %v; want %v in", text, r.Value, err, want.Inches())
					}
				}
			}
		}
	}
}

// TestFeetAndInchesReadBack writes a length as a carpenter does.
func TestFeetAndInchesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		feet, inches := rapid.IntRange(1, 300).Draw(t, "feet"), rapid.IntRange(0, 11).Draw(t, "inches")
		for _, form := range []string{"%d ft %d in", "%d'%d\"", "%d' %d\"", "%d'-%d\"", "%d feet %d inches", "%d foot %d", "%d'%d", "%d ft. %d in."} {
			text := fmt.Sprintf(form, feet, inches)
			r, err := ReadLength(text)
			if err != nil || !near(r.Value.Low.Inches(), float64(12*feet+inches)) || r.Unit != "ft" {
				t.Fatalf("%q: got %+v, %v", text, r, err)
			}
		}
	})
}

// TestSlopesReadBack compares the four ways to say one slope.
func TestSlopesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rise, along := rapid.IntRange(0, 99).Draw(t, "rise"), rapid.IntRange(100, 400).Draw(t, "along")
		tangent := unit.Rise(unit.Centimetres(float64(rise)), unit.Centimetres(float64(along)))
		sine, err := unit.Incline(unit.Centimetres(float64(rise)), unit.Centimetres(float64(along)))
		if err != nil {
			t.Fatal(err)
		}
		for text, want := range map[string]unit.Angle{
			fmt.Sprintf("%d in %d", rise, along):                    tangent,
			fmt.Sprintf("level %d cm, gap %d cm", along, rise):      tangent,
			fmt.Sprintf("gap %d cm level %d cm", rise, along):       tangent,
			fmt.Sprintf("%.15g %%", tangent.Percent()):              tangent,
			fmt.Sprintf("%.15g deg", tangent.Degrees()):             tangent,
			fmt.Sprintf("board %d cm, rise %d cm", along, rise):     sine,
			fmt.Sprintf("%d cm rise on a %d cm board", rise, along): sine,
		} {
			r, err := ReadSlope(text)
			if err != nil || math.Abs(float64(r.Value.Best-want)) > 1e-12 || r.Value.Low != r.Value.High {
				t.Fatalf("%q: got %v, %v; want %v", text, r.Value, err, want)
			}
			if shown := strings.Contains(text, "cm"); r.Measured != shown {
				t.Fatalf("%q: measured is %v", text, r.Measured)
			}
		}
		if rise > 0 && !(sine > tangent) {
			t.Fatalf("%d in %d: a board shows %v, a level %v", rise, along, sine, tangent)
		}
	})
}

// TestCountsReadBack reads whole numbers in figures and words.
func TestCountsReadBack(t *testing.T) {
	for n := 0; n <= mostCount; n += 1 + n/40 {
		for _, text := range []string{strconv.Itoa(n), spell(n)} {
			if got, err := ReadCount(text); err != nil || got != n {
				t.Errorf("%q: got %d, %v", text, got, err)
			}
		}
	}
	for text, want := range map[string]int{"a couple": 2, "a dozen": 12, "1,200": 1200} {
		if got, err := ReadCount(text); err != nil || got != want {
			t.Errorf("%q: got %d, %v; want %d", text, got, err, want)
		}
	}
}
