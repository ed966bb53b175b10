package flow

import (
	"slices"
	"strings"

	"linetender/calc/job"
	"linetender/flow/wording"
)

// question returns the wording of where the job stands.
func (t *turn) question() (wording.Key, wording.Args) {
	s := t.s
	if t.closing() {
		return wording.DebriefClosing, nil
	}
	if k, args, _, open := t.askBetter(); open {
		return k, args
	}
	if s.Topic == "" || s.State == Referred || s.State == Halted || s.State == Away || s.State == Closed {
		switch s.State {
		case Referred:
			if s.Stage.Lies() {
				return wording.PullReferred, nil
			}
			return wording.AskReferred, nil
		case Halted:
			return wording.AskHalted, nil
		case Away:
			return wording.AskAway, nil
		case Closed:
			return wording.AskClosed, wording.Args{"Code": s.Code}
		case Verdict:
			return wording.AskVerdict, nil
		case Amend:
			return wording.AskAmend, nil
		}
	}
	tp, ok := topicByName(s.Topic)
	if !ok {
		return wording.AskVerdict, nil
	}
	if c, ok := siteCheckOf(strings.TrimPrefix(s.Topic, "site.")); ok && strings.HasPrefix(s.Topic, "site.") {
		at, all := t.counted(c)
		return wording.AskCheck, wording.Args{"Number": at, "Total": all, "Criterion": t.claimHere(c, "")}
	}
	switch s.Topic {
	case "which":
		return wording.AskWhich, wording.Args{"Either": wording.Either(t.whichNames())}
	case "gear_sound":
		var names, all wording.Names
		for i, g := range s.Sheet.Gear {
			l := t.label("gear", i)
			if g.Condition == "unknown" {
				continue // it is asked about by itself
			}
			all = append(all, l)
			if g.Condition == "" || g.Improvised == nil || g.Kind == "rope" && g.Knots == nil {
				names = append(names, l)
			}
		}
		if len(names) == 0 {
			names = all // asked once more
		}
		return wording.AskGearSound, wording.Args{"Names": names}
	case "people":
		if s.Held["cleared"] != "" {
			return wording.AskPeopleRest, nil
		}
		if s.Held["unhurt"] != "" && s.Misses < missesForButtons {
			return wording.AskPeopleUnhurt, nil
		}
		if t.began == s.spot() && t.main() && s.Misses < missesForButtons {
			return wording.AskPeopleStill, nil // the list stands above, and on the buttons
		}
	case "names":
		if known := s.Crew; len(known) > 0 && len(known) < t.people() && s.Settled["names"] == "" {
			return wording.AskNamesMore, wording.Args{"Names": wording.Names(known)}
		}
	case "sign_name":
		return wording.AskSignName, wording.Args{"Why": t.whyFailed(s.Held["sign"])}
	case "sign_second":
		return wording.AskSignSecond, wording.Args{"Name": s.Held["sign_name"]}
	case "sign_word":
		return wording.AskSignWord, wording.Args{"Names": t.unsaidNames()}
	case "kit_check":
		return wording.AskKitCheck, wording.Args{"Name": s.Held["kit"]}
	}
	if tp.name == "ton" {
		return t.ofKind1("ask", tp.name), nil
	}
	if l, ok := tp.measured(); ok && s.Held[heldBare] != "" {
		return l.ask, wording.Args{"Text": s.Held[heldBare]}
	}
	if list, n, ok := tp.piece(); ok {
		if cond, _ := s.Sheet.Get(tp.name); list == "gear" && strings.HasSuffix(tp.name, ".condition") && cond == "unknown" {
			return wording.AskGearConditionTold, wording.Args{"What": t.theLabel(list, n)}
		}
		return t.ofKind1("ask", tp.name), wording.Args{"What": t.theLabel(list, n)}
	}
	return t.ofKind1("ask", tp.name), nil
}

// ofKind1 returns the key of a topic in a section: the one for the kind of piece or
// of puller that it is about, where that has words of its own.
func (t *turn) ofKind1(section, name string) wording.Key {
	if name == "ton" && t.hundredweights() {
		name = "cwt"
	}
	k := topicKey(section, name)
	tp, _ := topicByName(name)
	if list, n, ok := tp.piece(); ok {
		kind, _ := t.s.Sheet.Get(list + "[" + itoa(n) + "].kind")
		if own := k + wording.Key("_"+kind); t.e.Words.Has(own) {
			return own
		}
	}
	if strings.HasPrefix(name, "puller.") {
		kind, _ := t.s.Sheet.Get("puller.kind")
		if own := k + wording.Key("_"+kind); kind != "" && t.e.Words.Has(own) {
			return own
		}
	}
	return k
}

// theLabel is the label of a piece or an anchor as it stands in a sentence: the
// rope, rope 2, the 50 cm oak.
func (t *turn) theLabel(list string, n int) string {
	word, label := t.plainLabel(list, n), t.label(list, n)
	size, _ := t.s.Sheet.Get(list + "[" + itoa(n) + "].diameter")
	switch label {
	case word:
		return t.sayingWith(wording.ReadThe, wording.Args{"What": word})
	case word + " " + size:
		return t.sayingWith(wording.ReadTheSize, wording.Args{"What": word, "Text": size})
	}
	return label
}

