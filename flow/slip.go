package flow

import (
	"slices"
	"strings"
	"unicode"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A bare figure belongs to the question that stands. "3 deg" typed at the tow
// point must not take the place of a slope that was measured: it may have been
// meant for a question that has not come yet, and the gentler one would win.

// slipped reports, and says, that a message is a bare figure which would
// replace an answer to another question. Nothing is changed.
func (t *turn) slipped(tp topic, h hear.Heard) bool {
	if !bareFigure(t.in.Text) {
		return false
	}
	for _, f := range h.Facts {
		was, told := t.s.Sheet.Get(f.Field)
		if !told || was == f.Value || f.Field == tp.name || slices.Contains(tp.fills, f.Field) {
			continue
		}
		owner, ok := ownerOf(f.Field)
		if !ok {
			continue
		}
		t.act(Act{Do: DoMiss})
		t.say(wording.RefuseToldBefore, wording.Args{"What": t.name(owner.name), "Text": t.word(f.Field, was)})
		t.ask()
		return true
	}
	return false
}

// outdone drops from what was heard each figure that is only guessed in passing,
// no worse than what was measured or read off before, and each weight, ground, depth or slope that
// was told before and is not spoken of now, and says that the old one stays: who is asked
// for it or changes it may put another in its place, nobody else. It reports
// whether nothing is left.
func (t *turn) outdone(tp topic, h *hear.Heard) bool {
	all := len(h.Facts)
	facts := h.Facts
	h.Facts = slices.DeleteFunc(slices.Clone(facts), func(f hear.Fact) bool {
		was, told := t.s.Sheet.Get(f.Field)
		owner, known := ownerOf(f.Field)
		if !told || was == f.Value || !known || f.Field == tp.name || slices.Contains(tp.fills, f.Field) || strings.HasPrefix(f.Field, "puller.") && t.newPuller(facts) {
			return false
		}
		if t.beside(f) && !t.changedSince(f) && !(f.Tie == hear.Loose && worseEnd(f.Field, f.Value, was)) {
			t.say(wording.RefuseToldBefore, wording.Args{"What": t.name(owner.name), "Text": t.word(f.Field, was)})
			return true
		}
		if !t.measured(f.Field, was) || worseEnd(f.Field, f.Value, was) {
			return false // a guess that is the worse of the two counts
		}
		guessed := slices.ContainsFunc(facts, func(o hear.Fact) bool {
			return o.Field == f.Field+"_from" && (o.Value == "guess" || o.Value == "eye")
		})
		if !f.Guess && !guessed {
			return false
		}
		t.say(wording.RefuseToldBefore, wording.Args{"What": t.name(owner.name), "Text": t.word(f.Field, was)})
		return true
	})
	h.Facts = slices.DeleteFunc(h.Facts, func(f hear.Fact) bool { // nor how the guess was come by
		of, from := strings.CutSuffix(f.Field, "_from")
		had := func(facts []hear.Fact) bool {
			return slices.ContainsFunc(facts, func(o hear.Fact) bool { return o.Field == of })
		}
		return from && had(facts) && !had(h.Facts)
	})
	if len(h.Facts) > 0 || all == 0 {
		return false
	}
	t.act(Act{Do: DoMiss})
	t.ask()
	return true
}

// beside reports whether a figure of a vehicle was read from words that are not
// said of it: a figure that takes the place of one that was told must be.
func (t *turn) beside(f hear.Fact) bool {
	of, _, _ := strings.Cut(f.Field, ".")
	return (of == "load" || of == "puller") && f.Tie != hear.Tied && !t.correctsLast(f.Field)
}

// correctsLast reports whether a message takes back the answer just given: no, 2.7 tonnes.
func (t *turn) correctsLast(field string) bool {
	owner, ok := ownerOf(field)
	last := len(t.s.Trail) - 1
	return ok && last >= 0 && t.s.Trail[last].Topic == owner.name && hear.TakesBack(t.in.Text)
}

// stampAgain asks for a figure again, and reports whether it did, that was told before and
// is now told in passing as a better one: a rating as more, or as a working limit where it
// was what it breaks at; a puller heavier, a load lighter, a slope gentler, fewer layers on
// the drum. Which of the two is right only who looks can tell, and until then the worse
// counts. One that is worse counts at once, and so does one that was measured in the place
// of a guess.
func (t *turn) stampAgain(c change, was string, with []change) bool {
	name, reason := topicFilling(c.path), wording.StaleMore
	tp, _ := topicByName(t.s.Topic)
	switch field := c.path[strings.LastIndexByte(c.path, '.')+1:]; {
	case name == "" || t.began.State == Referred || c.guess || c.how != Told || was == c.value || t.takesBackHere(tp) || t.sinceAt(c.path) || t.ofAnother(c, with):
		return false
	case strings.HasSuffix(field, "rating_kind"):
		if was != "breaking" || c.value != "working" || slices.ContainsFunc(with, func(o change) bool { return o.path+"_kind" == c.path }) {
			return false // with a figure of its own it is judged with that
		}
	case !figureField(c.path) && field != "winch_layer" || !worseEnd(c.path, was, c.value):
		return false
	case field != "rating" && field != "hitch_rating":
		if !t.measured(c.path, was) && t.foundBetter(c.path, with) {
			return false
		}
		reason = wording.StaleBetter
	}
	t.stamps = true
	t.act(Act{Do: DoAgain, Topic: name, Reason: t.sayingWith(reason, wording.Args{"Text": t.word(c.path, c.value), "Was": t.word(c.path, was)})})
	return true
}

// betterAgain asks for an answer again that a message names, with nothing that takes it
// back, and gives a better figure; it reports whether it did.
func (t *turn) betterAgain(names []string, value string) bool {
	tp, ok := topicByName(names[0])
	if !ok || len(names) != 1 || tp.name == t.s.Topic || t.amending(tp.name) || len(tp.fills) == 0 {
		return false
	}
	var with []change
	for _, f := range t.whoIsWho().Listen(value, tp.heard()).Facts {
		with = append(with, change{set: set{f.Field, f.Value}, how: Told})
	}
	for _, c := range with {
		if was, told := t.s.Sheet.Get(c.path); c.path == tp.fills[0] && told && t.stampAgain(c, was, with) {
			if t.s.State == Verdict {
				t.fire(Reopens)
				t.act(Act{Do: DoAsk})
			}
			t.next()
			return true
		}
	}
	return false
}

// foundBetter reports whether a figure is told with how it was found, and that is no guess.
func (t *turn) foundBetter(path string, with []change) bool {
	return slices.ContainsFunc(with, func(c change) bool {
		return c.path == path+"_from" && c.value != "guess" && c.value != "eye"
	})
}

// ofAnother reports whether changes make of a thing another one, so that what was
// told at the path of c was told of the one before.
func (t *turn) ofAnother(c change, changes []change) bool {
	gone, _ := t.outdated(slices.DeleteFunc(slices.Clone(changes), func(o change) bool { return o.path == c.path }))
	return slices.Contains(gone, c.path)
}

// outdoing drops from the answers that a correction may mean those which were
// measured and would become a guess that is no worse: only who names what is to be
// changed puts that there. Where none is left it says what stays.
func (t *turn) outdoing(names []string, value string) []string {
	left := slices.DeleteFunc(slices.Clone(names), func(name string) bool {
		tp, _ := topicByName(name)
		was, told := t.s.Sheet.Get(tp.fills0())
		if !told || !t.measured(tp.fills0(), was) {
			return false
		}
		doubt, worse := false, false
		for _, f := range t.whoIsWho().Listen(value, tp.heard()).Facts {
			doubt = doubt || f.Field == tp.fills0() && f.Guess || f.Field == tp.fills0()+"_from" && (f.Value == "guess" || f.Value == "eye")
			worse = worse || f.Field == tp.fills0() && worseEnd(f.Field, f.Value, was)
		}
		return doubt && !worse
	})
	if len(left) == 0 && len(names) > 0 {
		tp, _ := topicByName(names[0])
		was, _ := t.s.Sheet.Get(tp.fills0())
		t.act(Act{Do: DoMiss})
		t.say(wording.RefuseToldBefore, wording.Args{"What": t.name(tp.name), "Text": t.word(tp.fills0(), was)})
		t.ask()
	}
	return left
}

// measured reports whether a figure on the sheet was come by in a better way
// than by a guess.
func (t *turn) measured(field, value string) bool {
	from, _ := t.s.Sheet.Get(field + "_from")
	return from != "" && from != "guess" && from != "eye" || strings.Contains(value, "gap") || strings.Contains(value, "rise")
}

// ownerOf is the question whose answer a field is.
func ownerOf(field string) (topic, bool) {
	for _, list := range [][]topic{firstTopics, laterTopics} {
		for _, tp := range list {
			if len(tp.fills) > 0 && tp.fills[0] == field {
				return tp, true
			}
		}
	}
	return topic{}, false
}

// hedges may stand beside a figure and leave it bare.
var hedges = []string{"about", "bout", "approx", "approximately", "around", "roughly", "maybe", "say", "or", "so", "ish"}

// bareFigure reports whether a text is a number and at most its unit.
func bareFigure(text string) bool {
	digit, words := false, 0
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		if strings.ContainsFunc(w, unicode.IsDigit) {
			digit = true
			w = strings.TrimFunc(w, unicode.IsDigit)
		}
		if w != "" && !slices.Contains(hedges, w) {
			words++
		}
	}
	return digit && words <= 1
}
