package flow

import (
	"regexp"

	"linetender/flow/hear"
)

// The rule that somebody writes who answers for going on often says who stops when: that is
// an answer to the very question that was asked, while nothing is pulled, and no call. A call
// has nobody who does it and no case for which it is said; in doubt it is one.

// signsRule reports whether words are the rule that somebody writes who answers for
// something, though they have the letters of a stop in them: "stop as soon as it goes
// hard" says when, and a stop does not. What begins with a stop is one.
func (t *turn) signsRule() bool {
	if t.in.Press != nil || t.s == nil || t.s.Topic != "sign_reason" || t.s.State != Signing || !t.main() {
		return false
	}
	return t.saysRule()
}

// rulesEarly reports whether words are such a rule that is told before it is asked for,
// while no line lies.
func (t *turn) rulesEarly() bool {
	if t.in.Press != nil || t.s == nil || t.s.Stage != NotBegun || t.me() == nil || t.signsRule() {
		return false
	}
	switch t.s.State {
	case Verdict, Signing, Checks:
		return t.saysRule()
	}
	return false
}

// saysRule reports whether words that have the letters of a stop in them are a rule.
func (t *turn) saysRule() bool {
	low := hear.Lowered(t.in.Text)
	if !hear.Stops(low) || calledOut.MatchString(low) {
		return false
	}
	rest := ruleStop.ReplaceAllString(low, "$1 ")
	if t.s.Stage.Rigged() {
		return !hear.Stops(rest)
	}
	rest = whoStops.ReplaceAllString(rest, "$1 ")
	if rest != low || caseTold.MatchString(low) {
		rest = weStop.ReplaceAllString(rest, "$1 ")
		rest = saysStop.ReplaceAllString(rest, "$1 ")
	}
	return rest != low && !hear.Stops(rest)
}

var (
	// ruleStop is a stop that is said for a case, behind who does what.
	ruleStop = regexp.MustCompile(`([\pL\d]+[^.!?]*?[ ,])(?:stop|stops|stopping|halt)(?: (?:cranking|pulling|winching|the winch|at once|straight away|it|everything))* (?:when|whenever|if|as soon as|once|the moment)\b`)

	// whoStops is somebody who stops, told as what they do: "Gerd stops at once".
	whoStops = regexp.MustCompile(`([\pL\d]+[ ,]+(?:(?:then|always|also|just|and) )*)(?:stops|halts)\b`)

	// caseTold is for when a rule is.
	caseTold = regexp.MustCompile(`\b(?:when|whenever|if|as soon as|once|the moment|every time|each time|whoever|anyone who|in case|should)\b`)

	// weStop is a stop of those who write or of somebody who will, and saysStop the word
	// that is called out then. Both are a rule only beside the case or beside who stops.
	weStop   = regexp.MustCompile(`(\b(?:we|i|they|he|she|will|must|shall|has to|have to|to|and) (?:all |both |then |always |just )?)(?:stop|stopping|halt)\b`)
	saysStop = regexp.MustCompile(`(\b(?:shouts?|calls?|says?|yells?|cries|hollers?|screams?)(?: out)?(?: loud| loudly)?(?: the word)? )["'“”]?(?:stop|halt)["'“”]?`)

	// calledOut is a stop that is called, whatever stands before it.
	calledOut = regexp.MustCompile(`^\W*(?:stop|halt)|\b(?:stops?|halt)["'”]?\s*!|\b(?:stop|halt) (?:now|it now|everything now|right now|please|pls)\b|\b(?:please|pls|everybody|everyone|all of you|guys|now|you|me) (?:stop|halt)\b|\b(?:stop|halt)\W+(?:stop|halt)\b`)
)
