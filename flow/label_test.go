package flow_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"linetender/flow"
	"linetender/flow/script"
)

// TestTypedLabels plays every golden conversation with what its buttons say
// typed: each says what pressing it does.
func TestTypedLabels(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	scripts, err := script.Folder(talkDir)
	if err != nil {
		t.Fatal(err)
	}
	presses := 0
	for _, s := range scripts {
		c := newChair(t)
		for _, st := range s.Steps {
			text := st.Input
			if label, ok := st.Press(); ok {
				text = label
				presses++
			}
			if d := cmp.Diff(st, stepOf(st.Input, c.say(text))); d != "" {
				t.Errorf("%s: %q typed is not what the button does (-pressed +typed):\n%s", s.Name, text, d)
				break
			}
		}
	}
	parties, err := filepath.Glob(filepath.Join(partyDir, "*.txtar"))
	if err != nil || len(parties) == 0 {
		t.Fatalf("no parties: %v", err)
	}
	for _, f := range append(parties, "../cmd/linetender/demo.txtar") {
		body, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		p, err := script.ParseParty(body)
		if err != nil {
			t.Fatal(err)
		}
		stage := stageFor(filepath.Join(stepsDir, strings.TrimSuffix(filepath.Base(f), ".txtar")+".txt"))
		for n, l := range p.Lines {
			typed := l
			label, ok := script.Step{Input: l.Input}.Press()
			late := slices.ContainsFunc(l.Told, func(told script.Told) bool {
				return slices.ContainsFunc(told.Said, func(s flow.Said) bool { return strings.HasPrefix(s.Key, "pull.void") || s.Key == "refuse.stale_short" })
			})
			if ok && !late { // a button that is over does nothing, and words are words
				typed.Input = label
				presses++
			}
			out, err := stage.Line(typed)
			if err != nil {
				t.Fatal(err)
			}
			l.Told, typed.Told = p.Lines[n].Told, stage.Tell(out, p.People())
			typed.Input = l.Input
			if d := cmp.Diff(l, typed); d != "" {
				t.Errorf("%s, line %d: %q of %s typed is not what the button does (-pressed +typed):\n%s", filepath.Base(f), n+1, typed.Input, typed.Who, d)
				break
			}
		}
	}
	if presses < 300 {
		t.Errorf("only %d buttons were pressed", presses)
	}
}
