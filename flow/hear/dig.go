package hear

import (
	"slices"
	"strings"
)

// A crew digs while it talks. "Dug out" is a new depth, told at whatever
// question stands; what is only meant to be dug, or half of it, is none.

const (
	digs   = `(?:dug|digged|shovel+ed|excavated|cleared)`
	sunkIn = `(?:it|her|him|them|that|this|everything|(?:the |all (?:of )?(?:the )?|all (?:four|4|six|6) |its |one |two |some |both )*(?:of the )?(?:front |rear |back |left |right |hind )?(?:wheels?|tyres?|tires?|axles?|hubs?|truck|van|car|vehicle|pickup|trailer|machine|tractor|digger|load))`
	clean  = `(?:right |all |fully |completely |well )?(?:out|free|clear|loose)`
	much   = `\d+(?:[.,]\d+)?\s*(?:millimet\w+|centimet\w+|met\w+|inch\w*|feet|foot|mm|cm|m|in|ft|"|')`
)

var (
	digDown = Expression(`(?i)\b` + digs + `\b[^.;,]*?\b(?:down )?to\s+(?:about |only |just )?(` + much + `)(?:\s+(?:deep|now))?`)
	digWord = Expression(`(?i)\b` + digs + `\b[^.;,]*?\bdown (to the (?:hubs?|axles?|rims?))\b`)
	digFree = Expression(`(?i)\b(?:(?:we(?:'ve|’ve| have)?|i(?:'ve|’ve| have)?|they(?:'ve| have)?|have|has|now|all|it(?:'s|’s| is|s)|she(?:'s| is)|` + sunkIn + `(?:'s|’s| is| are| have been| has been| were| was)?)\s+)*` +
		digs + `(?:\s+` + sunkIn + `)?\s+` + clean + `(?:\s+` + sunkIn + `)?(?:\s+now)?|\bcleared (?:the mud (?:away )?(?:from|off|around|round) )?(?:the |all (?:the )?)?(?:wheels|tyres|tires)\b`)
	// What it is that was dug: a hole for a log is another digging.
	digElse = Expression(`(?i)\b` + digs + `\s+(?:out\s+)?(?:a|an|the|for)\s+(?:hole|trench|pit|ditch|ramp|log|deadman|anchor|stump|rope|rock|path|way|place)\b|\bpuller\b`)
	digPart = Expression(`(?i)\b(?:half|partly|partially|nearly|almost|mostly|most|some|one|two|a few|front|rear|back|left|right side|near side|off side|bit)\b`)
	digWish = Expression(`(?i)\b(?:not|never|isn'?t|hasn'?t|haven'?t|can'?t|won'?t|cannot|will|ll|going to|gonna|want|could|can|should|would|needs?|need|must|if|once|when|until|till|before|to be|try|trying|let'?s|after)\b`)
)

// dug takes what a message says of digging out of it: the depth that is left,
// or that it must be asked because only a part was dug. rest is the message
// without these words, so that free wheels are not taken for turning ones.
func (k Known) dug(text string, topic Topic) (rest string, depth *Fact, ask bool) {
	if topic == TopicPeople || topic == TopicText || strings.HasSuffix(strings.TrimSpace(text), "?") || digElse.MatchString(text) ||
		k.Puller != "" && strings.Contains(strings.ToLower(text), strings.ToLower(k.Puller)) {
		return text, nil, false
	}
	for _, how := range []*Pattern{digDown, digWord, digFree} {
		at := how.FindStringSubmatchIndex(text)
		if at == nil {
			continue
		}
		before := text[:at[0]]
		if i := strings.LastIndexAny(before, ".;,"); i >= 0 {
			before = before[i+1:]
		}
		said := text[at[0]:at[1]]
		if digWish.MatchString(before) || digWish.MatchString(said) {
			return text, nil, false
		}
		rest = strings.TrimSpace(strings.Trim(text[:at[0]], " ,;.") + ", " + strings.Trim(text[at[1]:], " ,;."))
		if rest = strings.Trim(rest, " ,;.!"); strings.EqualFold(rest, "and") || strings.EqualFold(rest, "now") {
			rest = ""
		}
		depth = &Fact{Field: "load.sunk", Value: "none", Said: said}
		switch how {
		case digDown, digWord:
			depth = depthOf(text[at[2]:at[3]], said)
		default:
			if digPart.MatchString(before) || digPart.MatchString(said) || digPart.MatchString(firstWords(text[at[1]:])) {
				return rest, nil, true
			}
		}
		if depth == nil {
			return text, nil, false
		}
		return rest, depth, false
	}
	return text, nil, false
}

// firstWords are the words up to the next mark.
func firstWords(text string) string {
	words, _, _ := strings.Cut(text, ",")
	words, _, _ = strings.Cut(words, ".")
	return words
}

// depthOf reads how deep the wheels sit now as an answer to that question.
func depthOf(words, said string) *Fact {
	for _, f := range Listen(words, TopicSunk).Facts {
		if f.Field == "load.sunk" {
			f.Said, f.Tie = said, Tied // digging is said of the wheels
			return &f
		}
	}
	return nil
}

// digging adds to what was heard what the message says of digging.
func digging(h Heard, depth *Fact, ask bool) Heard {
	if h.Act == Stop {
		return h
	}
	if depth != nil {
		h.Facts = append(slices.DeleteFunc(h.Facts, func(f Fact) bool { return f.Field == "load.sunk" }), *depth)
		if h.Act == None || h.Act == Yes || h.Act == No {
			h.Act = None
		}
		return h
	}
	h.DugPart = ask && len(h.Facts) > 0
	if ask && len(h.Facts) == 0 && h.Act == None {
		return Heard{Act: Change, Object: string(TopicSunk)}
	}
	return h
}
