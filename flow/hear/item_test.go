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

// TestItemWrong: that something asked of the list is not so is told in whatever words where
// it is asked, and by its name where another item is; a denial of a fault tells none.
func TestItemWrong(t *testing.T) {
	for _, c := range []struct {
		field, text string
		here, away  bool
	}{
		{"line_free", "it rubs the fence post abit", true, false},
		{"line_free", "The rope lies on a rock", true, false},
		{"line_free", "the line rubs on the bumper", true, true},
		{"line_free", "nothing rubs", false, false},
		{"line_free", "the rope rubs nowhere, it does not touch the post", true, true}, // it is asked again
		{"line_free", "it was rubbing, fixed", false, false},
		{"line_free", "does it rub?", false, false},
		{"ends_joined", "nope the sling is on the tree bark bit loose", true, true},
		{"ends_joined", "i mean the sling is loose, ambulance is ok", true, true},
		{"ends_joined", "no shackle is loose", false, false},
		{"ends_joined", "shackle pin not screwed in", true, true},
		{"chocks", "one wedge slipped out", true, true},
		{"edges_padded", "the pad fell off the bumper", true, true},
		{"aid", "no kit here", false, false},
	} {
		if got := ItemWrong(c.field, c.text, true); got != c.here {
			t.Errorf("at %s %q is wrong: %v", c.field, c.text, got)
		}
		if got := ItemWrong(c.field, c.text, false); got != c.away {
			t.Errorf("elsewhere %q is of %s: %v", c.text, c.field, got)
		}
	}
}
