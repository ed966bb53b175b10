package calc

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/job"
)

// calculator keys in a sum as it is written in a step: numbers with their
// units, + − × ÷ ^, brackets, √ sin cos max.
type calculator struct {
	rest string
	err  error
}

func keyIn(sum string) (float64, error) {
	k := &calculator{rest: sum}
	v := k.sum()
	if k.skip(); k.err == nil && k.rest != "" {
		k.err = fmt.Errorf("left over: %q", k.rest)
	}
	return v, k.err
}

func (k *calculator) skip() { k.rest = strings.TrimLeft(k.rest, " ") }

func (k *calculator) take(words ...string) string {
	k.skip()
	for _, w := range words {
		if after, ok := strings.CutPrefix(k.rest, w); ok {
			k.rest = after
			return w
		}
	}
	return ""
}

func (k *calculator) sum() float64 {
	v := k.product()
	for {
		switch k.take("+", "−") {
		case "+":
			v += k.product()
		case "−":
			v -= k.product()
		default:
			return v
		}
	}
}

func (k *calculator) product() float64 {
	v := k.power()
	for {
		switch k.take("×", "÷") {
		case "×":
			v *= k.power()
		case "÷":
			v /= k.power()
		default:
			return v
		}
	}
}

func (k *calculator) power() float64 {
	v := k.value()
	if k.take("^") != "" {
		return math.Pow(v, k.value())
	}
	return v
}

func (k *calculator) value() float64 {
	switch k.take("√(", "sin(", "cos(", "max(", "(", "−", "-") {
	case "√(":
		return math.Sqrt(k.closed())
	case "sin(":
		return math.Sin(k.closed() * math.Pi / 180)
	case "cos(":
		return math.Cos(k.closed() * math.Pi / 180)
	case "max(":
		a := k.sum()
		if k.take(",") == "" {
			k.err = fmt.Errorf("no comma at %q", k.rest)
		}
		return max(a, k.closed())
	case "(":
		return k.closed()
	case "−", "-":
		return -k.value()
	}
	end := strings.IndexFunc(k.rest, func(c rune) bool { return (c < '0' || '9' < c) && c != '.' })
	if end < 0 {
		end = len(k.rest)
	}
	v, err := strconv.ParseFloat(k.rest[:end], 64)
	if err != nil && k.err == nil {
		k.err = fmt.Errorf("no number at %q", k.rest)
		k.rest = ""
		return 0
	}
	k.rest = k.rest[end:]
	k.take("kg", "N", "m ", "°")
	if k.rest == "m" || strings.HasPrefix(k.rest, "m)") || strings.HasPrefix(k.rest, "m,") {
		k.rest = k.rest[1:]
	}
	return v
}

func (k *calculator) closed() float64 {
	v := k.sum()
	if k.take(")") == "" && k.err == nil {
		k.err = fmt.Errorf("no bracket at %q", k.rest)
		k.rest = ""
	}
	return v
}

func TestCalculator(t *testing.T) {
	for sum, want := range map[string]float64{
		"2060 kg × 9.80665": 20201.699, "1 + 2 × 3": 7, "(1 + 2) × 3 m": 9, "max(2 N, 3 N) ÷ 2": 1.5, "2 × sin(30°)": 1,
		"√(3^2 + 16)": 5, "max(0, −cos(60°))": 0, "1 − 2 − 3": -4, "-0.5 N + 1": 0.5,
	} {
		got, err := keyIn(sum)
		if err != nil || math.Abs(got-want) > 1e-9*max(1, math.Abs(want)) {
			t.Errorf("%s gives %v, %v", sum, got, err)
		}
	}
	for _, bad := range []string{"", "1 +", "(1", "1 2", "max(1)", "as above"} {
		if _, err := keyIn(bad); err == nil {
			t.Errorf("%q is a sum", bad)
		}
	}
}

// checkWorking keys every step in and holds it to the figure that stands
// there, to half of its last digit.
func checkWorking(t interface {
	Helper()
	Errorf(string, ...any)
}, about string, p Plan) {
	t.Helper()
	for _, s := range p.Working {
		got, err := keyIn(s.In)
		if err != nil {
			t.Errorf("%s: %s: %q can't be keyed in: %v", about, s.Topic, s.In, err)
			continue
		}
		figure, _, _ := strings.Cut(s.Out, " ")
		want, err := strconv.ParseFloat(figure, 64)
		if err != nil {
			t.Errorf("%s: %s: %q is no figure", about, s.Topic, s.Out)
			continue
		}
		_, places, _ := strings.Cut(figure, ".")
		half := 0.5 * math.Pow(10, -float64(len(places)))
		if math.Abs(got-want) > half*1.001+2e-7*math.Abs(want) {
			t.Errorf("%s: %s: %s gives %v, and %s stands there", about, s.Topic, s.In, got, s.Out)
		}
		if s.Source == "" || s.Formula == "" {
			t.Errorf("%s: %s has no formula or no source", about, s.Topic)
		}
	}
}

func TestWorkingCanBeKeyedIn(t *testing.T) {
	steps := 0
	for _, file := range caseFiles(t) {
		p := planFile(t, file)
		steps += len(p.Working)
		checkWorking(t, file, p)
	}
	for k, row := range checkRows {
		for _, sets := range []string{"", row.fail, row.unknown} {
			c := read(t, changed(t, row.with, sets))
			s := newSearch(c, view{})
			checkWorking(t, k+" "+sets, s.plan(s.run()))
		}
	}
	if steps < 100 {
		t.Errorf("only %d steps", steps)
	}
}

// The steps' last figures are the plan's own.
func TestWorkingEndsAtThePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		s.Load.Pull = rapid.SampledFrom(job.Pulls).Draw(t, "pull")
		c := read(t, s)
		q := newSearch(c, view{})
		p := q.plan(q.run())
		if p.Decision == Refer {
			return
		}
		checkWorking(t, "drawn", p)
		out := map[string]string{}
		for _, s := range p.Working {
			out[s.Topic] = s.Out
		}
		for topic, want := range map[string]string{
			"resistance": newtons(p.Resistance.Total.High), "force along the line": newtons(p.Force.High), "haul": newtons(p.Tackle.Haul.High),
		} {
			if out[topic] != want {
				t.Errorf("%s: the steps end at %s, the plan has %s", topic, out[topic], want)
			}
		}
	})
}
