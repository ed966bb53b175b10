package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
)

// A piece is thrown out, or exchanged for another, as often by "it" as by its name: "the
// block is cracked, chuck that one", "swapped it for a spare 3.25t one". Nothing that was
// told of the old one is true of the new.

var (
	exchanged = regexp.MustCompile(`(?i)^(.*?)(?:\b(?:i|we|i'?ve|we'?ve|have|had|just|now|so|and|then|ok)\b\W*)*\b(?:swapped|swap|exchanged|replaced|switched|swopped)\s+(?:out\s+)?(it|that|that one|this one|the (?:(?:damaged|bad|old|broken|worn|cut|frayed|knotted|bent|cracked|unmarked) )?\pL+(?: \d+)?)\s+(?:out\s+)?(?:for|with|by)\s+(.*\d.*)$`)
	discarded = regexp.MustCompile(`(?i)^(.*?)(?:\b(?:i'?ll|we'?ll|lets|let's|just|so|and|then|ok)\b\W*)*\b(?:chuck|bin|ditch|scrap|toss|drop|forget|remove|lose|throw|take|leave|get rid of)(?: away| out| off)? (?:it|that|that one|this one)(?: away| out| off)?\W*$`)
	flawWords = regexp.MustCompile(`(?i)\b(?:unmarked|unstamped|unrated|damaged|broken|cut|cracked|frayed)\b`) // they choose among pieces that are known to be so
	spareOne  = regexp.MustCompile(`(?i)\b(?:an?|the|our|my|another|spare|new|other|one|ones|instead)\b`)
)

// tellsGear reports whether the job stands where something of a piece of gear may be told
// beside what is asked: nothing of it is rigged, and no names are wanted.
func (t *turn) tellsGear() bool {
	return t.s.Stage == NotBegun && t.s.Topic != "names" && slices.Contains([]State{AtGear, AtAnchor, AtLoad, AtPuller, Crew, Amend, Verdict}, t.s.State)
}

// exchanges takes that a piece was exchanged for another or is not to be used, where it
// is named by "it" or by the way, and reports whether it did.
func (t *turn) exchanges(text string) bool {
	if !t.tellsGear() || t.s.Topic == "which" || isQuestion(strings.ToLower(text)) {
		return false
	}
	if m := exchanged.FindStringSubmatch(text); m != nil {
		value := strings.Join(strings.Fields(spareOne.ReplaceAllString(m[3], " ")), " ")
		at := t.itsPiece(m[1], m[2])
		if len(hear.Listen("block "+value, hear.TopicGear).Facts) < 2 || len(at) == 0 {
			return false
		}
		if len(at) > 1 {
			t.which(at, value, "")
			return true
		}
		if t.raises(at[0], value) {
			return false // one of several: the others are as they were
		}
		t.toldBefore(m[1])
		for _, f := range gearFields {
			if was, told := t.s.Sheet.Get(at[0] + "." + f); told && f != "kind" && f != "count" && f != "use" {
				t.act(Act{Do: DoSet, Path: at[0] + "." + f, Was: was, How: Told})
			}
		}
		t.act(Act{Do: DoReopen, Topic: "gear_sound"})
		t.amend(at[0], value, "")
		return true
	}
	if m := discarded.FindStringSubmatch(text); m != nil {
		at := t.itsPiece(m[1], "it")
		switch {
		case len(at) == 0:
			return false
		case len(at) > 1:
			t.fire(Reopens)
			t.act(Act{Do: DoHold, Path: heldRemove, Value: "1"})
			t.which(at, "", "")
			return true
		}
		t.toldBefore(m[1]) // what was bad about it must be known if it comes back
		t.without(at)
		t.afterRemoval()
		return true
	}
	return false
}

// toldBefore takes what the words before tell, such as that it is cracked.
func (t *turn) toldBefore(words string) {
	if h := t.whoIsWho().Listen(words, hear.TopicGear); len(h.Facts) > 0 {
		t.inWords(words, func() { t.hearFacts(h, false) })
	}
}

// raises reports whether a value would make all of several pieces better.
func (t *turn) raises(at, value string) bool {
	count, _ := t.s.Sheet.Get(at + ".count")
	was, told := t.s.Sheet.Get(at + ".rating")
	if count == "" || count == "1" || !told {
		return false
	}
	for _, f := range t.whoIsWho().Listen(value, hear.Topic(at+".rating")).Facts {
		if f.Field == at+".rating" && !worseEnd(at+".rating", was, f.Value) {
			return false
		}
	}
	return true
}

// itsPiece returns the pieces that a word may stand for: the one that it names, else what
// the words before it name, else the piece that is asked about, else all gear there is.
func (t *turn) itsPiece(before, word string) []string {
	if strings.HasPrefix(strings.ToLower(word), "the ") {
		return t.gearOnly(t.meant(word))
	}
	if at := t.gearOnly(t.meant(flawWords.ReplaceAllString(before, " "))); len(at) > 0 {
		return at
	}
	if strings.ContainsAny(before, "abcdefghijklmnopqrstuvwxyz") && len(strings.Fields(before)) > 2 {
		return nil // of something that has no name here
	}
	if tp, ok := topicByName(t.s.Topic); ok {
		if list, n, is := tp.piece(); is && list == "gear" {
			return []string{"gear[" + itoa(n) + "]"}
		}
	}
	var all []string
	for i := range t.s.Sheet.Gear {
		all = append(all, "gear["+itoa(i)+"]")
	}
	return all
}

// gearOnly leaves anchors out.
func (t *turn) gearOnly(at []string) []string {
	var out []string
	for _, a := range at {
		if strings.HasPrefix(a, "gear[") {
			out = append(out, a)
		}
	}
	return out
}
