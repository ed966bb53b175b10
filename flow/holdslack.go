package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// The holding line is tended by number: whoever tells how slack it hangs reads what
// catching the load would cost. Said in whatever words and wherever the job stands, it
// is no doubt about another rope; a slack that has no number is not known, and nothing
// is released before it has one.

var (
	slackWord  = regexp.MustCompile(`\bslack\b\D{0,20}` + lengthWords + `|` + lengthWords + `\s*(?:of\s+)?slack\b`)
	slackAfter = regexp.MustCompile(`\bslack\b(?:\s+(?:is|of|now|about))*\s*:?\s*` + lengthWords)
	holdLine   = regexp.MustCompile(`\b(?:hold(?:ing|in|ers|er's)?|back|safety|back-?up|tail|preventer)[ -]?(?:in )?(?:line|lines|rope|ropes)\b|\bhold(?:ing|in|ers|er's)? (?:\bslack\b)`)
	noSlack    = regexp.MustCompile(`^(?:change |now |the |its |it's |is )*(?:hold(?:ing|in|ers|er's)?(?: (?:line|rope))?(?:'s)? )?slack(?: is|:|=)? ?(?:0|zero|none|nil|nothing)(?: now)?$`)
	toldAnew   = regexp.MustCompile(`^change (?:the )?(?:hold(?:ing|in)?(?: (?:line|rope))? )?slack\b(?: to)?`)
	haulLine   = regexp.MustCompile(`\b(?:haul(?:ing|in)?|tow(?:ing)?|pull(?:ing|in)?|main|winch|drag)[ -]?(?:line|rope|cable)\b`)
	hangsSlack = regexp.MustCompile(`\b(?:slack|slacked|loose|sag|sags|sagging|saggy|baggy|drooping|droops)\b`)
	hangsTight = regexp.MustCompile(`\b(?:(?:no|without|zero)(?: more| any)? slack|(?:is|it's|its|line|rope|all|now|nice and|pulled|hand) (?:tight|taut|snug)|(?:took|taken|taking|takes|pulled|hauled|got) (?:all |up |out |in )?(?:the |its |his |her |all the |that )?slack (?:up|out|in)|(?:took|taken|takes) (?:up|out|in) (?:all )?(?:the |its )?slack|slack(?:'s| is| was| has been)? (?:all |now )?(?:taken|took|pulled|hauled) (?:up|out|in))\b`)
	handsWidth = regexp.MustCompile(`\b(?:(?:under|below|less than|about|within|only) )?(?:a|one|1) hands?(?:'s|s)?(?: ?-?(?:width|breadth|wide))?\b`)
	overAHand  = regexp.MustCompile(`\b(?:more than|over|above|beyond|bit more|two|2|three|couple) (?:of )?(?:a |an |one |1 )?hands?\b|\bhands?(?:'s|s)?(?: ?-?(?:width|breadth|wide))? (?:and|plus|or (?:two|more|so more))\b`)
	howLong    = regexp.MustCompile(lengthWords)
	noLength   = regexp.MustCompile(`^\d+(?:[.,]\d+)?\s*$`)
	oneOf      = regexp.MustCompile(`\b(?:a|an|one) (foot|met(?:re|er)|yard|inch)\b`)
	halfOf     = regexp.MustCompile(`\bhalf (?:a |an |of a )?(foot|met(?:re|er)|yard|inch)\b`)
)

// slackNotKnown stands for a slack that was told without a number.
const slackNotKnown = "not known"

// holdSlack takes what is said of the slack of the holding line, by its name.
func (t *turn) holdSlack(text string) bool {
	m := t.me()
	if m == nil || m.As != AsLead && m.As != AsCrew || !t.s.Stage.Lies() || slices.Contains([]State{Away, Closed, Debrief}, t.s.State) {
		return false
	}
	low := oneOf.ReplaceAllString(halfOf.ReplaceAllString(hear.Lowered(text), "0.5 $1"), "1 $1")
	loose, snug := hangsSlack.MatchString(low), hangsTight.MatchString(low)
	if !loose && !snug || isQuestion(low) {
		return false
	}
	if noSlack.MatchString(strings.Trim(low, " .!")) {
		t.slackTold(text, "")
		return true
	}
	if said := toldAnew.FindString(low); said != "" {
		return t.slackWords(text, "slack"+low[len(said):])
	}
	if strings.HasPrefix(low, "change ") {
		return false
	}
	if s, ok := t.sight(text); ok && s.kind != "moves" {
		return false // a danger in the same breath comes first
	}
	if moved, tookIn := travelled(low); moved != "" || tookIn != "" {
		return false // several counts at once
	}
	if !holdLine.MatchString(low) && t.s.State == Halted && t.slackAsked() && !haulLine.MatchString(low) && slackWord.MatchString(low) {
		return t.slackWords(text, low) // as it was asked to be told
	}
	if !holdLine.MatchString(low) {
		return loose && haulLine.MatchString(low) && slackWord.MatchString(low) && t.haulSlack(text)
	}
	if haulLine.MatchString(low) {
		return false // which of them is not plain
	}
	rest := holdLine.ReplaceAllString(low, " ")
	said := howLong.FindString(rest)
	if m := slackWord.FindStringSubmatch(rest); m != nil {
		said = m[1] + m[2]
	}
	switch length := readable(said); {
	case length != "" && !noLength.MatchString(said):
		t.slackInStop(text, length) // a figure counts before a hand that is told with it
	case handsWidth.MatchString(rest) && !overAHand.MatchString(rest), snug && length == "" && !overAHand.MatchString(rest):
		t.slackInStop(text, "")
	default:
		t.slackTold(text, slackNotKnown)
	}
	return true
}

