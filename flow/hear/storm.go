package hear

import "regexp"

// A storm, or that it gets too dark or thick to see, as people tell it, deny it, or say that
// it is over.

// stormy are words that a storm is on or coming, or that it gets too dark or thick to see;
// noStorm those that deny one of these, and stormOver that it is over, or only may come.
var (
	stormy    = Expression(`\b(lightning|thunder\w*|storm\w*|fog\w*|(is|its|it's|it|getting|gets|got|too|so) dark|hail\w*|gale)\b`)
	noStorm   = Expression(`\b(no|not|isn'?t|ain'?t|never|without|hardly)( any| a| more| sign of| in a)* (lightning|thunder\w*|storm\w*|fog\w*|dark|hail\w*|gale)( or (a )?(lightning|thunder\w*|storm\w*))?\b`)
	stormOver = Expression(`\b(over now|(has|is|have) (passed|gone|cleared)|gone (by|past|away)|moved (off|away)|going away|last (night|week)|yesterday|earlier|if|might|may|could|forecast|in case|before (it|the|a)|no more|not any more)\b|\bover\W*$`)
)

// stormGone are words that one of these was there and is no more.
var stormGone = regexp.MustCompile(`\b(?:lightning|thunder\w*|storm\w*|fog\w*|dark|hail\w*|gale)(?:'?s| is| has| have| are| all| now| just| it)* (?:gone|over|lifted|cleared|passed|away)\b(?: now| away| by)*`)

// StormComes reports whether words in small letters tell of a storm that is on or coming,
// or that nobody sees.
func StormComes(low string) bool {
	left, _ := StormDenied(low)
	return stormy.MatchString(stormGone.ReplaceAllString(left, " ")) && !stormOver.MatchString(low)
}

// StormGone reports whether words in small letters tell that a storm or the dark was there
// and is no more.
func StormGone(low string) bool { return stormGone.MatchString(low) }

// StormDenied returns what is left of words in small letters where they deny a storm, and
// whether they do.
func StormDenied(low string) (left string, denied bool) {
	if !noStorm.MatchString(low) {
		return low, false
	}
	return noStorm.ReplaceAllString(low, " "), true
}

// storms takes as read a clause that denies a storm and tells nothing else: it fills no
// answer, and leaves none open.
func (m *message) storms() {
	for _, c := range m.clauses {
		left, denied := StormDenied(Lowered(words(m.text, m.tokens[c.from:c.to])))
		if !denied || c.unsure || c.ask || c.undone {
			continue
		}
		plain := true
		for _, t := range tokenize(left) {
			plain = plain && (idle[t.text] || lists.has(t.text, "ofweather"))
		}
		for _, it := range c.items {
			it.used = it.used || plain
		}
	}
}
