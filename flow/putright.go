package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What failed on the spot can be put right there. Whoever says so is asked for
// it again, as it now is: the words alone make nothing good.

var (
	putRightNow = regexp.MustCompile(`(?i)^\W*(?:(?:yes|ok|okay|right|so|and|now|we|we've|i|i've|have|it'?s|it is|that'?s|they'?re|they are|all|is|are|been|got)\b[\s,]*)*` +
		`(?:fixed|put right|sorted|secured|mended|corrected|seen to|done now|good now|ok now|right now)(?:\s+(?:it|that|them|now|again|all|both))*\W*$`)
	putRightFirst = regexp.MustCompile(`(?i)^\W*(?:(?:ok|okay|right|so|now|we|i|we've|i've|have|it'?s|it is|that'?s|all)\b[\s,]*)*(?:fixed|put right|sorted|mended)(?:\s+(?:it|that|them))?\s*[,;:-]`)
	nowSo         = regexp.MustCompile(`(?i)\b(?:now|fixed|secured|sorted|put right|padded|closed|chocked|marked|cleared|moved|tightened|done)\b`)
	noMore        = regexp.MustCompile(`(?i)\b(?:not|isn'?t|aren'?t|can'?t|cannot|no|never|when|if|will|going to|not yet|soon)\b|\?`)
	byWords       = regexp.MustCompile(`[\p{L}]{4,}`)
)

// failingItems lists the items of the list that were answered as not so.
func (t *turn) failingItems() []siteCheck {
	var out []siteCheck
	for _, c := range siteChecks {
		if c.fails(t.s.Sheet) && !t.s.askedAnew(c) && c.field != "tries" { // what was tried stays tried
			out = append(out, c)
		}
	}
	return out
}

// seenBad are the reasons why a plan is no go that people have seen on the spot, and the
// plan as it would be without them, where it is a go then; nil where other things are wrong
// as well. The best of all rigs that are no go is often none that anybody has rigged, and
// what is wrong with that is nobody's concern.
func (t *turn) seenBad(p *calc.Plan) (why []string, rest *calc.Plan) {
	bad := t.failingItems()
	if p == nil || p.Decision != calc.NoGo || len(bad) == 0 {
		return nil, nil
	}
	sheet, err := t.sheet().Clone()
	if err != nil {
		return nil, nil
	}
	for _, c := range bad {
		i := slices.IndexFunc(p.Checks, func(k calc.Check) bool { return k.Result == calc.Fail && k.OnSite && k.ID == c.id })
		if i < 0 || sheet.Set(c.path(), "") != nil {
			continue
		}
		if text := p.Checks[i].Text; !slices.Contains(why, text) {
			why = append(why, text)
		}
	}
	if len(why) == 0 {
		return nil, nil
	}
	if q, ok := t.e.reckon(sheet); ok {
		if rest = t.keptRig(sheet, q).plan; rest.Decision == calc.Go {
			return why, rest
		}
	}
	return why, nil
}

// mostWhy is how many reasons of a decision are said at once, as a plan has them.
const mostWhy = 3

// whyOf are the reasons of a decision, what was seen on the spot first; and, where that is
// all that is wrong, the plan without it.
func (t *turn) whyOf(p *calc.Plan) (why []string, rest *calc.Plan) {
	why, rest = t.seenBad(p)
	if rest != nil {
		return why[:min(mostWhy, len(why))], rest
	}
	for _, w := range p.Why {
		if !slices.Contains(why, w) {
			why = append(why, w)
		}
	}
	return why[:min(mostWhy, len(why))], nil
}

// sayWhy says the reasons of a decision, and returns the plan without what was seen on the
// spot, where that is all that is wrong.
func (t *turn) sayWhy(p *calc.Plan) (rest *calc.Plan) {
	why, rest := t.whyOf(p)
	for _, w := range why {
		t.say(wording.PlanWhy, wording.Args{"Why": w})
	}
	return rest
}

// putRight takes that what failed on the spot has been put right, or is to be
// changed, and asks for it again. It reports whether the message says so.
func (t *turn) putRight(text string) bool {
	switch t.s.State {
	case Verdict, Referred, Checks, Signing:
	default:
		return false
	}
	bad := t.failingItems()
	if !t.main() { // whoever said that it is not so may say that it is now
		bad = slices.DeleteFunc(bad, func(c siteCheck) bool { return !t.saidNo(c) })
	}
	if len(bad) == 0 || len(hazards(t.s.Sheet)) > 0 {
		return false
	}
	all := putRightNow.MatchString(text) || putRightFirst.MatchString(text) && len(t.factsIn(text)) == 0 && len(t.dangersIn(hear.Lowered(text), nil)) == 0
	gone := hear.StormGone(hear.Lowered(text))
	named := slices.DeleteFunc(slices.Clone(bad), func(c siteCheck) bool { return !t.namesItem(c, text) && !(gone && c.field == "light") })
	change := strings.HasPrefix(strings.ToLower(text), "change ")
	switch {
	case noMore.MatchString(text):
		return false
	case all && len(named) == 0 && t.s.State != Checks: // there it may be the answer to what is asked
		named = bad
	case len(named) == 0 || !all && !change && !gone && !nowSo.MatchString(text):
		return false
	}
	for _, k := range signHeld {
		if t.s.Held[k] != "" {
			t.act(Act{Do: DoHold, Path: k})
		}
	}
	if t.s.State == Referred {
		t.fire(Reopens)
	}
	for _, c := range named {
		t.unsign(c.id)
		t.reopenItem(c.path())
	}
	on := func() {
		if t.s.Settled["names"] == "" && t.people() > 1 {
			t.toNames()
			return
		}
		t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
		t.say(wording.ChecksLookAgain, nil)
		t.next()
	}
	if t.main() {
		on()
		return true
	}
	t.note(text)
	t.inChat(t.s.leadChat(), func() {
		t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)})
		on()
	})
	t.ask()
	return true
}

