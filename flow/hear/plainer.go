package hear

import (
	"regexp"
	"slices"
)

// Some ways of speaking say the opposite of what their words say one by one.

var (
	axleScale = regexp.MustCompile(`(?i)\baxle[- ](scales?|weights?|loads?|weigher|pads?)\b`)
	noNothing = regexp.MustCompile(`(?i)[,;]?\s*\b(?:no|nor|or) nothing\b`)
	jammed    = regexp.MustCompile(`(?i)\b(?:one|two|some|a couple) of the (?:back|front|rear|left|right|hind)?\s*(?:ones?|wheels?|tyres?|tires?)\b[^.;]*\b(?:jammed|locked|seized|frozen|stuck|blocked|(?:won'?t|doesn'?t|does not|will not|not) turn(?:ing)?)\b|\b(?:left|right|near ?side|off ?side|driver'?s|passenger'?s?)(?: side)? (?:back|front|rear|hind)(?: wheel)? (?:is )?(?:jammed|locked|seized|frozen|stuck|blocked|(?:won'?t|doesn'?t|does not|will not|not) (?:turn|spin|roll)(?:ing)?)\b|\b(?:a|one) (?:back |front |rear )?wheel (?:is |seems |looks )?(?:jammed|locked|seized|frozen|blocked)\b`)
)

// plainer writes such words so that they are read as they are meant: an axle
// scale is a scale and no tow point, and "no nothing" at the end of a list of
// denials denies nothing by name.
func plainer(text string, topic Topic) string {
	text = axleScale.ReplaceAllString(text, "$1")
	if topic == TopicPeople {
		text = noNothing.ReplaceAllString(text, "")
	}
	return text
}

// badNews adds what must not be lost though it is said in passing: a wheel
// that does not turn. How many there are is not said, so half are taken.
func badNews(text string, h Heard) Heard {
	if h.Act == Stop || !jammed.MatchString(text) || slices.ContainsFunc(h.Facts, func(f Fact) bool { return f.Field == "load.locked" }) {
		return h
	}
	h.Facts = append(h.Facts, Fact{Field: "load.locked", Value: "0.5", Said: jammed.FindString(text), Guess: true})
	return h
}
