package report

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"linetender/calc"
	"linetender/flow"
	"linetender/flow/script"
	"linetender/flow/wording"
)

// shelf is a log in memory.
type shelf map[string][][]byte

func (s shelf) Commit(t flow.Turn) ([]uint64, error) {
	for _, w := range t.Writes {
		s[w.Stream] = append(s[w.Stream], w.Entries...)
	}
	return nil, nil
}

func (s shelf) Replay(stream string, after uint64, visit func(uint64, []byte) error) error {
	for i := int(after); i < len(s[stream]); i++ {
		if err := visit(uint64(i+1), s[stream][i]); err != nil {
			return err
		}
	}
	return nil
}

// played holds a golden conversation, pictures and places put in between, and
// returns its log, the engine and the code of its job.
func played(t testing.TB, name string) (shelf, *flow.Engine, string) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/talk/" + name + ".txtar")
	if err != nil {
		t.Fatal(err)
	}
	talk, err := script.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	log := shelf{}
	e := &flow.Engine{Reckon: calc.Reckon, Words: wording.English(), Random: script.Dice(), Anyone: true}
	at := time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)
	say := func(in flow.Input) {
		at = at.Add(20 * time.Second)
		in.Update, in.Chat, in.At, in.Offset, in.Direct = fmt.Sprint("test:", at.Unix()), "test/1", at, "+02:00", true
		in.Person = flow.Person{ID: "test/1", Name: "Ada <b>"}
		turn, err := e.Turn(log, in)
		if err != nil {
			t.Fatalf("%q: %v", in.Text, err)
		}
		if _, err := log.Commit(turn); err != nil {
			t.Fatal(err)
		}
	}
	for i, s := range talk.Steps {
		text := s.Input
		if label, ok := s.Press(); ok {
			text = label
		}
		say(flow.Input{Text: text})
		if i == 2 {
			say(flow.Input{Text: "the strop", Other: flow.OtherPhoto, Files: []flow.File{{Kind: flow.OtherPhoto, ID: "f1", Type: "image/png", Sum: strings.Repeat("ab", 32)}}})
			say(flow.Input{Other: flow.OtherLocation, Place: &flow.Place{Lat: 47.1, Lon: 8.2, Good: 12}})
		}
	}
	for name := range log {
		if code, is := strings.CutPrefix(name, flow.JobStream("")); is {
			return log, e, code
		}
	}
	t.Fatal("there is no job")
	return nil, nil, ""
}

// The report and the card of a whole job, as a reviewer gets them.
func TestGoldenJobs(t *testing.T) {
	for _, name := range []string{"s01-go-two-parts", "t-stop-anywhere"} {
		log, e, code := played(t, name)
		h, err := e.History(log, code, 0)
		if err != nil {
			t.Fatal(err)
		}
		proof, err := flow.Verify(func(visit func(uint64, []byte) error) error { return log.Replay(flow.JobStream(code), 0, visit) }, flow.Witness{Noted: h.Head})
		if err != nil || proof.Fault != nil {
			t.Fatal(proof.Fault, err)
		}
		r, err := Fill(h, Looked{Made: "4 May, by this release", Proof: proof, Photo: func(f flow.File) (string, []byte) {
			return "image/png", []byte("a picture")
		}})
		if err != nil {
			t.Fatal(err)
		}
		report, err := r.HTML()
		if err != nil {
			t.Fatal(err)
		}
		card, err := FillCard(h, Picture{}, nil).HTML()
		if err != nil {
			t.Fatal(err)
		}
		for kind, got := range map[string][]byte{"report": report, "card": card} {
			file := filepath.Join("testdata", "job-"+kind+"-"+name+".html")
			if *update {
				if err := os.WriteFile(file, got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if want, err := os.ReadFile(file); err != nil || !bytes.Equal(got, want) {
				t.Errorf("%s differs (%v); look at it and run with -update", file, err)
			}
			if bytes.Contains(got, []byte("Ada <b>")) {
				t.Errorf("%s: a name became markup", file)
			}
			if !bytes.Contains(got, []byte(Spaced(h.Head))) {
				t.Errorf("%s does not show the head of the chain", file)
			}
		}
	}
}

// What a job was after an earlier entry is told as it was then.
func TestHistoryUpTo(t *testing.T) {
	log, e, code := played(t, "s01-go-two-parts")
	all, err := e.History(log, code, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []uint64{1, 5, all.Job.Last - 1} {
		h, err := e.History(log, code, n)
		if err != nil || h.Job.Last != n || len(h.Moments) != int(n) || h.Head == all.Head {
			t.Errorf("after %d: %d entries, %d moments, %v", n, h.Job.Last, len(h.Moments), err)
		}
	}
	if _, err := e.History(log, "none-00", 0); err == nil {
		t.Error("a job that is not there has a history")
	}
}
