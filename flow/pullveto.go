package flow

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What lets the pull go on is written word for word, because it could be meant
// for a hold point that is over. What keeps it is read in whatever words it comes:
// a hold too many costs a minute.

// withholding are words that somebody withholds a release, and the reason behind
// them. A number of a hold point among them is passed over.
var withholding = regexp.MustCompile(`^(?:(?:please|pls|i'?d|i'?ll|i|no|ok|okay|wait|stay|hey|hold on|hang on|sorry)[ ,]+)*(?:with ?h?olds?|with ?h?olding|veto|(?:don'?t|do not|dont) release)\b(?: (?:the |my )?(?:hold|release|it|go|pull))*[ .,:;#-]*(?:(?:no\.? ?|number )?\d+)?[ ,:;.-]*(.*)$`)

// keepsIt is how a coordinator says so in other words.
var keepsIt = regexp.MustCompile(`^(?:(?:no+|ok|okay|sorry|hey|please|pls|hang on|wait|stay)[ ,]+)*(?:i'?m not happy|i am not happy|not happy|i (?:do not|don'?t|dont) like|don'?t like|dont like|(?:don'?t|dont|do not|nobody|not to) (?:go|pull|start|move|begin|carry on|continue|do it)s?|hold off|hang fire|wait (?:with|for|until|till))\b`)

// vetoNoise are words before a reason that are none of it.
var vetoNoise = regexp.MustCompile(`(?i)^(?:because|cos|cause|as|since|please|now|yet|for now|for the moment)\b[ ,:]*`)

// withholdWords takes that somebody withholds the hold point where the pull
// stands, and why.
func (t *turn) withholdWords(text, low string) bool {
	m := withholding.FindStringSubmatch(low)
	if m == nil {
		if me := t.me(); me != nil && me.As == AsCoordinator && keepsIt.MatchString(low) && !isQuestion(low) && (t.s.State == Pulling || t.listBegun()) {
			return t.withholdNow(text) // from afar that is all it can mean
		}
		return false
	}
	reason := m[1]
	if at := len(text) - len(reason); reason != "" && at > 0 && strings.EqualFold(text[at:], reason) {
		reason = text[at:] // as it was written
	}
	reason = vetoNoise.ReplaceAllString(reason, "")
	return t.withholdNow(reason)
}

// withholdNow keeps the hold point where the pull stands, else the pull. Whatever number
// it was said with counts for that: the number may have moved on while it was written.
func (t *turn) withholdNow(reason string) bool {
	me := t.me()
	afar := me != nil && me.As == AsCoordinator
	if afar && t.s.State == Pulling {
		t.holdNow() // then it stands at a hold point, which is withheld
	}
	switch h := t.s.hold(); {
	case t.s.State == Pulling && h != nil:
		t.withhold(h, reason)
	case afar && t.s.State != Closed && t.s.State != Away && t.s.State != Debrief && t.s.Stage != PullOver:
		t.withholdPull(reason)
	case t.s.State == Pulling:
		t.remark(wording.PullNoneToWithhold, nil)
	default:
		return false
	}
	return true
}

// A Veto is the word of somebody afar that nothing is to be pulled, said where no
// hold point stood. It keeps the pull from beginning, and goes over to the next
// hold point.
type Veto struct {
	By     Person
	Reason string
}

// withholdPull keeps the pull from beginning or going on, until it is lifted.
func (t *turn) withholdPull(reason string) {
	reason = strings.TrimRight(wording.Plain(reason), " .")
	t.act(Act{Do: DoWithhold, Reason: reason})
	k, args := wording.PullNotToBegin, wording.Args{"Name": t.whoName()}
	if reason != "" {
		k, args["Reason"] = wording.PullNotToBeginFor, reason
	}
	t.tellAll(true, func() { t.say(k, args) })
	t.say(k, args)
	t.say(wording.PullToLift, nil)
	t.ask()
}

// applyVeto does what somebody afar withholds, or lifts, where no hold point stands.
func (s *Session) applyVeto(a Act, e Entry) {
	by := e.Who.ID
	if a.Do == DoLift {
		by = cmp.Or(a.Path, by)
	}
	at := slices.IndexFunc(s.Vetoes, func(v Veto) bool { return v.By.ID == by })
	switch {
	case a.Do == DoLift && at >= 0:
		s.Vetoes = slices.Delete(s.Vetoes, at, at+1)
	case a.Do == DoWithhold && at >= 0:
		s.Vetoes[at].Reason = cmp.Or(a.Reason, s.Vetoes[at].Reason)
	case a.Do == DoWithhold:
		s.Vetoes = append(s.Vetoes, Veto{By: e.Who, Reason: a.Reason})
	}
}

