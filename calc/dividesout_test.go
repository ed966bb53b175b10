package calc

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/job"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

// weakDrawn is a drawn job, often with a puller that is too weak for it.
func weakDrawn(t *rapid.T) job.Sheet {
	s := drawn(t)
	if s.Puller != nil && rapid.Bool().Draw(t, "weak") {
		s.Puller.Mass = rapid.SampledFrom([]string{"300 kg", "900 kg", "1.5 t"}).Draw(t, "puller")
	}
	return s
}

// dividesOut fails unless a ÷ b is c, to what rounding to three figures may take
// from or add to each.
func dividesOut(t *rapid.T, text string, a, b, c float64) {
	t.Helper()
	if got := a / b; math.Abs(got-c) > 0.02*math.Abs(c) || a == 0 {
		t.Fatalf("%v ÷ %v is %v and not %v: %s", a, b, got, c, text)
	}
}

var frictionNote = regexp.MustCompile(`^(\d+) parts do not .* The ([0-9.,]+) kN .* along the line divided by \d+ would read ([0-9.,]+) kN .*; the gain to count on is ([0-9.]+), and the haul may be ([0-9.,]+) kN`)

// Whoever divides the force along the line by the gain that stands beside it
// gets the haul that is told, lead blocks and the manuals' rule among it.
func TestTheGainToCountOnDividesOut(t *testing.T) {
	lone(t)
	met := 0
	checkMeeting(t, func() bool { return met > 0 }, func(t *rapid.T) {
		s := drawn(t)
		if s.Tackle == nil {
			s.Tackle = &job.TackleSheet{}
		}
		s.Tackle.Parts, s.Tackle.LeadBlocks = ptr(rapid.IntRange(2, 6).Draw(t, "parts")), ptr(rapid.IntRange(0, 2).Draw(t, "leads"))
		for _, n := range Reckon(read(t, s)).Notes {
			if m := frictionNote.FindStringSubmatch(n); m != nil {
				met++
				dividesOut(t, n, valueOf(m[2]), valueOf(m[1]), valueOf(m[3]))
				dividesOut(t, n, valueOf(m[2]), valueOf(m[4]), valueOf(m[5]))
			} else if strings.Contains(n, "do not make") {
				t.Fatalf("what are its figures? %s", n)
			}
		}
	})
}

var outOfReachText = regexp.MustCompile(`gives? (?:only )?([0-9.,]+) kN .* keeps its gain under ([0-9.]+), and (?:([0-9.]+) times the )?([0-9.,]+) kN .* along the line would take ([0-9.,e+]+)\.`)

// That more parts will not do it is said with what they come to and what they
// would have to, and only where no number of them does: not of one tackle, from
// either block.
func TestMorePartsWillNotDo(t *testing.T) {
	lone(t)
	met := map[string]bool{}
	rapid.Check(t, func(t *rapid.T) {
		c := read(t, weakDrawn(t))
		p := Reckon(c)
		for _, k := range p.Checks {
			if !strings.Contains(k.Text, "More parts will not do it") {
				continue
			}
			m := outOfReachText.FindStringSubmatch(k.Text)
			if m == nil {
				t.Fatalf("what are its figures? %s", k.Text)
			}
			times, eta := 1.0, p.Tackle.Efficiency.Low
			a, need := p.Puller, p.Force.High
			gives := unit.Force(0)
			if a != nil && a.Available != nil {
				gives = a.Available.Low
			}
			if m[3] != "" {
				times, eta, need = valueOf(m[3]), p.Tackle.Efficiency.Best, p.Force.Best
				if gives > 0 {
					gives = a.Available.Best
				}
			}
			met[m[3]] = true
			dividesOut(t, k.Text, times*valueOf(m[4]), valueOf(m[1]), valueOf(m[5]))
			if valueOf(m[5]) < valueOf(m[2]) {
				t.Fatalf("the gain would do: %s", k.Text)
			}
			for n := 1; n <= tackle.MostParts && gives > 0; n++ {
				for _, from := range []tackle.Haul{tackle.Moving, tackle.Standing} {
					gain := must(tackle.Advantage(tackle.Reeving{Parts: n, From: from}, Ratio{Low: eta, Best: eta, High: eta})).Best
					if float64(gives)*float64(gain) >= times*float64(need) {
						t.Fatalf("%d parts from the %s block do it: %s", n, from, k.Text)
					}
				}
			}
		}
	})
	if !met[""] || len(met) != 2 {
		t.Errorf("met only %v", met)
	}
}
