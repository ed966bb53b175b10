package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// No job is closed before it is said how the load was left: that it stands
// where it was to come to, on firm ground, and what keeps it there; or that it
// is left undone, where, what holds it and who is warned. None of that is taken
// as read, and nothing is no answer to it.

// mustSay reports whether a part of the debrief has to be answered.
func mustSay(part string) bool { return slices.Contains([]string{"end", "rests", "warned"}, part) }

// sayWay says how far the load was to come and how far it has, by what was told.
func (t *turn) sayWay() {
	way, told := t.s.Sheet.Get("distance")
	if len(t.s.Bites) == 0 {
		t.say(wording.DebriefNoWay, nil)
		return
	}
	if !told {
		t.say(wording.DebriefGone, wording.Args{"Length": t.s.gone()})
		return
	}
	t.say(wording.DebriefWay, wording.Args{"Text": way, "Length": t.s.gone()})
}

func (t *turn) endOffers() []offer {
	return []offer{
		{choice: "debrief.there", label: t.saying(wording.ChoiceDebriefThere)},
		{choice: "debrief.short", label: t.saying(wording.ChoiceDebriefShort)},
	}
}

// ended takes whether the load stands where it was to come to.
func (t *turn) ended(there bool) {
	k := wording.ChoiceDebriefThere
	if !there {
		k = wording.ChoiceDebriefShort
		t.act(Act{Do: DoDebrief, Path: "undone", Value: "yes"})
	}
	if t.in.Press != nil {
		t.said = t.saying(k)
	}
	way, _ := t.s.Sheet.Get("distance")
	if l, ok := readLength(way); ok && there && t.s.gone().High < l.Low {
		t.say(wording.DebriefMore, nil)
	}
	t.debriefed("end", t.saying(k))
}

// What words say of it. That it is not there comes first: "not on the lane yet".
var (
	endShort = regexp.MustCompile(`\b(no|not|short|half\w*|undone|still|stays|stayed|never|nowhere|isn'?t|didn'?t|gave up|left it|tomorrow|later)\b`)
	endThere = regexp.MustCompile(`\b(yes|arrived|out|there|firm|on the (lane|road|track|gravel|yard|flat|top|level))\b`)
	noAnswer = []string{"no", "none", "nothing", "nobody", "don't know", "dont know", "skip", "ok", "yes", "done", "?"}
)

// tellsEnd takes words to a part that has to be answered.
func (t *turn) tellsEnd(part, text, low string) {
	switch h := hear.Listen(text, hear.TopicYesNo); {
	case slices.Contains(noAnswer, low) && !(part == "end" && (low == "yes" || low == "no")):
		t.remark(wording.DebriefMust, nil)
	case part == "end" && (h.Act == hear.No || endShort.MatchString(low)):
		t.ended(false)
	case part == "end" && (h.Act == hear.Yes || endThere.MatchString(low)):
		t.ended(true)
	case part == "end", len(text) < 3:
		t.remark(wording.DebriefMust, nil)
	default:
		t.debriefed(part, text)
	}
}

// sayLeft says how the load was left.
func (t *turn) sayLeft() {
	switch {
	case t.s.Past["rests"] == "":
	case t.s.Past["undone"] == "":
		t.say(wording.DebriefStands, wording.Args{"Text": t.s.Past["rests"]})
	case t.s.Past["warned"] == "":
		t.say(wording.DebriefLeft, wording.Args{"Text": t.s.Past["rests"]})
	default:
		t.say(wording.DebriefUndone, wording.Args{"Text": t.s.Past["rests"], "Result": t.s.Past["warned"]})
	}
}

// close ends a job that was not pulled, once it is said how the load is left.
func (t *turn) close() {
	if t.s.Past["rests"] == "" {
		t.act(Act{Do: DoHold, Path: "closing", Value: "yes"})
		t.ask()
		return
	}
	t.fire(Closes)
	t.act(Act{Do: DoAsk})
	say := func() { t.sayLeft() }
	t.tellAllAndHere(false, say)
	t.ask()
}

// closing reports whether it is asked how the load is left.
func (t *turn) closing() bool {
	return t.s.Held["closing"] != "" && (t.s.State == Verdict || t.s.State == Referred)
}

// leavesAs takes how it is left; a way back is no such thing.
func (t *turn) leavesAs(text string) {
	low := strings.ToLower(strings.Trim(text, " .!"))
	switch {
	case low == "back" || low == "no":
		t.act(Act{Do: DoHold, Path: "closing"})
		t.ask()
	case len(text) < 3 || slices.Contains(noAnswer, low) || low == "close":
		t.remark(wording.DebriefMust, nil)
	default:
		t.act(Act{Do: DoDebrief, Path: "end", Value: t.saying(wording.ChoiceDebriefShort)})
		t.act(Act{Do: DoDebrief, Path: "undone", Value: "yes"})
		t.act(Act{Do: DoDebrief, Path: "rests", Value: wording.Plain(text)})
		t.close()
	}
}
