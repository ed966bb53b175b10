package bound

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"linetender/calc/unit"
)

// broken names the promise that a successful reading breaks, if any.
func broken[Q Quantity](r Reading[Q]) string {
	switch v := r.Value; {
	case !v.Ordered():
		return "not ordered or not finite"
	case v.Low < 0 || math.Signbit(float64(v.Low)):
		return "below zero"
	case !r.Ranged && r.Vague != (v.Low != v.High):
		return "a single figure spans a range, or a vague one does not"
	}
	return ""
}

// keeps holds a reader to its contract for any text: parsed means finite and in
// range, refused means the zero value and a sentence.
func keeps[Q Quantity](t *testing.T, text string, r Reading[Q], err error) {
	t.Helper()
	if err == nil {
		if msg := broken(r); msg != "" {
			t.Errorf("%q: %s: %+v", text, msg, r)
		}
		return
	}
	if r != (Reading[Q]{}) {
		t.Errorf("%q: refused, but with %+v", text, r)
	}
	var e *ReadError
	if !errors.As(err, &e) || e.Problem == "" || e.Wants == "" || e.Example == "" {
		t.Errorf("%q: refused without a reason, a wish and an example: %#v", text, err)
	} else if s := e.Error(); len(s) > 600 || strings.ContainsAny(s, "\n\r") || !utf8.ValidString(s) {
		t.Errorf("%q: not one sentence: %q", text, s)
	}
}

// FuzzReadMass gives each text to the readers of masses, forces and lengths. A
// reading costs little beside what a fuzzer does around it, and what one reader
// takes a text for is where another may go wrong.
func FuzzReadMass(f *testing.F) {
	seed(f, massPhrases, massSums, forcePhrases, lengthPhrases)
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ReadMass(text)
		keeps(t, text, r, err)
		force, err := ReadForce(text)
		keeps(t, text, force, err)
		parts := strings.Contains(text, "+") || strings.Contains(strings.ToLower(text), "plus")
		if r != (Reading[unit.Mass]{}) && err != nil && !parts {
			t.Errorf("%q is a weight but no force: %v", text, err)
		}
		if err == nil && r != (Reading[unit.Mass]{}) && !near(force.Value.High.Newtons(), unit.Weight(r.Value.High).Newtons()) {
			t.Errorf("%q weighs %v as a mass and %v as a force", text, unit.Weight(r.Value.High), force.Value.High)
		}
		length, err := ReadLength(text)
		keeps(t, text, length, err)
	})
}

// FuzzReadAngle is FuzzReadMass for slopes, angles, ratios and counts.
func FuzzReadAngle(f *testing.F) {
	seed(f, slopePhrases, anglePhrases, ratioPhrases)
	f.Fuzz(func(t *testing.T, text string) {
		slope, err := ReadSlope(text)
		keeps(t, text, slope, err)
		if err == nil && !(slope.Value.High.Degrees() < 90) {
			t.Errorf("%q: a slope of %v°", text, slope.Value.High.Degrees())
		}
		angle, err := ReadAngle(text)
		keeps(t, text, angle, err)
		if err == nil && !(angle.Value.High <= unit.Degrees(360)) {
			t.Errorf("%q: an angle of %v°", text, angle.Value.High.Degrees())
		}
		ratio, err := ReadRatio(text)
		keeps(t, text, ratio, err)
		if n, err := ReadCount(text); n < 0 || n > mostCount || err != nil && n != 0 {
			t.Errorf("%q: a count of %d, %v", text, n, err)
		}
	})
}

// seed gives a fuzzer the phrases that are read, and all the refused ones.
func seed(f *testing.F, lists ...[]said) {
	f.Helper()
	if len(refusals) == 0 {
		f.Fatal("no refusals to seed the fuzzer with")
	}
	for _, phrases := range lists {
		if len(phrases) == 0 {
			f.Fatal("no phrases to seed the fuzzer with")
		}
		for _, p := range phrases {
			f.Add(p.text)
		}
	}
	for _, r := range refusals {
		f.Add(r.text)
	}
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Max(math.Abs(a), math.Abs(b)) }