// saidNo reports whether it was who speaks that said an item is not so.
func (t *turn) saidNo(c siteCheck) bool {
	for _, m := range []Mark{t.s.Marks[c.path()], t.s.Seconds[c.path()]} {
		if m.By.ID == t.in.Person.ID && m.Value != "" && failing(c, m.Value) {
			return true
		}
	}
	return false
}

// namesItem reports whether a message has a telling word of an item's claim.
func (t *turn) namesItem(c siteCheck, text string) bool {
	claim := strings.ToLower(t.fits(c.claim()))
	for _, w := range byWords.FindAllString(strings.ToLower(text), -1) {
		if !slices.Contains(dullWords, w) && slices.Contains(byWords.FindAllString(claim, -1), w) {
			return true
		}
	}
	return false
}

// dullWords stand in many claims and tell none of them from the others.
var dullWords = strings.Fields("change that there this with from everyone everybody nobody every each stands stand have been they them what anything only where could else more than both next step agree")

// signedFor names what a referral for too many signatures is about, and says
// how it is put right, where that can be done on the spot. Where something else
// refers it, no signature comes into it: nobody pulls.
func (t *turn) signedFor(p *calc.Plan) {
	if slices.ContainsFunc(p.Checks, func(c calc.Check) bool { return c.Result == calc.Fail && c.Severity == calc.Severity(calc.Refer) }) {
		return
	}
	var told []string
	for _, c := range p.Checks {
		if c.Result == calc.Fail && c.Severity == calc.SignOff && !slices.Contains(told, c.Text) {
			t.say(wording.PlanWhy, wording.Args{"Why": c.Text})
			told = append(told, c.Text)
		}
	}
	if bad := t.failingItems(); len(told) > 0 && len(bad) > 0 {
		var names wording.Names
		for _, c := range bad {
			names = append(names, t.fits(c.claim()))
		}
		t.say(wording.ChecksPutRight, wording.Args{"Names": names})
	}
}

// Answers to an item of the list in more words than one. Hearsay and thinking
// so are no yes: it asks for what was seen.
var (
	plainWords = regexp.MustCompile(`(?i)^(?:\W*\b(?:it'?s|they'?re|all|that'?s|that|both|is|are|of|them|everything|now|here|very|y|yes|yep|yeah|aye|ok|okay|fine|good|clear|done)\b)+\W*$`)
	yesWord    = regexp.MustCompile(`(?i)\b(?:y|yes|yep|yeah|aye|ok|okay|fine|good|clear|done)\b`)
	notSeen    = regexp.MustCompile(`(?i)\b(?:think|thinks|guess|suppose|reckon|should be|probably|prob|maybe|perhaps|hope|hopefully|likely|must be)\b`)
	hearsay    = regexp.MustCompile(`(?i)\b(?:says?|said|told me)\b`)
	triedOnce  = regexp.MustCompile(`(?i)\b(?:once|one time|1 time|one try|1 try|one go|one has failed|one failed)\b`)
	triedMore  = regexp.MustCompile(`(?i)\b(?:twice|two|2|three|3|several|few|couple|many|more than once|again|again and again|times|tries)\b`)
)

// itemSaid reads such an answer: the choice, or whether it was said without
// having been seen.
func itemSaid(field, text string) (choice string, unseen bool) {
	switch {
	case field == "tries" && triedMore.MatchString(text):
		return "no", false
	case field == "tries" && triedOnce.MatchString(text):
		return "once", false
	case notSeen.MatchString(text), hearsay.MatchString(text) && !slices.Contains([]string{"consent", "briefed", "signals", "sober"}, field):
		return "", true
	case plainWords.MatchString(text) && yesWord.MatchString(text):
		return "yes", false
	}
	return "", false
}

// itemAnswer says what was answered to an item: the claim, and yes or no.
func (t *turn) itemAnswer(c siteCheck) (claim, answer string) {
	value, _ := t.s.Sheet.Get(c.path())
	if failing(c, value) {
		return t.fits(c.claim()), t.saying(wording.ChoiceNo)
	}
	return t.fits(c.claimed(value)), t.saying(wording.ChoiceYes)
}
