package hear

import (
	"slices"
	"strings"
)

// Somebody at a post who says that they go, or that another has it now, says so in
// passing as often as not: between a sorry and a reason.

// offPost are the word lists.
var offPost = loadForms("offpost")

// Off is what a message of somebody at a post says of their going: the parts that they go,
// those that they hand the post on, and the rest but for a farewell, each as it is written.
type Off struct{ Goes, Hands, Rest string }

// OffPost reads a message of somebody at a post for that. names are the crew's.
func OffPost(text string, names []string) Off {
	r := dangerReading{names: names}
	var o Off
	parts := parted(Lowered(text))
	left := slices.ContainsFunc(parts, func(p dangerPart) bool {
		return offPost["going"].MatchString(r.mark(strings.Trim(p.whole, " -–:()\"")))
	})
	for _, part := range parts {
		words := strings.TrimSpace(part.whole)
		said := r.mark(strings.Trim(words, " -–:()\""))
		before, behind, _ := strings.Cut(said, " and ")
		goes := offPost["going"].MatchString
		hands := offPost["handing"].MatchString
		switch {
		case goes(said), goes(before) && (goes(behind) || hands(behind)):
			o.Goes += words + part.end + " "
		case hands(said), left && offPost["takenon"].MatchString(said):
			o.Hands += words + part.end + " "
		case words != "" && !offPost["farewell"].MatchString(said):
			o.Rest += words + part.end + " "
		}
	}
	return Off{strings.TrimSpace(o.Goes), strings.TrimSpace(o.Hands), strings.TrimSpace(o.Rest)}
}
