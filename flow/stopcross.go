package flow

import (
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A stop may come while somebody answers what stood there before. What they press or
// type then is an answer to that, and no reason for the stop, whoever called it.

// saysButton reports whether words are what some button says, or the words for it in a
// pull and at its holds. The reasons for a stop, which have buttons too, are none of these.
func (t *turn) saysButton(text string) bool {
	said := bareLabel(text)
	for _, k := range t.e.Words.Keys() {
		if strings.HasPrefix(string(k), "choice.") && said == bareLabel(t.sayingWith(k, wording.Args{"Number": t.s.Hold})) {
			return true
		}
	}
	low := strings.Trim(hear.Lowered(text), " .!")
	return slackOut.MatchString(low) || slackLies.MatchString(low) || tensionOn.MatchString(low) || saysStill(text) || claimsOnly(low)
}

// saysStill reports whether words say that the load did not move, and nothing else.
func saysStill(text string) bool {
	return stoodStill.MatchString(strings.Trim(hear.Lowered(text), " .!"))
}