// slackAsked reports whether the slack of the holding line is waited for.
func (t *turn) slackAsked() bool {
	_, _, asked := t.slackOver()
	return asked
}

// slackInStop keeps the slack; where the same words of the lead end the stop that is on,
// they do.
func (t *turn) slackInStop(text, slack string) {
	if t.s.State == Halted && t.isLead() && !t.saidBefore() && len(t.factsIn(text)) == 0 {
		if says, seen := t.stopSaid(text); says == saysOver && (seen.kind == "" || seen.kind == "runs") {
			t.slackKept(text, slack)
			if !t.slackAsked() {
				t.resumeHalted(text)
				return
			}
			t.ask()
			return
		}
	}
	t.slackTold(text, slack)
}

// haulSlack takes that it is the haul line which hangs slack: it is no slack of what
// holds the load, and where the line was tight nobody has released that.
func (t *turn) haulSlack(text string) bool {
	t.note(text)
	if t.s.State == Pulling && (t.s.Stage == LightTension || t.s.Stage == Held || t.s.Stage == HoldProved) {
		t.holdFor(text)
	}
	t.remark(wording.PullSlackHaul, nil)
	return true
}

// slackIn finds a slack and what it is told to be, empty where that is no length. What
// stands behind the word counts before what stands ahead of it: "rope 2 slack 20 cm".
func slackIn(low string) (said, slack string) {
	for _, form := range []*regexp.Regexp{slackAfter, slackWord} {
		if m := form.FindStringSubmatch(low); m != nil {
			if said, slack = m[0], readable(strings.Join(m[1:], "")); slack != "" {
				return said, slack
			}
		}
	}
	return said, slack
}

// slackWords takes a slack that is told by its number alone: it is the holding line's.
func (t *turn) slackWords(text, low string) bool {
	said, slack := slackIn(low)
	if said == "" {
		return false
	}
	if slack == "" {
		t.remark(wording.PullSlackUnread, nil)
		return true
	}
	t.slackTold(text, slack)
	return true
}

// slackTold keeps the slack of the holding line, says what it would cost and asks on.
func (t *turn) slackTold(text, slack string) {
	t.slackKept(text, slack)
	t.ask()
}

// slackKept keeps the slack of the holding line and says what it would cost; empty is
// under a hand's width, as it is to be.
func (t *turn) slackKept(text, slack string) {
	t.act(Act{Do: DoReport, Path: "slack", Value: wording.Plain(text), Second: slack})
	t.act(Act{Do: DoSlack, Value: slack})
	l, ok := readLength(slack)
	cost, known := t.cost()
	switch {
	case slack == "":
		t.say(wording.PullSlackHand, nil)
	case !ok:
		t.holdNow()
		say := func() { t.say(wording.PullSlackHow, nil) }
		t.tellAllAndHere(true, say)
	case !known || !cost.Needed:
		t.say(wording.PullSlackFree, wording.Args{"Length": l})
	case cost.Within == calc.Fail:
		t.holdNow()
		say := func() {
			t.say(wording.PullSlackOver, wording.Args{"Length": l, "Force": wording.Load{Force: cost.Arrest.High}})
		}
		t.tellAllAndHere(true, say)
	case cost.Within == calc.Pass:
		t.say(wording.PullSlackWithin, wording.Args{"Length": l, "Force": wording.Load{Force: cost.Arrest.High}})
	default:
		t.say(wording.PullSlackUnknown, wording.Args{"Length": l})
	}
}

// cost is what the slack that was last told would cost.
func (t *turn) cost() (calc.Cost, bool) {
	p := t.plan()
	l, ok := readLength(t.s.Slack)
	c, err := t.s.Sheet.Case()
	if p == nil || !ok || err != nil {
		return calc.Cost{}, false
	}
	return calc.HoldCost(c, *p, l), true
}

// slackOver returns what keeps a hold point from being released while the
// holding line hangs so slack that catching the load would overload it.
func (t *turn) slackOver() (wording.Key, wording.Args, bool) {
	if t.s.Slack == slackNotKnown && t.holdNeeded() {
		return wording.PullSlackHow, nil, true
	}
	cost, known := t.cost()
	if !known || !cost.Needed || cost.Within != calc.Fail || cost.Arrest == nil {
		return "", nil, false
	}
	l, _ := readLength(t.s.Slack)
	return wording.PullSlackOver, wording.Args{"Length": l, "Force": wording.Load{Force: cost.Arrest.High}}, true
}
