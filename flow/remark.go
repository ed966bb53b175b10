package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What is said while the puller moves. Nobody can list the words that people
// find for a danger, so it goes the other way round: what is neither a report,
// a count, a note, a question about how far it is nor an answer that fits holds
// the puller, and everybody reads the words. One hold too many costs a minute.
//
// A remark changes no answer: the post that the line touches is no anchor, and
// the firm ground that was reached is not the ground it is pulled over.

var (
	// howFar are questions that can wait for an answer. Any other may be the
	// way in which somebody says that something is wrong.
	howFar = regexp.MustCompile(`^(?:(?:so|and|but|ok|okay|hey|well)[ ,]+)*(?:how (?:far|long|many|much)|what(?: is|'s|s)? (?:next|the time)|what next|when|where (?:is|are) (?:you|we|the card)|who)\b`)

	// holdsToo are words that hold, in whatever question.
	holdsToo = regexp.MustCompile(`\b(?:stop|whoa|hold (?:on|it|up)|hang on|wait (?:a|for|up|one|til|till|until))\b|,\s*(?:wait|hold)\b`)

	// allWell are remarks that it goes as it should.
	allWell = regexp.MustCompile(`^(?:(?:yes|yep|ok|okay|nice|good|great|still|and|now|so far)[ ,]+)*` +
		`(?:(?:it|she|he|load|truck|trailer|car|van)(?:'s|s| is)? (?:coming (?:up|on|along|out)|looking good|going well|fine|good|ok)|all (?:good|fine|well|ok|clear)|looks? (?:good|fine|ok|well)|going well|so far so good|` +
		`nice|good|great|fine|perfect|thanks|thank you|keep going|carry on|keep it coming|steady|good so far|as planned)` +
		`(?:[ ,]+(?:nicely|well|slowly|steadily|fine|so far|now|good|here|all good|as planned))*$`)

	// arrived are words that the load is where it was to come to.
	arrived = regexp.MustCompile(`\b(?:(?:it|its|it's|she|load|truck|trailer|wagon|car|van|vehicle|wheels?|axles?)\b.{0,20}\b(?:on|onto|up on|at|reached|back on) (?:the )?(?:firm|hard|flat|level|road|track|lane|top|gravel|tarmac|asphalt|field|yard)\b.*` +
		`|(?:it|its|it's|she|load|truck|trailer|wagon|car|van|vehicle)(?: is| has|'s| stands)? (?:all )?(?:out|up|there|over|arrived|through)(?: now)?$|^(?:we'?re |we are |it'?s |it has |has )?(?:arrived|there)$|\breached (?:the )?(?:top|road|track|lane|end|firm|flat)\b.*)`)
)

// remarked takes words that nothing else could take while the puller moves, from
// anybody on the spot, and reports whether it did.
func (t *turn) remarked(text string, h hear.Heard) bool {
	m := t.me()
	if m == nil || t.s.State != Pulling || !t.s.Stage.Moves() {
		return false
	}
	low := hear.Lowered(strings.Trim(text, " .!"))
	asks := howFar.MatchString(low)
	switch h.Act {
	case hear.SoFar, hear.Words, hear.Sum, hear.Note, hear.Kit, hear.Stop:
		return false
	case hear.Help, hear.Why:
		if t.main() {
			return false
		}
		asks = true
	case hear.Leave, hear.New, hear.Back, hear.Change:
		if m.As != AsObserver {
			t.holdNow() // first of all; then what they ask for
		}
		return false
	case hear.Greet:
		t.ask()
		return true
	}
	switch {
	case m.afar():
		return false // afar: what they amend holds it, and stop is theirs too
	case asks:
		t.note(text)
		if !t.isLead() {
			t.inChat(t.s.leadChat(), func() { t.say(wording.JoinSays, wording.Args{"Name": m.Name, "Text": wording.Plain(text)}) })
		}
		t.remark(wording.PullQuestion, nil)
	case allWell.MatchString(low):
		t.note(text)
		t.remark(wording.ReadNoted, nil)
	case !t.main() && h.Act == hear.None && t.differs(text, h): // it holds, and the worse counts
	default:
		t.holdFor(text)
		t.echoed = true
		if len(h.Facts) > 0 && !t.main() {
			return false // what they tell is the lead's to settle
		}
		if facts := t.factsIn(text); len(facts) > 0 && t.isLead() {
			h.Facts, h.Act = facts, hear.None
			t.heard(h) // judged at once: it may be another plan, or none
			return true
		}
		if t.hazardTold(text) {
			return true
		}
		if len(h.Facts) > 0 && !isQuestion(low) {
			t.say(wording.PullNoChange, nil)
		}
		t.ask()
	}
	return true
}