// takeVetoes puts what was withheld before there was a hold point on one.
func (s *Session) takeVetoes(h *Hold) {
	for _, v := range s.Vetoes {
		h.apply(Act{Do: DoWithhold, Reason: v.Reason}, Entry{Who: v.By})
	}
	s.Vetoes = nil
}

// vetoes names who withholds the pull, each with the reason.
func (t *turn) vetoes() wording.Names {
	h := Hold{}
	s := Session{Vetoes: t.s.Vetoes}
	s.takeVetoes(&h)
	return t.withholders(&h)
}

// withhold keeps a hold point from being released: a veto of those afar, which
// nobody on the spot overrides, as they override nobody's there.
func (t *turn) withhold(h *Hold, reason string) {
	if m := t.me(); m == nil || m.As != AsCoordinator {
		t.remark(wording.PullOnlyCoordinator, nil)
		return
	}
	reason = strings.TrimRight(wording.Plain(reason), " .")
	doubt := reason != "" && tellsNoFault(reason)
	if doubt {
		reason = ""
	}
	t.act(Act{Do: DoWithhold, Value: itoa(h.Number), Reason: reason})
	k, args := wording.PullHasWithheld, wording.Args{"Name": t.whoName(), "Number": h.Number}
	if reason != "" {
		k, args["Reason"] = wording.PullHasWithheldFor, reason
	}
	t.tellAll(false, func() { t.say(k, args) })
	switch {
	case doubt:
		t.asksLift(itoa(h.Number))
		t.say(wording.PullNoReason, wording.Args{"Text": wording.Plain(t.in.Text), "Number": h.Number})
	case reason == "" && h.Reasons[t.in.Person.ID] == "":
		t.say(wording.PullWhyWithheld, nil)
		t.act(Act{Do: DoHold, Path: heldWhy + t.in.Person.ID, Value: itoa(h.Number)})
	}
	t.ask()
}

// heldWhy stands before the ID of somebody who was asked why they withhold a hold point,
// until their next words.
const heldWhy = "why-"

// whyAnswered takes the words that come next after that question as the reason, before
// anything else is read in them: what must be done first is no answer to the job's own
// questions. What they tell for certain and worse than it was told counts as well as it
// would without: the reason goes with who lifts it, and that must not.
func (t *turn) whyAnswered(text string) bool {
	key := heldWhy + t.in.Person.ID
	if t.s.Held[key] == "" {
		return false
	}
	t.act(Act{Do: DoHold, Path: key})
	h, heard := t.s.hold(), t.whoIsWho().Listen(text, hear.TopicNone)
	if h == nil || !saysFacts(heard.Act) || heard.Act == hear.Change || isQuestion(hear.Lowered(text)) || numberedRelease.MatchString(hear.Lowered(text)) ||
		tellsNoFault(text) || !slices.ContainsFunc(h.Withheld, func(p Person) bool { return p.ID == t.in.Person.ID }) {
		return false // whyWithheld answers words that are no reason
	}
	if slices.ContainsFunc(heard.Facts, t.surelyWorse) {
		t.reasonTold(h, wording.Plain(text))
		return false
	}
	t.withhold(h, text)
	return true
}

// surelyWorse reports whether a fact says for certain that something is worse than the job
// goes by.
func (t *turn) surelyWorse(f hear.Fact) bool {
	was, told := t.s.Sheet.Get(f.Field)
	return differable(f.Field) && f.Value != "unknown" && told && !sameText(was, f.Value) && t.worse(f.Field, f.Value)
}

// reasonTold keeps why who speaks withholds a hold point, and tells everybody.
func (t *turn) reasonTold(h *Hold, reason string) {
	reason = strings.TrimRight(reason, " .")
	t.act(Act{Do: DoWithhold, Value: itoa(h.Number), Reason: reason})
	args := wording.Args{"Name": t.whoName(), "Number": h.Number, "Reason": reason}
	t.tellAll(false, func() { t.say(wording.PullHasWithheldFor, args) })
}

