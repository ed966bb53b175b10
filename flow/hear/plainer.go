package hear

import (
	"regexp"
	"strconv"
	"strings"

	"linetender/calc/handbook"
)

// Some ways of speaking say the opposite of what their words say one by one.

var (
	axleScale  = regexp.MustCompile(`(?i)\baxle[- ](scales?|weights?|loads?|weigher|pads?)\b`)
	metricLast = Expression(`(?i)(\d\s*)(tons?)\s*[,(]?\s*\bmetric\b(?:\s+tons?\b)?\)?`)
	tonLast    = Expression(`(?i)(\d\s*)(tons?|cwts?|hundredweights?)\s*\(\s*(short|long|us|uk|imperial|british|american)(?:\s+(?:tons?|ones?|cwts?))?\s*\)`)
	chokes     = Expression(`(?i)\b((?:slings?|strops?|straps?)\b[^;.!?\n]*?[\s,(])(\d[\d.,]*)( ?(?:t|tonnes?|kg|kn))[ ,]*\(?[ ]*(?:or )?(\d[\d.,]*)( ?(?:t|tonnes?|kg|kn))? ?(?:in |when |as )?(?:a )?chok(?:ed|er|ing|e)(?: hitch)?\)?`)
	basket     = Expression(`(?i)\b\d[\d.,]* ?(?:t|tonnes?|kg|kn) ?(?:in |when |as )?(?:a )?basket(?: hitch)?\b(?:[ ,]*(?:or|and|n)\b)?`)
	another1   = Expression(`(?i)\b(blocks?|pulleys?|shackles?|slings?|strops?|ropes?|chains?)\b((?:[^;.!?\n]|\.\d)*?\d(?:[^;.!?\n]|\.\d)*?(?:\band|\bn|&|\bplus|\+|,) ?another)(?: one)?\b( [\pL]+)?`)
	pointSlip  = Expression(`(?i)(\d)\.( ?(?:kgs?|lbs?|kn|cm|mm|tonnes?)\b)`)
	// metresAnd are metres with the centimetres behind them, "2m70", and metresAndLast with a space, at the end of what is said.
	metresAnd     = Expression(`(?i)\b(\d{1,3})m(\d{2})\b`)
	metresAndLast = Expression(`(?i)\b(\d{1,3}) ?m(?:et(?:er|re)s?)? (\d{2})(\s*(?:$|[,;)]))`)
	roundly       = Expression(`(?i)\b(\d+(?:[.,]\d+)?) ?-?ish (m|metres?|meters?|ft|feet|yds?|yards?|cm|t|tonnes?|kg|deg|degrees?)\b`) // "20ish metres"
	treeLine      = Expression(`(?i)\btree[ -]+(lines?)\b`)
	tiedX         = Expression(`(?i)\b(?:tied|chained|roped|lashed|strapped|winched)\s+((?:the |our |that |this )?[\pL-]+(?: [\pL-]+| \d+)?)\s+back\b`)
	hookLower     = Expression(`(?i)\b(?:hook(?:ed)?|hitch(?:ed)?|drawbar|made fast|fasten(?:ed)?)(?: (?:it|is|the (?:rope|line)|up|on|sits|now))*,? (?:lower|low|down low)(?: down)?(?: now)?(?:,| at| to| by)* (\d[\d.,]* ?(?:cm|mm|m|in|inch|inches|ft|")\S*)`)
	noNothing     = Expression(`(?i)[,;]?\s*\b(?:no|nor|or) nothing\b`)
)

// texted are words that are written with a figure for their sound, or as they are spoken.
var (
	textedWords = Expression(`(?i)\b(?:no1s?|any1|every1s?|some1s?|owt|nowt|summat)\b`)
	texted      = map[string]string{"no1": "nobody", "no1s": "nobody is", "any1": "anybody", "every1": "everybody", "every1s": "everybody is",
		"some1": "somebody", "some1s": "somebody is", "owt": "anything", "nowt": "nothing", "summat": "something"}
)

// plainer writes such words so that they are read as they are meant: an axle
// scale is a scale and no tow point, a sling's rating in a basket hitch is twice what one
// leg of it bears and counts nowhere, a tree that somebody "tied back" is one whatever stands between the two words, what is put right at once was never told, "2400. kg" has a point too many, "2.5 ton (metric)" says which ton, and "no nothing"
// at the end of a list of denials denies nothing by name.
func plainer(text string, topic Topic) string {
	text = metresAnd.ReplaceAllString(text, "$1.$2 m")
	text = roundly.ReplaceAllString(text, "about $1 $2")
	if topic.spans() || topic.stage() == "puller" { // of a rope it may be how thick that is
		text = metresAndLast.ReplaceAllString(text, "$1.$2 m$3")
	}
	text = rightedAtOnce(pointSlip.ReplaceAllString(text, "$1$2"))
	text = chokes.ReplaceAllStringFunc(text, choked)
	text = basket.ReplaceAllString(text, "")
	text = sharedOut(another1.ReplaceAllStringFunc(text, anotherOne))
	text = steeper(paced(text, topic))
	text = axleScale.ReplaceAllString(text, "$1")
	text = treeLine.ReplaceAllString(text, "tree$1") // where a wood begins, and no tree to go by
	text = textedWords.ReplaceAllStringFunc(text, func(w string) string { return texted[strings.ToLower(w)] })
	text = tiedX.ReplaceAllStringFunc(text, tiedBack)
	text = hookLower.ReplaceAllString(text, "the hitch is $1 high")
	text = metricLast.ReplaceAllString(text, "$1 metric $2")
	text = tonLast.ReplaceAllString(text, "$1 $3 $2")
	if topic == TopicPeople {
		text = noNothing.ReplaceAllString(text, "")
	}
	return text
}

// tiedBack writes "tied the ash back" in the order in which it is read. What is no anchor
// was tied where it does not matter here.
func tiedBack(text string) string {
	m := tiedX.FindStringSubmatch(text)
	for _, w := range strings.Fields(strings.ToLower(m[1])) {
		if talk.is(w, "anchor") || w == "it" {
			return m[1] + " is tied back"
		}
	}
	return text
}

// anotherOne names the piece that "another" is one more of, unless it is another thing:
// "block 3t and another but no stamp" is two blocks, and the second bears no stamp.
func anotherOne(text string) string {
	m := another1.FindStringSubmatch(text)
	next := strings.TrimSpace(m[3])
	if next != "" && talk.is(strings.ToLower(next), "gear") || talk.is(strings.ToLower(next), "anchor") || talk.is(strings.ToLower(next), "vehicle") {
		return text
	}
	return m[1] + m[2] + " " + strings.TrimSuffix(strings.ToLower(m[1]), "s") + m[3]
}

// choked writes of a sling's two ratings the one of a straight pull, from which what a
// choke leaves is reckoned; how it will be put on is not told yet. Where the tag leaves
// a choked one less than is reckoned, it writes that.
func choked(text string) string {
	m := chokes.FindStringSubmatch(text)
	unit := m[5]
	if unit == "" {
		unit = m[3]
	}
	straight, err1 := strconv.ParseFloat(m[2], 64)
	round, err2 := strconv.ParseFloat(m[4], 64)
	alike := err1 == nil && err2 == nil && strings.TrimSpace(unit) == strings.TrimSpace(m[3])
	if share, _ := handbook.SlingChoked(); alike && straight*float64(share.Low) <= round {
		return m[1] + m[2] + m[3]
	}
	return m[1] + m[4] + unit
}
