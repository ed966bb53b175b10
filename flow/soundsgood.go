package flow

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Words that begin like a good answer and are none: a towing weight where a pull is
// asked, an anchor tied back to what is no anchor, a frame without a belt, a figure
// with a minus before it.

const beltOrFrame = `(?:seat ?)?belts?|(?:rollover |roll ?over )?frame|roll ?bar|rops|cab`

var (
	towingWeight = regexp.MustCompile(`(?i)\btow(?:ing|ed)?[ -]?(?:weight|capacity|load|mass|limit)\b|\btows\b|\b(?:for|when|on) (?:road )?towing\b|\b(?:kg|kgs|kilos?|t|tons?|tonnes?|lbs?) (?:towing|towed)\W*(?:$|[,;.])|\b(?:can|may|could|rated to|allowed to) (?:tow|trail)\b|\btrailer (?:weight|load|capacity)\b`)
	plateForTow  = regexp.MustCompile(`(?i)\b(?:that['’]?s|its|it['’]?s|is|be|means?|says) (?:just |only |the )?(?:for )?(?:the )?(?:towing|tow|trailers?)\b`)
	notSafe      = regexp.MustCompile(`(?i)\b(?:no|without(?: an?| the)?|missing(?: an?| the)?) (?:` + beltOrFrame + `)\b` +
		`|\b(?:` + beltOrFrame + `)\b(?:\W+(?:is|are|has|was|been|all|a|bit|got|its|it|the))*\W+(?:broken?|torn|missing|cut|ripped|gone|frayed|off|bent|jammed|knackered|useless|unusable|rotten|rusted|rusty|cracked|removed|not|isn['’]?t|doesn['’]?t|won['’]?t|never)\b` +
		`|\b(?:won['’]?t|will not|doesn['’]?t|does not|don['’]?t|do not|isn['’]?t|is not|not|never|refuses to|hates) ?(?:be |likes? )?(?:wear\w*|worn|use[sd]?|using|put\w*)\b` +
		`|\b(?:broken|torn|frayed|cut|bent|rusted|cracked) (?:` + beltOrFrame + `)\b`)
	tiedTo     = regexp.MustCompile(`(?i)\b(?:to|onto|on|round|around|off)\s+([^,.;]+)`)
	someAnchor = regexp.MustCompile(`(?i)\b(?:anchors?|another|second|2nd|other)\b`)
	butGood    = regexp.MustCompile(`(?i)\b(?:but|though|tho|although|except|apart from)\b`)
	weakTie    = regexp.MustCompile(`(?i)\b(?:string|twine|cord|baler|wire|tape|bungee\w*|shoelace\w*|elastic|zip ?ties?|cable ties?|loose|loosely|slack)\b`)
	minusSign  = regexp.MustCompile(`(?i)(?:^|[:=]|\pL[ \t])[ \t]*([-−]\d[\d.,]*[ \t]*(?:t|to|tonnes?|tons?|kg|kilos?|lbs?|pounds?|kn|deg|degs|degrees?|°|%|per ?cent|m|cm|mm|ft|feet|in)?)(?:$|[\s,.;])`)
)

