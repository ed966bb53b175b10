package hear

import "regexp"

// Some ways of speaking say the opposite of what their words say one by one.

var (
	axleScale = regexp.MustCompile(`(?i)\baxle[- ](scales?|weights?|loads?|weigher|pads?)\b`)
	noNothing = regexp.MustCompile(`(?i)[,;]?\s*\b(?:no|nor|or) nothing\b`)
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
