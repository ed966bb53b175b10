package flow

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/job"
	"linetender/calc/unit"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

func itoa(n int) string { return strconv.Itoa(n) }

// special does the buttons that say more than one value of the sheet. It
// reports whether it did.
func (t *turn) special(tp topic, choice string) bool {
	switch {
	case choice == "same_crew", choice == "same_gear":
		t.takesAgain(choice)
	case tp.name == "slope" && (choice == "level" || choice == "board"):
		t.measureSlope(choice)
	case tp.name == "which":
		t.whichIs(choice)
	case tp.name == "ton":
		t.whichTon(map[string]string{"t": "t", "short_ton": "short ton", "long_ton": "long ton", "short_cwt": "short cwt", "long_cwt": "long cwt"}[choice])
	case choice == "nothing", choice == "done":
		t.nothing(tp)
	case strings.HasSuffix(tp.name, tieField):
		t.tieChosen(tp, choice)
	case tp.name == "gear_sound":
		t.sound(choice == "yes")
	case tp.name == "kit_check":
		t.kitLooked(choice == "yes")
	case t.s.State == Signing:
		t.sign("", choice == "no")
	case tp.name == "second_look":
		t.lookChoice(choice)
	case t.s.State == Verdict:
		t.verdictChoice(choice)
	case strings.HasPrefix(tp.name, "site.") && t.s.alone():
		t.checked(tp, choice)
	default:
		return false
	}
	return true
}

// heardSpecial does the same for what was written.
func (t *turn) heardSpecial(tp topic, all *hear.Heard) bool {
	h := *all
	switch {
	case tp.name == "which":
		t.heardWhich(t.in.Text)
		return true
	case tp.name == "people" && h.Act == hear.Yes && len(h.Facts)+len(h.Cleared) == 0 && bareYes(t.in.Text):
		t.askedOtherwise(tp.name)
		t.say(wording.RefuseYesWhich, nil) // that some of it is there: which decides
		t.ask()
		return true
	case tp.name == "people":
		return t.heardPeople(h)
	case tp.name == "crew":
		return t.heardCrew(tp, h)
	case tp.name == "slope":
		low := strings.ToLower(strings.Trim(t.in.Text, " .!/"))
		if low == "level" || low == "board" {
			t.measureSlope(low)
			return true
		}
		if len(h.Facts) == 0 && t.boardAndGap(t.in.Text) {
			return true
		}
	case strings.HasPrefix(tp.name, "level_") || strings.HasPrefix(tp.name, "board_"):
		return t.heardLengths(tp, h)
	case tp.name == "ton":
		if h.Act == hear.Unit {
			t.hearFacts(h, false)
			t.rest(h)
			t.whichTon(h.Object)
			return true
		}
	case tp.name == "gear_sound" && len(h.Facts) == 0 && (h.Act == hear.Yes || h.Act == hear.No):
		if h.Act == hear.Yes && t.yesTurned() {
			return true
		}
		t.sound(h.Act == hear.Yes)
		return true
	case strings.HasSuffix(tp.name, ".condition") && strings.HasPrefix(tp.name, "gear[") && len(h.Facts) == 0 && h.Rest == "" && (h.Act == hear.Yes || h.Act == hear.No):
		value := map[hear.Act]string{hear.Yes: "good", hear.No: "damaged"}[h.Act]
		t.answer(tp, []change{{set: set{tp.name, value}, how: Told}})
		return true
	case tp.name == "kit_check":
		if h.Act == hear.Yes && t.yesTurned() {
			return true
		}
		if h.Act == hear.Yes || h.Act == hear.No {
			t.kitLooked(h.Act == hear.Yes)
			return true
		}
	case t.allWell(tp, h), t.allGear(tp, h), t.flawsRuledOut(tp):
		return true
	case strings.HasPrefix(tp.name, "site."):
		return t.heardCheck(tp, h)
	case tp.name == "holding":
		return t.heardHolding(h)
	case strings.HasSuffix(tp.name, tieField) && t.heardTie(tp, h), t.heardTied(tp):
		return true
	case tp.name == "holding_point" && len(h.Facts) == 0 && samePoint.MatchString(t.in.Text):
		t.answer(tp, []change{{set: set{"load.holding_point.shared", "true"}, how: Told}})
		return true
	case h.Act == hear.No && len(h.Facts) == 0 && t.takesNothing(tp):
		t.nothing(tp)
		return true
	case len(h.Facts) == 0 && t.takesNothing(tp) && nothingThere.MatchString(t.in.Text) && !againstIt.MatchString(butBare.ReplaceAllString(t.in.Text, "")) && !strings.ContainsAny(t.in.Text, "0123456789?"):
		t.nothing(tp)
		return true
	}
	if t.yesAndNo(tp, h) {
		t.miss(h.Rest)
		return true
	}
	if choice := t.plainChoice(tp, h); choice != "" {
		for _, o := range tp.offers {
			if o.choice == choice {
				if beside := besideChoice(tp, h.Facts); len(beside) > 0 && len(o.sets) > 0 {
					for _, s := range o.sets {
						beside = append(beside, hear.Fact{Field: s.path, Value: s.value})
					}
					all.Facts = beside // all of it is put down
					return false
				}
				if !strapHolds.MatchString(t.in.Text) && t.restates(tp) == "" && !onlyAgrees.MatchString(h.Unread()) {
					t.rest(h)
				}
				t.choose(o)
				return true
			}
		}
	}
	return t.heardPlain(tp, h)
}

