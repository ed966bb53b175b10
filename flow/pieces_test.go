package flow_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"linetender/flow"
	"linetender/flow/hear"
)

// twoRopes is a plain job with a rope and an oak more than it needs.
func twoRopes(t *testing.T) *chair {
	return after(t, append(withGear[:len(withGear):len(withGear)], "another rope 40 m 16 mm polyester WLL 1 t", "a second oak 80 cm alive and sound")...)
}

// listed is what is known without the question that stands behind it.
func listed(known string) string {
	for _, q := range []string{"\nWhich", "\nWhat now"} {
		known, _, _ = strings.Cut(known, q)
	}
	return strings.TrimSpace(known)
}

// pieces counts the pieces that a job knows of.
func pieces(c *chair) int {
	n := 0
	for line := range strings.Lines(known(c)) {
		for _, kind := range []string{"rope", "block", "shackle", "sling", "oak", "tree"} {
			if strings.HasPrefix(line, kind) && !strings.HasPrefix(line, "tree strap") {
				n++
			}
		}
	}
	return n
}

// TestRemarksAddNothing: what is said of a piece that is there adds none; only
// words that add do.
func TestRemarksAddNothing(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, tc := range []struct {
		say  string
		more int
	}{
		{"theres only one rope!", 0},
		{"slings go round the tree", 0},
		{"i have 60 m rope not 6!", 0},
		{"the oak is tied back to a second oak", 0},
		{"rope has a knot in it", 0},
		{"a shackle is bent", 0},
		{"why one part? i have a block", 0},
		{"the oak is alive and straight", 0},
		{"the rope is a bit frayed", 0},
		{"the neighbour brings another rope, 60 m 24 mm polyester 100 kN breaking", 1},
		{"a second block WLL 3 t", 1},
		{"theres a 3rd oak 90 cm, healthy", 1},
	} {
		for _, two := range []bool{false, true} {
			c := after(t, withGear...)
			if two {
				c = twoRopes(t)
			}
			was := pieces(c)
			c.say(tc.say)
			c.say("back") // from the question which is meant, where it is asked
			if got := pieces(c); got-was != tc.more && !(tc.more == 1 && got == was) {
				t.Errorf("after %q there are %d pieces instead of %d\n%s", tc.say, got, was, known(c))
			}
		}
	}
}

// TestOneMoreIsOneMore: words that add do add.
func TestOneMoreIsOneMore(t *testing.T) {
	for _, say := range []string{"the neighbour brings another rope, 60 m 24 mm polyester 100 kN breaking", "a second block WLL 3 t", "theres a 2nd oak 90 cm, healthy"} {
		c := after(t, withGear...)
		was := pieces(c)
		c.say(say)
		if got := pieces(c); got != was+1 {
			t.Errorf("after %q there are %d pieces instead of %d\n%s", say, got, was+1, known(c))
		}
	}
}

// TestWithout: a piece is taken off the list by the words that people have for
// it, it is read back, and what was told of the others stays theirs.
func TestWithout(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, tc := range []struct {
		say  string
		gone string
		kept []string
	}{
		{"remove rope 2", "16 mm", []string{"oak"}},
		{"drop rope 2", "16 mm", nil},
		{"without rope 2", "16 mm", nil},
		{"leave out rope 2", "16 mm", nil},
		{"leave rope 2 out", "16 mm", nil},
		{"forget the 40m one", "16 mm", nil},
		{"the short rope is not there", "16 mm", nil},
		{"we don't have the 40 m rope any more", "16 mm", nil},
		{"forget the thick oak", "80 cm", nil},
		{"forget the thick oak, only the thin one", "80 cm", nil},
		{"without the block", "block", []string{"rope 2", "oak"}},
	} {
		c := twoRopes(t)
		before := known(c)
		if !strings.Contains(before, tc.gone) {
			t.Fatalf("there is no %q before:\n%s", tc.gone, before)
		}
		said := textOf(c.say(tc.say))
		got := known(c)
		if strings.Contains(got, tc.gone) || !strings.Contains(said, "Taken off the list") {
			t.Errorf("after %q (%s) it is known\n%s", tc.say, said, got)
		}
		for _, k := range tc.kept {
			if !strings.Contains(got, k) {
				t.Errorf("after %q it is known\n%s\nwithout %q", tc.say, got, k)
			}
		}
	}
	for _, say := range []string{"remove rope 7", "forget it", "without a doubt", "drop the 33 m rope"} {
		c := twoRopes(t)
		before := known(c)
		c.say(say)
		if got := known(c); listed(got) != listed(before) {
			t.Errorf("after %q it is known\n%s\nand not\n%s", say, got, before)
		}
	}
	// Where two may be meant it is asked, and the answer is done.
	c := twoRopes(t)
	before := known(c)
	if said := textOf(c.say("remove the neighbour's rope")); !strings.Contains(said, "Which do you mean") {
		t.Fatalf("it is not asked which: %s", said)
	}
	if got := known(c); listed(got) != listed(before) {
		t.Errorf("asked which, and it is known\n%s", got)
	}
	c.say("2")
	if got := known(c); strings.Contains(got, "16 mm") || !strings.Contains(got, "rope 1 (") {
		t.Errorf("after 2 it is known\n%s", got)
	}
}

// TestNothingIsDroppedSilently: whatever word of a message tells of a thing,
// it is on the sheet or it is said to be unread, at every question.
func TestNothingIsDroppedSilently(t *testing.T) {
	var lines []string
	for _, dir := range []string{"../testdata/talk", "../testdata/party"} {
		files, err := filepath.Glob(filepath.Join(dir, "*.txtar"))
		if err != nil || len(files) == 0 {
			t.Fatalf("no conversations in %s: %v", dir, err)
		}
		for _, name := range files {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			for line := range strings.Lines(string(text)) {
				if said, ok := strings.CutPrefix(strings.TrimSpace(line), "> "); ok && !strings.HasPrefix(said, "[") && !strings.HasPrefix(said, "/") {
					lines = append(lines, said)
				}
			}
		}
	}
	for _, line := range lines {
		for _, topic := range []hear.Topic{hear.TopicNone, hear.TopicGround, hear.TopicPuller} {
			h := hear.Listen(line, topic)
			if h.Act != hear.None || len(h.Facts) > 0 || len(h.Cleared) > 0 || h.Rest != "" {
				continue
			}
			t.Errorf("of %q nothing is read and nothing is left over", line)
		}
	}
	// Each message says at its end something that can't be read; it is told so.
	for _, unread := range []string{"the flux is 7 blorps", "pete says the gate wants shutting first", "its flat there by the barn mostly"} {
		for i, at := range basics {
			c := after(t, basics[:i]...)
			if said := textOf(c.say(at + ". " + unread)); !strings.Contains(said, unread) && !strings.Contains(said, "can't read") {
				t.Errorf("after %q: %q is dropped silently:\n%s", fmt.Sprint(basics[:i]), unread, said)
			}
		}
	}
}

// TestWhichPieceIsMeant: where two pieces go by one name, each is spoken of by
// what tells it from the other, in the questions and in the plan.
func TestWhichPieceIsMeant(t *testing.T) {
	c := twoRopes(t)
	got := known(c)
	for _, want := range []string{"oak 50 cm (", "oak 80 cm (", "rope 1 (60 m", "rope 2 (40 m"} {
		if !strings.Contains(got, want) {
			t.Errorf("it is known\n%s\nwithout %q", got, want)
		}
	}
}
