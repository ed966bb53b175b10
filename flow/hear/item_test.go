package hear

import "testing"

// TestItemWords: what is said beside a yes is told from what says more, and each item's
// words are its own.
func TestItemWords(t *testing.T) {
	for word, want := range map[string]bool{"looked": true, "yes": true, "everybody": true, "smokes": false, "yesterday": false, "frayed": false} {
		if got := BesideYes(word); got != want {
			t.Errorf("beside a yes %q: %v", word, got)
		}
	}
	for word, want := range map[string]bool{"chocks": true, "4": true, "unmoved": true, "slipping": false, "chocksy": false} {
		if got := ClaimWord(word); got != want {
			t.Errorf("of a claim %q: %v", word, got)
		}
	}
	for text, want := range map[string]bool{"We’ve unloaded it": true, "Took the ball off": true, "it weighs 3 t": false} {
		if got := TellsDone(text); got != want {
			t.Errorf("%q done: %v", text, got)
		}
	}
	for field, text := range map[string]string{"signals": "signals agreed", "chocks": "wedges in", "between": "nobody between"} {
		if of := ItemSubject(field); of == nil || !of.MatchString(text) || of.MatchString("the rope is tight") {
			t.Errorf("%s is not told by %q", field, text)
		}
	}
	if ItemSubject("nosuch") != nil {
		t.Error("an item that is none has words")
	}
}