// besideChoice are the facts that a message tells beside a yes or a no: "no, and the slope is
// 20 deg". What an anchor is tied to, or what keeps a strap low, is no anchor of the pull.
func besideChoice(tp topic, facts []hear.Fact) []hear.Fact {
	part := strings.HasSuffix(tp.name, ".tied_back") || strings.HasSuffix(tp.name, ".strap_held")
	return slices.DeleteFunc(slices.Clone(facts), func(f hear.Fact) bool {
		return slices.Contains(tp.fills, f.Field) || part && strings.Contains(f.Field, "[+")
	})
}

// samePoint is how people say that both lines hang on one point.
var samePoint = regexp.MustCompile(`(?i)^\W*(?:(?:on|at|to|it'?s|its|it is|the|very|just|that)\W+)*same(?: (?:one|point|eye|place|hook|spot|frame|bracket))?(?: (?:as|for) (?:the |for the )?(?:both|pull|pulling|hauling|haul|haul line|pulling line|pull rope|tow point|other|other one|before))?\W*$`)

// plainNo are the choices that a plain no makes, where there is something or not.
var plainNo = []string{"no", "no_step", "no_knots"}

// What is said of wheels in the words of the question.
var (
	theyTurn     = regexp.MustCompile(`(?i)^\W*(?:yes|yeah|yep)?\W*(?:they|all)(?: all)? do\W*$`)
	theyTurnNot  = regexp.MustCompile(`(?i)^\W*(?:no|nope)?\W*(?:(?:they|none)(?: of (?:them|the wheels))? )?(?:do not|don['’]?t|wont|won['’]?t|will not|do) (?:turn|move|roll|spin)(?: at all)?\W*$`)
	turnNotAtAll = regexp.MustCompile(`(?i)\b(?:none|not|don|won)`)
)

// plainChoice returns the choice that a message makes by a yes or a no, or in
// the words of the question.
func (t *turn) plainChoice(tp topic, h hear.Heard) string {
	if tp.name == "wheels" && len(h.Facts) == 0 {
		switch text := t.in.Text; {
		case theyTurn.MatchString(text):
			return "all_turn"
		case theyTurnNot.MatchString(text) && turnNotAtAll.MatchString(text):
			return "all_locked"
		}
	}
	if len(tp.fills) == 0 {
		return ""
	}
	if said := t.restates(tp); said != "" {
		return said
	}
	if strings.HasSuffix(tp.name, ".strap_held") && strapHolds.MatchString(t.in.Text) {
		return "yes"
	}
	if tp.name == "puller.rollover_frame" && hasBoth(t.in.Text) {
		return "yes"
	}
	said := yesOrNoSaid(h, t.in.Text, tp.fills[0])
	if field := tp.fills[0]; (strings.HasSuffix(field, ".lean") || field == "load.belly") && aBit.MatchString(t.in.Text) {
		said = "yes" // a little of what is bad is some of it
	}
	if t.halfSaid(tp, said, h) || onlyThought.MatchString(t.in.Text) && t.goodSaid(tp, said) {
		return ""
	}
	if said == "no" {
		for _, o := range tp.offers {
			if slices.Contains(plainNo, o.choice) && (o.choice == "no" || h.Rest == "" && len(h.Facts) == 0) {
				return o.choice
			}
		}
		return ""
	}
	if !yesOrNo(tp) {
		return ""
	}
	return said
}

