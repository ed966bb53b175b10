package flow

import (
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What was told to be damaged, put together or dead is not made good by a word of
// whoever told it: the plan would go by a wish. It is good again when somebody else
// has looked, who is named and stands in the log, or another thing takes its place.
//
// Source: common practice.

// unsound are the fields that speak against a thing by itself, and the value that does.
var unsound = map[string]string{
	"gear[].condition": "damaged", "gear[].improvised": "true",
	"load.tow_point.condition": "damaged", "load.holding_point.condition": "damaged",
	"anchors[].alive": "false", "anchors[].lean": "true",
}

// spokenAgainst returns which fault a field of the sheet tells of, as it stands.
func (t *turn) spokenAgainst(path string) (bad string, ok bool) {
	bad = unsound[place.ReplaceAllString(path, "[]")]
	was, told := t.s.Sheet.Get(path)
	return bad, bad != "" && told && was == bad
}

// lookedOver drops from the changes what would make a thing good again that was
// told to be bad, and says what it takes, unless somebody else has looked at it.
func (t *turn) lookedOver(changes []change) []change {
	changes = t.askedBack(changes)
	who, looked := "", false
	out := make([]change, 0, len(changes))
	for _, c := range changes {
		t.toldAnother(c)
		if still, asked := t.stillThere(c); len(still) > 0 {
			t.doubts, t.unmoved = true, true
			if asked {
				continue
			}
			t.hazardStays(still)
			t.sayNoLooker()
			continue
		}
		if t.lighter(c) {
			continue
		}
		bad, against := t.spokenAgainst(c.path)
		gone := false
		if !against {
			if bad, gone = t.cameBack(c, changes); gone {
				against = true
			}
		}
		if !against || c.value == bad || t.takesPlace(c.path, changes) {
			out = append(out, c)
			continue
		}
		if who == "" {
			who, looked = t.whoLooked()
		}
		args := wording.Args{"Name": who, "What": t.whatOf(c.path), "Was": t.spoken(c.path, bad), "Text": t.spoken(c.path, c.value)}
		if looked && t.asksNamed(c, who, bad) {
			t.doubts, t.unmoved = true, true
			continue
		}
		if looked {
			t.note(t.sayingWith(wording.ReadLookedOver, args))
			t.say(wording.ReadLookedOver, args)
			t.eyed = true
			out = append(out, c)
			continue
		}
		t.doubts, t.unmoved = true, true
		if gone {
			t.say(wording.RefuseCameBack, args)
		} else {
			t.unsoundSaid(c.path, args)
		}
		t.sayNoLooker()
	}
	return out
}

// heldBad says of a field and a kind that such a piece was taken off as bad: what it was
// told to be, how many of the pieces that are first on the list were there beside it, and
// what those that were taken off are called, a line each.
const heldBad = "bad-"

// badKey is where that is kept.
func badKey(path, kind string) string {
	return heldBad + place.ReplaceAllString(path, "[]") + "-" + kind
}

// tookOffBad keeps what a piece was told to be that is taken off the list: the same
// piece told again is not good by that.
func (t *turn) tookOffBad(at string) {
	kind, _ := t.s.Sheet.Get(at + ".kind")
	name, _ := t.s.Sheet.Get(at + ".name")
	list, _ := pieceAt(at)
	for _, field := range slices.Sorted(maps.Keys(unsound)) {
		bad, path := unsound[field], at+field[strings.LastIndexByte(field, '.'):]
		if v, told := t.s.Sheet.Get(path); told && v == bad && strings.HasPrefix(field, at[:strings.IndexByte(at, '[')]) {
			_, _, names := t.heldAsBad(badKey(path, kind))
			t.holdBad(badKey(path, kind), bad, len(t.pieces(list, "", "kind", "")), append(names, name))
		}
	}
}

func (t *turn) holdBad(key, bad string, beside int, names []string) {
	t.act(Act{Do: DoHold, Path: key, Value: strings.Join(append([]string{bad, itoa(beside)}, names...), "\n")})
}

// heldAsBad returns what is kept under a key; bad is empty where nothing is.
func (t *turn) heldAsBad(key string) (bad string, beside int, names []string) {
	lines := strings.Split(t.s.Held[key], "\n")
	if len(lines) < 2 {
		return lines[0], 0, nil // as an older release kept it
	}
	beside, _ = strconv.Atoi(lines[1])
	return lines[0], beside, lines[2:]
}

// thinsBad keeps how many pieces of a list were beside those that were taken off as bad,
// once others are gone: left says of the place of each piece whether it stays.
func (t *turn) thinsBad(list string, left func(place int) bool) {
	for _, key := range slices.Sorted(maps.Keys(t.s.Held)) {
		bad, beside, names := t.heldAsBad(key)
		if !strings.HasPrefix(key, heldBad+list) || bad == "" || beside == 0 {
			continue
		}
		stay := 0
		for i := range beside {
			if left(i) {
				stay++
			}
		}
		t.holdBad(key, bad, stay, names)
	}
}

// toldAnother keeps that a piece which comes on the list is told as another than those
// that were taken off as bad: what is told of it later is then of it.
func (t *turn) toldAnother(c change) {
	base, is := strings.CutSuffix(c.path, ".kind")
	if _, told := t.s.Sheet.Get(c.path); !is || told || !strings.Contains(base, "[") || !anotherOne.MatchString(t.in.Text) {
		return
	}
	list, n := pieceAt(base)
	for _, key := range slices.Sorted(maps.Keys(t.s.Held)) {
		if bad, beside, names := t.heldAsBad(key); bad != "" && beside == n && strings.HasPrefix(key, heldBad+list) && strings.HasSuffix(key, "-"+c.value) {
			t.holdBad(key, bad, beside+1, names)
		}
	}
}

// anotherOne are words that a piece is another than one that was there.
var anotherOne = regexp.MustCompile(`(?i)\b(?:new|another|other|different|replacement|borrowed|fetched|bought|spare|second|neighbou?r\S*|from the)\b`)

// cameBack reports whether a piece is told to be good where one of its kind was taken
// off as bad, and nothing says that it is another; and what that one was.
func (t *turn) cameBack(c change, changes []change) (bad string, is bool) {
	base := c.path[:strings.LastIndexByte(c.path, '.')+1]
	if unsound[place.ReplaceAllString(c.path, "[]")] == "" || !strings.Contains(base, "[") {
		return "", false
	}
	kind, told := t.s.Sheet.Get(base + "kind")
	for _, o := range changes {
		if o.path == base+"kind" {
			kind, told = o.value, false
		}
	}
	key := badKey(c.path, kind)
	bad, beside, names := t.heldAsBad(key)
	_, at := pieceAt(strings.TrimSuffix(base, "."))
	if bad == "" || c.value == bad || c.value == "unknown" || at < beside || t.calledElse(base, names, changes) {
		return "", false
	}
	if was, known := t.s.Sheet.Get(c.path); known && told && was == c.value {
		return "", false
	}
	if anotherOne.MatchString(t.in.Text) {
		t.act(Act{Do: DoHold, Path: key})
		return "", false
	}
	return bad, true
}

// calledElse reports whether a tree goes by the name of another kind of tree than all that
// were taken off: the ash is not the oak that leans.
func (t *turn) calledElse(base string, names []string, changes []change) bool {
	name, _ := t.s.Sheet.Get(base + "name")
	for _, c := range changes {
		if c.path == base+"name" {
			name = c.value
		}
	}
	now := treeName(name)
	return strings.HasPrefix(base, "anchors") && now != "" && len(names) > 0 &&
		!slices.ContainsFunc(names, func(n string) bool { return treeName(n) == "" || treeName(n) == now })
}

// peopleInside is the hazard of somebody hurt, or inside.
const peopleInside = "people-inside"

// stillThere returns the hazards that a change would have away by the word of one person,
// and whether others are asked for theirs on their own phones. A hazard hands the job over
// and ends the asking: that it isn't there, or isn't any more, takes somebody else who has
// looked and is named, whether it was a slip of the thumb or is mended; who has nobody to
// look begins another job.
func (t *turn) stillThere(c change) (still []string, asked bool) {
	if c.path != "hazards" {
		return nil, false
	}
	gone := slices.DeleteFunc(slices.Clone(hazards(t.s.Sheet)), func(k string) bool { return slices.Contains(kinds(c.value), k) })
	if len(gone) == 0 {
		return nil, false
	}
	who, looked := t.whoLooked()
	if !looked {
		return gone, false
	}
	if t.asksLooker(c, who) {
		return gone, true
	}
	t.note(t.sayingWith(wording.ReadLookedOver, wording.Args{"Name": who, "What": t.nameOf(c.path), "Was": t.spoken(c.path, strings.Join(gone, ", ")), "Text": t.spoken(c.path, c.value)}))
	return nil, false
}

// takesBack takes words that a hazard for which the job was handed over is not there. It
// goes where somebody else has looked and is named; else one sentence says what to write.
func (t *turn) takesBack(text string) bool {
	told := hazards(t.s.Sheet)
	if t.s.State != Referred || !t.main() || !t.isLead() && !t.s.alone() || len(told) == 0 || isQuestion(hear.Lowered(text)) {
		return false
	}
	text = beforeLooker.ReplaceAllString(hear.WithoutWhy(text), "none")
	h := hear.Listen(text, hear.TopicPeople)
	if h.Act == hear.Change || h.Act == hear.New || slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return f.Field != "hazards" || f.Value != "none" }) {
		return false
	}
	left := slices.DeleteFunc(slices.Clone(told), func(k string) bool { return slices.Contains(h.Cleared, k) })
	switch {
	case len(h.Facts) > 0 || saysNone.MatchString(text) || hear.OnlyTakesBack(text):
		left = nil
	case len(left) == len(told):
		return false // of what they deny nothing was told
	}
	as := "none"
	if len(left) > 0 {
		as = strings.Join(t.hazardNames(left), " and ")
	}
	who, looked := hear.LookedBy(text)
	more := slices.Contains(told, peopleInside) && slices.ContainsFunc(strings.Split(h.Rest, ";"), func(c string) bool {
		_, look := hear.LookedBy(c)
		return !look && meantElse.MatchString(c) // it may be somebody who is in it
	})
	if !looked || more || t.isTeller(who) || !t.ofCrew(who) {
		t.note(text)
		if slices.Contains(told, peopleInside) {
			t.say(wording.RefuseHurtStays, nil)
		} else {
			t.say(wording.RefuseTakeBack, wording.Args{"Names": t.hazardNames(told), "Text": as})
		}
		t.sayNoLooker()
		t.ask()
		return true
	}
	t.looker, t.lookText = who, t.in.Text
	t.amend(firstTopics[0].name, as, "")
	return true
}

