package bound

import (
	"errors"
	"math"
	"strings"
	"testing"
)

type reader string

const (
	mass   reader = "mass"
	force  reader = "force"
	length reader = "length"
	slope  reader = "slope"
	angle  reader = "angle"
	ratio  reader = "ratio"
	count  reader = "count"
)

// read runs the named reader for its error.
func (r reader) read(text string) (err error) {
	switch r {
	case mass:
		_, err = ReadMass(text)
	case force:
		_, err = ReadForce(text)
	case length:
		_, err = ReadLength(text)
	case slope:
		_, err = ReadSlope(text)
	case angle:
		_, err = ReadAngle(text)
	case ratio:
		_, err = ReadRatio(text)
	case count:
		_, err = ReadCount(text)
	}
	return err
}

// refusals are texts that must not be read, and what is told to be wrong.
var refusals = []struct {
	reader  reader
	text    string
	problem string
}{
	{mass, "heavy", "is no weight"},
	{mass, "", "is empty"},
	{mass, " \u00a0 ", "is empty"},
	{mass, "2400", "has no unit"},
	{mass, "thousand", "has no unit"},
	{mass, "2 to 3", "has no unit"},
	{mass, "2400 ± 10%", "has no unit"},
	{mass, "2 t to 3", "has no unit with the second figure"},
	{mass, "2400 kg +/- 10", "has a spread without a unit"},
	{mass, "kg", "has no number"},
	{mass, "ton", "has no number"},
	{mass, "10 kN", "has no unit of weight"},
	{mass, "12 m", "has no unit of weight"},
	{mass, "1e400 kg", "has no unit of weight"},
	{mass, "1e3 kg", "has no unit of weight"},
	{mass, "2 tish", "has no unit of weight"},
	{mass, "nan kg", "is no weight"},
	{mass, "inf kg", "is no weight"},
	{mass, "0x10 kg", "has no unit of weight"},
	{mass, "٣ kg", "is no weight"},
	{mass, "-5 kg", "is below zero"},
	{mass, "−5 kg", "is below zero"},
	{mass, "minus 5 kg", "is below zero"},
	{mass, "2 to -3 t", "is below zero"},
	{mass, "2400 kg ± 2500 kg", "spreads below zero"},
	{mass, "2400 kg ± 150%", "has a spread over 100 %"},
	{mass, "2.4 t loaded", "says more than one weight"},
	{mass, "2 t + 300", "has no unit"},
	{mass, "2 + 3 t", "has no unit"},
	{mass, "2 t + 300 kg ± 10%", "says more than one weight"},
	{force, "3.25 t + 3.25 t", "says more than one force"},
	{mass, "2.4 t 2.4 t", "says more than one weight"},
	{mass, "2.2t/2.6t", "says more than one weight"},
	{mass, "2 t 200 t", "says more than one weight"},
	{mass, "1 t 2000 kg", "says more than one weight"},
	{mass, "2.6 to 2.2 t", "is upside down"},
	{mass, "800 to 1.2 t", "is upside down"},
	{mass, "2 to 3 t ± 10%", "has more than one range or spread"},
	{mass, "2 t ± 10% ± 5%", "has more than one range or spread"},
	{mass, "over 2 t", "leaves one end open"},
	{mass, "at least 2 t", "leaves one end open"},
	{mass, "up to 3 t", "leaves one end open"},
	{mass, "less than 3 t", "leaves one end open"},
	{mass, "<3 t", "leaves one end open"},
	{mass, "between 2 t", "leaves one end open"},
	{mass, "2,400 t", "may mean two things, a thousand times apart"},
	{mass, "1,500 to 2,000 t", "may mean two things, a thousand times apart"},
	{mass, "1,500 to 2000 t", "may mean two things, a thousand times apart"},
	{mass, "1,500 ± 0.1 t", "may mean two things, a thousand times apart"},
	{mass, "2.400 kg", "may mean two things, a thousand times apart"},
	{mass, "5.200 lb", "may mean two things, a thousand times apart"},
	{mass, "1,23,4 kg", "has a figure that can not be told: 1,23,4"},
	{mass, "1,2345,678 kg", "has a figure that can not be told: 1,2345,678"},
	{mass, "1.2.3 kg", "has a figure that can not be told: 1.2.3"},
	{mass, "1,234.567,8 kg", "has a figure that can not be told: 1,234.567,8"},
	{mass, "05,200 lb", "has a figure that can not be told: 05,200"},
	{mass, "12 000,500 kg", "has a figure that can not be told: 12 000,500"},
	{mass, "11/2 t", "has a fraction of one or more"},
	{mass, "1/0 t", "has a fraction of one or more"},
	{mass, "a thousand and a half kg", "has no unit of weight"},
	{mass, "1 1/2 point 4 t", "has no unit of weight"},
	{mass, "2.4 t and a half", "says more than one weight"},
	{mass, "half a ton and a half", "says more than one weight"},
	{mass, "one hundred and one hundred kg", "has no unit of weight"},
	{mass, "half", "has no unit"},
	{mass, "2400 kg\x80", "is not readable text"},
	{mass, strings.Repeat("2", 200) + " kg", "is too long"},
	{force, "strong", "is no force"},
	{force, "2400", "has no unit"},
	{force, "1,250 kN", "may mean two things, a thousand times apart"},
	{force, "5.000 N", "may mean two things, a thousand times apart"},
	{length, "12 paces", "has no unit of length"},
	{length, "12", "has no unit"},
	{length, "3 ft 14 in", "says more than one length"},
	{length, "3 ft 1/2", "says more than one length"},
	{length, "3.5 ft 2 in", "says more than one length"},
	{length, "1 m 20", "says more than one length"},
	{length, "3 to 3'6\"", "has no unit with the first figure"},
	{length, "1,250 m", "may mean two things, a thousand times apart"},
	{length, "9,525 mm", "may mean two things, a thousand times apart"},
	{length, "2.000 mm", "may mean two things, a thousand times apart"},
	{length, "5/4 in", "has a fraction of one or more"},
	{slope, "steep", "is no slope"},
	{slope, "30", "has no unit"},
	{slope, "90 deg", "is upright or steeper"},
	{slope, "99999999999999999999 %", "is upright or steeper"},
	{slope, "80 to 95 deg", "is upright or steeper"},
	{slope, "board 1 m, rise 1 m", "is upright or steeper"},
	{slope, "-14 deg", "is below zero"},
	{slope, "1 in 0", "is no slope"},
	{slope, "4:1", "is no slope"},
	{slope, "1 in 4 to 5", "has no unit with the second figure"},
	{slope, "14 deg 30 deg", "says more than one slope"},
	{slope, "5% ± 10%", "spreads below zero"},
	{slope, "14,500 deg", "may mean two things, a thousand times apart"},
	{slope, "16 to 14 deg", "is upside down"},
	{slope, "board 9 in, rise 48 in", "has a rise above the length of the board"},
	{slope, "board 2 m, rise 1 to 3 m", "has a rise above the length of the board"},
	{slope, "level 0 in, gap 3 in", "has a level of no length"},
	{slope, "level 48, gap 9 in", "has a level that has no unit"},
	{slope, "level 48 in, gap 9", "has a gap that has no unit"},
	{slope, "level 48 in", "is no level with its gap and no board with its rise"},
	{slope, "level 48 in, rise 9 in", "is no level with its gap and no board with its rise"},
	{slope, "level 48 in, gap 9 in, gap 3 in", "is no level with its gap and no board with its rise"},
	{slope, "board level", "is no level with its gap and no board with its rise"},
	{slope, "level 48 in 9 in gap", "is no level with its gap and no board with its rise"},
	{slope, "30 in 10 on the board", "is no level with its gap and no board with its rise"},
	{angle, "400 deg", "is more than a full turn"},
	{angle, "350 to 370 deg", "is more than a full turn"},
	{angle, "25 %", "is no angle"},
	{angle, "30", "has no unit"},
	{ratio, "most", "leaves one end open"},
	{ratio, "3 kg", "has no unit of number"},
	{ratio, "0.7 to 0.6", "is upside down"},
	{count, "1.5", "is no whole number"},
	{count, "many", "is no number"},
	{count, "4 people", "says more than one number"},
	{count, "10000", "is too many"},
	{count, "", "is empty"},
}