// halfSaid reports whether a yes or no is the good answer and something stands beside
// it that was not read: "no, just the axle", asked whether belly or axle are aground.
func (t *turn) halfSaid(tp topic, said string, h hear.Heard) bool {
	rest := h.Unread()
	if rest == "" || talkOnly.MatchString(rest) || onlyAgrees.MatchString(rest) || onlyLooked.MatchString(rest) {
		return false
	}
	return t.goodSaid(tp, said)
}

// onlyThought are words that a yes or no is thought or hoped, and not known: a tree that
// somebody thinks is alive is not known to be.
var onlyThought = regexp.MustCompile(`(?i)\b(?:i think|think so|maybe|mebbe|perhaps|probably|prob|prolly|should be|i guess|guess so|i reckon|reckon so|i suppose|suppose so|i hope|hope so|hopefully|afaik|as far as i|pretty sure|fairly sure|not sure)\b`)

// goodSaid reports whether a yes or no is the good answer.
func (t *turn) goodSaid(tp topic, said string) bool {
	for _, o := range tp.offers {
		if o.choice == said && slices.ContainsFunc(o.sets, func(s set) bool { return hear.Hopeful(s.path[strings.LastIndexByte(s.path, '.')+1:], s.value) }) {
			return true
		}
	}
	return false
}

// onlyAgrees are words that say no more than the yes or no beside them.
var onlyAgrees = regexp.MustCompile(`(?i)^(?:\W*\b(?:yes|no|nope|so|it|its|it's|it is|it does|it has|they|there|theres|there's|is|are|has|have|got|does|a|an|and|the|all|clear|free|daylight|under|underneath|` +
	`belts? (?:is |are |'?s )?(?:on|worn|fastened|done up|buckled)|stands|standing|straight|upright|vertical|plumb|as anything|a bit of|cab|belt|seatbelt|frame|rollover|roll|bar|rops|driver|wears|wearing|looks?|fine|good|sound|solid|sure|definitely|certain|for certain|of course|always|both|each|every one|one|at all|really)\b)+\W*$`)

// strapHolds is what keeps a strap low on a stump or a trunk, told by its name.
var strapHolds = regexp.MustCompile(`(?i)^\W*(?:(?:yes|yeah|yep|it is|its|it has|there is|there's|theres|there are|by|with)\W+)*` + holdsLow + `(?:\W+(?:and|or|plus)\W+` + holdsLow + `)*` +
	`(?:\W+(?:low|down|there|in it|on it|(?:at|near|by|above) the (?:root|roots|foot|base|bottom)))*\W*$`)

const holdsLow = `(?:an? |the |some )?(?:(?:big|deep|cut|low|small|good|natural|old|solid) )*(?:notch|groove|root|tie|branch|knob|lip|flare|burr)(?:e?s)?`

// hasBoth reports whether a text says that there is a frame and that the belt is worn, in the
// words of the question, and nothing else.
func hasBoth(text string) bool {
	low := strings.TrimPrefix(strings.TrimPrefix(hear.Lowered(text), "the "), "tractor ")
	return theFrame.MatchString(low) && theBelt.MatchString(low) && onlyAgrees.MatchString(low) && !notSafe.MatchString(low)
}

var (
	theFrame = regexp.MustCompile(`\b(?:frame|roll ?bar|rops)\b`)
	theBelt  = regexp.MustCompile(`\bbelts? (?:is |are |'?s )?(?:on|worn|fastened|done up|buckled|yes)\b|\bwear(?:s|ing) (?:the |a |his |her )?(?:seat ?)?belt\b|\byes\W.*\bbelt\b`)
)

// bareYes reports whether a text that begins with a yes tells nothing behind it.
func bareYes(text string) bool {
	_, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	rest = strings.TrimSuffix(rest, "please")
	return rest == "" || onlyAgrees.MatchString(rest)
}

func yesOrNo(tp topic) bool {
	return slices.ContainsFunc(tp.offers, func(o offer) bool { return o.choice == "yes" })
}

