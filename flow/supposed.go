package flow

import (
	"reflect"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A crew that reads a no-go asks before it walks: "what if we had 4 parts", "would a
// beech of 60 cm do". What is only thought of is reckoned beside the job, on a copy that
// nobody keeps, and answered with what it would come to. Nothing of it is noted: a thing
// that was supposed must be told, and where it makes the pull easier found, before it
// counts.

const leadsOver = `^(?:(?:and|but|so|ok|okay|well|then|hmm+|er|um|right|hey|now)[ ,.]+)*`

var (
	// supposing begins words that suppose something; behind it stands what.
	supposing = hear.Expression(leadsOver + `(?:` +
		`what (?:if|about|when|would happen if|happens if|happens when)|how about(?: if)?|suppos(?:e|ing)(?: that)?|imagine|assum(?:e|ing)(?: that)?|` +
		`(?:would|does|will|wouldn'?t) (?:it|that) (?:help|work|do|go|be (?:enough|ok|a go|better)|change (?:anything|it)|make (?:a|any) difference|matter) (?:if|with|when|to)|` +
		`is (?:it|that) (?:a go|ok|enough) (?:if|with)|(?:would|will) we be (?:ok|a go|fine) (?:if|with))\s+`)
	// weCould begins words in which who writes thinks of doing something.
	weCould = hear.Expression(leadsOver + `(?:(?:can|could|should|may|might|shall)(?:n'?t)? (?:we|i)|(?:we|i) (?:can|could|might))(?: just| maybe| also| always| not)*\s+`)
	// wouldIt begins words that suppose something where wouldDo ends them.
	wouldIt = hear.Expression(leadsOver + `(?:would|will|do|does|is|are|can|could|if)\s+`)
	// wouldDo ends words that ask whether a thing would do.
	wouldDo = hear.Expression(`(?:[ ,]+(?:then|instead|also|as well|too|at all|any better))*[ ,]+(?:(?:is|would|will|does|do) (?:it|that|we)(?: then)? )?(?:do(?: it| the job)?|help|work|be enough|be ok|be fine|be better|be a go|a go|go|hold|hold it|enough|ok|change (?:it|anything|things)|make (?:it|it a go|a difference|any difference))(?: then| instead)?$`)
	// digIt is digging that is still to be done.
	digIt = hear.Expression(`\bdig\b`)
)

// supposed is what a message only thinks of, and whether it says so in as many words and
// not as what might be done; empty where it thinks of nothing.
func supposed(text string) (what string, plainly bool) {
	low := strings.TrimRight(hear.Lowered(text), " ?!.")
	began := supposing.FindString(low)
	plainly = began != ""
	if began == "" {
		began = weCould.FindString(low)
	}
	if began == "" {
		if began = wouldIt.FindString(low); began == "" || !wouldDo.MatchString(low) {
			return "", false
		}
	}
	rest := strings.TrimPrefix(low, began)
	if what = strings.TrimSpace(wouldDo.ReplaceAllString(rest, "")); what == "" {
		what = rest
	}
	return what, plainly
}

// supposes answers what would be if, and reports whether the message asked that. What it
// makes of the job is thrown away.
func (t *turn) supposes(text string, h hear.Heard) bool {
	if t.s == nil || !t.main() || !t.s.Figured && t.s.State != Verdict || !t.mayChange() {
		return false
	}
	what, plainly := supposed(text)
	if what == "" || !plainly && len(h.Facts) > 0 || slices.Contains([]hear.Act{hear.Why, hear.Help, hear.Sum}, h.Act) {
		return false
	}
	p := t.plan()
	if p == nil || t.handedOver(p) {
		return false
	}
	trial, read, err := t.tried(what)
	if err != nil {
		t.err = err
		return true
	}
	names := trial.otherThan(t)
	switch then := trial.plan(); {
	case len(names) == 0 && read && t.s.State == Verdict:
		t.say(wording.SupposeSame, nil)
	case len(names) == 0 && (t.s.State != Verdict || !plainly && !unloading.MatchString(what) && !t.namesGear(what)):
		return false // it may be a question about what is asked
	case len(names) == 0 && unloading.MatchString(what):
		t.say(wording.SupposeWeight, nil)
	case len(names) == 0:
		t.say(wording.SupposeUnread, nil)
	case then == nil || trial.handedOver(then):
		t.say(wording.SupposeRefer, wording.Args{"Names": names})
	default:
		t.sayApart(wording.SupposeThen, wording.Args{"Names": names, "Text": t.saying(trial.decidedAs(then))})
		for _, w := range then.Why[:min(len(then.Why), 2)] {
			t.say(wording.PlanWhy, wording.Args{"Why": w})
		}
		if then.Decision == calc.NoGo {
			trial.oneChange(then)
			t.replies = append(t.replies, trial.replies...)
		}
		t.say(wording.SupposeNot, nil)
	}
	t.ask()
	return true
}

// mayChange reports whether the job stands where a word changes what was told: at a
// question of the sheet or at the verdict, and with nothing on the move.
func (t *turn) mayChange() bool {
	switch t.s.State {
	case Verdict:
		return true
	case Away, Halted, Closed, Debrief, Referred, Pulling, Signing, Checks, Amend:
		return false
	}
	return !t.s.Stage.Lies()
}

// tried is a turn on a copy of the job in which what is supposed was told, at the verdict
// and with nothing asked back, and whether anything of it was read
// but what kind of piece it is of.
func (t *turn) tried(what string) (trial *turn, read bool, err error) {
	s := new(Session)
	copySession()(reflect.ValueOf(s).Elem(), reflect.ValueOf(t.s).Elem())
	in := t.in
	in.Text = what
	trial = newTurn(t.e, in)
	trial.chat, trial.s, trial.began, trial.supposed = t.chat, s, t.began, true
	for _, k := range []string{heldPiece, heldAmend, heldRemove} {
		delete(s.Held, k)
	}
	s.State, s.Topic = Verdict, ""
	what = digIt.ReplaceAllString(what, "dug") // as who has done it tells it
	h := trial.whoIsWho().Listen(what, hear.TopicNone)
	facts := h.Facts
	if len(facts) == 0 && h.Act == hear.None {
		facts = trial.namedFacts(what)
	}
	trial.put(trial.number(trial.ofPieces(facts), false))
	trial.replies = nil
	return trial, slices.ContainsFunc(facts, func(f hear.Fact) bool { return !strings.HasSuffix(f.Field, "].kind") }), trial.err
}

// namedFacts are the facts of words that name an answer and give it another value, as
// behind "change".
func (t *turn) namedFacts(what string) []hear.Fact {
	h := hear.Listen("change "+what, hear.TopicNone)
	if h.Act != hear.Change || h.Value == "" {
		return nil
	}
	names := t.changeable(h.Object)
	if len(names) != 1 {
		return nil
	}
	tp, ok := topicByName(names[0])
	if !ok {
		return nil
	}
	return t.whoIsWho().Listen(h.Value, tp.heard()).Facts
}

// otherThan says what stands on this turn's sheet and not, or otherwise, on another's.
func (t *turn) otherThan(o *turn) (names wording.Names) {
	was := o.knownLines()
	for _, l := range t.knownLines() {
		if !slices.Contains(was, l) {
			names = append(names, l)
		}
	}
	return names
}
