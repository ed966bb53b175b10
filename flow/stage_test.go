package flow

import (
	"os"
	"slices"
	"strings"
	"testing"

	"linetender/calc"
	"linetender/flow/wording"
)

// stages lists every stage that a step names.
func stages() []Stage {
	var out []Stage
	for _, m := range Steps() {
		for _, s := range append([]Stage{m.To}, m.From...) {
			if !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	return out
}

// TestStepsTable: each cue has one way out of a stage, every stage is reached
// and left, and one that moves rests at a hold point, whatever broke it off.
func TestStepsTable(t *testing.T) {
	words := wording.English()
	leaves := map[Stage]bool{}
	names := map[Cue]bool{}
	for _, m := range Steps() {
		if names[m.Cue] {
			t.Errorf("cue %s is in the table twice", m.Cue)
		}
		names[m.Cue] = true
		for _, f := range m.From {
			if f == m.To {
				t.Errorf("%s goes from %s to itself", m.Cue, f)
			}
			leaves[f] = true
		}
		if m.To.Pulls() && m.From[0].Moves() {
			t.Errorf("%s goes on from %s without a hold", m.Cue, m.From[0])
		}
	}
	reached := []Stage{NotBegun}
	for i := 0; i < len(reached); i++ {
		for _, m := range Steps() {
			if slices.Contains(m.From, reached[i]) && !slices.Contains(reached, m.To) {
				reached = append(reached, m.To)
			}
		}
	}
	for _, s := range stages() {
		if !slices.Contains(reached, s) || !leaves[s] && s != PullOver {
			t.Errorf("%s: reached %v, left %v", s, slices.Contains(reached, s), leaves[s])
		}
		for _, stop := range []bool{true, false} {
			to := s
			if cue := s.rest(stop); cue != "" {
				var err error
				if to, err = stageAfter(s, cue); err != nil {
					t.Errorf("%s has no rest: %v", s, err)
				}
			}
			if to.Moves() {
				t.Errorf("%s rests at %s, which moves", s, to)
			}
		}
		if s.Holds() && s.Moves() {
			t.Errorf("%s both holds and moves", s)
		}
		k := "going." + word(string(s))
		if s.Holds() {
			k = "hold." + word(string(s))
			if _, err := stageAfter(s, onward[s]); err != nil {
				t.Errorf("the release of %s leads nowhere: %v", s, err)
			}
		}
		if s != NotBegun && s != StopDrill && s != PullOver && !words.Has(wording.Key(k)) || !words.Has(wording.Key("stage."+word(string(s)))) {
			t.Errorf("%s has no words", s)
		}
	}
	for _, c := range claims {
		if !words.Has(wording.Key("sure." + c.name)) {
			t.Errorf("%s at %s has no words", c.name, c.stage)
		}
	}
	for _, s := range sights {
		for _, section := range []string{"saw.", "look.", "cause."} {
			if s.kind != "moves" && !words.Has(wording.Key(section+s.kind)) {
				t.Errorf("%s has no words in %s", s.kind, section)
			}
		}
		if s.kind != "moves" && s.kind != "hurt" && len(s.causes) == 0 {
			t.Errorf("%s makes nothing doubtful", s.kind)
		}
	}
}

// TestEveryStaleAnswerCanBeAskedAgain: whatever a cause makes doubtful is the
// answer to a question.
func TestEveryStaleAnswerCanBeAskedAgain(t *testing.T) {
	for _, cause := range calc.Causes {
		for _, r := range calc.Stale(cause) {
			field := strings.Replace(r.Field, "[*]", "[0]", 1)
			if topicFilling(field) == "" {
				t.Errorf("%s after %s is asked by no question", field, cause)
			}
		}
	}
}

// TestSightsInWords: what people write is heard as what they saw, and what
// only sounds like it is not.
func TestSightsInWords(t *testing.T) {
	for text, want := range map[string]string{
		"it slips": "slips", "wheels are spinning": "slips", "the strop slid up the tree": "creeps", "slings slipped a bit on the oak": "creeps", "both strops slip down the post": "creeps", "line creeps": "creeps",
		"the anchor moves": "anchor", "stake gave": "anchor", "mark moved": "anchor", "the oak moved 1 cm": "anchor", "oak is leaning": "anchor", "the ash is coming out": "anchor", "roots are lifting": "anchor",
		"the oak moved 1 cm, sling creeps": "anchor", "its creepin down a hair": "runs", "trailer is creeping back": "runs", "shackle pin is turning": "unsure", "the hook is opening": "unsure", "the post is firm": "", "everyone behind the tree": "", "stuck": "stuck", "it doesn't move": "stuck",
		"it runs": "runs", "rolling back": "runs", "rope over the wheel": "wheel", "heard a crack": "sound", "smoke at the post": "sound",
		"front is lifting": "lifts", "front wheels come up": "lifts", "it moves": "moves", "load is moving": "moves",
		"does it slip?": "", "a kite came down": "", "lunch": "",
		"the rope is singing": "sound", "it creaked": "sound", "BANG": "sound", "line is humming": "sound", "a strand parted": "sound", "the wire is fraying": "sound",
		"lost signal": "signal", "radio is dead": "signal", "can't see Joss": "signal", "I can’t hear you": "signal", "lost sight of the signaller": "signal",
		"not sure about this": "unsure", "unsure": "unsure", "I didn't like that": "unsure", "don’t like it": "unsure", "something is wrong": "unsure", "that looked odd": "unsure",
		"Bo is hurt": "hurt", "someone got hurt": "hurt", "my hand is caught": "hurt", "call an ambulance": "hurt", "nobody is hurt": "", "no one hurt": "",
		"a kid ran in": "inside", "dog under the line": "inside", "people are in place": "", "a car is coming": "inside",
		"it is tipping": "tips", "the truck leans to the left": "tips", "thunder": "weather", "winch stalled": "stuck",
		"sounds good": "", "looks fine": "", "all good": "", "don't see any movement": "", "no sound": "", "its tight n been about a minute, nothin creaked": "", "nothing creaked or popped": "", "nothing creaked but the shackle popped": "sound",
		"nothing creaked and then a strand parted": "sound", "nothin holds, it creaked": "sound",
	} {
		if got, _ := sightIn(text); got.kind != want {
			t.Errorf("%q is heard as %q, want %q", text, got.kind, want)
		}
	}
	if moved, took := travelled("took in 4 m, moved 1.9 m"); moved != "1.9 m" || took != "4 m" {
		t.Errorf("the figures are read as moved %q, took in %q", moved, took)
	}
}

const stageFile = "stage.md"

// TestStageDiagramIsCurrent holds the drawing to the machine.
func TestStageDiagramIsCurrent(t *testing.T) {
	drawn, err := StageDiagram()
	if err != nil {
		t.Fatal(err)
	}
	want := "# The machine of the pull\n\nDrawn from the table in stage.go by `go test ./flow -update`.\n" +
		"A stage that moves lies between hold points. A stop takes it back to one: backs, holds and catches lead there,\n" +
		"hands-out and gear-stays where hands were on the gear.\n\n" +
		"```mermaid\n" + strings.TrimSpace(drawn) + "\n```\n"
	if rewrite() {
		if err := os.WriteFile(stageFile, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	got, err := os.ReadFile(stageFile)
	if err != nil || string(got) != want {
		t.Errorf("%s is not what the machine is (%v); run go test ./flow -update", stageFile, err)
	}
}
