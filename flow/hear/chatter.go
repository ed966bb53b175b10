package hear

import "strings"

// chatterForms are the word lists.
var chatterForms = loadForms("chatter")

// Chatter takes out of a message at which something is to be confirmed the parts that tell
// nothing of the job, and returns the rest in lower case and whether there was any such
// part. names are the crew's.
func Chatter(text string, names []string) (rest string, is bool) {
	r := dangerReading{names: names}
	var left []string
	for _, part := range parted(Lowered(text)) {
		words := strings.Trim(part.whole, " -–:()\"")
		switch {
		case words == "":
		case chatterForms["chatter"].MatchString(r.mark(words)):
			is = true
		default:
			left = append(left, words)
		}
	}
	return strings.Join(left, ", "), is
}