func TestRefusals(t *testing.T) {
	for _, tc := range refusals {
		err := tc.reader.read(tc.text)
		var e *ReadError
		switch {
		case !errors.As(err, &e):
			t.Errorf("%s %q: got error %v, want a ReadError", tc.reader, tc.text, err)
		case e.Problem != tc.problem:
			t.Errorf("%s %q: told that it %s, want %s", tc.reader, tc.text, e.Problem, tc.problem)
		}
	}
}

// TestSentences shows the refusals as people see them.
func TestSentences(t *testing.T) {
	for _, tc := range []struct {
		reader     reader
		text, want string
	}{
		{mass, "heavy", `"heavy" is no weight; write a number and a unit, such as 2400 kg or 5200 lb`},
		{mass, "2,400 t", `"2,400 t" may mean two things, a thousand times apart; write the one that is meant, such as 2400 t or 2.4 t`},
		{mass, "2.400 kg", `"2.400 kg" may mean two things, a thousand times apart; write the one that is meant, such as 2400 kg or 2.4 kg`},
		{mass, "2.6 to 2.2 t", `"2.6 to 2.2 t" is upside down; write the smaller figure first, such as 2.2 to 2.6 t`},
		{slope, "board 9 in, rise 48 in", `"board 9 in, rise 48 in" has a rise above the length of the board; write a rise that is less than the board, such as board 48 in, rise 9 in`},
		{angle, "30", `"30" has no unit; write it in degrees, such as 30 deg`},
	} {
		if err := tc.reader.read(tc.text); err == nil || err.Error() != tc.want {
			t.Errorf("%q:\n got %v\nwant %s", tc.text, err, tc.want)
		}
	}
}

