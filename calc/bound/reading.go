package bound

import "linetender/calc/unit"

// Reading is a quantity as someone wrote it. A spread that was told says what
// its teller believes; Bare is what the spread of the way it was found is laid about. Unit is one of
//
//	masses   kg t lb st ton "short ton" "long ton" cwt "short cwt" "long cwt"
//	forces   N daN kN kgf tf lbf kip, and those of masses
//	lengths  mm cm m km in ft yd
//	slopes   deg % "1 in n" level board
//	angles   deg
//	ratios   % or empty
type Reading[Q Quantity] struct {
	Value    Of[Q]       // what was written; a single figure has all three equal
	Bare     Of[Q]       // the figure without the spread that was told about it; of a range, its middle
	Unit     string      // short name of the unit it came in, see below; of a range, that of its second end
	System   unit.System // which family that unit is of; slopes without a length are Metric
	Vague    bool        // a ton or hundredweight that did not say which: Value spans them
	Ranged   bool        // the person gave a range or a spread
	Ends     bool        // the person gave both ends
	Rough    bool        // the person said about, or the like; Value is as written all the same
	Measured bool        // slopes only: with a level or a board and a rule
}

// ReadMass reads a mass in kg, t, lb, st, cwt or a kind of ton, as the trade
// calls a weight. See the package documentation for how it may be written.
//
// Errors: *ReadError.
func ReadMass(text string) (Reading[unit.Mass], error) { return read[unit.Mass](massText, text) }

// ReadForce reads a force in N, daN, kN, kgf, tf, lbf or kip, or as the trade
// writes one, by the mass it would lift: lb, kg, t, tons. A tag's WLL is read so.
//
// Errors: *ReadError.
func ReadForce(text string) (Reading[unit.Force], error) { return read[unit.Force](forceText, text) }

// ReadLength reads a length in mm, cm, m, km, in, ft or yd.
//
// Errors: *ReadError.
func ReadLength(text string) (Reading[unit.Length], error) {
	return read[unit.Length](lengthText, text)
}

// mostAngle is the greatest angle that is read, a full turn.
const mostAngle = 360

// ReadAngle reads an angle that is no slope, in degrees up to a full turn.
//
// Errors: *ReadError.
func ReadAngle(text string) (Reading[unit.Angle], error) {
	r, err := read[unit.Angle](angleText, text)
	if err == nil && !(r.Value.High <= unit.Degrees(mostAngle)) {
		return Reading[unit.Angle]{}, angleText.refuse(text, &fault{problem: "is more than a full turn"})
	}
	return r, err
}

// read lexes and reads text as a quantity of dimension d.
func read[Q Quantity](d *dimension, text string) (Reading[Q], error) {
	tokens, f := tokenize(text)
	if f != nil {
		return Reading[Q]{}, d.refuse(text, f)
	}
	p, f := d.read(tokens)
	if f != nil {
		return Reading[Q]{}, d.refuse(text, f)
	}
	return reading[Q](p), nil
}

func tokenize(text string) ([]token, *fault) {
	if len(text) > longest {
		return nil, &fault{rank: rankValue, problem: "is too long"}
	}
	return lex(text)
}

func reading[Q Quantity](p phrase) Reading[Q] {
	return Reading[Q]{
		Value: Of[Q]{Low: Q(p.low), Best: Q(p.best), High: Q(p.high)},
		Bare:  Of[Q]{Low: Q(p.bareLow), Best: Q(p.best), High: Q(p.bareHigh)}, Unit: p.name,
		System: p.system, Vague: p.vague, Ranged: p.ranged, Ends: p.ends, Rough: p.rough,
	}
}

// refuse makes the error of f.
func (d *dimension) refuse(text string, f *fault) error {
	e := &ReadError{Text: shorten(text), Wants: d.wants, Example: d.example, Problem: f.problem}
	if f.wants != "" {
		e.Wants = f.wants
	}
	if f.example != "" {
		e.Example = f.example
	}
	return e
}
