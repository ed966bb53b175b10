package flow

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Who is under age or has been drinking has no part in a pull: no post, no eyes
// that count, no signature, and none of the number of people. What was told of
// somebody so is kept, and stands until the lead says that it was wrong.

const kin = `lad|lass|son|sons|daughter|grandson|granddaughter|grandkids?|nephew|niece|kid|kids|child|children|boy|girl|boys|girls|toddler|youngster|teenager|teen|schoolboy|schoolgirl|little (?:brother|sister|one)`

// howMany are the words that a few people are counted in, in the order of their number.
const howMany = `\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten`

// numberOf is how many a word of howMany says.
func numberOf(word string) int {
	if n, err := strconv.Atoi(word); err == nil {
		return n
	}
	return slices.Index(strings.Split(howMany, "|"), strings.ToLower(word)) // the figures stand first
}

var (
	counted1    = regexp.MustCompile(`(?i)^\W*(?:we are |we're |there are )?(` + howMany + `)\s*(?:$|[,;:(.]|(?:of us|people|persons|but|with|incl\w*|in all|here)\b)`)
	countedOnly = regexp.MustCompile(`^\W*(?:(?:` + howMany + `|we|are|we'?re|were|is|its|it'?s|about|around|roughly|some|maybe|perhaps|possibly|probably|or|to|just|only|at|least|most|us|of|there'?s?|here|in|all|total|altogether|people|persons|adults?|grown|ups?)\b\W*)+$`)
	countYoung  = regexp.MustCompile(`\b(` + howMany + `)\W+(?:(?:of|them|us|those|these|which|whom|are|is|being|only|just|still|aged?|young|small|little|teenage|my|our|his|her|the)\W+)*(?:(?:` + kin + `|teens|teenagers|youngsters|lads|minors?|under)\b|\d{1,2}\b)`)
	countRange  = regexp.MustCompile(`(?i)^\W*(?:(?:we|are|we'?re|were|about|around|there'?s?|maybe|just|only|between)\b\W*)*(` + howMany + `)\s*(?:-|–|/|,?\s*\b(?:or|to|and|maybe|perhaps|possibly)\b(?:\s+(?:maybe|perhaps|possibly|even))?)\s*(` + howMany + `)\b(?:\W*\b(?:of us|of them|people|persons|adults|grown-?\s?ups|in all|here|all told|not sure))*\W*$`)
	numbered    = regexp.MustCompile(`(?i)^(?:` + howMany + `)$`)
	apartYoung  = regexp.MustCompile(`(?i)^\W*(?:we are |there are )?\w+ (?:plus|and|\+|adults?|grown)`)
	besideCount = regexp.MustCompile(`(?i)^\W*(?:we are |we're |there are )?(` + howMany + `)\s*,\s*(?:plus|not counting|without|besides)\s+(.+)$`)
)

// splitYoung takes those who are told to be under age out of a list of people, and
// returns their names, empty for one without a name: "two are children" is two.
func splitYoung(text string) (rest string, young []string) {
	rest, young, _ = splitApart(text)
	return rest, young
}

// splitApart does so, and with those who are told by name to have been drinking.
func splitApart(text string) (rest string, young, drunk []string) {
	var keep []string
	apart := hear.ApartIn(text, true)
	text = butNow.ReplaceAllString(hear.Enumerated(text), ", ")
	for part := range strings.FieldsFuncSeq(text, func(r rune) bool { return strings.ContainsRune(",;\n&/+", r) }) {
		for one := range strings.SplitSeq(" "+part+" ", " and ") {
			low := hear.Lowered(one)
			words := strings.Fields(one)
			if len(words) == 0 {
				continue
			}
			if slices.ContainsFunc(apart, func(a hear.Apart) bool {
				return a.Name != "" && a.Name != "me" && slices.ContainsFunc(words, func(w string) bool {
					return strings.EqualFold(plainName(w), a.Name) || strings.EqualFold(plainName(w), a.Name+"s")
				})
			}) {
				continue // below
			}
			bare := counted1.MatchString(low) && len(words) == 1 // how many, and nobody's age
			switch {
			case bare || countedOnly.MatchString(low) || !hear.IsYoung(counted1.ReplaceAllString(low, ""), len(words) > 1):
				keep = append(keep, strings.TrimSpace(one))
			case countYoung.MatchString(low):
				young = append(young, make([]string, numberOf(countYoung.FindStringSubmatch(low)[1]))...)
			case hear.IsKin(words[0]) || len(words) > 1 && hear.IsKin(words[0]+" "+words[1]):
				young = append(young, "")
			default:
				name := plainName(words[0])
				if numbered.MatchString(strings.TrimSuffix(name, "s")) {
					name = "" // "4 but ones my lad": how many, and nobody's name
				}
				young = append(young, name)
			}
		}
	}
	for _, a := range apart {
		switch {
		case a.Drunk:
			drunk = append(drunk, a.Name)
		case a.Name != "":
			young = append(young, a.Name)
		}
	}
	return strings.Join(keep, ", "), young, drunk
}

