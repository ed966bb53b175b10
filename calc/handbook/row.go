package handbook

import (
	"fmt"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

// Row is one value of one table, in the unit its source printed.
type Row struct {
	Table, Key      string
	low, best, high float64
	Unit            string // as in the units list of this file
	Source          string // a published document, "common practice" or "judgment"
	Place           string // chapter, table or page in Source; which end came from where
	Read            string // read, second-hand, computed, common practice, from memory
}

// How a figure was got, surest first. A row that joins several sources carries
// the least sure of those that set one of its ends.
const (
	ReadThere      = "read"
	SecondHand     = "second-hand"
	Computed       = "computed"
	CommonPractice = "common practice"
	FromMemory     = "from memory"
)

// Cite returns the source as a reader would look it up: "NAVEDTRA 14251
// Steelworker V2, ch. 6", "common practice", "Peurifoy, Construction Planning,
// from memory".
func (r Row) Cite() string {
	cite := r.Source
	if r.Place != "" {
		cite += ", " + r.Place
	}
	if (r.Read == FromMemory || r.Read == SecondHand) && !strings.Contains(cite, r.Read) {
		cite += ", " + r.Read
	}
	return cite
}

// Assumed reports whether the figure must be shown to the user as an
// assumption: no published page was opened for it.
func (r Row) Assumed() bool { return r.Read == CommonPractice || r.Read == FromMemory }

// IsForce reports whether the figure is a force.
func (r Row) IsForce() bool { _, ok := forces[r.Unit]; return ok }

// Figure writes the row's best as it is printed, without its unit: for the
// working of a sum, which says the unit in words.
func (r Row) Figure() string { return fmt.Sprintf("%g", r.best) }

// Span writes the row as it is printed: "8 kN", "0.05 to 0.16 ratio".
func (r Row) Span() string {
	if r.low == r.high {
		return fmt.Sprintf("%g %s", r.best, r.Unit)
	}
	return fmt.Sprintf("%g to %g %s", r.low, r.high, r.Unit)
}

// String names the row for an error or a log.
func (r Row) String() string { return r.Table + "/" + r.Key }

// Ratio returns the row as a pure number.
func (r Row) Ratio() bound.Of[bound.Ratio] {
	return spread(r, numbers)
}

// Force returns the row as a force.
func (r Row) Force() bound.Of[unit.Force] { return spread(r, forces) }

// Mass returns the row as a mass.
func (r Row) Mass() bound.Of[unit.Mass] { return spread(r, masses) }

// Length returns the row as a length.
func (r Row) Length() bound.Of[unit.Length] { return spread(r, lengths) }

// Angle returns the row as an angle.
func (r Row) Angle() bound.Of[unit.Angle] { return spread(r, angles) }

// Pressure returns the row as a pressure.
func (r Row) Pressure() bound.Of[unit.Pressure] { return spread(r, pressures) }

// Duration returns the row as a span of time.
func (r Row) Duration() bound.Of[unit.Duration] { return spread(r, durations) }

// Count returns the row's best as a whole number of people, wraps or turns.
func (r Row) Count() int {
	if r.Unit != "count" {
		panic(fmt.Sprintf("handbook: %v is in %q, no count", r, r.Unit))
	}
	return int(r.best)
}

// The units a table may be written in, and what turns each into a quantity. A
// rule's coefficient is a force for a size of one inch or one millimetre,
// multiplied by the size squared; see rule.go.
var (
	forces = map[string]func(float64) unit.Force{
		"N":   unit.Newtons,
		"kN":  unit.Kilonewtons,
		"lbf": unit.PoundsForce,
		"kgf": unit.KilogramsForce,
		"tf":  unit.TonnesForce,
	}
	squares = map[string]func(float64) unit.Force{
		"lbf/in2":        unit.PoundsForce,
		"short tonf/in2": func(t float64) unit.Force { return unit.Weight(unit.ShortTons(t)) },
		"kgf/mm2":        unit.KilogramsForce,
		"N/mm2":          unit.Newtons,
	}
	numbers   = map[string]func(float64) bound.Ratio{"ratio": func(x float64) bound.Ratio { return bound.Ratio(x) }}
	masses    = map[string]func(float64) unit.Mass{"kg": unit.Kilograms, "t": unit.Tonnes}
	lengths   = map[string]func(float64) unit.Length{"m": unit.Metres, "mm": unit.Millimetres, "ft": unit.Feet, "in": unit.Inches}
	angles    = map[string]func(float64) unit.Angle{"deg": unit.Degrees}
	pressures = map[string]func(float64) unit.Pressure{"psf": unit.PoundsPerSquareFoot}
	durations = map[string]func(float64) unit.Duration{"s": unit.Seconds, "min": unit.Minutes}
	plain     = map[string]bool{"ratio": true, "count": true}
)

// spread turns a row into a range of the quantity its unit stands for. A row
// in another quantity's unit is our own mistake.
func spread[Q bound.Quantity](r Row, known map[string]func(float64) Q) bound.Of[Q] {
	of, ok := known[r.Unit]
	if !ok {
		panic(fmt.Sprintf("handbook: %v is in %q, another kind of quantity", r, r.Unit))
	}
	return bound.Of[Q]{Low: of(r.low), Best: of(r.best), High: of(r.high)}
}