// meantElse are words by which something else was meant.
var meantElse = regexp.MustCompile(`(?i)\b(?:meant|mean)\b`)

// beforeLooker names what is taken back, ahead of the words for it: "hazards none, Greet
// checked".
var beforeLooker = regexp.MustCompile(`(?i)^\W*(?:the )?hazards?(?: is| are|:)?\s+(?:no(?:ne)?\b)`)

// saysNone are words that deny all of it.
var saysNone = regexp.MustCompile(`(?i)(?:^\W*(?:sorry\W+|no\W+|actually\W+)*|[,.;]\s*)none(?: of (?:these|them|those|it|that|the (?:others|rest)))?(?:\W*$|\W*[,.;])`)

// hazardStays says what it takes for hazards that were told to be there no more.
func (t *turn) hazardStays(still []string) {
	if slices.Contains(still, peopleInside) {
		t.say(wording.RefuseHurtStays, nil)
		return
	}
	left := slices.DeleteFunc(slices.Clone(hazards(t.s.Sheet)), func(k string) bool { return slices.Contains(still, k) })
	as := "none"
	if len(left) > 0 {
		as = strings.Join(t.hazardNames(left), " and ")
	}
	t.say(wording.RefuseTakeBack, wording.Args{"Names": t.hazardNames(still), "Text": as})
}