// yesOrNoSaid returns the yes or no that a message is or begins with, unless
// what it says beside it answers the field already.
func yesOrNoSaid(h hear.Heard, text, field string) string {
	if slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return f.Field == field }) {
		return ""
	}
	if againstIt.MatchString(h.Rest) {
		return "" // "yes, but a crack low down" says neither
	}
	first, rest, _ := strings.Cut(strings.ToLower(strings.TrimSpace(text)), " ")
	apart := strings.TrimRight(first, ",.;:!") != first // "no clearance" is no no
	switch first = strings.Trim(first, ",.;:!"); {
	case first == "yes", first == "no" && (apart || rest == "" || h.Act == hear.No || h.Rest == ""):
		return first
	case h.Act == hear.Yes && len(h.Facts) == 0:
		return "yes"
	case h.Act == hear.No && len(h.Facts) == 0:
		return "no"
	case so.MatchString(text) && !againstIt.MatchString(text):
		return strings.ToLower(so.FindStringSubmatch(text)[1])
	}
	return ""
}

// Words that turn against what was said before them, and a yes or a no that is
// concluded: "got a cab so yes".
var (
	againstIt = regexp.MustCompile(`(?i)\b(?:but|except|apart|though|although|however|only|bar|cept|not sure|i think|maybe)\b`)
	aBit      = regexp.MustCompile(`(?i)^\W*(?:(?:yes|yeah|yep|no|nope|nah|well|it does|it is|only|just)\W+)*(?:a (?:wee |little )?(?:bit|little|touch)|slightly|some|partly)\b`)
	so        = regexp.MustCompile(`(?i)\bso (yes|no)\W*$`)
)

// takesNothing reports whether none is an answer to tp.
func (t *turn) takesNothing(tp topic) bool {
	return slices.ContainsFunc(tp.offers, func(o offer) bool { return o.choice == "nothing" || o.choice == "done" })
}

// nothing settles a topic with there being none of it.
func (t *turn) nothing(tp topic) {
	if tp.name == "" {
		t.miss("")
		return
	}
	if tp.name == "gear" {
		for _, name := range []string{"rope", "block", "shackle", "sling"} {
			if t.s.Settled[name] == "" && len(t.s.Sheet.Gear) == 0 {
				t.settle(name, Told)
			}
		}
	}
	if all := t.pieces("anchors", "", "kind", ""); tp.name == "anchor" && len(all) > 0 {
		var gone []string // nothing there takes the place of what was told
		for i := range all {
			gone = append(gone, "anchors["+itoa(i)+"]")
		}
		t.without(gone)
	} else {
		t.say(wording.ReadWord, wording.Args{"What": t.name(tp.name), "Text": t.saying(wording.ListNone)})
	}
	t.settle(tp.name, Told)
	t.next()
}

// nothingThere is how people begin that there is nothing, whatever they tell of the place
// behind it, and butBare what turns against nothing: "nothing but heather".
var (
	nothingThere = regexp.MustCompile(`(?i)^\W*(?:(?:there(?:'?s| is)|we(?:'ve| have)(?: got)?|sorry|no|well)\W+)*(?:nothing|none)\b(?:\W+(?:here|there|around|near|nearby|about|at all|just|only|its|it'?s|open|all|but|else)\b|\W*$)`)
	butBare      = regexp.MustCompile(`(?i)\b(?:but|just|only)\W+(?:open |bare |wet |flat )?(?:heather|moor\w*|fields?|grass|bog|sand|mud|sky|bushes|brambles|hedges?)\b|^\W*(?:nothing|none)\W+(?:just|only)\b`)
)

// noneOfThem is a plain no to all that is left.
var noneOfThem = regexp.MustCompile(`(?i)^\W*(?:none|no|nope|nothing|neither|not any)\b(?:\W+(?:of|the|them|those|that|others?|rest|either|else))*\W*$`)

// A hazard's word of which it was not read whether it is there, and a no that is
// none for certain: after the one the other says nothing.
var (
	hazardWord = regexp.MustCompile(`\b(?:diesel|petrol|fuel|gas|oil|leak\w*|smok\w*|fumes|wires?|cables?|power ?lines?|traffic|water|flood\w*|battery|acid|chemicals?|cliff|edge|drop|bridge|culvert|drain|pipe|trapped|hurt|bleeding)\b`)
	hesitates  = regexp.MustCompile(`(?i)\b(?:really|i think|think so|guess|suppose|reckon|probably|prob|just|hopefully|much|maybe|sort of|kind of|kinda|i hope)\b`)
	noneOfRest = regexp.MustCompile(`(?i)\bnone of the (?:others?|rest)\W*$`)
)

