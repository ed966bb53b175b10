package hear

import (
	"regexp"
	"strings"
)

// What is told beside another question in words of its own: how far off the one anchor
// stands, and what saves the driver if the machine goes over.

var (
	// farTo are lengths to something, and isOff things that stand so far off.
	farTo = Expression(`(?i)\b((?:\d+(?:[.,]\d+)? to )?\d+(?:[.,]\d+)? ?(?:m|metres?|meters?|ft|feet|yds?|yards?)) (?:away )?(?:up |over |down )?to (?:the |that |our )?([\pL-]+)(\W*$|[,;.]\s)`)
	isOff = Expression(`(?i)(?:^|[,;.]\s*)(?:and |but )?(?:the |that |our )?([\pL-]+)(?:'s|’s| is| stands)? (?:now |about |some |at )*((?:\d+(?:[.,]\d+)? to )?\d+(?:[.,]\d+)? ?(?:m|metres?|meters?|ft|feet|yds?|yards?)) (?:off|away)(\W*$|[,;.]\s)`)

	// ofPaces are steps to or of something, and of no stair.
	ofPaces = Expression(`(?i)\b(?:paces|strides) (?:away|off|to)\b`)

	// hasFrame is a rollover frame by another name, told as what the machine has.
	hasFrame = Expression(`(?i)\b((?:has|have|got|with|fitted|and|plus) (?:an? |the |its )?)(?:roll[- ]?bar|rops|roll[- ]?cage|roll[- ]?hoop)\b`)
	// framed is that frame and the belt that is worn.
	framed  = Expression(`(?i)(?:\b(?:the |our |my |his |her )?[\pL-]+ )?\b(?:has|have|got|with) (?:an? |the |its )?roll[- ]?over[- ]frame\b\W*(?:(?:and|with|plus|n)\b\W*)?(?:(?:the |our )?driver(?:'s|’s| is| will be)? (?:is )?(?:belted(?: in| up)?|strapped in|wears (?:the |a |his |her )?(?:seat ?)?belt|has (?:the |a |his |her )?(?:seat ?)?belt on)|(?:the |a )?(?:seat ?)?belt (?:is )?(?:on|worn|done up))\W*$`)
	against = regexp.MustCompile(`(?i)\b(?:no|not|never|without|\w+n['’]?t|broken|cracked|off|down|folded)\b`)
)

// anchorAway writes how far off the one anchor of the job is told to stand as the way to it,
// where no length is asked.
func (k Known) anchorAway(text string, topic Topic) string {
	if topic.spans() || topic == TopicText || topic == TopicPeople || topic == TopicAnchor || strings.HasSuffix(strings.TrimSpace(text), "?") {
		return text
	}
	var one *Piece
	for i, p := range k.Pieces {
		if strings.HasPrefix(p.At, "anchors[") {
			if one != nil {
				return text // to which of them nobody knows
			}
			one = &k.Pieces[i]
		}
	}
	if one == nil {
		return text
	}
	if ofPaces.MatchString(text) {
		text = inPaces(text)
	}
	means := func(name string) bool {
		return strings.EqualFold(name, one.Name) || strings.EqualFold(name, one.Kind) || strings.EqualFold(name, one.Label) || strings.EqualFold(name, "anchor")
	}
	text = farTo.ReplaceAllStringFunc(text, func(s string) string {
		if m := farTo.FindStringSubmatch(s); means(m[2]) {
			return "reach " + m[1] + m[3]
		}
		return s
	})
	return isOff.ReplaceAllStringFunc(text, func(s string) string {
		if m := isOff.FindStringSubmatch(s); means(m[1]) {
			lead := ""
			if strings.ContainsAny(s[:1], ",;.") {
				lead = ", "
			}
			return lead + "reach " + m[2] + m[3]
		}
		return s
	})
}

// frame takes what a message tells of the frame and the worn belt beside another question,
// as told in passing, and returns what is left of it.
func frame(text string, topic Topic) (rest string, fact *Fact) {
	if topic == TopicText || topic == TopicPeople || topic == TopicHitch || topic == TopicRollover {
		return text, nil
	}
	text = hasFrame.ReplaceAllString(text, "${1}rollover frame")
	at := framed.FindStringIndex(text)
	if at == nil || against.MatchString(text) {
		return text, nil
	}
	return strings.Trim(text[:at[0]], " ,;."), &Fact{Field: "puller.rollover_frame", Value: "true", Said: text[at[0]:at[1]], Guess: true}
}
