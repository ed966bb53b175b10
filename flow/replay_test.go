package flow_test

import (
	"bytes"
	"os"
	"testing"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/flow"
	"linetender/flow/script"
)

// Golden conversations, played again by the release that held them, go as they
// went: a few, and all with LINETENDER_LONG.
func TestReplaySame(t *testing.T) {
	flow.Lone(t)
	scripts, err := script.Folder(talkDir)
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range scripts {
		if i%7 != 3 && os.Getenv("LINETENDER_LONG") == "" {
			continue
		}
		_, c := play(t, s)
		for name := range c.log.streams {
			code, is := bytes.CutPrefix([]byte(name), []byte(flow.JobStream("")))
			if !is {
				continue
			}
			r, err := c.engine.Replay(c.log, string(code))
			if err != nil || r.Differs() || len(r.Turned) > 0 || r.Played == 0 {
				t.Errorf("%s: %d of %d played, %v, %+v", s.Name, r.Played, r.Entries, err, r.Turned)
			}
		}
	}
}

// A release that reckons or asks otherwise shows where, and how.
func TestReplayDiffers(t *testing.T) {
	flow.Lone(t)
	s, err := script.Folder(talkDir)
	if err != nil {
		t.Fatal(err)
	}
	_, c := play(t, s[0])
	code := codeOf(t, c.log)
	before := len(c.log.streams[flow.JobStream(code)])
	careful := newEngine()
	careful.Reckon = func(c job.Case) calc.Plan {
		p := calc.Reckon(c)
		p.Decision = calc.Refer
		return p
	}
	r, err := careful.Replay(c.log, code)
	if err != nil || !r.Differs() || !r.Turned[0].Deemed {
		t.Errorf("another decision: %+v, %v", r, err)
	}
	finer := newEngine()
	finer.Reckon = func(c job.Case) calc.Plan {
		p := calc.Reckon(c)
		p.Cautions = append(p.Cautions, "and another")
		return p
	}
	r, err = finer.Replay(c.log, code)
	if err != nil || !r.Differs() || !r.Turned[0].Figured || r.Turned[0].Deemed {
		t.Errorf("another figure: %+v, %v", r, err)
	}
	if after := len(c.log.streams[flow.JobStream(code)]); after != before {
		t.Errorf("playing again wrote %d entries", after-before)
	}
	if _, err := c.engine.Replay(c.log, "none-00"); err == nil {
		t.Error("a job that is not there is played")
	}
}

// A job of several people in one group goes as it went; what a person was
// taken out of is passed over.
func TestReplayGroup(t *testing.T) {
	p := twoInAGroup(t)
	code := codeOf(t, p.log)
	r, err := p.engine.Replay(p.log, code)
	if err != nil || r.Differs() || r.Played != r.Entries {
		t.Errorf("%+v, %v", r, err)
	}
	x := flow.Takeout{Log: p.log, Eraser: shredder{p.log}, IDs: []string{"test/Bobolink Finch"}, At: p.at}
	if _, err := x.Job(code); err != nil {
		t.Fatal(err)
	}
	if r, err = p.engine.Replay(p.log, code); err != nil || r.Unplayed < 4 || r.Played == 0 || r.Differs() {
		t.Errorf("%+v, %v", r, err)
	}
}