// heardPeople takes the hazards. A denial of some of them is no denial of all.
func (t *turn) heardPeople(h hear.Heard) bool {
	at := slices.IndexFunc(h.Facts, func(f hear.Fact) bool { return f.Field == "hazards" })
	none := at >= 0 && h.Facts[at].Value == "none"
	switch word := hazardWord.FindString(strings.ToLower(t.in.Text)); {
	case none && t.s.Held["hazard_word"] != "" && hesitates.MatchString(t.in.Text):
		t.askedOtherwise(firstTopics[0].name)
		t.say(wording.AskHazardWord, wording.Args{"Text": t.s.Held["hazard_word"]})
		t.ask()
		return true
	case at < 0 && len(h.Cleared) == 0 && word != "":
		t.act(Act{Do: DoHold, Path: "hazard_word", Value: word})
	case at < 0 && noneOfRest.MatchString(t.in.Text) && !slices.ContainsFunc(hazards(t.s.Sheet), func(k string) bool { return !slices.Contains(h.Cleared, k) }) && len(h.Cleared) > 0:
		t.answer(firstTopics[0], []change{{set: set{"hazards", "none"}, how: Told}})
		return true
	}
	if t.s.Held["cleared"] != "" && len(h.Facts) == 0 && len(h.Cleared) == 0 && noneOfThem.MatchString(t.in.Text) {
		t.answer(firstTopics[0], []change{{set: set{"hazards", "none"}, how: Told}})
		return true
	}
	if at < 0 && len(h.Cleared) == 0 && h.Unhurt && t.s.Held["unhurt"] == "" && t.s.Settled[firstTopics[0].name] == "" {
		t.hearFacts(h, false)
		t.act(Act{Do: DoHold, Path: "unhurt", Value: "yes"})
		t.rest(h)
		t.ask()
		return true
	}
	if len(h.Cleared) == 0 || slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return f.Field == "hazards" }) {
		return false
	}
	clear := strings.FieldsFunc(t.s.Held["cleared"], func(r rune) bool { return r == ',' })
	for _, c := range h.Cleared {
		if !slices.Contains(clear, c) {
			clear = append(clear, c)
		}
	}
	t.hearFacts(h, false)
	var names wording.Names
	for _, c := range clear {
		names = append(names, t.word("hazards", c))
	}
	t.rest(h)
	t.say(wording.ReadCleared, wording.Args{"Names": names})
	t.act(Act{Do: DoHold, Path: "cleared", Value: strings.Join(clear, ",")})
	if len(clear) == len(job.HazardKinds) {
		t.answer(firstTopics[0], []change{{set: set{"hazards", "none"}, how: Told}})
		return true
	}
	t.ask()
	return true
}

// whichTon writes the ton that was meant into the weights that said ton.
func (t *turn) whichTon(which string) {
	if which == "" {
		t.miss("")
		return
	}
	var changes []change
	for _, path := range []string{"load.mass", "puller.mass"} {
		said := t.s.Held[heldTon+path]
		if said == "" {
			continue
		}
		if meant := withTon(said, which); meant != "" {
			changes = append(changes, change{set: set{path, meant}, how: Told})
		}
	}
	if len(changes) == 0 {
		t.miss("")
		return
	}
	if s, ok := systemOf(which); ok {
		t.act(Act{Do: DoUnits, Value: s.String()})
	} else {
		t.act(Act{Do: DoUnits, Value: unit.Customary.String()})
	}
	t.put(changes)
	for _, path := range []string{"load.mass", "puller.mass"} {
		if t.s.Held[heldTon+path] != "" {
			t.act(Act{Do: DoHold, Path: heldTon + path})
		}
	}
	t.settle("ton", Told)
	t.next()
}

// inHundredweight reports whether a weight is told in hundredweights and not in tons.
func inHundredweight(said string) bool {
	low := strings.ToLower(said)
	return (strings.Contains(low, "cwt") || strings.Contains(low, "hundredweight")) && !strings.Contains(low, "ton")
}

// hundredweights reports whether all weights of which it is not said which ton they
// are in are told in hundredweights.
func (t *turn) hundredweights() bool {
	any := false
	for _, path := range []string{"load.mass", "puller.mass"} {
		if said := t.s.Held[heldTon+path]; said != "" {
			if any = true; !inHundredweight(said) {
				return false
			}
		}
	}
	return any
}