// butNow joins what is said of one to a list.
var butNow = regexp.MustCompile(`(?i)\s+but\s+`)

// saysApart keeps and says who has no part.
func (t *turn) saysApart(young, drunk []string) {
	for _, list := range [][]string{young, drunk} {
		for i, n := range list {
			if n == "me" {
				list[i] = t.whoName()
			}
		}
		t.keepUnfit(list...)
	}
	if len(young) > 0 {
		t.sayYoung(young)
	}
	named := slices.DeleteFunc(slices.Clone(drunk), func(n string) bool { return n == "" })
	switch {
	case len(named) > 0:
		t.say(wording.SeatDrunkNamed, wording.Args{"Names": wording.Names(named)})
	case len(drunk) > 0:
		t.say(wording.SeatDrunk, nil)
	}
}

// heardApart says whom a number of people that was told leaves out.
func (t *turn) heardApart(h hear.Heard) {
	var young, drunk []string
	for _, a := range h.Apart {
		if a.Drunk {
			drunk = append(drunk, a.Name)
			continue
		}
		young = append(young, a.Name)
	}
	t.saysApart(young, drunk)
}

// plainName is a name without the verb that is joined to it.
func plainName(word string) string {
	word = strings.Trim(wording.Plain(word), " .,;:!?()")
	for _, end := range []string{"'s", "’s"} {
		word = strings.TrimSuffix(word, end)
	}
	return word
}

// unfitNames are those who have no part, by what was told of them.
func (t *turn) unfitNames() []string {
	return strings.FieldsFunc(t.s.Held["unfit"], func(r rune) bool { return r == ',' })
}

// unfit reports whether somebody by a name has no part.
func (t *turn) unfit(name string) bool {
	name, _, _ = strings.Cut(name, ",")
	return slices.ContainsFunc(t.unfitNames(), func(n string) bool { return sameName(n, name) })
}

func (t *turn) keepUnfit(names ...string) {
	all := t.unfitNames()
	for _, n := range names {
		if n != "" && !t.unfit(n) {
			all = append(all, n)
		}
	}
	if now := strings.Join(all, ","); now != t.s.Held["unfit"] {
		t.act(Act{Do: DoHold, Path: "unfit", Value: now})
	}
}

// sayYoung says that somebody under age has no part.
func (t *turn) sayYoung(young []string) {
	names := wording.Names(slices.DeleteFunc(slices.Clone(young), func(n string) bool { return n == "" }))
	if len(names) == 0 {
		t.say(wording.SeatYoung, nil)
		return
	}
	t.say(wording.SeatYoungNamed, wording.Args{"Names": names})
}

// unfitSeated are those of them who have a post.
func (t *turn) unfitSeated() wording.Names {
	var out wording.Names
	for _, s := range t.s.Seats {
		if s.Name != "" && t.unfit(s.Name) && !slices.Contains(out, s.Name) {
			out = append(out, s.Name)
		}
	}
	return out
}

// refusesUnfit says that somebody can't be what they are named for, and reports
// whether they can't.
func (t *turn) refusesUnfit(name string) bool {
	if !t.unfit(name) {
		return false
	}
	t.remark(wording.SeatUnfit, wording.Args{"Name": wording.Plain(name)})
	return true
}

