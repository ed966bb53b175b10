package flow

import (
	"errors"
	"os"
	"slices"
	"strings"
	"testing"

	"linetender/flow/wording"
)

// states lists every state that a move names.
func states() []State {
	out := []State{Start}
	for _, m := range Moves() {
		for _, s := range append([]State{m.To}, m.From...) {
			if !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	return out
}

// TestMachineTable holds the table to what the library does not check: each
// event has one way out of a state, no move stays where it is, every state is
// reached, and every state but the last has a way out.
func TestMachineTable(t *testing.T) {
	type key struct {
		e Event
		s State
	}
	seen := map[key]bool{}
	names := map[Event]bool{}
	leaves := map[State]bool{}
	for _, m := range Moves() {
		if names[m.Event] {
			t.Errorf("event %s is in the table twice", m.Event)
		}
		names[m.Event] = true
		if m.Event == "" || m.To == "" || len(m.From) == 0 {
			t.Errorf("move %+v is not whole", m)
		}
		for _, f := range m.From {
			if seen[key{m.Event, f}] {
				t.Errorf("%s leaves %s twice", m.Event, f)
			}
			seen[key{m.Event, f}] = true
			if f == m.To {
				t.Errorf("%s goes from %s to itself; asking again is no event", m.Event, f)
			}
			leaves[f] = true
		}
		if strings.ContainsAny(string(m.Event)+string(m.To), " \t\n:") {
			t.Errorf("%s to %s can't stand in a diagram", m.Event, m.To)
		}
	}
	reached := []State{Start}
	for i := 0; i < len(reached); i++ {
		for _, m := range Moves() {
			if slices.Contains(m.From, reached[i]) && !slices.Contains(reached, m.To) {
				reached = append(reached, m.To)
			}
		}
	}
	for _, s := range states() {
		if !slices.Contains(reached, s) {
			t.Errorf("nothing leads to %s", s)
		}
		if !leaves[s] && s != Closed {
			t.Errorf("nothing leads out of %s", s)
		}
		if !known(s) {
			t.Errorf("%s is not known", s)
		}
	}
	if known("towing") {
		t.Error("a state that is not in the table is known")
	}
}

// TestStopAndLeaveAlwaysMove shows that nobody is kept: from every state but
// the ends themselves a stop halts, and leaving and closing work.
func TestStopAndLeaveAlwaysMove(t *testing.T) {
	for _, s := range states() {
		for e, to := range map[Event]State{Stops: Halted, Leaves: Away, Closes: Closed} {
			if s == to || s == Closed {
				continue
			}
			got, err := after(s, e)
			if err != nil || got != to {
				t.Errorf("%s at %s leads to %q, %v; want %s", e, s, got, err, to)
			}
		}
	}
}

// TestEveryStateHasAQuestion: whatever the machine leads to, there is
// something to say there, a way to find the answer and a reason for asking.
func TestEveryStateHasAQuestion(t *testing.T) {
	words := wording.English()
	asked := map[State]bool{}
	for _, list := range [][]topic{firstTopics, laterTopics} {
		for _, tp := range list {
			asked[tp.state] = true
			for _, section := range []string{"ask", "how", "why", "like", "name"} {
				if k := tp.key(section); !words.Has(k) {
					t.Errorf("topic %s has no words for %s (%s)", tp.name, section, k)
				}
			}
			for _, o := range tp.offers {
				if k := wording.Key("choice." + o.choice); !words.Has(k) {
					t.Errorf("topic %s: button %s has no label", tp.name, o.choice)
				}
			}
		}
	}
	for _, c := range siteChecks {
		asked[c.topic().state] = true
		if !words.Has(c.claim()) {
			t.Errorf("check %s has no sentence", c.field)
		}
	}
	for _, s := range states() {
		if asked[s] {
			continue
		}
		for _, section := range []string{"ask", "how", "why", "like"} {
			if k := wording.Key(section + "." + string(s)); !words.Has(k) {
				t.Errorf("state %s has no words for %s", s, section)
			}
		}
	}
}

// TestLibraryFacts pins down what the machine's library does where we depend
// on it.
func TestLibraryFacts(t *testing.T) {
	if got, err := after(Weight, NeedWeight); err == nil {
		t.Errorf("an event that stays leads to %q; the library is expected to refuse it", got)
	}
	if _, err := after(Closed, NeedWeight); !errors.Is(err, errNoMove) {
		t.Errorf("an event that can't happen gives %v", err)
	}
	if _, err := after("towing", NeedWeight); err == nil {
		t.Error("an unknown state takes an event")
	}
}

// TestAnyQuestionFollowsAny: what was settled may be told otherwise at any question, so
// from each every other can come next.
func TestAnyQuestionFollowsAny(t *testing.T) {
	asking := join(first, rest)
	for _, to := range asking {
		for _, from := range without(asking, to) {
			if at, err := after(from, needs[to]); err != nil || at != to {
				t.Errorf("from %s %s leads to %q: %v", from, needs[to], at, err)
			}
		}
	}
}

const diagramFile = "machine.md"

// TestDiagramIsCurrent holds the drawing in the docs to the machine.
func TestDiagramIsCurrent(t *testing.T) {
	drawn, err := Diagram()
	if err != nil {
		t.Fatal(err)
	}
	want := "# The conversation's machine\n\nDrawn from the table in machine.go by `go test ./flow -update`.\n" +
		"A question that is asked again is no event. amend, halted and away lead back to wherever the job is needed next.\n\n" +
		"```mermaid\n" + strings.TrimSpace(drawn) + "\n```\n"
	if rewrite() {
		if err := os.WriteFile(diagramFile, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	got, err := os.ReadFile(diagramFile)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Errorf("%s is not what the machine is; run go test ./flow -update", diagramFile)
	}
}

// TestWaysAreTheLibrarys holds what is kept of the machines to the machines:
// every event and every cue, from everywhere, leads where the library says.
func TestWaysAreTheLibrarys(t *testing.T) {
	for _, s := range states() {
		for _, m := range Moves() {
			want, wantErr := lead(s, m.Event)
			if got, err := after(s, m.Event); got != want || (err == nil) != (wantErr == nil) {
				t.Errorf("%s at %s leads to %q, %v; the library says %q, %v", m.Event, s, got, err, want, wantErr)
			}
		}
	}
	for _, from := range Steps() {
		for _, s := range append(from.From, from.To) {
			for _, m := range Steps() {
				want, wantErr := stageLead(s, m.Cue)
				if got, err := stageAfter(s, m.Cue); got != want || (err == nil) != (wantErr == nil) {
					t.Errorf("%s at %s leads to %q, %v; the library says %q, %v", m.Cue, s, got, err, want, wantErr)
				}
			}
		}
	}
}
