package flow

import (
	"strings"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What people see, hear or feel during a pull, and what it asks for: one table
// for what they report and for what a stop was for, so that the same thing is
// looked at whichever way it was told. It errs towards a report: one too many
// costs a minute.

// A sight is one kind of thing that can be seen. Its label is saw. and its
// kind, as the reason of a stop cause. and its kind; look. says what to look
// at, and from where.
type sight struct {
	kind   string
	stops  bool // it is a stop by itself; else everybody holds
	learns string
	causes []calc.Cause // what it makes doubtful, beside the stop
	jerks  bool         // the rig may be another than the one that was walked
}

// sights are offered in this order; that in which words are read is [hear.Seen], where a
// slip comes before a load that is stuck, since a load stands at a slip as well.
//
// Source: common practice.
var sights = []sight{
	{kind: "hurt", stops: true},
	{kind: "inside", stops: true, causes: []calc.Cause{calc.Inside}},
	{kind: "lifts", stops: true, causes: []calc.Cause{calc.Lifted}},
	{kind: "anchor", stops: true, causes: []calc.Cause{calc.AnchorOut}, jerks: true},
	{kind: "sound", stops: true, causes: []calc.Cause{calc.Sound}, jerks: true},
	{kind: "jerked", stops: true, causes: []calc.Cause{calc.Jerked}, jerks: true},
	{kind: "tips", stops: true, causes: []calc.Cause{calc.Tipped}, jerks: true},
	{kind: "creeps", causes: []calc.Cause{calc.Creep}, jerks: true},
	{kind: "wheel", causes: []calc.Cause{calc.Rerig}, jerks: true},
	{kind: "stuck", learns: "stuck", causes: []calc.Cause{calc.PullSlip}, jerks: true},
	{kind: "slips", learns: "slip", causes: []calc.Cause{calc.PullSlip}, jerks: true},
	{kind: "runs", stops: true, causes: []calc.Cause{calc.PullSlip, calc.Ran, calc.Jerked}, jerks: true},
	{kind: "signal", stops: true, causes: []calc.Cause{calc.SignalLost}},
	{kind: "unsure", stops: true, causes: []calc.Cause{calc.Unsure}},
	{kind: "weather", stops: true, causes: []calc.Cause{calc.Rain}},
	{kind: "moves", learns: "move"},
}

// rainy are words that it rains, or that the ground gets wet; dry that it does
// not, or did and is over, or may.
var (
	rainy = hear.Expression(`\b(rain|rains|rainin|raining|rained|drizzl\w*|pouring|sleet\w*|snows|snowing|(chuck|bucket|piss|lash|pelt|teem|hammer)(s|in|ing)( it)? (it )?down|tip(s|pin|ping) it down|^\W*(it|its|it's)( is| was| has)?( now| started| begun| began)? tip(pin|ping) down( now| here| again| hard| a bit)*\W*$|(is|its|it's|was|started|begun|began) (pissing|lashing|bucketing|spitting|pelting)|heavens (have )?opened|(getting|gets|got|gone|going) (all |very |really |so )?(wet|soaked|soggy))\b`)
	dry   = hear.Expression(`\b(no|not|isn'?t|ain'?t|never|without|hardly)( any)?( more)? (rain\w*|drizzl\w*|pouring|sleet\w*|snow\w*)\b|\b(over|gone off|last night|last week|yesterday|earlier|if|might|may|could|forecast|supposed|before it|in case|no more|not any more)\b|\bover\W*$`)
)

func sightOf(kind string) (sight, bool) {
	for _, s := range sights {
		if s.kind == kind {
			return s, true
		}
	}
	return sight{}, false
}

// alarmWords takes what was seen where the pull does not stand at a question
// of its own: in a stop, while something is asked again, and, where somebody is
// hurt, at any time. The lead's words are answers there, and a stop if they
// say so.
func (t *turn) alarmWords(text, low string) bool {
	m := t.me()
	if m == nil || t.main() && t.isLead() && !t.hurtLater(text) || t.s.State == Pulling || t.s.State == Debrief || t.s.State == Closed {
		return false
	}
	if strings.HasPrefix(low, "note ") || strings.HasPrefix(low, "change ") {
		return false
	}
	s, ok := t.sight(text)
	if !ok || s.kind != "hurt" && !t.s.Stage.Lies() {
		return false
	}
	if t.slipTold(s, text) {
		return true
	}
	if t.explainsHurt(text) {
		t.act(Act{Do: DoReport, Path: s.kind, Value: wording.Plain(text)})
		t.toLead(func() { t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)}) })
		t.remark(wording.StopWordsKept, wording.Args{"Text": wording.Plain(text)})
		return true
	}
	if t.explainsStop(s, text) {
		return true
	}
	if s.kind == "moves" { // everything stands
		s, _ = sightOf("runs")
	}
	if !s.stops && t.s.State != Halted {
		return t.seenLate(s, text)
	}
	t.haltSeen(s.kind, text)
	t.stopTells(text)
	return true
}