// offersOf are the buttons of a question: which hundredweight has its own.
func (t *turn) offersOf(tp topic) []offer {
	if tp.name == "ton" && t.hundredweights() {
		return []offer{{choice: "short_cwt"}, {choice: "long_cwt"}}
	}
	out := append(t.againOffers(tp), tp.offers...)
	if strings.HasSuffix(tp.name, tieField) {
		out = append(out, t.tieOffers(tp)...)
	}
	if tp.name == "puller.hitch" && !pullerIs("winch", "hand-winch")(t.s.Sheet) { // a frame carries a winch and is no hitch for a line
		out = slices.DeleteFunc(out, func(o offer) bool { return o.choice == "frame" })
	}
	return out
}

// withTon puts a ton that is defined in the place of each one that is not:
// who writes "2 ton + half a ton" means the same ton twice.
func withTon(said, which string) string {
	if inHundredweight(said) {
		which = strings.Replace(which, "ton", "cwt", 1)
	}
	if inHundredweight(said) != strings.HasSuffix(which, "cwt") {
		return "" // a metric hundredweight, or a hundredweight of a ton
	}
	fields := strings.Fields(said)
	meant := ""
	for i, f := range fields {
		low := strings.ToLower(f)
		for _, end := range []string{"tons", "ton", "hundredweights", "hundredweight", "cwt"} {
			figure, ok := strings.CutSuffix(low, end)
			if !ok {
				continue
			}
			fields[i] = strings.TrimSpace(figure + " " + which)
			if _, err := bound.ReadMass(strings.Join(fields, " ")); err == nil {
				meant = strings.Join(fields, " ")
				break
			}
			fields[i] = f // a short ton is defined already
		}
	}
	return meant
}

// sound takes whether all the gear is made for it, whole and free of knots.
func (t *turn) sound(yes bool) {
	if !yes {
		// Which piece it is comes out by asking for each: those that were
		// whole when they were looked at before are looked at again.
		for i, g := range t.s.Sheet.Gear {
			if at := "gear[" + itoa(i) + "].condition"; g.Condition != "" && g.Condition != "damaged" {
				t.act(Act{Do: DoSet, Path: at, Was: g.Condition, How: Told})
				t.act(Act{Do: DoReopen, Topic: at})
			}
		}
		t.settle("gear_sound", Told)
		t.next()
		return
	}
	var changes []change
	for i, g := range t.s.Sheet.Gear {
		at := "gear[" + itoa(i) + "]"
		if g.Condition == "unknown" {
			continue // it is answered by itself
		}
		if g.Condition == "" {
			changes = append(changes, change{set: set{at + ".condition", "good"}, how: Told, quiet: true})
		}
		if g.Improvised == nil {
			changes = append(changes, change{set: set{at + ".improvised", "false"}, how: Told, quiet: true})
		}
		if (g.Kind == "rope" || job.Slung(g.Kind)) && g.Knots == nil {
			changes = append(changes, change{set: set{at + ".knots", "none"}, how: Told, quiet: true})
		}
	}
	t.put(changes)
	t.settle("gear_sound", Told)
	t.next()
}

// heardHolding takes the rope that will hold the load, and its anchor.
func (t *turn) heardHolding(h hear.Heard) bool {
	if h.Act == hear.No && len(h.Facts) == 0 {
		t.nothing(topic{name: "holding", state: AtGear})
		return true
	}
	anchors, gear := len(t.s.Sheet.Anchors), len(t.s.Sheet.Gear)
	done := t.hearFacts(h, false)
	if len(done) == 0 {
		return false
	}
	var pins []change
	for i := gear; i < len(t.s.Sheet.Gear); i++ {
		if g := t.s.Sheet.Gear[i]; g.Kind == "rope" && g.Use == "" {
			pins = append(pins, change{set: set{"gear[" + itoa(i) + "].use", "holding"}, how: Told, quiet: true})
		}
	}
	for i := anchors; i < len(t.s.Sheet.Anchors); i++ {
		if t.s.Sheet.Anchors[i].Use == "" {
			pins = append(pins, change{set: set{"anchors[" + itoa(i) + "].use", "holding"}, how: Told, quiet: true})
		}
	}
	t.put(pins)
	t.settle("holding", Told)
	t.next()
	return true
}
