package sum

import (
	"bytes"
	"encoding/json"
	"strconv"
	"strings"

	"linetender/calc/bound"
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

// A Figure is one result. Exactly one of the three kinds is in it: a whole
// number, a yes or no, or else Value.
type Figure struct {
	Name  string            // with the unit at its end: tension_n
	Unit  string            // the same unit: n, kg, m, deg, j, or empty for a pure number
	Value bound.Of[float64] // SI, degrees for an angle; Best is the book's figure
	By    End               // which end to plan with
	Count *int              // of a whole number
	Holds *bool             // of a yes or no
}

// Ranged reports whether the figure is not known exactly.
func (f Figure) Ranged() bool { return f.Value.Low != f.Value.High }

// Plan returns the end of Value to plan with.
func (f Figure) Plan() float64 {
	if f.By == Low {
		return f.Value.Low
	}
	return f.Value.High
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
			field(f.Name, written(f.Value.Best))
			if f.Ranged() {
				field(f.rangeName(), `{"low":`+written(f.Value.Low)+`,"best":`+written(f.Value.Best)+`,"high":`+written(f.Value.High)+`}`)
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
