package hear

import "strings"

// found are the word lists.
var found = loadForms("found")

// Found reports whether words tell what held a load that did not move, as what was so.
func Found(text string) bool {
	low := Lowered(strings.TrimSpace(text))
	return !strings.HasSuffix(low, "?") && found.in("found", low)
}
