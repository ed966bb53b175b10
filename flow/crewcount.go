package flow

import "regexp"

// How many people are there is counted by whoever leads on the spot: somebody afar
// counts themself in, and two who count at once count each other twice. Another count
// stands beside it until the lead has settled it, nothing pulls meanwhile, and nobody
// loses a part by it.

// ofAllHere are words of how many are there in all, and nothing else.
var ofAllHere = regexp.MustCompile(`(?i)^\W*(?:(?:ok|okay|no|now|so|but|hey|actually|sorry|i think|only|just|change|we|we'?re|we are|there|there'?s|there are|there is|it'?s|the|crew|team|people|is|are|be|of|to|have)\b[\s:=,]*)*` +
	`(?:\d+|one|two|three|four|five|six|seven|eight|nine|ten)(?:[\s,]*\b(?:of us|of them|people|persons?|men|women|hands|folks|crew|in|the|all|total|told|altogether|here|now|on site|on the spot|instead)\b)*\W*$`)

// countsAll reports whether a message says how many are there, all told.
func countsAll(text string) bool { return ofAllHere.MatchString(text) }
