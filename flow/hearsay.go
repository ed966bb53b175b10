package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/wording"
)

// What somebody says that a thing may carry is no rating. It counts by a stamp, a
// plate or a handbook, or by a person of the trade who answers for it.
//
// Source: common practice.

var (
	saidBy   = regexp.MustCompile(`(?i)\b([\pL][\pL'’-]*)\s+(?:says|said|reckons|reckoned|thinks|swears|told (?:me|us))\b(?:\s+(?:the|a|its|his)\b)?(?:\s+([\pL]+))?`)
	ofNobody = strings.Fields("it stamp tag label plate sticker book handbook manual marking mark paper papers sheet certificate box card one eye hook shackle ring block pulley sling strop chain that which and as stamped")
	ofTrade  = strings.Fields("rigger engineer fitter forester arborist surveyor inspector mechanic")
)

// hearsayOnly drops from the changes the ratings, and what kind they are, that a
// message has by what somebody says, and says what would be one.
func (t *turn) hearsayOnly(changes []change) []change {
	m := saidBy.FindStringSubmatch(t.in.Text)
	if m == nil || stampedWords.MatchString(t.in.Text) || slices.ContainsFunc(m[1:], func(who string) bool { // the paper says 5 t; 5 t says the paper
		return slices.Contains(ofNobody, strings.ToLower(who)) || slices.Contains(ofTrade, strings.ToLower(who))
	}) {
		return changes
	}
	out := make([]change, 0, len(changes))
	said := false
	var gone []string
	for _, c := range changes {
		last := c.path[strings.LastIndexByte(c.path, '.')+1:]
		if (last == "rating" || last == "hitch_rating" || strings.HasSuffix(last, "rating_kind") && c.value != "unmarked") && c.value != "" && !strings.HasPrefix(c.path, "puller.rating") {
			said = true
			if base := c.path[:len(c.path)-len(last)]; strings.HasSuffix(base, "].") {
				if _, there := t.s.Sheet.Get(base + "kind"); !there { // nor is a thing there by that
					gone = append(gone, base)
				}
			}
			continue
		}
		out = append(out, c)
	}
	out = slices.DeleteFunc(out, func(c change) bool {
		return slices.ContainsFunc(gone, func(base string) bool { return strings.HasPrefix(c.path, base) })
	})
	if said {
		t.doubts = true
		t.say(wording.RefuseHearsay, nil)
	}
	return out
}

// stampedWords say that a figure was read on the thing.
var stampedWords = regexp.MustCompile(`(?i)\b(?:stamp\w*|tag\w*|label\w*|plate|sticker|hand ?book|manual|engraved|embossed|certificate)\b`)
