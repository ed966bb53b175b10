package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What is told at a no-go as changed since, or as measured again, is what was asked for
// there: it changes the answer that it speaks of, as behind the word change. What was done
// and changes an answer by no one knows how much, a brake let off or a ramp laid, has that
// answer asked again; until then the old one counts.

const isOff = `(?:off|released|freed|undone|let go)\b`

var (
	// sinceTold are words that something is told as it is now, not as it was.
	sinceTold = hear.Expression(`\b(?:now|anew|again|re-?measured|since then|meanwhile|any ?more|no longer)\b`)

	// namesSlope are words for the slope of the way.
	namesSlope = hear.Expression(`\b(?:slopes?|gradient|grade|incline|steepness)\b`)

	// brakeOff are words that a brake was let off, and brakeOn those by which it is not off,
	// or only to be.
	brakeOff = hear.Expression(`\w*brakes?\b[^;?.,]*\b` + isOff + `|\w*brakes?\b[^;?]*[.,;] *(?:but |and |so )?(?:(?:its|it'?s|it is|is|now|we|i|just) )*` + isOff + ` ?(?:it|now|since)?\b|\b(?:released?|freed|undid) (?:\w+ ){0,2}\w*brakes?\b|\b(?:took|taken|let|got|knocked) (?:off (?:\w+ ){0,2}\w*brakes?|(?:\w+ ){0,2}\w*brakes? off)\b`)
	brakeOn  = hear.Expression(`\b(?:not|no|never|\w+n'?t|stuck|seized|jammed|try\w*|will|would|to|if|once|when|half|bit)\b`)

	// ramped are words that a ramp was made, and toRamp those by which it is still to be.
	ramped = hear.Expression(`\bramps?\b[^;?]*\b(?:laid|in|built|dug|cut|made|there|done|ready|finished|down|on|is|now|flatter|longer)\b|\b(?:laid|built|dug|cut|made|put|got|shovel\w*|use[ds]?|using|filled)\b[^;?]*\bramps?\b`)
	toRamp = hear.Expression(`\b(?:not|no|never|nothing|\w+n'?t|can|could|will|would|ll|to|if|once|when|want|might|may|should|must|half|over there)\b`)
)

// changedSince reports whether a fact is told at a no-go as it is now, of what it speaks of: it
// takes the place of what was told before. A stamp, a piece and an anchor are looked at
// again all the same.
func (t *turn) changedSince(f hear.Fact) bool {
	if f.Guess || f.Tie == hear.Beside || f.Tie == hear.Loose && !(f.Field == "load.slope" && namesSlope.MatchString(hear.Lowered(t.in.Text))) {
		return false
	}
	return t.sinceAt(f.Field)
}

func (t *turn) sinceAt(path string) bool {
	if t.began.State != Verdict || t.s.ToldAs == string(calc.Go) || strings.ContainsAny(path, "[") || strings.HasSuffix(strings.TrimSuffix(path, "_kind"), "rating") {
		return false
	}
	low := hear.Lowered(t.in.Text)
	return sinceTold.MatchString(low) && !isQuestion(low) && !hear.ToCome(t.in.Text)
}

// letOff reports whether the message says that the stuck vehicle's brake is off, and
// madeRamp whether that a ramp was made for it: among the words that were not read.
func (t *turn) letOff(unread string) bool {
	low := hear.Lowered(t.in.Text)
	return strings.Contains(hear.Lowered(unread), "brake") && brakeOff.MatchString(low) && !brakeOn.MatchString(low) && t.saidOfLoad(low)
}

func (t *turn) madeRamp(unread string) bool {
	low := hear.Lowered(unread)
	return ramped.MatchString(low) && !toRamp.MatchString(low) && t.saidOfLoad(low)
}

// saidOfLoad reports whether words are no question and not said of the puller.
func (t *turn) saidOfLoad(low string) bool {
	return !isQuestion(low) && t.ownerIn(low) != "puller" && t.ownerNamed(low) != "puller" && ownerOfTopic(t.s.Topic) != "puller"
}

// farOff is how far off an anchor is told to stand, and no more.
var farOff = regexp.MustCompile(`(?i)^\W*(?:(?:about|bout|roughly|around|some|its|it'?s|it is|is|at|and)\s+)*(\d+(?:[.,]\d+)? ?(?:m|metres?|meters?|ft|feet|yds?|yards?))\b(?:\s+(?:off|away|further|farther|on|up|back|behind|uphill|from|it|the|truck|van|there|here|that|one|again|load|stuck|vehicle))*\W*$`)

// stoodOff returns that figure of words that were not read.
func stoodOff(unread string) string {
	if m := farOff.FindStringSubmatch(unread); m != nil {
		return m[1]
	}
	return ""
}

// tellsAnchor reports whether a message tells of an anchor.
func tellsAnchor(h hear.Heard) bool {
	return slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return strings.HasPrefix(f.Field, "anchors[") })
}

// asksOfDone asks again what was changed by what the message says was done, where it
// does not say what it is now, and reports whether it said so.
func (t *turn) asksOfDone(h hear.Heard) bool {
	tells := func(field string) bool {
		return slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return strings.HasPrefix(f.Field, field) })
	}
	again := func(name string, reason wording.Key) {
		if t.s.Settled[name] != "" && t.s.Topic != name {
			t.act(Act{Do: DoAgain, Topic: name, Reason: t.saying(reason)})
		}
	}
	brake, ramp := t.letOff(h.Rest), t.madeRamp(h.Rest)
	if brake && !tells("load.locked") {
		again("wheels", wording.StaleBrakeOff)
	}
	if ramp {
		if _, told := t.s.Sheet.Get("load.lip.height"); told && !tells("load.lip") {
			again("lip", wording.StaleRamped)
		} else if !told && !tells("load.slope") && !tells("load.lip") {
			again("slope", wording.StaleRampedWay)
		}
	}
	return brake || ramp
}

// doneSince takes at the verdict what was done and has no figure.
func (t *turn) doneSince(h hear.Heard) bool {
	if t.s.State != Verdict || !t.letOff(h.Rest) && !t.madeRamp(h.Rest) {
		return false
	}
	t.note(t.in.Text)
	t.fire(Reopens)
	t.act(Act{Do: DoAsk})
	t.rest(h)
	t.next()
	return true
}