var (
	// approving are words that all is well and it may go on, and nothing else.
	approving = regexp.MustCompile(`^(?:\W*\b(?:ok|okay|kk|yes|yep|yeah|aye|happy|fine|good|great|right|alright|all right|cool|perfect|thanks|thank you|cheers|understood|copy|copied|roger|sure|sorted|clear|agreed|approved|satisfied|solved|i'?m|i am|we'?re|we are|it'?s|it is|that'?s|that is|looks?|all|now|then|so|and|with (?:it|that|this)|by me|from me|me|you (?:can|may)|please|pls|go|goes|going|on|ahead|carry|continue|proceed|crack|keep|start|resume|pull|for it|is|very|too|again|no (?:problems?|issues?|worries|objections?)|nothing (?:wrong|more|else))\b)+\W*$`)

	// approvesFirst is that at the head of more words.
	approvesFirst = regexp.MustCompile(`^\W*(?:(?:ok|okay|yes|yep|yeah|aye|right|so|now|i'?m|i am|we'?re)\W+)*(?:happy|satisfied|all good|fine by me|good to go|go on|go ahead|carry on|proceed|continue|you can go|you may go)\b`)

	// takenBack are words that what was withheld is so no more, with whatever behind them.
	takenBack = regexp.MustCompile(`^\W*(?:(?:ok|okay|sorry|no|actually|well)\W+)*(?:i(?:'ll|'d)?|we|let me)?\s*(?:will |would |want to |now )?(?:(?:take|took|taking) (?:it|that|this|my \w+|the veto) back|withdraw|cancel|undo|revoke|retract)\b`)

	// measure1 are words of how it is to be pulled: what lets it go on, and not what is
	// wrong.
	measure1 = regexp.MustCompile(`\b(?:throttle|idle|idling|revs?|rpm|pedal|gas|creep|crawl|(?:low|lowest|first|1st) gear)\b`)
	measured = regexp.MustCompile(`\b(?:max|maximum|at most|only|stays?|kept|keep|no more|limit\w*|marked|stops?|agreed)\b`)
	stillBut = regexp.MustCompile(`\b(?:once|after|until|till|unless|but|except|if|when|not|no|isn'?t|can'?t|cannot|don'?t|doesn'?t|won'?t|nobody|without|missing|too|over|above|broken|sticks?|stuck)\b|\?`)
)

// tellsNoFault reports whether words at the question why it is withheld say nothing of what
// is wrong: that all is well, or how it is to be pulled.
func tellsNoFault(text string) bool {
	low := hear.Lowered(text)
	if approving.MatchString(low) || liftsIt.MatchString(strings.Trim(low, " .!")) || takenBack.MatchString(low) || hear.OnlyTakesBack(text) {
		return true
	}
	return !stillBut.MatchString(strings.ReplaceAll(low, "no more", "")) && (approvesFirst.MatchString(low) || measure1.MatchString(low) && measured.MatchString(low))
}

// whyWithheld takes words as the reason for what who speaks withholds without one. Words
// that it may go on are none, and lift nothing either: that takes the hold's number.
func (t *turn) whyWithheld(text string) bool {
	h := t.s.hold()
	if h == nil || t.s.State != Pulling || h.Reasons[t.in.Person.ID] != "" || isQuestion(hear.Lowered(text)) || len(strings.Fields(text)) < 2 ||
		!slices.ContainsFunc(h.Withheld, func(p Person) bool { return p.ID == t.in.Person.ID }) {
		return false
	}
	if tellsNoFault(text) {
		t.note(text)
		t.asksLift(itoa(h.Number))
		t.remark(wording.PullNoReason, wording.Args{"Text": wording.Plain(text), "Number": h.Number})
		return true
	}
	t.withhold(h, text)
	return true
}

// releaseWords takes a release in words. It has to say the number: without, it
// could be meant for a hold point that is over.
func (t *turn) releaseWords(low string) bool {
	for _, name := range []string{"release", "crest", "lift", "secure"} {
		rest, ok := strings.CutPrefix(low, name)
		if !ok || rest != "" && rest[0] != ' ' {
			continue
		}
		number := strings.TrimPrefix(strings.TrimSpace(rest), "hold ")
		if number == "" || strings.Trim(number, "0123456789") != "" {
			t.remark(wording.PullWhichHold, wording.Args{"Text": name, "Number": t.s.Hold})
			return true
		}
		t.numbered(name, number, "")
		return true
	}
	return false
}

// numberedRelease are a release's words where nothing can be released.
var numberedRelease = regexp.MustCompile(`^(?:release|crest|secure)(?: hold)? (\d+)$`)

// releaseNone answers a release that comes while a stop is on, or something is
// asked again: whatever number it has, it is void.
func (t *turn) releaseNone(low string) bool {
	m := numberedRelease.FindStringSubmatch(low)
	if m == nil || t.me() == nil {
		return false
	}
	t.note(t.in.Text)
	t.remark(wording.PullNotNow, wording.Args{"Text": m[1]})
	return true
}
