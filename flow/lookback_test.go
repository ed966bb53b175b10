package flow_test

import (
	"bytes"
	"strings"
	"testing"

	"linetender/flow"
	"linetender/flow/script"
)

// wholeJob is a job that several people with phones of their own worked by,
// from the first word to the debrief.
func wholeJob(t *testing.T) (m *memory, e *flow.Engine, code string) {
	t.Helper()
	parties, err := script.Parties(partyDir)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range parties {
		if p.Name != "p-whole-job" {
			continue
		}
		s := newStage()
		for _, l := range p.Lines {
			if _, err := s.Line(l); err != nil {
				t.Fatal(err)
			}
		}
		m = s.Log.(*memory)
		return m, s.Engine, codeOf(t, m)
	}
	t.Fatal("there is no such conversation")
	return nil, nil, ""
}

// A whole job looked back at: it has all of its parts, holds, and goes as it
// went; whoever is taken out of it is gone, and it still holds and is read.
func TestLookBackAtAWholeJob(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	m, e, code := wholeJob(t)
	h, err := e.History(m, code, 0)
	if err != nil {
		t.Fatal(err)
	}
	for what, n := range map[string]int{
		"people": len(h.People), "answers": len(h.Answers), "checks": len(h.Checks), "stops": len(h.Halts), "hold points": len(h.Points),
		"duties": len(h.Duties), "comparisons": len(h.Compared),
	} {
		if n < 2 && what != "stops" || n < 1 {
			t.Errorf("%d %s", n, what)
		}
	}
	released := 0
	for _, p := range h.Points {
		if p.Over != "" && p.By != "" && len(p.Sure) > 0 {
			released++
		}
		if p.At == "" || strings.Contains(p.Stage, "-") || (p.Over == "") != (p.By == "") {
			t.Errorf("hold point %+v", p)
		}
	}
	if released < len(h.Points)/2 {
		t.Errorf("%d of %d hold points were released", released, len(h.Points))
	}
	r, err := e.Replay(m, code)
	if err != nil || r.Differs() || r.Played < r.Entries/2 {
		t.Errorf("%d of %d played, %v", r.Played, r.Entries, err)
		for _, turned := range r.Turned {
			t.Logf("%+v", turned)
		}
	}
	before := proof(t, m, code, "")
	for _, p := range h.Job.Party {
		x := flow.Takeout{Log: m, Eraser: shredder{m}, IDs: []string{p.ID}, At: newStage().At}
		out, err := x.Job(code)
		if err != nil || !out.Touched() {
			t.Fatalf("%s: %+v, %v", p.Name, out, err)
		}
		left := bytes.Join(append(m.streams[flow.JobStream(code)], m.heads[flow.JobStream(code)]), []byte("\n"))
		for _, gone := range []string{`"` + p.ID + `"`, `"` + p.Name + `"`, " " + p.Name + " ", " " + p.Name + "."} {
			if at := bytes.Index(left, []byte(gone)); at >= 0 {
				t.Errorf("%q is left: %s", gone, left[max(0, at-150):min(len(left), at+80)])
			}
		}
		if out.Whole {
			continue // the last of them
		}
		if after := proof(t, m, code, before.Chain); after.Fault != nil || after.Noted != before.Entries {
			t.Errorf("without %s: %+v, %v", p.Name, after.Noted, after.Fault)
		}
		if _, err := e.History(m, code, 0); err != nil {
			t.Errorf("without %s: %v", p.Name, err)
		}
	}
}
