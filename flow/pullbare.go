package flow

import (
	"regexp"
	"slices"
	"strings"
	"time"

	"linetender/flow/wording"
)

// A tired person answers with the shortest word there is. Such a word moves
// nothing in a pull, because it could be meant for what was asked before, or
// for the driver: it is told what would.

// bareWords are words that would be a release, a confirmation or a signal if
// it were known for what.
var bareWords = []string{"go", "ok", "okay", "k", "yes", "y", "yep", "yeah", "yeh", "yea", "yup", "ye", "yh", "aye", "ready", "pull", "pull it", "go on", "go ahead", "next", "done", "start", "begin",
	"move", "moving on", "continue", "proceed", "resume", "carry on", "keep going", "all good", "good", "fine", "clear", "all clear", "take in", "take it in", "take up", "up", "slack",
	"good to go", "lets go", "let's go", "sure", "confirm", "confirmed", "roger", "copy"}

// isBare reports whether words are such a word, or a few of them in a row.
func isBare(low string) bool {
	if slices.Contains(bareWords, low) {
		return true
	}
	list := strings.FieldsFunc(low, func(r rune) bool { return strings.ContainsRune(" ,;.!", r) })
	return len(list) > 1 && len(list) <= 4 && !slices.ContainsFunc(list, func(w string) bool { return !slices.Contains(bareWords, w) || slices.Contains(pullsOn, w) })
}

// pullsOn are those of them that are signals to a driver: several in a row are no answer.
var pullsOn = []string{"go", "pull", "move", "up", "slack", "start", "begin", "next", "continue", "proceed", "resume"}

// bare answers such a word, from anybody whom the pull asks something.
func (t *turn) bare(low string) bool {
	if t.me() == nil || !isBare(low) {
		return false
	}
	n := wording.Args{"Number": t.s.Hold}
	h := t.s.hold()
	_, asked := t.mineOpen()
	switch {
	case h != nil && asked:
		t.say(wording.PullBareConfirm, n)
	case !t.isLead(), t.s.Stage == StopDrill:
		t.say(wording.PullBare, nil)
	case h != nil && strings.HasSuffix(t.wantHold(t.in.Chat).id, "-release"):
		t.say(wording.PullBareRelease, n)
	case h == nil:
		name := "stands_"
		if !t.s.Stage.Moves() {
			name = "done_"
		}
		t.say(wording.PullBareGoing, wording.Args{"Text": t.saying(wording.Key("choice." + name + word(string(t.s.Stage))))})
	default:
		t.say(wording.PullBare, nil)
	}
	t.ask()
	return true
}

// wayOn tells whoever wants to go on, while something is asked again or still on
// the list, what that waits for.
func (t *turn) wayOn(low string) bool {
	if t.me() == nil || !slices.Contains([]string{"go on", "go ahead", "resume", "continue", "carry on", "proceed", "keep going"}, low) {
		return false
	}
	switch t.s.State {
	case Away, Closed, Debrief, Halted, Pulling:
		return false
	}
	if !t.s.Stage.Lies() && !t.checking() {
		return false
	}
	t.sayWaits()
	return true
}

// sayWaits says what the job waits for before it goes on.
func (t *turn) sayWaits() {
	t.say(wording.PullBare, nil)
	if names := t.openNames(t.openItems()); t.itemsOn() && len(names) > 0 {
		t.say(wording.ItemWaitAll, wording.Args{"Names": names})
	} else if k, args, barred := t.barred(); barred {
		t.say(k, args)
	}
	t.ask()
}

// mineOpen returns the duty of the first claim that the hold point waits for
// and that is for the one who speaks to confirm.
func (t *turn) mineOpen() (string, bool) {
	for _, c := range t.waits() {
		d, ok := t.doing(c.duty)
		if ok && !d.empty && (d.member != nil && d.member.ID == t.in.Person.ID || d.member == nil && t.isLead()) {
			return c.duty, true
		}
	}
	return "", false
}

// sentEarly reports whether words were sent before what stands to be answered in
// their chat had come to be asked there: they are no answer to it. A channel that
// tells only whole seconds makes what was sent in the same one count as before.
func (t *turn) sentEarly() bool {
	if t.in.Press != nil || t.s.Wants[t.in.Chat] == "" {
		return false
	}
	at, err := time.Parse(time.RFC3339, t.s.Since[t.in.Chat].At)
	return err == nil && !t.in.At.After(at)
}

// behindSure is that all is well, behind a confirmation in words and nothing more.
var behindSure = regexp.MustCompile(`^[ ,.;:-]+(?:all |everything(?:'s| is)? |it'?s |its |that'?s )?(?:looks? )?(?:good|fine|ok|okay|well|clear|in order|in place)$`)

// sureWords takes what the buttons of a confirmation say, in words: with the
// number of the hold point, or without where that is what was asked last in
// the chat.
func (t *turn) sureWords(low string) bool {
	for _, said := range []string{"so it is", "not so"} {
		rest, ok := strings.CutPrefix(low, said)
		if said == "so it is" && behindSure.MatchString(rest) {
			rest = "" // that all is well takes nothing of it back
		}
		h := t.s.hold()
		if !ok || h == nil || rest != "" && rest[0] != ' ' {
			continue
		}
		number := strings.TrimPrefix(strings.TrimSpace(rest), "hold ")
		if len(strings.Fields(number)) > 1 {
			return false // a yes with something behind it is none
		}
		duty, mine := t.mineOpen()
		early := said == "so it is" && t.sentEarly()
		switch {
		case number == "" && mine && early:
			t.remark(wording.PullBareConfirm, wording.Args{"Number": h.Number})
			return true
		case number == "" && said == "not so" && mine, number == itoa(h.Number) && mine,
			number == "" && mine && t.s.Wants[t.in.Chat] == t.want(t.in.Chat).id && strings.Contains(t.s.Wants[t.in.Chat], "-sure-"):
		case !mine && number == itoa(h.Number):
			t.remark(wording.PullNotAsked, wording.Args{"Number": h.Number})
			return true
		case number == "" && mine, number == itoa(h.Number):
			t.remark(wording.PullBareConfirm, wording.Args{"Number": h.Number})
			return true
		case number == "":
			t.remark(wording.PullBare, nil)
			return true
		default:
			t.void(number)
			return true
		}
		if said == "not so" {
			t.unsure(h, duty)
		} else {
			t.sure(h, duty)
		}
		return true
	}
	return false
}
