package hear

import (
	"testing"

	"pgregory.net/rapid"
)

// A word or a figure that is taken without a look at the shapes is what they would have made
// of it, and no shape begins with a space.
func TestABareWordHasOneShape(t *testing.T) {
	check := func(t rapid.TB, text string) {
		first := 0
		for _, shape := range shapes {
			if first = len(shape.FindString(text)); first > 0 {
				break
			}
		}
		if n := max(letters(text), digits(text)); n > 0 && n != first {
			t.Errorf("of %q the first %d bytes are taken, the shapes take %d", text, n, first)
		}
		if text != "" && text[0] == ' ' && first > 0 {
			t.Errorf("%q begins with a space and has a shape", text)
		}
	}
	taken, figures := 0, 0
	for _, r := range rows(t) {
		for i := range r.text {
			check(t, r.text[i:])
			taken += min(letters(r.text[i:]), 1)
			figures += min(digits(r.text[i:]), 1)
		}
	}
	if taken == 0 || figures == 0 {
		t.Errorf("%d words and %d figures were taken", taken, figures)
	}
	signs := []rune("aAbwxzZdotK019 .,-/'’´`&:;@[_{\x00\x7fäıſKº½\u0301")
	rapid.Check(t, func(t *rapid.T) { check(t, rapid.StringOfN(rapid.SampledFrom(signs), 0, 8, -1).Draw(t, "text")) })
}
