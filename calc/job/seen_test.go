package job_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"linetender/calc/job"
)

// seenAs is a case with one thing seen.
func seenAs(fields string) string { return with("", `"seen": [{`+fields+`}]`) }

func TestSeenRefusals(t *testing.T) {
	rig := `"parts": 2, "haul_from": "moving"`
	for _, r := range []struct{ fields, field, says string }{
		{`"what": "slipt", ` + rig, "seen[0].what", `the nearest is "slip"`},
		{rig, "seen[0].what", "say what was seen: slip, move, stuck, reading"},
		{`"what": "slip"`, "seen[0].parts", "whole number from 1 to 30"},
		{`"what": "slip", "parts": 0`, "seen[0].parts", "whole number from 1 to 30"},
		{`"what": "slip", "parts": 2`, "seen[0].haul_from", "standing or moving"},
		{`"what": "slip", "haul_from": "middle", "parts": 2`, "seen[0].haul_from", "write one of standing, moving"},
		{`"what": "move", "hauled_by": 1, ` + rig, "seen[0].hauled_by", "from 2 to 30"},
		{`"what": "move", "lead_blocks": 31, ` + rig, "seen[0].lead_blocks", "from 0 to 30"},
		{`"what": "move", "puller": 1, ` + rig, "seen[0].puller", "the first is 0"},
		{`"what": "reading", ` + rig, "seen[0].force", "such as 12 kN"},
		{`"what": "reading", "at": "haul", ` + rig, "seen[0].force", "such as 12 kN"},
		{`"what": "reading", "force": "3 kN", ` + rig, "seen[0].at", "haul, load"},
		{`"what": "reading", "force": "3", "at": "haul", ` + rig, "seen[0].force", "unit"},
		{`"what": "reading", "force": "0 kN", "at": "haul", ` + rig, "seen[0].force", "above zero"},
		{`"what": "reading", "force": "3 kN", "at": "hook", ` + rig, "seen[0].at", `the nearest is "haul"`},
		{`"what": "slip", "at": "haul", ` + rig, "seen[0].at", "leave the place out"},
		{`"what": "slip", "moved": "1 m", ` + rig, "seen[0].moved", "write move for one that moved"},
		{`"what": "stuck", "moved": "1 m", ` + rig, "seen[0].moved", "a stuck pull the load stands"},
		{`"what": "move", "took_in": "0 m", ` + rig, "seen[0].took_in", "above zero"},
		{`"what": "move", "pull": 1, ` + rig, "seen[0].pull", `the nearest is "puller"`},
	} {
		_, err := caseOf(seenAs(r.fields))
		var bad *job.FieldError
		if !errors.As(err, &bad) || bad.Path != r.field || !strings.Contains(bad.Problem, r.says) {
			t.Errorf("%s: %v, want %s and %q", r.fields, err, r.field, r.says)
			continue
		}
		oneLine(t, err)
	}
	for _, s := range []job.SeenSheet{
		{What: "slip", Parts: ptr(-1), HaulFrom: "moving"}, {What: "slip", Parts: ptr(31), HaulFrom: "moving"},
		{What: "slip", Parts: ptr(1), Leads: ptr(-1)}, {What: "slip", Parts: ptr(1), Puller: ptr(-1)}, {What: "slip", Parts: ptr(1), HauledBy: ptr(31)},
	} {
		full, err := job.Decode([]byte(least))
		if err != nil {
			t.Fatal(err)
		}
		full.Seen = []job.SeenSheet{s}
		if _, err := full.Case(); err == nil {
			t.Errorf("%+v is taken", s)
		}
	}
}

// A cell reads to 5 % either way unless its spread is told, and what was
// supplied is said.
func TestSeenIsRead(t *testing.T) {
	c, err := caseOf(with("", `"puller": {"kind": "people"}, "seen": [
		{"what": "reading", "parts": 1, "force": "12 kN", "at": "load", "puller": 0, "lead_blocks": 1},
		{"what": "reading", "parts": 3, "haul_from": "standing", "force": "12 kN +/- 1 %", "at": "haul", "hauled_by": 2},
		{"what": "move", "parts": 2, "haul_from": "moving", "took_in": "60 cm", "moved": "30 cm"}]`))
	if err != nil {
		t.Fatal(err)
	}
	near := func(f *job.Force, low, high float64) bool {
		return math.Abs(f.Low.Kilonewtons()-low) < 1e-9 && math.Abs(f.High.Kilonewtons()-high) < 1e-9
	}
	a, b, m := c.Seen[0], c.Seen[1], c.Seen[2]
	if !near(a.Force, 11.4, 12.6) || a.HaulFrom != "moving" || *a.Puller != 0 || *a.Leads != 1 || a.HauledBy != 0 {
		t.Errorf("the first is %+v", a)
	}
	if !near(b.Force, 11.88, 12.12) || b.HaulFrom != "standing" || b.HauledBy != 2 || b.Leads != nil {
		t.Errorf("the second is %+v", b)
	}
	if m.TookIn.Best.Centimetres() != 60 || m.Moved.Best.Centimetres() != 30 || m.Force != nil {
		t.Errorf("the third is %+v", m)
	}
	told := 0
	for _, s := range c.Supplied {
		if strings.HasPrefix(s.Field, "seen[") {
			told++
			if s.Field != "seen[0].force" || s.Value != "12 kN +/- 5 %" {
				t.Errorf("supplied %+v", s)
			}
		}
	}
	if told != 1 || c.Learnt != nil {
		t.Errorf("%d were supplied, learnt %v", told, c.Learnt)
	}
}

// The wheel's radius may be told with no step in the way.
func TestWheelRadius(t *testing.T) {
	c, err := caseOf(with(`"lip": null, "wheel_radius": "38 cm"`, ""))
	if err != nil || c.Load.WheelRadius.Best.Centimetres() != 38 || !c.Load.Lip.None {
		t.Errorf("%v, %v", c.Load.WheelRadius, err)
	}
	if _, err := caseOf(with(`"wheel_radius": "round"`, "")); err == nil || !strings.HasPrefix(err.Error(), "load.wheel_radius: ") {
		t.Errorf("round: %v", err)
	}
}

func ptr[T any](v T) *T { return &v }