// TestExamplesAreRead makes sure that what an error suggests would be read.
func TestExamplesAreRead(t *testing.T) {
	readers := map[*dimension]reader{massText: mass, forceText: force, lengthText: length, angleText: angle, ratioText: ratio}
	for d, r := range readers {
		split := strings.NewReplacer(", ", "|", " or ", "|").Replace(d.example)
		for _, text := range append(strings.Split(split, "|"), d.ranges, d.other) {
			if err := r.read(text); err != nil {
				t.Errorf("the example of a %s is refused: %v", d.noun, err)
			}
		}
	}
	for _, text := range []string{"14 deg", "25 %", "1 in 4", "level 48 in, gap 9 in", slopeText.ranges, slopeText.other} {
		if err := slope.read(text); err != nil || !strings.Contains(slopeText.example+slopeText.ranges+slopeText.other, text) {
			t.Errorf("the example of a slope is refused, or not the example: %v", err)
		}
	}
}

func TestLongTextIsCutBetweenCharacters(t *testing.T) {
	err := mass.read(strings.Repeat("½", 150))
	var e *ReadError
	if !errors.As(err, &e) || e.Text != strings.Repeat("½", 30)+"…" {
		t.Errorf("got %v, want 30 characters and an ellipsis", err)
	}
}

func TestOverflowIsRefused(t *testing.T) {
	for _, p := range []phrase{{high: math.Inf(1)}, {low: math.NaN()}, {best: math.NaN()}, {low: 2, best: 1, high: 3}} {
		if got, f := massText.checked(p); f == nil || got != (phrase{}) {
			t.Errorf("%+v passes as %+v", p, got)
		}
	}
}
