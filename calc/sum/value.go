package sum

import (
	"fmt"
	"slices"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/unit"
)

// read reads a key as a quantity and writes it down, in SI, as the first steps of
// the working. Zero is refused unless the key takes it.
func read[Q bound.Quantity](s *sheet, name string, reader func(string) (bound.Reading[Q], error), si func(float64) string) bound.Reading[Q] {
	k, _ := s.entry.key(name)
	text := s.args[name]
	r, err := reader(text)
	switch {
	case s.err != nil:
		return bound.Reading[Q]{}
	case err != nil:
		s.fail(name, "%s", sentence(err))
		return bound.Reading[Q]{}
	case !k.zero && !(r.Value.Low > 0):
		s.fail(name, "%q is nothing to work with; write more than zero", clip(oneLine(text)))
		return bound.Reading[Q]{}
	}
	if k.rating && r.Vague { // which ton it is nobody knows: a capacity counts as the least of them
		r.Value = bound.Exactly(r.Value.Low)
		s.mind("a ton may be 2,000 lb, 1,000 kg or 2,240 lb", "%s counts as %s, its low end", clip(oneLine(text)), si(float64(r.Value.Low)))
		return r
	}
	s.customary = s.customary || r.System == unit.Customary
	value := si(float64(r.Value.Best))
	if r.Value.Low != r.Value.High {
		value = fmt.Sprintf("%s (%s to %s)", value, si(float64(r.Value.Low)), si(float64(r.Value.High)))
	}
	if plainly := r.Unit == "deg" && !r.Ranged; !plainly && strings.ReplaceAll(text, " ", "") != strings.ReplaceAll(value, " ", "") {
		s.step(spoken(name)+" as written", "%s = %s", clip(oneLine(text)), value)
	}
	return r
}

// spoken is a key's name in a sentence.
func spoken(name string) string {
	if name == "of" {
		return "slope"
	}
	return strings.ReplaceAll(name, "_", " ")
}

func siMass(kg float64) string  { return num(kg) + " kg" }
func siForce(n float64) string  { return num(n) + " N" }
func siLength(m float64) string { return num(m) + " m" }
func siPure(x float64) string   { return num(x) }

// mass reads a mass, not over the most that a case may have.
func (s *sheet) mass(name string) bound.Of[unit.Mass] {
	r := read(s, name, readMass, siMass)
	most, _ := handbook.MassRefused()
	if s.err == nil && r.Value.High > most {
		s.fail(name, "%s is over %s t; write what one vehicle weighs, such as 2400 kg", clip(oneLine(s.args[name])), num(most.Tonnes()))
	}
	return r.Value
}

// readMass says so when what was written is a force.
func readMass(text string) (bound.Reading[unit.Mass], error) {
	r, err := bound.ReadMass(text)
	if err != nil {
		if f, wrong := bound.ReadForce(text); wrong == nil {
			return r, fmt.Errorf("%q is a force; write a mass, such as %s kg for that weight",
				clip(oneLine(text)), num(f.Value.Best.KilogramsForce()))
		}
	}
	return r, err
}

// force reads a force. One written as a mass is taken as what that would lift,
// and remembered: it may be a weight taken for a pull.
func (s *sheet) readForce(name string) bound.Of[unit.Force] {
	r := read(s, name, bound.ReadForce, siForce)
	k, _ := s.entry.key(name)
	if s.err == nil && !k.rating && slices.Contains([]string{"kg", "t", "lb", "st", "ton", "short ton", "long ton", "cwt", "short cwt", "long cwt"}, r.Unit) {
		s.weighed = append(s.weighed, weighed{name, clip(oneLine(s.args[name])), r.Value.Best})
	}
	return r.Value
}

// mindWeights warns of every force that was written as a mass.
func (s *sheet) mindWeights() {
	for _, w := range s.weighed {
		s.mind("a weight is no pull", "%s was taken as a %s of %s; if it is what a vehicle weighs, what it takes to move it is another figure: sum grade, and what rolls or drags",
			w.text, spoken(w.key), s.newtons(w.f.Newtons()))
	}
}

func (s *sheet) length(name string) bound.Of[unit.Length] {
	return read(s, name, bound.ReadLength, siLength).Value
}

func (s *sheet) slope(name string) bound.Reading[unit.Angle] {
	return read(s, name, bound.ReadSlope, degrees)
}

// turn reads an angle between two lines, up to 180°.
func (s *sheet) turn(name string) bound.Of[unit.Angle] {
	r := read(s, name, func(text string) (bound.Reading[unit.Angle], error) {
		r, err := bound.ReadAngle(text)
		if err != nil {
			if slope, wrong := bound.ReadSlope(text); wrong == nil {
				return slope, nil
			}
		}
		return r, err
	}, degrees)
	if s.err == nil && r.Value.High.Degrees() > 180 {
		s.fail(name, "%s is more than straight through; write the inside angle between the two lines, 0 to 180 deg", clip(oneLine(s.args[name])))
	}
	return r.Value
}

// number reads a pure number from nothing to most.
func (s *sheet) number(name string, most float64) bound.Of[bound.Ratio] {
	r := read(s, name, bound.ReadRatio, siPure)
	if s.err == nil && float64(r.Value.High) > most {
		s.fail(name, "%s is too much; write a number up to %s", clip(oneLine(s.args[name])), num(most))
	}
	return r.Value
}

// whole reads a whole number from the key's least to most.
func (s *sheet) whole(name string, most int) int {
	if s.err != nil {
		return 0
	}
	k, _ := s.entry.key(name)
	n, err := bound.ReadCount(s.args[name])
	switch {
	case err != nil:
		s.fail(name, "%s", sentence(err))
	case n < k.least || n > most:
		s.fail(name, "%d does not fit; write a whole number from %d to %d", n, k.least, most)
	}
	return n
}

// word reads one of the key's words.
func (s *sheet) word(name string) string {
	if s.err != nil {
		return ""
	}
	k, _ := s.entry.key(name)
	text := strings.ToLower(oneLine(s.args[name]))
	if w, ok := k.fits(text); ok {
		return w
	}
	list := strings.Join(k.words, ", ")
	if near := job.Nearest(text, k.words); near != "" && len(text) > 2 {
		s.fail(name, "%q is not a word for this; the nearest is %q (of %s)", clip(text), near, list)
		return ""
	}
	s.fail(name, "%q is not a word for this; write one of %s", clip(text), list)
	return ""
}

// fits finds the word that text stands for: 1 in 3 is 1:3, G70 and grade 70 are 70.
func (k key) fits(text string) (string, bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, try := range []string{
		text,
		strings.ReplaceAll(text, " ", "-"),
		strings.ReplaceAll(strings.ReplaceAll(text, " ", ""), "in", ":"),
		strings.TrimPrefix(strings.TrimSpace(strings.TrimPrefix(text, "grade")), "g"),
	} {
		if slices.Contains(k.words, try) {
			return try, true
		}
	}
	return "", false
}
