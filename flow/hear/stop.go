package hear

import (
	"regexp"
	"strings"
)

// Stop is called under stress, with cold thumbs. A stop too many costs a
// minute, so this errs towards one: the letters count even inside a longer
// word, and so do the slips of the finger that are no other word of the trade.
var (
	// A stop typed letter by letter: s.t.o.p, S T O P.
	spelledStop = regexp.MustCompile(`\bs[\W_]+t[\W_]+o[\W_]+p+\b`)

	// Letters that are held down: stooop, sstoppp.
	heldStop = regexp.MustCompile(`s+t+[o0]+p`)

	// Words that hold the letters and are certainly another thing.
	notStop = Expression(`\b(?:stopcocks?|doorstops?|backstops?|stoppers?|stopwatch(?:es)?|shortstop|estoppel)\b`)

	// What has come to its end by itself, or where somebody called in on the way.
	stoppedBy = Expression(`\bstop(?:s|ped) (?:leaking|dripping|raining|drizzling|pouring|snowing|hailing|sleeting|smoking|bleeding|smelling)\b|\b(?:leak|leaking|drip|dripping|rain|snow|sleet|hail|smoke|smell|bleeding)(?:age|s)?(?: has| have|'s| all| now| just)* stopped\b` +
		`|\bstopped (?:off )?(?:by|at) (?:the|a|my|his|her|our) (?:barn|shop|shops|pub|house|farm|garage|station|village|cafe|yard|mill|office)\b`)

	// Slips of the finger, one to a word.
	slips = map[string]bool{
		"stpo": true, "sotp": true, "tsop": true, "sopt": true, "stob": true, "stp": true, "stpp": true,
		"stoo": true, "stol": true, "stio": true, "stip": true, "sttp": true, "srop": true, "syop": true,
		"sfop": true, "sgop": true, "dtop": true, "xtop": true, "ztop": true, "wtop": true, "etop": true,
		"stoip": true, "stolp": true, "styop": true, "stiop": true, "stopo": true, "dstop": true,
		"halt": true, "hlat": true, "hatl": true, "haltt": true, "haalt": true, "halllt": true, "halttt": true,
		"haltnow": true, "abort": true,
	}
)

// Stops reports whether text calls a stop: what [Listen] hears as [Stop], told
// without reading the rest, for who must know that first.
func Stops(text string) bool { return isStop(text) }

// stopAlone are words that call a stop, call for it or say that it is the drill's:
// beside them nothing is told.
var stopAlone = regexp.MustCompile(`^(?:(?:all|everybody|everyone|now|please|pls|drill|s+t+[o0]+p+)\b[^\pL\pN]*)+$`)

// StopsAlone reports whether text calls a stop and tells nothing else: no cause and
// nothing that was seen. Of what can't be read it says that it tells something.
func StopsAlone(text string) bool {
	text = strings.Trim(strings.ToLower(text), " .,!/()-–*_")
	return slips[text] || spelledStop.FindString(text) == text && text != "" || stopAlone.MatchString(text) && isStop(text)
}

// isStop reports whether text calls a stop.
func isStop(text string) bool {
	text = strings.ToLower(text)
	for _, r := range []struct{ from, to string }{{"ｓ", "s"}, {"ｔ", "t"}, {"ｏ", "o"}, {"ｐ", "p"}} {
		text = strings.ReplaceAll(text, r.from, r.to)
	}
	text = stoppedBy.ReplaceAllString(notStop.ReplaceAllString(text, " "), " ")
	if heldStop.MatchString(text) || spelledStop.MatchString(text) {
		return true
	}
	words := strings.FieldsFunc(text, func(r rune) bool { return !('a' <= r && r <= 'z' || '0' <= r && r <= '9') })
	for i, w := range words {
		if slips[w] || i > 0 && (words[i-1] == "sto" && w == "p" || words[i-1] == "st" && w == "op") {
			return true
		}
	}
	return false
}
