package hear

import (
	"regexp"
	"strings"
)

// spelledStop is a stop typed letter by letter: s.t.o.p, S T O P.
var spelledStop = regexp.MustCompile(`(?i)\bs[\W_]+t[\W_]+o[\W_]+p+\b`)

// isStop reports whether text calls a stop. It errs towards one: a stop too
// many costs a minute.
func isStop(text string) bool {
	text = strings.ToLower(text)
	return strings.Contains(text, "stop") || spelledStop.MatchString(text)
}
