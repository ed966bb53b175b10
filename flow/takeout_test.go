package flow_test

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

// shredder lets a memory be erased in.
type shredder struct{ *memory }

func (s shredder) EraseStream(name string) error {
	delete(s.streams, name)
	delete(s.heads, name)
	return nil
}

func (s shredder) Forget(string) error { return nil }

func (s shredder) Redact(w flow.Write, redone map[uint64][]byte) error {
	if uint64(len(s.streams[w.Stream])) != w.After {
		return movedError{errors.New("moved")}
	}
	for n, body := range redone {
		s.streams[w.Stream][n-1] = body
	}
	s.streams[w.Stream] = append(s.streams[w.Stream], w.Entries...)
	if w.Head != nil {
		s.heads[w.Stream] = w.Head
	}
	return nil
}

// proof verifies the one job of a log against its summary and a noted head.
func proof(t *testing.T, m *memory, code, noted string) flow.Proof {
	t.Helper()
	h, err := flow.DecodeHead(m.heads[flow.JobStream(code)])
	if err != nil {
		t.Fatal(err)
	}
	w := h.Witness()
	w.Noted = noted
	p, err := flow.Verify(func(visit func(uint64, []byte) error) error { return m.Replay(flow.JobStream(code), 0, visit) }, w)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func codeOf(t *testing.T, m *memory) string {
	t.Helper()
	for name := range m.streams {
		if code, is := strings.CutPrefix(name, flow.JobStream("")); is {
			return code
		}
	}
	t.Fatal("there is no job")
	return ""
}

// twoInAGroup is a job that two people worked by, up to its first figure.
func twoInAGroup(t *testing.T) *phones {
	p := newPhones(t)
	for _, line := range [][2]string{
		{"Annamaria", "/start"}, {"Annamaria", "nobody hurt, none of that"}, {"Bobolink Finch", "bout 2.4 t with the big blue trailer, weighed"},
		{"Annamaria", "Bobolink Finch says 12 deg"}, {"Bobolink Finch", "note: my cousin left her dog in the cab yesterday"}, {"Bobolink Finch", "stop"},
		{"Annamaria", "Bobolink saw a dog"}, {"Bobolink Finch", "wet grass, not sunk, all wheels turn"},
	} {
		in := p.input(line[0])
		in.Chat, in.Group, in.Text = "test/-100", true, line[1]
		if strings.HasPrefix(line[1], "note") {
			in.Files = []flow.File{{Kind: flow.OtherPhoto, ID: "secretfile", Sum: strings.Repeat("ab", 32)}}
			in.Place = &flow.Place{Lat: 47.123456}
		}
		p.run(in)
	}
	return p
}

// A person is taken out of a job that others need: nothing of them is left in
// its bytes, it holds, it is read and goes on, and doing it again does nothing.
func TestTakeout(t *testing.T) {
	p := twoInAGroup(t)
	code := codeOf(t, p.log)
	before := proof(t, p.log, code, "")
	x := flow.Takeout{Log: p.log, Eraser: shredder{p.log}, IDs: []string{"test/Bobolink Finch"}, By: "the operator", At: p.at}
	x.Dry = true
	dry, err := x.Job(code)
	if err != nil || dry.Whole || len(dry.Entries) < 4 || proof(t, p.log, code, "").Chain != before.Chain {
		t.Fatalf("dry: %+v, %v", dry, err)
	}
	x.Dry = false
	out, err := x.Job(code)
	if err != nil || !slices.Equal(out.Entries, dry.Entries) || len(out.Files) != 1 {
		t.Fatalf("%+v, %v, want what the dry run said, %+v", out, err, dry)
	}
	left := bytes.Join(append(p.log.streams[flow.JobStream(code)], p.log.heads[flow.JobStream(code)]), []byte("\n"))
	for _, gone := range []string{"Bobolink", "Finch", "big blue", "cousin", "secretfile", "47.12", "abab"} {
		if at := bytes.Index(left, []byte(gone)); at >= 0 {
			t.Errorf("%q is left: %s", gone, left[max(0, at-200):min(len(left), at+100)])
		}
	}
	if !bytes.Contains(left, []byte("Annamaria")) || !bytes.Contains(left, []byte(`"2.4 t"`)) || !bytes.Contains(left, []byte("erased-1")) {
		t.Errorf("too much is gone:\n%s", left)
	}
	after := proof(t, p.log, code, before.Chain)
	if after.Fault != nil || after.Noted != before.Entries || len(after.Redacted) != len(out.Entries) || after.Entries != before.Entries+1 {
		t.Fatalf("%+v, %v", after, after.Fault)
	}
	if again, err := x.Job(code); err != nil || again.Touched() {
		t.Errorf("again: %+v, %v", again, err)
	}
	h, err := p.engine.History(p.log, code, 0)
	if err != nil || h.Job.Sheet.Load.Mass != "2.4 t" {
		t.Fatalf("%v", err)
	}
	in := p.input("Annamaria")
	in.Chat, in.Group, in.Text = "test/-100", true, "uphill"
	p.run(in)
	if after := proof(t, p.log, code, ""); after.Fault != nil {
		t.Errorf("and on: %v", after.Fault)
	}
}

// What is left of an entry is vouched for: it can't be changed under the cover
// of an erasure, and an erasure that nothing records is a change.
func TestTakeoutIsRecorded(t *testing.T) {
	p := twoInAGroup(t)
	code := codeOf(t, p.log)
	x := flow.Takeout{Log: p.log, Eraser: shredder{p.log}, IDs: []string{"test/Bobolink Finch"}, At: p.at}
	out, err := x.Job(code)
	if err != nil {
		t.Fatal(err)
	}
	stream := flow.JobStream(code)
	n := out.Entries[0]
	sound := p.log.streams[stream][n-1]
	p.log.streams[stream][n-1] = bytes.Replace(sound, []byte(`"state":"`), []byte(`"state":"x`), 1)
	if f := proof(t, p.log, code, "").Fault; f == nil || f.Entry != n || f.Is != flow.Changed {
		t.Errorf("a redacted entry was changed: %v", f)
	}
	p.log.streams[stream][n-1] = sound
	if f := proof(t, p.log, code, "").Fault; f != nil {
		t.Fatal(f)
	}
}

// Where nobody else worked, the job goes whole; in a group it stays.
func TestTakeoutAlone(t *testing.T) {
	for _, group := range []bool{false, true} {
		p := newPhones(t)
		for _, text := range []string{"/start", "none of that", "2.4 t"} {
			in := p.input("Annamaria")
			in.Text, in.Group = text, group
			p.run(in)
		}
		code := codeOf(t, p.log)
		x := flow.Takeout{Log: p.log, Eraser: shredder{p.log}, IDs: []string{"test/Annamaria"}, At: p.at, Group: group}
		out, err := x.Job(code)
		if err != nil || out.Whole == group || len(p.log.streams[flow.JobStream(code)]) == 0 == group {
			t.Errorf("group %v: %+v, %v", group, out, err)
		}
		if found, err := x.Chat("test/Annamaria", !group); err != nil || !found {
			t.Errorf("group %v: the chat: %v, %v", group, found, err)
		}
		var left []byte
		for _, entries := range p.log.streams {
			left = append(left, bytes.Join(entries, nil)...)
		}
		if bytes.Contains(left, []byte(`"Annamaria"`)) {
			t.Errorf("group %v: her name is left in %s", group, left)
		}
		// Whoever speaks there next is heard.
		p.engine.Forget()
		in := p.input("Cleo")
		in.Text, in.Chat, in.Group = "hello", "test/Annamaria", group
		p.run(in)
	}
}

// What a person told of a brake or a pin goes with the rest of their words.
func TestTakeoutOfADefect(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Bo", "brake pedal is spongy today")
	if len(p.job().Defects) != 1 {
		t.Fatalf("it is kept as %v", p.job().Defects)
	}
	x := flow.Takeout{Log: p.log, Eraser: shredder{p.log}, IDs: []string{"test/Bo"}, By: "the operator", At: p.at}
	if _, err := x.Job(p.code); err != nil {
		t.Fatal(err)
	}
	stream := flow.JobStream(p.code)
	left := bytes.Join(append(p.log.streams[stream], p.log.heads[stream]), []byte("\n"))
	if at := bytes.Index(left, []byte("spongy")); at >= 0 {
		t.Errorf("the words are left: %s", left[max(0, at-200):min(len(left), at+100)])
	}
}
