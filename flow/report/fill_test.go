package report

import (
	"bytes"
	"fmt"
	"html/template"
	"os"
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

// filled are the report and the card of a whole job, as a reviewer gets them.
func filled(t testing.TB, name string) (report, card []byte, h *flow.History) {
	t.Helper()
	log, e, code := played(t, name)
	h, err := e.History(log, code, 0)
	if err != nil {
		t.Fatal(err)
	}
	proof, err := flow.Verify(func(visit func(uint64, []byte) error) error { return log.Replay(flow.JobStream(code), 0, visit) }, flow.Witness{Noted: h.Head})
	if err != nil || proof.Fault != nil {
		t.Fatal(proof.Fault, err)
	}
	r, err := Fill(h, Looked{Made: "4 May, by this release", Proof: proof, Photo: func(flow.File) (string, []byte) { return "image/png", []byte("a picture") }})
	if err != nil {
		t.Fatal(err)
	}
	if report, err = r.HTML(); err != nil {
		t.Fatal(err)
	}
	if card, err = FillCard(h, Picture{}, nil).HTML(); err != nil {
		t.Fatal(err)
	}
	return report, card, h
}

func TestFilled(t *testing.T) {
	for name, want := range map[string][]string{
		"s01-go-two-parts": {"told, weighed", "Cy Holm, coordinator", "47.10000, 8.20000 (within 12 m)", "data:image/png", "(photo) the strop", "all as they were written"},
		"t-stop-anywhere":  {"a dog ran in, it is tied up now", "after 0 s", "Went on 2026-05-04 11:"},
		"t-check-fails":    {"FAILS; taken back 2026-05-04 11:", "Plans given"},
	} {
		report, card, h := filled(t, name)
		for _, w := range want {
			if !bytes.Contains(report, []byte(template.HTMLEscapeString(w))) {
				t.Errorf("the report of %s does not say %q", name, w)
			}
		}
		for kind, page := range map[string][]byte{"report": report, "card": card} {
			if bytes.Contains(page, []byte("Ada <b>")) {
				t.Errorf("%s of %s: a name became markup", kind, name)
			}
			if !bytes.Contains(page, []byte(Spaced(h.Head))) {
				t.Errorf("%s of %s does not show the head of the chain", kind, name)
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