// soundsGood takes such words for what they are: out of h goes what they do not say,
// and it reports whether the message is answered.
func (t *turn) soundsGood(tp topic, h *hear.Heard) bool {
	text := t.in.Text
	tells := func(field, value string) bool {
		return slices.ContainsFunc(h.Facts, func(f hear.Fact) bool {
			return strings.HasSuffix(f.Field, field) && (value == "" || f.Value == value)
		})
	}
	drop := func(fields ...string) {
		h.Facts = slices.DeleteFunc(slices.Clone(h.Facts), func(f hear.Fact) bool {
			return slices.ContainsFunc(fields, func(field string) bool { return strings.HasSuffix(f.Field, field) })
		})
	}
	again := func() bool {
		if len(h.Facts) > 0 {
			return false
		}
		t.act(Act{Do: DoMiss})
		t.ask()
		return true
	}
	if m := minusSign.FindStringSubmatch(text); m != nil && !strings.Contains(text, "\n") && (slices.ContainsFunc(tp.fills, figureField) || slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return figureField(f.Field) })) {
		t.say(wording.RefuseMinus, wording.Args{"Text": strings.TrimSpace(m[1])})
		h.Facts = nil
		return again()
	}
	switch asked := tp.name; {
	case towingWeight.MatchString(text) && (asked == "tow_point.rating_kind" || asked == "puller.hitch_rating_kind"):
		t.say(wording.RefuseTowingWeight, nil)
		t.answer(tp, []change{{set: set{tp.fills[0], "unmarked"}, how: Told}})
		return true
	case towingWeight.MatchString(text) && (asked == "tow_point.rating" || tells("tow_point.rating", "")):
		t.say(wording.RefuseTowingWeight, nil)
		drop("tow_point.rating", "tow_point.rating_kind")
		return again()
	case (towingWeight.MatchString(text) || plateForTow.MatchString(text)) && (asked == "puller.hitch_rating" || tells("puller.hitch_rating", "")):
		t.say(wording.RefuseTowingWeight, nil)
		drop("puller.hitch_rating", "puller.hitch_rating_kind")
		return again()
	case strings.HasSuffix(asked, ".condition") && tells(asked, "good") && butGood.MatchString(text) && h.Unread() != "":
		t.say(wording.RefusePart, wording.Args{"Text": h.Unread()}) // "bit fluffy but fine" is not known to be fine
		drop(asked)
		return again()
	case asked == "puller.rollover_frame" && notSafe.MatchString(text):
		t.answer(tp, []change{{set: set{"puller.rollover_frame", "false"}, how: Told}})
		return true
	case notSafe.MatchString(text) && tells("rollover_frame", "true"):
		for i, f := range h.Facts {
			if f.Field == "puller.rollover_frame" {
				h.Facts[i].Value = "false"
			}
		}
	case (strings.HasSuffix(asked, ".tied_back") && h.Act != hear.No || tells(".tied_back", "true")) && t.tiedToNothing(text):
		t.say(wording.RefuseTiedTo, nil)
		drop(".tied_back")
		if strings.HasSuffix(asked, ".tied_back") {
			h.Facts = nil // what it is tied to is no anchor of the pull
		}
		return again()
	case (strings.HasSuffix(asked, ".tied_back") && h.Act != hear.No || tells(".tied_back", "true")) && t.tiedToUnsound(text) != "":
		t.say(wording.RefuseTiedUnsound, wording.Args{"What": t.tiedToUnsound(text)})
		drop(".tied_back")
		if strings.HasSuffix(asked, ".tied_back") {
			h.Facts = nil
		}
		return again()
	}
	return false
}

// tiedToUnsound returns the anchor that one is told to be tied back to where that was
// told to be dead or leaning: what does not hold by itself holds no other.
func (t *turn) tiedToUnsound(text string) string {
	if m := tiedTo.FindStringSubmatch(text); m != nil {
		text = m[1]
	}
	for i, a := range t.s.Sheet.Anchors {
		if bad := a.Alive != nil && !*a.Alive || a.Lean != nil && *a.Lean; !bad {
			continue
		}
		label := t.label("anchors", i)
		name := cmp.Or(a.Name, label)
		if _, named := wordsAt(text, name); named {
			return label
		}
	}
	return ""
}

// tiedToNothing reports whether what an anchor is told to be tied back to, or with,
// is no anchor, or nothing that holds.
func (t *turn) tiedToNothing(text string) bool {
	if weakTie.MatchString(text) {
		return true
	}
	m := tiedTo.FindStringSubmatch(text)
	if m == nil || someAnchor.MatchString(m[1]) || t.withoutAnchors("to "+m[1]) != "to "+m[1] {
		return false
	}
	return !slices.ContainsFunc(t.whoIsWho().Listen(m[1], hear.TopicAnchor).Facts, func(f hear.Fact) bool {
		return strings.HasPrefix(f.Field, "anchors[") && strings.HasSuffix(f.Field, ".kind") && f.Value != "post"
	})
}

// figureField reports whether a field is a weight, a slope, a length or a rating.
func figureField(path string) bool {
	switch path[strings.LastIndexByte(path, '.')+1:] {
	case "mass", "slope", "side_slope", "rating", "hitch_rating", "distance", "reach", "holding_reach", "lead", "run", "length", "depth", "diameter", "hitch_height", "axle_height", "wheelbase", "cg_height", "drum":
		return true
	}
	return false
}
