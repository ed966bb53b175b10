package hear

import "strings"

// stamp are the forms of words/stamp.txt.
var stamp = loadForms("stamp")

// Unstamped reports whether words say of a stamp, a tag or a plate that nobody can read it
// or that it is not there, and nothing against it.
func Unstamped(text string) bool {
	low := strings.Trim(Lowered(text), " .!")
	if rest := stamp.get("readable").ReplaceAllString(low, " "); rest != low {
		return false
	}
	return stamp.in("nomark", low) || stamp.in("mark", low) && (stamp.in("cantread", low) || stamp.in("gone", low))
}