// heardCrew takes how many there are, without those under age and those who have been
// drinking.
func (t *turn) heardCrew(tp topic, h hear.Heard) bool {
	if m := countRange.FindStringSubmatch(t.in.Text); m != nil {
		if n := min(numberOf(m[1]), numberOf(m[2])); n > 0 {
			t.answer(tp, []change{{set: set{"crew", itoa(n)}, how: Told}}) // who may not be there has no part
			return true
		}
	}
	if m := besideCount.FindStringSubmatch(t.in.Text); m != nil { // "four, plus my kid"
		if _, young := splitYoung(m[2]); len(young) > 0 {
			t.keepUnfit(young...)
			t.sayYoung(young)
			t.answer(tp, []change{{set: set{"crew", itoa(numberOf(m[1]))}, how: Told}})
			return true
		}
	}
	if n, names := crewByName(t.in.Text); n > 0 && t.s.Settled["names"] == "" {
		if _, young := splitYoung(names); len(young) == 0 {
			t.act(Act{Do: DoHold, Path: namesHeld, Value: wording.Plain(names)})
			t.say(wording.CrewNamesEarly, wording.Args{"Names": t.namesIn(hear.People(names))})
			t.answer(tp, []change{{set: set{"crew", itoa(n)}, how: Told}})
			return true
		}
	}
	rest, young, drinkers := splitApart(t.in.Text)
	drunk := len(drinkers)
	if drunk == 0 {
		drunk = max(0, numberOf(hear.Drinkers(t.in.Text)))
		drinkers = make([]string, drunk)
	}
	if len(young) == 0 && drunk == 0 || apartYoung.MatchString(t.in.Text) {
		return false // they are told beside the number
	}
	n := len(hear.People(rest))
	if m := counted1.FindStringSubmatch(t.in.Text); m != nil {
		n = numberOf(strings.ToLower(m[1])) - len(young) - drunk
	} else if i := slices.IndexFunc(h.Facts, func(f hear.Fact) bool { return f.Field == "crew" }); i >= 0 {
		if told, err := strconv.Atoi(h.Facts[i].Value); err == nil {
			n = told + len(h.Apart) - len(young) - drunk
		}
	}
	t.saysApart(young, drinkers)
	if n < 1 {
		t.act(Act{Do: DoMiss})
		t.ask()
		return true
	}
	t.answer(tp, []change{{set: set{"crew", itoa(n)}, how: Told}})
	return true
}

// unfitTold takes that one of the crew is under age or has been drinking, or that
// this was wrong, whatever is asked.
func (t *turn) unfitTold(text string) bool {
	low := hear.Lowered(text)
	name := t.namedIn(low)
	switch t.s.Topic {
	case "names", "crew":
		return false
	}
	if name == "" {
		return false
	}
	young, told := hear.YoungOf(text, name)
	_, drinks := t.tellsOf(text, hear.Drink)
	switch {
	case t.unfit(name) && t.isLead() && !young && !drinks && (hear.Sobered(text) || told):
		keep := slices.DeleteFunc(t.unfitNames(), func(n string) bool { return sameName(n, name) })
		t.act(Act{Do: DoHold, Path: "unfit", Value: strings.Join(keep, ",")})
		t.note(text)
		t.remark(wording.SeatFit, wording.Args{"Name": name})
		return true
	case isQuestion(low) && !drinks || !young && !drinks:
		return false
	}
	seat := t.seatNamed(name)
	t.keepUnfit(name)
	if !drinks {
		t.sayYoung([]string{name})
	}
	switch {
	case seat == nil && !drinks:
		t.note(text)
		t.ask()
	case seat != nil && young && t.isLead() && !t.s.tight() && t.s.Stage == NotBegun && seat.Post.Does != "leader":
		gone := *seat
		t.note(text)
		t.shareOut(gone.Name, slices.DeleteFunc(t.bodies(), func(b body) bool { return b.name == gone.Name }))
		t.onward()
		t.ask()
	case t.listBegun():
		t.unseatUnfit(name)
		t.failsNow("sober", text)
	default:
		t.note(text)
		t.remark(wording.SeatUnfit, wording.Args{"Name": name})
	}
	return true
}

// namedIn returns who of the crew words are about; empty for nobody.
func (t *turn) namedIn(low string) string {
	for _, n := range append(t.crewNames(), t.unfitNames()...) {
		first, _, _ := strings.Cut(hear.Lowered(n), " ")
		if len(first) > 1 && strings.Contains(low, first) && regexp.MustCompile(`\b`+regexp.QuoteMeta(first)+`(?:'?s)?\b`).MatchString(low) {
			return n
		}
	}
	return ""
}

// unseatUnfit takes every post of a pull that has begun from somebody who has no
// part, but the leader's: the pull holds until the lead has named another for it.
func (t *turn) unseatUnfit(name string) {
	if t.s.Stage == NotBegun {
		return
	}
	for _, s := range slices.Clone(t.s.Seats) {
		if s.Name != "" && sameName(s.Name, name) && s.Post.Does != "leader" {
			t.act(Act{Do: DoSeat, Topic: s.Post.Does, Path: s.Post.Role})
		}
	}
}

// kidTold takes, up to the pull, that somebody of no name is under age: a lad
// of 11 may be one of those that were counted, which only who leads can say.
func (t *turn) kidTold(text string) bool {
	low := hear.Lowered(text)
	if t.s.State == Pulling || t.s.Topic == "crew" || t.s.Topic == "names" || isQuestion(low) || !hear.KinAged(low) {
		return false
	}
	t.note(text)
	t.sayYoung(nil)
	if n := t.people(); n > 1 && t.isLead() {
		t.say(wording.SeatYoungCounted, wording.Args{"Number": n, "Count": n - 1})
	}
	t.ask()
	return true
}
