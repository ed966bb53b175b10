package hear

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"linetender/calc/handbook"
)

// A step is what people measure a field with. It is a rough figure of two ends, which the
// handbook has, and so is a length that is told as paced.

// paces are figures in steps, with what comes right behind. They count only where a length
// is asked for: elsewhere they may be those of a stair.
var (
	paces = regexp.MustCompile(`(?i)\b(?:(\d{1,3}) ?(?:to|-|or) ?)?(\d{1,3}|[a-z]+)( odd)? ?-?((?:big |good |long |normal |large |proper )?(?:paces|strides|steps)(?: and a (?:bit|half))?)\b([, ]*(?:so|=|thats|that's|that’s|thats|is|about|or|call it|\()? ?(?:about |bout |roughly |ish )?\d?)`)

	// pacedBare are steps that are only called so, "I paced 25", and pacedMetres a length in
	// metres of a text that says that it was paced.
	pacedBare   = regexp.MustCompile(`(?i)\b((?:paced|stepped)(?: it| that| this)?(?: out| off)?(?: at| as|,)?(?: about| roughly| some)? )(\d{1,3})(\W*$)`)
	wasPaced    = regexp.MustCompile(`(?i)\b(?:paced|pacing|stepped (?:it|that) (?:out|off))\b`)
	pacedIt     = regexp.MustCompile(`(?i)\b(?:(?:i|we) )?(?:paced|stepped)(?: it| that)?(?: out| off)?\b`)
	notPaced    = regexp.MustCompile(`(?i)\b(?:not|n'?t|taped|measured|tape|laser|paces|strides|steps)\b`)
	pacedMetres = regexp.MustCompile(`(?i)\b(\d+(?:\.\d+)?) ?(m|metres?|meters?|ft|feet|yds?|yards?)\b`)

	// twoWays is a slope in one place and in another, where nobody says which of them
	// lies along the way it must move.
	twoWays = regexp.MustCompile(`(?i)\b(\d+(?:[.,]\d+)?) ?(deg|degs|degrees?|°|%|percent|per cent|pct)? ?(?:at |on |from )?(?:the )?(?:one|this|that|near|top|bottom) (?:way|end)[, ]*(?:and |n |but |& |then )*(?:about |bout )?(\d+(?:[.,]\d+)?) ?(deg|degs|degrees?|°|%|percent|per cent|pct)? ?(?:at |on |from )?(?:the |that )?(?:other|that|far|bottom|top)(?: (?:way|end|one))?\b`)
)

// paced writes steps as the length that they may be, and metres that were paced with what
// that leaves open.
func paced(text string, topic Topic) string {
	if !topic.spans() {
		return text
	}
	text = inPaces(pacedBare.ReplaceAllString(text, "$1$2 paces$3"))
	if at := pacedMetres.FindAllStringSubmatchIndex(text, -1); len(at) == 1 && wasPaced.MatchString(text) && !notPaced.MatchString(text) && !strings.Contains(text, " to ") {
		n, err := strconv.ParseFloat(text[at[0][2]:at[0][3]], 64)
		if share, _ := handbook.PacedSpread(); err == nil {
			unit := text[at[0][4]:at[0][5]]
			text = text[:at[0][0]] + fmt.Sprintf("%.3g to %.3g %s", n*(1-float64(share)), n*(1+float64(share)), unit) + pacedIt.ReplaceAllString(text[at[0][1]:], "")
			text = strings.TrimLeft(pacedIt.ReplaceAllString(text, ""), " ,;.")
		}
	}
	return text
}

// inPaces writes the steps of a text as the length that they may be.
func inPaces(text string) string {
	step, _ := handbook.Pace()
	return paces.ReplaceAllStringFunc(text, func(s string) string {
		m := paces.FindStringSubmatch(s)
		if last := m[5]; last != "" && strings.ContainsAny(last[len(last)-1:], "0123456789") {
			return s // "22 paces so 20 m": the length is told
		}
		most, err := strconv.Atoi(m[2])
		if err != nil {
			v, spelled := talk.value(strings.ToLower(m[2]), "number")
			if most, err = strconv.Atoi(v); !spelled || err != nil {
				return s
			}
		}
		least := most
		if m[1] != "" {
			least, _ = strconv.Atoi(m[1]) // "15 to 18 paces"
		}
		if strings.Contains(m[4], " and a ") {
			most++
		}
		if least <= 0 || most < least {
			return s
		}
		return fmt.Sprintf("%.3g to %.3g m%s", float64(least)*step.Low.Metres(), float64(most)*step.High.Metres(), m[5])
	})
}

// steeper writes of a slope that is told of two places the steeper one: how far off a
// slope by eye may be comes on top of it.
func steeper(text string) string {
	return twoWays.ReplaceAllStringFunc(text, func(s string) string {
		m := twoWays.FindStringSubmatch(s)
		unit := m[4]
		if unit == "" {
			unit = m[2]
		}
		a, err1 := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
		b, err2 := strconv.ParseFloat(strings.Replace(m[3], ",", ".", 1), 64)
		if unit == "" || m[2] != "" && m[4] != "" && !strings.EqualFold(m[2][:1], m[4][:1]) || err1 != nil || err2 != nil || a == b {
			return s
		}
		return fmt.Sprintf("%g %s", max(a, b), unit)
	})
}
