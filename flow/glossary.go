package flow

import (
	"regexp"
	"strings"

	"linetender/flow/wording"
)

// terms are the words of the trade that the program uses itself, in whatever
// spelling people ask for them. What each means is wording.
var terms = map[string]wording.Key{
	"holding line": wording.TermHoldingLine, "holding rope": wording.TermHoldingLine, "second rope": wording.TermHoldingLine, "second line": wording.TermHoldingLine,
	"haul line": wording.TermHaulLine, "haul": wording.TermHaulLine, "haul rope": wording.TermHaulLine, "hauling line": wording.TermHaulLine,
	"line part": wording.TermParts, "line parts": wording.TermParts, "part": wording.TermParts, "parts": wording.TermParts, "parts of line": wording.TermParts,
	"block": wording.TermBlock, "snatch block": wording.TermBlock, "pulley": wording.TermBlock, "sheave": wording.TermBlock,
	"lead block": wording.TermLeadBlock,
	"shackle":    wording.TermShackle, "shackles": wording.TermShackle,
	"sling": wording.TermSling, "strop": wording.TermSling, "slings": wording.TermSling,
	"wll": wording.TermWorkingLimit, "working limit": wording.TermWorkingLimit, "working load limit": wording.TermWorkingLimit, "swl": wording.TermWorkingLimit,
	"mbs": wording.TermBreaking, "mbl": wording.TermBreaking, "breaking strength": wording.TermBreaking, "breaking": wording.TermBreaking, "breaking figure": wording.TermBreaking,
	"tow point": wording.TermTowPoint, "holding point": wording.TermHoldingPoint,
	"hitch": wording.TermHitch, "drawbar": wording.TermHitch,
	"anchor": wording.TermAnchor, "deadman": wording.TermDeadman, "buried log": wording.TermDeadman, "stakes": wording.TermPicket, "picket": wording.TermPicket, "pickets": wording.TermPicket,
	"chock": wording.TermChock, "chocks": wording.TermChock, "chocked": wording.TermChock,
	"bend": wording.TermBend, "bend of the line": wording.TermBend, "bight": wording.TermBend,
	"bite": wording.TermBite, "light tension": wording.TermLightTension, "slack": wording.TermSlack,
	"puller": wording.TermPuller, "side slope": wording.TermSideSlope, "kn": wording.TermKilonewton, "kilonewton": wording.TermKilonewton,
}

var asksTerm = regexp.MustCompile(`(?i)^\W*(?:(?:sorry|and|but|ok|so|er|um)\b[\s,]*)*(?:what(?:'?s|’s| is| are| do you mean by| does)|wh?ats|wot is|explain|define|meaning of)\s+(?:the word\s+)?(?:an?\s+|the\s+)?["'“]?(.+?)["'”]?(?:\s+(?:mean|means|then|please|exactly|for|stand for))*\W*$`)

// explains says what a word of the trade means that somebody asks for, and
// reports whether it did. The question that stands is asked again.
func (t *turn) explains(text string) bool {
	m := asksTerm.FindStringSubmatch(text)
	if m == nil {
		return false
	}
	k, ok := terms[strings.ToLower(m[1])]
	if ok {
		t.remark(k, nil)
	}
	return ok
}
