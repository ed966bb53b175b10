package job_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"linetender/calc/job"
)

// FuzzDecode holds Decode to its contract: an error of one line and no sheet,
// or a sheet that is written and read back the same and comes to a case or to
// a refusal of one line.
func FuzzDecode(f *testing.F) {
	files, err := filepath.Glob("../../testdata/cases/*/*.json")
	if err != nil || len(files) == 0 {
		f.Fatal("no case files to start from: ", err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := job.Decode(text)
		if err != nil {
			if !reflect.DeepEqual(s, job.Sheet{}) {
				t.Fatalf("refused, and a sheet all the same: %+v", s)
			}
			line(t, err)
			return
		}
		again, err := s.Clone()
		if err != nil {
			t.Fatalf("clone: %v", err)
		}
		a, errA := json.Marshal(s)
		b, errB := json.Marshal(again)
		if errA != nil || errB != nil || string(a) != string(b) {
			t.Fatalf("written %s, read back %s (%v, %v)", a, b, errA, errB)
		}
		c, err := s.Case()
		if err != nil {
			if !reflect.DeepEqual(c, job.Case{}) {
				t.Fatalf("refused, and a case all the same: %+v", c)
			}
			line(t, err)
			return
		}
		if m := c.Load.Mass; !(0 < m.Low && m.Low <= m.Best && m.Best <= m.High) {
			t.Fatalf("the mass spans %v", m)
		}
		if a := c.Load.Slope; !(a.Low <= a.Best && a.Best <= a.High && a.High.Degrees() < 90.01) {
			t.Fatalf("the slope spans %v", a)
		}
	})
}

func line(t *testing.T, err error) {
	t.Helper()
	if s := err.Error(); s == "" || strings.ContainsAny(s, "\n\r") {
		t.Fatalf("a refusal of one line, not %q", s)
	}
}