// holdFor has everybody hold for what somebody said, and gives everybody the words.
func (t *turn) holdFor(text string) {
	t.heldFor = true
	t.act(Act{Do: DoReport, Path: "words", Value: wording.Plain(text)})
	t.holdAnew()
	who := t.whoName()
	say := func() { t.say(wording.PullSays, wording.Args{"Name": who, "Text": wording.Plain(text)}) }
	t.tellAllAndHere(true, say)
}

// arrives takes that the load is where it was to come to: it holds, and the
// way on is to secure it.
func (t *turn) arrives(text, low string) bool {
	rest, is := arrival(low)
	if !is || denied.MatchString(low) || isQuestion(low) {
		return false
	}
	if at := t.s.Stage; at != FirstMove && at != Bite && at != Crest && at != Held {
		return false
	}
	if slices.ContainsFunc(clauseEnd.Split(low, -1), func(c string) bool { return bareOver.MatchString(strings.Trim(c, " .")) }) {
		t.whichOver(text)
		return true
	}
	t.isThere = true
	t.act(Act{Do: DoReport, Path: "arrived", Value: wording.Plain(text)})
	t.holdNow()
	who := t.whoName()
	say := func() { t.say(wording.PullSays, wording.Args{"Name": who, "Text": wording.Plain(text)}) }
	t.tellAllAndHere(false, say)
	if unitless.MatchString(rest) {
		t.say(wording.PullUnits, nil)
		t.ask()
		return true
	}
	if moved, tookIn := travelled(rest); (moved != "" || tookIn != "") && counted(rest) {
		t.moved(text, rest, moved, tookIn)
		return true
	}
	t.ask()
	return true
}

// bareOver are words that the load is over, and not over what: on its side, or the edge.
var bareOver = hear.Expression(`^(?:(?:ok|okay|yes|now|and|the|our|hey)\s+)*(?:it|its|it's|she|she's|shes|he|he's|load|truck|lorry|trailer|wagon|car|van|tractor|vehicle)(?: is| has|'s| just| all| gone| went| right| clean)* over(?: now| already)?$`)

// whichOver has everybody hold for such words and asks which it is: the one is a stop, the
// other the end of the way.
func (t *turn) whichOver(text string) {
	t.holdFor(text)
	t.say(wording.PullWhichOver, nil)
	t.ask()
	t.offers = append([]offer{{choice: "saw.tips", label: t.saying(wording.ChoiceRolledOver)}, t.button("over_edge", "."+itoa(t.s.Hold))}, t.offers...)
}

// overEdge takes the button that says that it is over the edge, where it was to come to.
func (t *turn) overEdge(number string) {
	if t.s.State != Pulling || number != itoa(t.s.Hold) || t.s.Stage != Held {
		t.void(number)
		return
	}
	t.act(Act{Do: DoReport, Path: "arrived", Value: t.said})
	say := func() { t.say(wording.PullSays, wording.Args{"Name": t.whoName(), "Text": t.said}) }
	t.tellAllAndHere(false, say)
	t.ask()
}

// clauseEnd stands between what is told one after the other, and in no figure.
var clauseEnd = regexp.MustCompile(`[,.]\s+|[;\n!]\s*|\s+-\s+|\s+(?:and|after)\s+`)

// arrival reports whether words say that the load is where it was to come to, and
// returns what else they tell.
func arrival(low string) (rest string, is bool) {
	clauses := clauseEnd.Split(low, -1)
	for i, c := range clauses {
		if arrived.MatchString(strings.Trim(c, " .")) {
			return strings.Join(slices.Delete(clauses, i, i+1), ", "), true
		}
	}
	if arrived.MatchString(low) {
		return arrived.ReplaceAllString(low, " "), true
	}
	return "", false
}

// there reports whether it was said at the hold where the pull stands that the
// load is where it was to come to.
func (s *Session) there() bool {
	after := len(s.Holds) - 1 // what was said since the release before
	return slices.ContainsFunc(s.Reports, func(r Report) bool {
		return r.Kind == "arrived" && after >= 0 && r.Hold >= s.Holds[max(0, after-1)].Number
	})
}

// hazardTold takes a hazard that is named by somebody who is asked nothing, and
// reports whether there was one: whoever smells gas is heard.
func (t *turn) hazardTold(text string) bool {
	facts := hazardsOf(t.factsIn(text))
	if len(facts) == 0 || t.s.State == Closed || t.s.State == Away || t.s.State == Debrief {
		return false
	}
	t.note(text)
	who := t.whoName()
	tell := func() {
		t.inChat(t.s.leadChat(), func() {
			t.urgent = true
			t.say(wording.JoinSays, wording.Args{"Name": who, "Text": wording.Plain(text)})
		})
	}
	if t.s.State == Halted {
		tell()
		t.factsNow(facts)
		t.ask()
		return true
	}
	tell()
	t.fire(Reopens)
	t.act(Act{Do: DoAsk})
	t.hearFacts(hear.Heard{Facts: facts}, false)
	t.next()
	return true
}
