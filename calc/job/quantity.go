package job

import (
	"errors"
	"math"
	"slices"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/unit"
)

func (r *reader) mass(path, text string, m Mass) {
	if !(m.Low > 0) {
		r.fail(refuse(path, "%q is no weight at all; write what it weighs, such as 2400 kg", text))
	}
	if most, row := handbook.MassRefused(); m.High > most {
		r.fail(refuse(path, "%q is over %s; write the weight of one vehicle", text, row.Span()))
	}
}

// atLeast lays a spread about a figure. What was told of its ends counts where
// it is wider: no word makes a guess truer than a guess is. Who tells both ends
// has weighed up in them how it was found, so that about their middle only the
// finest way of finding is laid.
func atLeast[Q bound.Quantity](read bound.Reading[Q], share bound.Ratio) bound.Of[Q] {
	k := float64(share)
	return bound.Of[Q]{Low: min(read.Value.Low, read.Bare.Scale(1-k).Low), Best: read.Value.Best, High: max(read.Value.High, read.Bare.Scale(1+k).High)}
}

// justUnder is by how little a spread stops before an angle that no figure may
// reach, so that it makes nothing of what was told that could not be told.
var justUnder = unit.Degrees(0.1)

// slope reads a slope and lays the spread of how it was found about it, as
// atLeast does. A level or a board is measured whatever from says.
func (r *reader) slope(path, text, fromPath, from string) *Angle {
	a, _ := r.slopeTold(path, text, fromPath, from)
	return a
}

// slopeTold is slope, with the unit in which it was told.
func (r *reader) slopeTold(path, text, fromPath, from string) (slope *Angle, in string) {
	from = r.word(fromPath, from, SlopeFroms)
	if text == "" {
		return nil, ""
	}
	read, err := bound.ReadSlope(text)
	if err != nil {
		r.refused(path, err)
		return nil, ""
	}
	a := read.Value
	if a.Low < 0 || a.High >= unit.Degrees(90) {
		r.fail(refuse(path, "%q is no slope; write one from 0 to under 90 deg and say which way with pull", text))
	}
	if read.Measured || read.Ends {
		from = "level"
	} else if from == "" {
		from = "eye"
		r.supply(fromPath, "eye", "nobody said how the slope was found")
	}
	spread, _, _ := handbook.SlopeSpread(from)
	top := unit.Degrees(90) - justUnder
	return &Angle{Low: min(a.Low, read.Bare.Low-spread), Best: a.Best, High: max(a.High, min(read.Bare.High+spread, top))}, read.Unit
}

// offLine reads how far a line leads off the way the load will move and lays the
// spread of how it was found about it, as atLeast does. Nobody has a protractor
// there: what was not said to be measured was sighted.
func (r *reader) offLine(path, text, from string) *Angle {
	from = r.word(path+"_from", from, OffLineFroms)
	if text == "" {
		return nil
	}
	read, err := bound.ReadAngle(text)
	if err != nil {
		r.refused(path, err)
		return nil
	}
	a := zeroable(r, path, text, bound.ReadAngle)
	if a == nil {
		return nil
	}
	refused, row := handbook.OffLineRefused()
	if a.High >= refused {
		r.fail(refuse(path, "%q is too far off the line; write an angle under %s", text, row.Span()))
		return nil
	}
	switch {
	case read.Ends:
		return a
	case from == "":
		from = "eye"
		r.supply(path+"_from", "eye", "nobody said how the angle of the line was found")
	}
	spread, _, _ := handbook.OffLineSpread(from)
	top := refused - justUnder
	return &Angle{Low: max(0, min(a.Low, read.Bare.Low-spread)), Best: a.Best, High: max(a.High, min(read.Bare.High+spread, top))}
}

// rating keeps what is stamped. A figure without its kind stays without: a
// breaking load taken for a working load is what kills. A figure on an
// unmarked piece is somebody's guess; the kind says that it counts nothing.
func (r *reader) rating(path, figure, kind string) Rating {
	return r.rated(path+".rating", figure, kind)
}

func (r *reader) rated(field, figure, kind string) Rating {
	out := Rating{Kind: r.word(field+"_kind", kind, RatingKinds)}
	if out.Force = r.force(field, figure); out.Force != nil {
		out.Told = figure
		_, err := bound.ReadMass(figure)
		out.AsWeight = err == nil
	}
	return out
}

func count(n *int) int {
	if n == nil {
		return 1
	}
	return *n
}

// word returns text when it is one of words, "" when it is empty.
func (r *reader) word(path, text string, words []string) string {
	if text == "" || slices.Contains(words, text) {
		return text
	}
	if near := Nearest(strings.ToLower(text), words); near != "" {
		r.fail(refuse(path, "%q is not a word for this; the nearest is %q (of %s)", clip(text), near, strings.Join(words, ", ")))
	} else {
		r.fail(refuse(path, "%q is not a word for this; write one of %s", clip(text), strings.Join(words, ", ")))
	}
	return ""
}

func (r *reader) share(path string, v *float64) *Share {
	if v == nil {
		return nil
	}
	if !(0 <= *v && *v <= 1) {
		r.fail(refuse(path, "%v is no share; write a number from 0 to 1, such as 0.5", *v))
		return nil
	}
	s := bound.Exactly(bound.Ratio(*v))
	return &s
}

func (r *reader) length(path, text string) *Length {
	return positive(r, path, text, bound.ReadLength)
}

func (r *reader) force(path, text string) *Force {
	return positive(r, path, text, bound.ReadForce)
}

// positive reads a quantity that can't be zero.
func positive[Q bound.Quantity](r *reader, path, text string, read func(string) (bound.Reading[Q], error)) *bound.Of[Q] {
	if text == "" {
		return nil
	}
	v := zeroable(r, path, text, read)
	if v != nil && !(v.Low > 0) {
		r.fail(refuse(path, "%q is nothing; write what it is, above zero", clip(text)))
		return nil
	}
	return v
}

func zeroable[Q bound.Quantity](r *reader, path, text string, read func(string) (bound.Reading[Q], error)) *bound.Of[Q] {
	got, err := read(text)
	if err != nil {
		r.refused(path, err)
		return nil
	}
	v := got.Value
	if v.Low < 0 || math.IsInf(float64(v.High), 0) {
		r.fail(refuse(path, "%q can't be; write a figure that is not below zero", clip(text)))
		return nil
	}
	return &v
}

// refused passes a reader's sentence on under the field's name.
func (r *reader) refused(path string, err error) {
	var bad *bound.ReadError
	if errors.As(err, &bad) {
		r.fail(&FieldError{Path: path, Problem: bad.Error()})
		return
	}
	r.fail(refuse(path, "%v", err))
}

// clip keeps a refusal on one short line whatever was written.
func clip(text string) string {
	if len(text) <= 40 {
		return text
	}
	cut := 40
	for cut > 0 && text[cut]&0xC0 == 0x80 {
		cut--
	}
	return text[:cut] + "…"
}
