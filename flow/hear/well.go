package hear

import (
	"slices"
	"strings"
)

// well are the word lists.
var well = loadForms("well")

// AsItShould reports whether words, in small letters, say that what they name is as it
// should be, or deny that anything is wrong with it, and tell of nothing else. names are
// the crew's.
func AsItShould(low string, names []string) bool {
	low = strings.TrimSpace(low)
	if low == "" || strings.HasSuffix(low, "?") || slices.ContainsFunc(Dangers(low, names), func(d Danger) bool { return d.Stands == Now || d.Stands == Asked }) {
		return false
	}
	r, said := dangerReading{names: names}, false
	for _, p := range parted(low) {
		said = said || p.words != p.whole
		for _, w := range strings.FieldsFunc(r.mark(p.words), func(r rune) bool { return strings.ContainsRune(" :+&/()-\t", r) }) {
			if !well.in("well", w) && !well.in("name", w) {
				return false
			}
			said = said || well.in("state", w) && len(strings.Fields(low)) > 2
		}
	}
	return said
}
