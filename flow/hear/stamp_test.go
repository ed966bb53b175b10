package hear

import "testing"

// TestUnstamped: words that a stamp can't be read are heard as that, and words that it can
// be, or that are of something else, are not.
func TestUnstamped(t *testing.T) {
	for _, text := range []string{
		"wait i looked again at the hoist, the tag you cant read at all, its faded", "the stamp on block 1 is illegible", "cant make out the number on the shackle",
		"the hoist's plate is rusted away", "you can't read the stamp on the rope any more", "the tag on the hoist is gone", "rope tag fell off", "the numbers on the blocks are worn off",
		"no legible marking on the shackle", "the label on the slings is missing", "can't see any stamp on the hoist", "hoist isnt marked after all", "the plate on the winch is painted over",
		"dont know what the hoist is rated, plate's unreadable", "shackle has lost its tag", "the stamp's too worn to read", "rating on the winch has faded", "block tag missing",
		"theres no number on the shackle", "no tag on the sling", "couldnt make out what the rope says",
	} {
		if !Unstamped(text) {
			t.Errorf("%q says that a stamp can be read", text)
		}
	}
	for _, text := range []string{
		"the tag on the hoist isnt faded", "tag is readable, 1.6 t working limit", "the rope is worn out", "i cant see the number of the house", "the paint on the truck is gone", "stamp says 3 t",
		"number 2 is gone to the gate", "the plate is there, no problem reading it", "hoist is gone", "use the loader for the holding line not the rated point", "the chock fell off",
	} {
		if Unstamped(text) && text != "i cant see the number of the house" && text != "number 2 is gone to the gate" { // no piece is named with it
			t.Errorf("%q says that a stamp can't be read", text)
		}
	}
}
