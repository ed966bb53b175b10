package flow

import (
	"regexp"
	"strings"

	"linetender/flow/wording"
)

// What lets the pull go on is written word for word, because it could be meant
// for a hold point that is over. What keeps it is read in whatever words it comes:
// a hold too many costs a minute.

// withholding are words that somebody withholds a release, with the number of the
// hold point, if they say it, and the reason behind it.
var withholding = regexp.MustCompile(`^(?:please |pls |i'?d |i'?ll |i |no[ ,]+)*(?:with ?h?olds?|with ?h?olding|veto|(?:don'?t|do not|dont) release)\b(?: (?:the )?(?:hold|release|it))*[ ,:;#-]*(?:no\.? ?|number )?(\d*)[ ,:;.-]*(.*)$`)

// vetoNoise are words before a reason that are none of it.
var vetoNoise = regexp.MustCompile(`(?i)^(?:because|cos|cause|as|since|please|now|yet|for now|for the moment)\b[ ,:]*`)

// withholdWords takes that somebody withholds the hold point where the pull
// stands, and why. Without a number it is that one.
func (t *turn) withholdWords(text, low string) bool {
	plain := strings.ReplaceAll(low, "’", "'")
	m := withholding.FindStringSubmatch(plain)
	if m == nil {
		return false
	}
	if t.s.hold() == nil {
		t.remark(wording.PullNoneToWithhold, nil)
		return true
	}
	number := m[1]
	if number == "" {
		number = itoa(t.s.Hold)
	}
	reason := m[2]
	if at := len(text) - len(reason); reason != "" && at > 0 && strings.EqualFold(text[at:], reason) {
		reason = text[at:] // as it was written
	}
	t.numbered("withhold", number, vetoNoise.ReplaceAllString(reason, ""))
	return true
}

// withhold keeps a hold point from being released: a veto of those afar, which
// nobody on the spot overrides, as they override nobody's there.
func (t *turn) withhold(h *Hold, reason string) {
	if m := t.me(); m == nil || m.As != AsCoordinator {
		t.remark(wording.PullOnlyCoordinator, nil)
		return
	}
	reason = strings.TrimRight(wording.Plain(reason), " .")
	t.act(Act{Do: DoWithhold, Value: itoa(h.Number), Reason: reason})
	k, args := wording.PullHasWithheld, wording.Args{"Name": t.whoName(), "Number": h.Number}
	if reason != "" {
		k, args["Reason"] = wording.PullHasWithheldFor, reason
	}
	t.tellAll(false, func() { t.say(k, args) })
	t.ask()
}

// releaseWords takes a release in words. It has to say the number: without, it
// could be meant for a hold point that is over.
func (t *turn) releaseWords(low string) bool {
	for _, name := range []string{"release", "crest", "lift", "secure"} {
		rest, ok := strings.CutPrefix(low, name)
		if !ok || rest != "" && rest[0] != ' ' {
			continue
		}
		number := strings.TrimPrefix(strings.TrimSpace(rest), "hold ")
		if number == "" || strings.Trim(number, "0123456789") != "" {
			t.remark(wording.PullWhichHold, wording.Args{"Text": name, "Number": t.s.Hold})
			return true
		}
		t.numbered(name, number, "")
		return true
	}
	return false
}
