package sum

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"linetender/calc/job"
)

// args reads "force=838 N; angle=7 deg" into what Run takes.
func args(text string) map[string]string {
	out := map[string]string{}
	for _, pair := range strings.Split(text, ";") {
		if key, value, ok := strings.Cut(strings.TrimSpace(pair), "="); ok {
			out[key] = value
		}
	}
	return out
}

func run1(t testing.TB, name, text string) Result {
	t.Helper()
	r, err := Run(name, args(text))
	if err != nil {
		t.Fatalf("sum %s %s: %v", name, text, err)
	}
	return r
}

// best is a result's book figure.
func best(t testing.TB, r Result, name string) float64 {
	t.Helper()
	f, ok := r.Figures.Get(name)
	if !ok {
		t.Fatalf("sum %s gives no %s: %v", r.Name, name, r.Figures)
	}
	return f.value.Best
}

func near(t testing.TB, source, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %s: got %.6g, want %g ± %g", source, what, got, want, tolerance)
	}
}

// refusal checks that err is one line that names its key, and returns it.
func refusal(t testing.TB, err error) *job.FieldError {
	t.Helper()
	var e *job.FieldError
	if !errors.As(err, &e) {
		t.Fatalf("got %v, want a refusal", err)
	}
	if text := e.Error(); strings.ContainsAny(text, "\n\r") || strings.TrimSpace(text) == "" {
		t.Errorf("a refusal is not one good line: %q", text)
	}
	return e
}

func encode(t testing.TB, r Result) string {
	t.Helper()
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// says returns the value of the first step of the working that has a text in it.
func says(r Result, text string) (string, bool) {
	for _, s := range r.Working {
		if strings.Contains(s.Step, text) || strings.Contains(s.Value, text) {
			return s.Value, true
		}
	}
	return "", false
}
