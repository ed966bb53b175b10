package sum

import (
	"bytes"
	"encoding/json"
	"strconv"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

// A Result is the answer to one sum. Its JSON is
//
//	{"name", "result": {...}, "working": [{"step", "value"}], "source"}
type Result struct {
	Name    string  `json:"name"`
	Figures Figures `json:"result"`
	Working []Step  `json:"working"`
	Source  string  `json:"source"`
}

// A Step is one line of the working: the formula in words, then the numbers that
// go in and the one that comes out.
type Step struct {
	Step  string `json:"step"`
	Value string `json:"value"`
}

// An End says which end of a figure that is not known exactly a plan goes by.
type End int

// High is the end of a load, Low that of a capacity.
const (
	High End = iota
	Low
)

// A Figure is one result: a whole number, a yes or no, or else one kind of
// quantity, which the accessor of that kind gives. Best is the book's figure.
type Figure struct {
	Name  string // with the unit at its end: tension_n
	Unit  string // the same unit: n, kg, m, deg, j, or empty for a pure number
	By    End    // which end to plan with
	Count *int   // of a whole number
	Holds *bool  // of a yes or no

	value figure // SI, degrees for an angle
}

// Ranged reports whether the figure is not known exactly.
func (f Figure) Ranged() bool { return f.value.Low != f.value.High }

// Force returns the figure as a force, false where it is none.
func (f Figure) Force() (bound.Of[unit.Force], bool) { return as(f, "n", unit.Newtons) }

// Mass returns the figure as a mass, false where it is none.
func (f Figure) Mass() (bound.Of[unit.Mass], bool) { return as(f, "kg", unit.Kilograms) }

// Length returns the figure as a length, false where it is none.
func (f Figure) Length() (bound.Of[unit.Length], bool) { return as(f, "m", unit.Metres) }

// Angle returns the figure as an angle, false where it is none.
func (f Figure) Angle() (bound.Of[unit.Angle], bool) { return as(f, "deg", unit.Degrees) }

// Energy returns the figure as an energy, false where it is none.
func (f Figure) Energy() (bound.Of[unit.Energy], bool) { return as(f, "j", unit.Joules) }

// Ratio returns the figure as a pure number, false where it is none.
func (f Figure) Ratio() (bound.Of[bound.Ratio], bool) {
	return as(f, "", func(x float64) bound.Ratio { return bound.Ratio(x) })
}

func as[Q bound.Quantity](f Figure, in string, of func(float64) Q) (bound.Of[Q], bool) {
	if f.Unit != in || f.Count != nil || f.Holds != nil {
		return bound.Of[Q]{}, false
	}
	return bound.Of[Q]{Low: of(f.value.Low), Best: of(f.value.Best), High: of(f.value.High)}, true
}

// Plan returns the end of a figure to plan with.
func Plan[Q bound.Quantity](v bound.Of[Q], by End) Q {
	if by == Low {
		return v.Low
	}
	return v.High
}

// rangeName puts the word in before the unit, which stays at the end.
func (f Figure) rangeName() string {
	if f.Unit == "" {
		return f.Name + "_range"
	}
	return strings.TrimSuffix(f.Name, "_"+f.Unit) + "_range_" + f.Unit
}

// Figures are results in the order in which a sum gives them.
type Figures []Figure

// Get returns the figure of that name.
func (fs Figures) Get(name string) (Figure, bool) {
	for _, f := range fs {
		if f.Name == name {
			return f, true
		}
	}
	return Figure{}, false
}

// MarshalJSON writes one object, a field a figure, and a range beside each
// figure that is not known exactly.
func (fs Figures) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	field := func(name, value string) {
		if b.Len() > 1 {
			b.WriteByte(',')
		}
		b.WriteString(strconv.Quote(name) + ":" + value)
	}
	b.WriteByte('{')
	for _, f := range fs {
		switch {
		case f.Count != nil:
			field(f.Name, strconv.Itoa(*f.Count))
		case f.Holds != nil:
			field(f.Name, strconv.FormatBool(*f.Holds))
		default:
			field(f.Name, written(f.value.Best))
			if f.Ranged() {
				field(f.rangeName(), `{"low":`+written(f.value.Low)+`,"best":`+written(f.value.Best)+`,"high":`+written(f.value.High)+`}`)
			}
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// digits that a figure is written with: past them lies only what a processor's
// rounding made of it, which differs from one to the next.
const digits = 12

// written returns x as JSON has it.
func written(x float64) string {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	if err != nil {
		panic("sum: " + err.Error())
	}
	text, err := json.Marshal(rounded)
	if err != nil {
		panic("sum: " + err.Error()) // a figure that is not finite was refused before
	}
	return string(text)
}
