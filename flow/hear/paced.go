package hear

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// A step is what people measure a field with. It is a rough figure of two ends: who
// strides out on the flat and who picks their way over wet ground step differently.
//
// Source: common practice, and wide: 0.6 to 1 m.
const (
	shortStep = 0.6 // metres
	longStep  = 1.0
)

// paces are figures in steps, with what comes right behind. They count only where a length
// is asked for: elsewhere they may be those of a stair.
var (
	paces = regexp.MustCompile(`(?i)\b(\d{1,3}|[a-z]+)( odd)? ?-?((?:big |good |long |normal |large |proper )?(?:paces|strides|steps))\b([, ]*(?:so|=|thats|that's|that’s|thats|is|about|or|call it|\()? ?(?:about |bout |roughly |ish )?\d?)`)

	// twoWays is a slope in one place and in another, where nobody says which of them
	// lies along the way it must move.
	twoWays = regexp.MustCompile(`(?i)\b(\d+(?:[.,]\d+)?) ?(deg|degs|degrees?|°|%|percent|per cent|pct)? ?(?:at |on |from )?(?:the )?(?:one|this|that|near|top|bottom) (?:way|end)[, ]*(?:and |n |but |& |then )*(?:about |bout )?(\d+(?:[.,]\d+)?) ?(deg|degs|degrees?|°|%|percent|per cent|pct)? ?(?:at |on |from )?(?:the |that )?(?:other|that|far|bottom|top)(?: (?:way|end|one))?\b`)
)

// paced writes steps as the length that they may be.
func paced(text string, topic Topic) string {
	if !topic.spans() {
		return text
	}
	return paces.ReplaceAllStringFunc(text, func(s string) string {
		m := paces.FindStringSubmatch(s)
		if last := m[4]; last != "" && strings.ContainsAny(last[len(last)-1:], "0123456789") {
			return s // "22 paces so 20 m": the length is told
		}
		n, err := strconv.Atoi(m[1])
		if err != nil {
			v, spelled := talk.value(strings.ToLower(m[1]), "number")
			if n, err = strconv.Atoi(v); !spelled || err != nil {
				return s
			}
		}
		if n == 0 {
			return s
		}
		return fmt.Sprintf("%.3g to %.3g m%s", float64(n)*shortStep, float64(n)*longStep, m[4])
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