// label is how a piece or an anchor is spoken of: by its name or kind, and
// where others go by the same, by what tells it from them.
func (t *turn) label(list string, n int) string {
	word := t.plainLabel(list, n)
	number := t.numbers(list, word)[n]
	if number == 0 {
		return word
	}
	if size := t.namedBy(list, n).diameter; list == "anchors" && size != "" {
		same, alike := 0, 0
		for i := 0; t.namedBy(list, i).kind != ""; i++ {
			if t.plainLabel(list, i) != word {
				continue
			}
			same++
			if t.namedBy(list, i).diameter == size {
				alike++
			}
		}
		switch {
		case alike == 1 && same < 2 && (number == 1 || len(t.s.Rig) == 0): // the rig's own is no more
			return word
		case same < 2:
		case alike == 1:
			return word + " " + size
		}
	}
	return word + " " + itoa(number)
}

// namedBy is what was told of a piece or an anchor that it is spoken of by; empty
// where there is none.
func (t *turn) namedBy(list string, n int) (of struct{ name, kind, diameter string }) {
	switch {
	case list == "gear" && n < len(t.s.Sheet.Gear):
		g := &t.s.Sheet.Gear[n]
		of.name, of.kind, of.diameter = g.Name, g.Kind, g.Diameter
	case list == "anchors" && n < len(t.s.Sheet.Anchors):
		a := &t.s.Sheet.Anchors[n]
		of.name, of.kind, of.diameter = a.Name, a.Kind, a.Diameter
	}
	return of
}

// plainLabel is the name or the kind of a piece or an anchor.
func (t *turn) plainLabel(list string, n int) string {
	told := t.namedBy(list, n)
	if told.name != "" {
		return told.name
	}
	key := [2]string{list, told.kind}
	word, ok := t.kinds[key]
	if !ok {
		if t.kinds == nil {
			t.kinds = map[[2]string]string{}
		}
		word = t.word(list+"["+itoa(n)+"].kind", told.kind)
		t.kinds[key] = word
	}
	return word
}

// apart gives the pieces and anchors of a sheet that go by one name the names
// that they are spoken of by, so that a plan says which of them it means.
func (t *turn) apart(s job.Sheet) job.Sheet {
	s.Gear, s.Anchors = slices.Clone(s.Gear), slices.Clone(s.Anchors)
	for i := range s.Gear {
		if l := t.label("gear", i); l != t.plainLabel("gear", i) {
			s.Gear[i].Name = l
		}
	}
	for i := range s.Anchors {
		if l := t.label("anchors", i); l != t.plainLabel("anchors", i) {
			s.Anchors[i].Name = l
		}
	}
	return s
}

// choices returns the buttons of the current question.
func (t *turn) choices() []offer {
	s := t.s
	if t.closing() {
		return []offer{{choice: "back"}}
	}
	if _, _, offers, open := t.askBetter(); open {
		return offers
	}
	switch s.State {
	case Referred:
		if s.Stage.Lies() {
			return []offer{{choice: "secure_here"}, {choice: "so_far"}, {choice: choiceStop}}
		}
		return []offer{{choice: "so_far"}, {choice: "new"}}
	case Halted:
		return t.causeOffers()
	case Away:
		return []offer{{choice: "go_on"}, {choice: "new"}}
	case Closed:
		return []offer{{choice: "new"}}
	case Verdict:
		return t.verdictChoices()
	}
	tp, ok := topicByName(s.Topic)
	if !ok {
		return nil
	}
	if tp.name == "second_look" {
		return append(t.lookOffers(), offer{choice: "how"})
	}
	if tp.name == "which" {
		return append(t.whichOffers(), offer{choice: "back"})
	}
	var out []offer
	if _, again := s.askedAgain(s.Topic); again {
		out = append(out, offer{choice: "as_before"})
	}
	if !tp.late || s.Misses >= missesForButtons {
		out = append(out, t.offersOf(tp)...)
	}
	if tp.state == Signing {
		return out
	}
	out = append(out, offer{choice: "how"})
	if !tp.noskip {
		out = append(out, offer{choice: "skip"})
	}
	return out
}

// inWordsOnly are the questions that no figure and no count is an answer to, nor part
// of one.
var inWordsOnly = []string{"pull", "belly", "tow_point.condition", "holding_point.condition",
	"anchors[].alive", "anchors[].lean", "anchors[].braked", "anchors[].in_line", "anchors[].soil", "anchors[].tied_back", "anchors[].strap_held",
	"puller.pull", "puller.capstan", "puller.rollover_frame", "gear[].material", "gear[].condition", "gear[].sling_hitch", "gear[].improvised"}

// picksByNumber reports whether a number could be nothing but the pick of a choice: not where
// it could be a figure, nor where a choice begins what moves a load.
func (t *turn) picksByNumber() bool {
	switch {
	case t.s == nil || !t.main() || t.closing() || t.s.Held[heldParting] != "":
		return false
	case t.s.State == Verdict:
		return t.s.Stage == NotBegun && !t.offers1("begin_pull")
	}
	tp, ok := topicByName(t.s.Topic)
	return ok && !t.hub() && slices.Contains(inWordsOnly, place.ReplaceAllString(tp.name, "[]"))
}

// missesForButtons is how many answers in a row may be unreadable before the
// choices come as buttons.
const missesForButtons = 3

// example is what an answer to the current question could be.
func (t *turn) example() wording.Key {
	k := wording.LikeVerdict
	switch t.s.State {
	case Referred:
		k = wording.LikeReferred
	case Halted:
		k = wording.LikeHalted
	case Away:
		k = wording.LikeAway
	case Pulling:
		k = wording.LikePulling
	case Debrief:
		k = wording.LikeDebrief
	case Closed:
		k = wording.LikeClosed
	default:
		if _, ok := topicByName(t.s.Topic); ok {
			if k = t.ofKind1("like", t.s.Topic); t.s.Held[heldWhich] != "" && t.s.Topic == "which" {
				k = wording.LikeWhichNth
			}
		} else if t.s.State == Amend {
			k = wording.LikeAmend
		}
	}
	return k
}