// seenLate takes what was seen in the pull and is told while something else is asked,
// where everything stands: what it teaches and makes doubtful is the same.
func (t *turn) seenLate(s sight, text string) bool {
	if m := t.me(); m.afar() || s.kind != "slips" && s.kind != "creeps" && s.kind != "wheel" {
		return false
	}
	t.act(Act{Do: DoReport, Path: s.kind, Value: wording.Plain(text)})
	who := t.whoName()
	t.allHold(func() {
		t.say(wording.PullSaw, wording.Args{"Name": who, "Text": t.saying(wording.Key("saw." + s.kind))})
		t.say(wording.Key("look."+s.kind), nil)
	}, nil)
	if p := t.plan(); p != nil && p.Tackle != nil {
		if what, more := t.teaches(s, t.s.Stage, p, text); what != "" {
			t.learn(p, what, more)
		}
	}
	t.reopenFor(s.causes...)
	t.inChat(t.s.leadChat(), t.replan)
	t.ask()
	return true
}

// holdWords are what people say who want it to hold and don't find the word
// for it.
var (
	holdWords = hear.Expression(`^(hold|holdd|stay|no+|(no[ ,]*)+|not so|not yet|slow|slow down|too fast|easy|easy now|help|careful|enough|that'?s enough|pause|freeze|foot off|brake|brakes)$`)
	holdAlso  = hear.Expression(`\b(wa+it|hold on|hold it|hold up|hang on|hang about|w+h?oa+h*|woah|watch (it|out)|look out|careful|one (sec|second|moment|minute)|time ?out)\b`)
)

// holds takes such words: while something may move everybody holds, and where
// it stands it stays so, under a number that nobody has released.
func (t *turn) holds(text, low string) bool {
	if !holdWords.MatchString(low) && !(holdAlso.MatchString(low) && len(strings.Fields(low)) <= 8) {
		return false
	}
	m := t.me()
	if m == nil || m.As != AsLead && m.As != AsCrew || t.s.hold() == nil && !t.s.Stage.Moves() && !t.s.Stage.Hands() {
		return false
	}
	if s, ok := t.sight(text); ok && s.stops && !holdWords.MatchString(low) {
		return false // it is more than a hold
	}
	if low == "hold" && t.s.hold() != nil {
		return false // it holds
	}
	if howFar.MatchString(low) && !holdsToo.MatchString(low) { // it asks, and wants nothing held
		t.note(text)
		t.toLead(func() { t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)}) })
		t.remark(wording.PullQuestion, nil)
		return true
	}
	t.holdFor(text)
	t.ask()
	return true
}

// rained are words of a rain that is over.
var rained = hear.Expression(`\b(?:after|since) (?:(?:all|the|that|this|last|heavy|bit|of|some|a|night'?s|yesterday'?s) )*(?:rain|raining|drizzle)\b|\b(?:it |it's |has |had )*rained\b(?: (?:a lot|hard|heavily))?(?: (?:all|most of|through|in) (?:the )?(?:night|day|week|morning)| last night| yesterday| earlier| before| overnight| this morning)`)

// rainsNow reports whether words say that it rains, where that could make another
// thing of what was answered: once the ground was told, and not as the answer to
// what the ground is.
func (t *turn) rainsNow(text string) bool {
	low := hear.Lowered(text)
	if t.s.Stage == NotBegun && !t.s.Figured {
		low = rained.ReplaceAllString(low, " ") // what was answered is of the ground as it lies since
	}
	if !rainy.MatchString(low) || dry.MatchString(low) || isQuestion(low) || strings.HasPrefix(low, "note ") || strings.HasPrefix(low, "change ") {
		return false
	}
	if m := t.me(); m == nil || m.As == AsCoordinator || t.s.Settled["ground"] == "" {
		return false
	}
	return !strings.HasSuffix(t.s.Topic, "ground") || !t.main() || !t.tells(text)
}

// stormTold takes that a storm is on or coming, or that nobody sees, where the list says
// that it is not so: the item counts no more, and all read it. Where a line lies it is seen
// like anything else.
func (t *turn) stormTold(text string) bool {
	if m := t.me(); m == nil || m.As == AsObserver || t.s.State != Checks && t.s.State != Signing && t.s.State != Verdict || !t.listBegun() {
		return false
	}
	low := hear.Lowered(text)
	if isQuestion(low) || strings.HasPrefix(low, "note ") || strings.HasPrefix(low, "change ") {
		return false
	}
	if !hear.StormComes(low) {
		return false
	}
	if t.rainsNow(text) {
		t.reopenFor(calc.Rain)
	}
	t.failsNow("light", text)
	return true
}
