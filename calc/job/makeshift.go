package job

import "regexp"

// A piece is what its own name says before it is what its kind says: a shackle
// that is called a bungee is a bungee. A bolt is one only by itself, since
// shackles and eyes have bolts of their own.
//
// Source: 29 CFR 1926.251(b); the names are common practice.
var makeshiftNames = []*regexp.Regexp{
	regexp.MustCompile(`(?i)\b(bungees?|bungy|bungies|washing[ -]?line|clothes[ -]?line|(cable|zip)[ -]?ties?|coat[ -]?hangers?|(baling|baler|bale) (twine|string|cord)|string|twine|` +
		`seat[ -]?belts?|(ratchet|cargo|lashing) straps?|padlocks?|jump(er)? (leads?|cables?)|extension (leads?|cords?|cables?)|garden hose|hosepipe|(fence|fencing|barbed) wire|para[ -]?cord|` +
		`(duct|gaffer) tape|rebar|makeshift|improvised|home[ -]?made|welded[ -]on)\b`),
	regexp.MustCompile(`(?i)\bclimbing\b.*\b(clips?|krabs?|crabs?|kara\w*|cara\w*|connectors?|slings?|ropes?|hardware)\b`),
	regexp.MustCompile(`(?i)^\W*(?:(?:an?|the|one|old|steel|big|small|long|m ?\d+|\d+ ?mm) )*(?:nuts?|bolts?|screws?|nails?)(?: ?(?:and|&|n|with) ?(?:an? )?(?:nuts?|bolts?|washers?))*\W*$`),
}

// makeshift reports whether a piece's own name says that it was made for
// something else than to pull with.
func makeshift(name string) bool {
	for _, r := range makeshiftNames {
		if r.MatchString(name) {
			return true
		}
	}
	return false
}