// hazardNames are what hazards are called.
func (t *turn) hazardNames(of []string) wording.Names {
	var names wording.Names
	for _, k := range of {
		names = append(names, t.word("hazards", k))
	}
	return names
}

// looksSelf are words of who writes that they have looked themselves.
var looksSelf = regexp.MustCompile(`(?i)^\W*(?:i|we|me|myself)\b(?:'ve|’ve| have| just| now| did)*(?: look| check| inspect| examin| went| go| see| saw)`)

// lighter reports whether a change would make less of a weight or a slope for which the
// job was handed over, by the word of one person: that takes somebody else who has looked
// and is named, as a hazard does.
func (t *turn) lighter(c change) bool {
	was, told := t.s.Sheet.Get(c.path)
	if c.path != "load.mass" && c.path != "load.slope" || !told || t.s.Settled["people"] == "" || !worseEnd(c.path, was, c.value) {
		return false
	}
	p := t.plan()
	if p == nil {
		p = t.beyond()
	}
	id := map[string]string{"load.mass": "L10", "load.slope": "L4"}[c.path]
	if p == nil || !slices.ContainsFunc(p.Checks, func(k calc.Check) bool { return tooMuch(k) && k.ID == id }) {
		return false
	}
	who, looked := t.whoLooked()
	args := wording.Args{"Name": who, "What": t.nameOf(c.path), "Was": t.spoken(c.path, was), "Text": t.spoken(c.path, c.value)}
	if looked && t.asksNamed(c, who, was) {
		t.doubts, t.unmoved = true, true
		return true
	}
	if looked {
		t.note(t.sayingWith(wording.ReadLookedOver, args))
		t.eyed = true
		return false
	}
	t.doubts, t.unmoved = true, true
	args["Text"] = c.value // as it is written
	t.say(wording.RefuseLighter, args)
	t.sayNoLooker()
	return true
}

// withLook takes from a value who is said behind it to have looked. Who says it of
// themselves is nobody else.
func (t *turn) withLook(value string) string {
	said, behind, _ := strings.Cut(value, ", ")
	who, ok := hear.LookedBy(behind)
	if !ok {
		if looksSelf.MatchString(behind) {
			return said
		}
		return value
	}
	if !t.isTeller(who) && t.ofCrew(who) {
		t.looker = who
	}
	return said
}

// lookTold is an answer that waits as the whole message in which somebody is named who has
// looked: given again it takes back what it was to take back.
func (t *turn) lookTold(text string) string {
	if t.looker == "" || t.lookText == "" {
		return text
	}
	return t.lookText
}

// whoLooked returns who looked at a thing that was told to be bad: somebody else
// than who told it and than who leads, by their own phone or named by who speaks.
func (t *turn) whoLooked() (name string, looked bool) {
	if t.looker != "" {
		return t.looker, true
	}
	name, looked = hear.LookedBy(t.in.Text)
	return name, looked && !t.isTeller(name) && t.ofCrew(name)
}

// ofCrew reports whether somebody named to have looked is one of the crew who may,
// once the crew is known by name.
func (t *turn) ofCrew(name string) bool {
	if len(t.s.Seats) == 0 {
		return true
	}
	return !t.unfit(name) && !t.wasHurt(name) && slices.ContainsFunc(t.crewNames(), func(n string) bool { return sameName(n, name) })
}

// sayNoLooker says who may look where somebody was named who is none of the crew.
func (t *turn) sayNoLooker() {
	if name, named := hear.LookedBy(t.in.Text); named && !t.ofCrew(name) {
		t.say(wording.EyesWho, wording.Args{"Names": wording.Names(slices.DeleteFunc(t.lookersAll(), func(n string) bool { return t.isTeller(n) }))})
	}
}

// isTeller reports whether a name is that of whoever speaks or leads: they told it.
func (t *turn) isTeller(name string) bool {
	return sameName(name, t.whoName()) || sameName(name, t.s.Lead.Name)
}

// takesPlace reports whether the changes put another thing where a field is of one.
func (t *turn) takesPlace(path string, changes []change) bool {
	base := path[:strings.LastIndexByte(path, '.')+1]
	return slices.ContainsFunc(changes, func(c change) bool {
		was, told := t.s.Sheet.Get(c.path)
		return c.path == base+"kind" && told && (was != c.value || t.otherOne(c.path, changes))
	})
}

// otherOne reports whether a piece that is told takes the place of one of its kind.
func (t *turn) otherOne(path string, changes []change) bool {
	base := strings.TrimSuffix(path, "kind")
	return t.others[base] || path == t.s.Held[heldPiece]+".kind" && !t.putRight1(base, changes)
}

// staysBad goes on after nothing but such words: a change that was begun is none.
func (t *turn) staysBad(tp topic) {
	if t.s.State == Amend && t.amending(tp.name) {
		for _, a := range strings.Fields(t.s.Held[heldAmend]) {
			if name, how, _ := strings.Cut(a, "="); how != "" {
				t.act(Act{Do: DoSettle, Topic: name, How: How(how)})
			}
		}
		t.amended("")
		t.resume()
		return
	}
	if topicUnsound(tp) && t.s.Settled[tp.name] == "" {
		t.settle(tp.name, Told)
		t.next()
		return
	}
	t.ask()
}

// topicUnsound reports whether a question is for what speaks against a thing.
func topicUnsound(tp topic) bool { return unsound[place.ReplaceAllString(tp.fills0(), "[]")] != "" }
