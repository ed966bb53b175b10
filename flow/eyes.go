package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Where one phone holds the job, its holder has walked the list. A second
// person must have seen with their own eyes what blocks; who that was is asked
// once, at the end, and kept for each point.

// lookPoints lists what of the list needs a second person yet.
func (t *turn) lookPoints() wording.Lines {
	var out wording.Lines
	for _, a := range t.openItems() {
		value, _ := t.s.Sheet.Get(a.check.path())
		out = append(out, t.claimHere(a.check, value))
	}
	return out
}

// lookers are those who can be the second: the crew without the lead, who
// walked the list.
func (t *turn) lookers() []string {
	var out []string
	for _, s := range t.s.Seats {
		if s.Name != "" && s.Member != t.s.Lead.ID && !sameName(s.Name, t.s.Lead.Name) && !t.unfit(s.Name) && !slices.Contains(out, s.Name) {
			out = append(out, s.Name)
		}
	}
	return out
}

// lookOffers are the buttons of the question.
func (t *turn) lookOffers() []offer {
	var out []offer
	for i, n := range t.lookers() {
		out = append(out, offer{choice: "look" + itoa(i+1), label: n})
	}
	return append(out, offer{choice: "not_yet"})
}

// sawIt is what a second person is told to have done, and notAll what makes it less.
var (
	sawIt  = regexp.MustCompile(`(?i)^\W*(?:it was |yes,? )?(\pL[\pL'’-]*),? (?:has |have |also |just |did )*(?:went|gone|walked|looked|checked|been|seen|saw|did|inspected|examined)(?: (?:round|around|over|at|through|along|it|them|all|everything|each|every|one|of|the|whole|lot|list|points?|rig|lines?|and|looked|saw|seen|checked|walked|em|'em|with|me|things?|pieces?|by|too|as well|again|with me|herself|himself|his own|own|eyes))*\W*$`)
	notAll = regexp.MustCompile(`(?i)\b(?:not|never|n't|didnt|hasnt|only|half|some|most|part|except|but|almost|nearly)\b`)
)

// wentRound returns who of those that can be the second is told to have looked: "Gerd went
// round it all".
func (t *turn) wentRound(text string) string {
	m := sawIt.FindStringSubmatch(text)
	if m == nil || notAll.MatchString(text) || isQuestion(hear.Lowered(text)) {
		return ""
	}
	for _, n := range t.lookers() {
		if sameName(n, m[1]) {
			return n
		}
	}
	return ""
}

// looked takes who the second was.
func (t *turn) looked(text string) {
	name, ok := hear.OneName(text)
	if who := t.wentRound(text); !ok && who != "" {
		name, ok = who, true
	}
	name = wording.Plain(name)
	seat := t.seatNamed(name)
	h := hear.Listen(text, hear.TopicYesNo)
	if rest, young := splitYoung(text); len(young) > 0 && rest != text {
		t.keepUnfit(young...)
		t.sayYoung(young)
		t.ask()
		return
	}
	switch {
	case ok && t.refusesUnfit(name):
		return
	case h.Act == hear.No || strings.EqualFold(strings.Trim(wording.Plain(text), " ."), t.saying(wording.ChoiceNotYet)):
		t.remark(wording.EyesNotYet, nil)
		return
	case h.Act == hear.Yes || !ok || len(name) < 2 && seat == nil:
		t.miss("")
		return
	case sameName(name, t.s.Lead.Name) || seat != nil && seat.Member == t.s.Lead.ID:
		t.remark(wording.RefuseSamePerson, wording.Args{"Name": t.s.Lead.Name})
		return
	}
	if seat == nil && len(t.lookers()) > 0 {
		t.remark(wording.EyesWho, wording.Args{"Names": wording.Names(t.lookers())})
		return
	}
	if seat != nil {
		name = seat.Name
	}
	if t.putBack(placeList, name, Told, false) {
		return
	}
	for _, a := range t.openItems() {
		value, _ := t.s.Sheet.Get(a.check.path())
		t.act(Act{Do: DoSecond, Topic: a.check.path(), Value: value, Names: []string{name}})
	}
	t.said = name
	t.settle("second_look", Told)
	t.say(wording.EyesNoted, wording.Args{"Name": name})
	t.next()
}

// lookChoice takes a button of the question.
func (t *turn) lookChoice(choice string) {
	for _, o := range t.lookOffers() {
		if o.choice == choice && o.label != "" {
			t.looked(o.label)
			return
		}
	}
	t.remark(wording.EyesNotYet, nil)
}
