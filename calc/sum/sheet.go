package sum

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// sheet is one sum being worked out. The first thing that is wrong stays in err;
// what comes after it does no harm and is thrown away.
type sheet struct {
	entry     *entry
	args      map[string]string
	out       Result
	sources   []string
	customary bool // somebody wrote feet or pounds, so answers show them too
	weighed   []weighed
	err       error
}

// weighed is a force that was written as the mass it would lift.
type weighed struct {
	key, text string
	f         unit.Force
}

func (s *sheet) fail(key, format string, args ...any) {
	if s.err == nil {
		s.err = refuse(key, format, args...)
	}
}

// topic takes an error of a topic as one of the key that caused it.
func (s *sheet) topic(key string, err error) {
	if err != nil {
		s.fail(key, "%v", err)
	}
}

// given reports whether a key was written.
func (s *sheet) given(key string) bool {
	_, ok := s.args[key]
	return ok
}

// step adds one line of the working.
func (s *sheet) step(step, format string, args ...any) {
	s.out.Working = append(s.out.Working, Step{Step: step, Value: fmt.Sprintf(format, args...)})
}

// mind adds a line on a mistake that is often made here.
func (s *sheet) mind(mistake, format string, args ...any) {
	s.step("Mind: "+mistake, format, args...)
}

// cite adds a source, once.
func (s *sheet) cite(source string) {
	if source != "" && !slices.Contains(s.sources, source) {
		s.sources = append(s.sources, source)
	}
}

func (s *sheet) row(r handbook.Row) { s.cite(r.Cite()) }

// figure is any quantity as a plain range, in SI.
type figure = bound.Of[float64]

func flat[Q bound.Quantity](v bound.Of[Q]) figure {
	return figure{Low: float64(v.Low), Best: float64(v.Best), High: float64(v.High)}
}

func exactly(x float64) figure { return bound.Exactly(x) }

// over works out f at the bests of its inputs, and at its least and most over
// their ends; f is monotone in each. key is the one to refuse if f fails.
func (s *sheet) over(key string, f func(x []float64) (float64, error), in ...figure) figure {
	if s.err != nil {
		return figure{}
	}
	at := func(x []float64) float64 {
		y, err := f(x)
		s.topic(key, err)
		return y
	}
	best := make([]float64, len(in))
	ends := make([][]float64, len(in))
	for i, v := range in {
		best[i], ends[i] = v.Best, v.Ends()
	}
	v := figure{Best: at(best)}
	v.Low, v.High = bound.Corners(at, ends...)
	if s.err == nil && !v.Ordered() {
		if v.Low <= v.High && math.Abs(v.Best) <= math.MaxFloat64 { // a hair of rounding between the corners and the best
			v.Best = min(max(v.Best, v.Low), v.High)
		}
		if !v.Ordered() {
			s.fail(key, "the answer is too large to write; check the figures and their units")
		}
	}
	if s.err != nil {
		return figure{}
	}
	return v
}

// put adds a result.
func (s *sheet) put(name, unitName string, v figure, by End) {
	s.out.Figures = append(s.out.Figures, Figure{Name: name, Unit: unitName, value: v, By: by})
}

func (s *sheet) count(name string, n int) {
	s.out.Figures = append(s.out.Figures, Figure{Name: name, Count: &n, value: exactly(float64(n))})
}

func (s *sheet) holds(name string, yes bool) {
	s.out.Figures = append(s.out.Figures, Figure{Name: name, Holds: &yes})
}

// planWith ends the working of a figure that is not known exactly.
func (s *sheet) planWith(what string, v figure, by End, say func(float64) string) {
	if v.Low == v.High {
		return
	}
	end, at := "high", v.High
	if by == Low {
		end, at = "low", v.Low
	}
	s.step("plan with the "+end+" end of "+what, "%s, of %s to %s", say(at), say(v.Low), say(v.High))
}

// force puts a result in newtons, its step and the end to plan with.
func (s *sheet) force(name, step, sum string, v figure, by End) {
	s.put(name, "n", v, by)
	s.step(step, "%s = %s", sum, s.newtons(v.Best))
	s.planWith(strings.ReplaceAll(strings.TrimSuffix(name, "_n"), "_", " "), v, by, s.newtons)
}

func (s *sheet) newtons(n float64) string {
	if s.customary {
		return fmt.Sprintf("%s N (%s lbf)", num(n), num(unit.Newtons(n).PoundsForce()))
	}
	return num(n) + " N"
}

func (s *sheet) metres(m float64) string {
	if s.customary {
		return fmt.Sprintf("%s m (%s ft)", num(m), num(unit.Metres(m).Feet()))
	}
	return num(m) + " m"
}

func degrees(a float64) string { return num(unit.Radians(a).Degrees()) + "°" }

// figures that a number in the working shows.
const figures = 5

// num writes x with five figures and no exponent, so that it can be keyed in.
func num(x float64) string {
	if x == 0 {
		return "0"
	}
	places := min(max(0, figures-1-int(math.Floor(math.Log10(math.Abs(x))))), 12)
	text := fmt.Sprintf("%.*f", places, x)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// sentence is what a reader's error says, on one line.
func sentence(err error) string {
	var e *bound.ReadError
	if errors.As(err, &e) {
		e.Text = clip(oneLine(e.Text))
		return e.Error()
	}
	return oneLine(err.Error())
}

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }
