package flow

import (
	"slices"
	"strings"
	"time"

	"linetender/calc"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/flow/wording"
)

// An Again is a question that is asked again because its answer may have
// changed. What was answered stays on the sheet meanwhile; the pull waits.
type Again struct {
	Topic string
	Why   string
}

// reopenFor takes back what a cause could have changed, and only that. It
// reports whether there was any of it.
func (t *turn) reopenFor(causes ...calc.Cause) bool {
	any := false
	for _, cause := range causes {
		t.outlived(cause)
		for _, r := range calc.Stale(cause) {
			fields := r.In(t.s.Sheet)
			if len(fields) == 0 && strings.HasPrefix(r.Field, "site.") {
				fields = []string{r.Field} // one person has looked, and it is on no sheet yet
			}
			for _, field := range fields {
				any = t.reopenField(field, r) || any
			}
		}
	}
	return any
}

// reopenField takes back one answer. What people see on the spot is unsaid;
// what goes into the sums stays until it is answered again.
func (t *turn) reopenField(field string, r calc.Reopened) bool {
	if strings.HasPrefix(field, "site.") {
		if t.s.Settled[field] == "" && t.s.Marks[field].Value == "" {
			return false
		}
		check, _, _ := strings.Cut(r.Check, "/")
		t.unsign(check)
		t.reopenItem(field)
		return true
	}
	name := topicFilling(field)
	if name == "" {
		return false
	}
	t.act(Act{Do: DoAgain, Topic: name, Reason: r.Why})
	return true
}

// unsign takes back the signature under one check: it was given for what was
// seen then.
func (t *turn) unsign(check string) {
	signed := slices.Clone(t.s.Sheet.Signed)
	if !slices.ContainsFunc(signed, func(g job.SignatureSheet) bool { return g.Check == check }) {
		return
	}
	t.act(Act{Do: DoSet, Path: "signed", How: Told})
	for _, g := range signed {
		if g.Check != check {
			t.act(Act{Do: DoSign, Topic: g.Check, Names: []string{g.By}, Second: g.Second, Reason: g.Reason, Pieces: g.Pieces})
		}
	}
}

// outlived takes out of what the crew saw what is true no more.
func (t *turn) outlived(cause calc.Cause) {
	gone := calc.Outlived(cause, t.s.Sheet)
	if len(gone) == 0 {
		return
	}
	seen := slices.Clone(t.s.Sheet.Seen)
	t.act(Act{Do: DoSet, Path: "seen", How: Told})
	n := 0
	for i, w := range seen {
		if !slices.Contains(gone, i) {
			t.addSeen(n, w)
			n++
		}
	}
}

// topicFilling returns the question that a field of the sheet is the answer to.
func topicFilling(field string) string {
	field = strings.Replace(field, "pullers[0].", "puller.", 1)
	for _, list := range [][]topic{firstTopics, laterTopics} {
		for _, tp := range list {
			if len(tp.fills) > 0 && tp.fills[0] == field {
				return tp.name
			}
		}
	}
	if strings.HasPrefix(field, "gear[") && strings.HasSuffix(field, ".condition") {
		return "gear_sound" // all of it at once
	}
	if tp, ok := topicByName(field); ok {
		return tp.name
	}
	for _, tp := range laterTopics {
		if slices.Contains(tp.fills, field) {
			return tp.name
		}
	}
	return ""
}

// askedAgain returns why a question is asked again, if it is.
func (s *Session) askedAgain(name string) (Again, bool) {
	for _, g := range s.Again {
		if g.Topic == name && name != "" {
			return g, true
		}
	}
	return Again{}, false
}

func (t *turn) againNames() wording.Names {
	var out wording.Names
	for _, g := range t.s.Again {
		if n := t.name(g.Topic); !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// askAgain asks the next of what is to be asked again, and reports whether
// there was any.
func (t *turn) askAgain() bool {
	now := t.s.againNow()
	if len(now) == 0 {
		return false
	}
	g := now[0]
	tp, ok := topicByName(g.Topic)
	if !ok {
		panic("flow: no topic " + g.Topic)
	}
	t.fire(Reopens)
	t.act(Act{Do: DoAsk, Topic: g.Topic})
	k, args := wording.StaleAgain, wording.Args{"What": t.name(g.Topic), "Text": t.valueOf(tp), "Why": g.Why}
	if args["Text"] == "" {
		k = wording.StaleAgainBare
		delete(args, "Text")
	}
	t.say(k, args)
	if len(now) > 1 {
		t.sayStopLeft()
	}
	t.ask()
	return true
}

// asBefore takes that what is asked again is as it was.
func (t *turn) asBefore() bool {
	if _, ok := t.s.askedAgain(t.s.Topic); !ok || t.in.Press != nil && t.in.Press.Revision != t.s.Shown[t.in.Chat] {
		return false
	}
	if t.hastyAgain() {
		return true
	}
	t.said = t.saying(wording.ChoiceAsBefore)
	t.settle(t.s.Topic, Told)
	t.next()
	return true
}

// hastyAgain asks back once about an "as before" that came sooner than anybody
// can look, as is done with a yes to what blocks.
func (t *turn) hastyAgain() bool {
	chat := t.s.leadChat()
	since, err := time.Parse(time.RFC3339, t.s.Since[chat].At)
	if err != nil || t.s.alone() || t.s.Quick[t.s.Topic] == t.in.Person.ID || t.s.Wants[chat] != t.want(chat).id || t.in.At.Sub(since) >= quickest {
		return false
	}
	t.act(Act{Do: DoQuick, Topic: t.s.Topic})
	t.askBack()
	t.ask()
	return true
}

func (t *turn) againWords(low string) bool {
	if _, ok := t.s.askedAgain(t.s.Topic); !ok || !t.main() || t.in.Press != nil {
		return false
	}
	switch low {
	case "as before", "same as before", "still as before", "as it was", "same", "the same", "still so", "unchanged", "no change", "nothing changed", "still the same":
		return t.asBefore()
	}
	return false
}

// rains reopens what rain could have changed: in a pull after everybody holds, and
// before it wherever the job stands.
func (t *turn) rains() {
	t.act(Act{Do: DoReport, Path: "rain", Value: wording.Plain(t.in.Text)})
	t.holdNow()
	begun := t.listBegun()
	k := wording.StaleRain
	if again := t.reopenFor(calc.Rain); !again {
		k = wording.StaleRainNoted
	}
	say := func() { t.say(k, nil) }
	t.tellAllAndHere(false, say)
	if t.s.hold() != nil && (!t.s.Stage.needsPlan() || len(t.s.againNow()) == 0 && len(t.openItems()) == 0) {
		t.act(Act{Do: DoAnew}) // nothing else is asked first, and what was confirmed was seen before it rained
	}
	if t.s.Stage.Rigged() {
		t.replan()
		return
	}
	if begun {
		t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
	}
	if t.main() {
		t.next()
		return
	}
	t.inChat(t.s.leadChat(), t.next)
	t.ask()
}

// hourly reopens what time could have changed when the plan has become old,
// and reports whether it waits for that.
func (t *turn) hourly() bool {
	after, _ := handbook.StaleAfter()
	if t.s.Fresh == "" || t.since(t.s.Fresh) < lasts(after) {
		return false
	}
	if t.s.Held["hour"] != "" {
		if _, _, barred := t.barred(); barred {
			return true
		}
		t.act(Act{Do: DoFresh})
		t.act(Act{Do: DoHold, Path: "hour"})
		return false
	}
	t.holdNow()
	t.act(Act{Do: DoHold, Path: "hour", Value: "yes"})
	t.say(wording.StaleHour, wording.Args{"Total": int(t.since(t.s.Fresh).Minutes())})
	if !t.reopenFor(calc.Hour) {
		t.act(Act{Do: DoFresh})
		t.act(Act{Do: DoHold, Path: "hour"})
		return false
	}
	t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
	return true
}

// age says how old the plan is: by when it was reckoned, and where what it goes by was last
// asked in full before that, by how long ago that is.
func (t *turn) age() {
	if t.s.Fresh == "" {
		return
	}
	old := int(t.since(t.s.Fresh).Minutes())
	since := t.s.Reckoned
	if d := t.entry.Decided; d != nil && t.s.Found != nil && d.Digest != t.s.Found.Digest {
		since = t.entry.At // in this turn
	}
	if now := int(t.since(since).Minutes()); since > t.s.Fresh && now < old {
		t.say(wording.PullAgeAnew, wording.Args{"Total": now, "Number": old})
		return
	}
	t.say(wording.PullAge, wording.Args{"Total": old})
}

// pullPeople reopens what a change of people makes doubtful while the pull is
// under way: everybody holds, and who is there is counted again.
func (t *turn) pullPeople() {
	switch {
	case t.s.Stage.needsPlan():
		t.holdNow()
		t.reopenFor(calc.Person)
		t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
		if t.s.Stage == AllPlaced && !t.s.tight() { // who came has obeyed no stop yet
			t.act(Act{Do: DoStage, Cue: Redrills})
		}
	case t.s.Stage.Lies():
		t.holdNow()
	default:
		return
	}
	if t.s.hold() != nil {
		t.act(Act{Do: DoAnew})
	}
}

// quietFor is how long a hold point may wait for an answer before lead and
// coordinators are told.
const quietFor = 5 * time.Minute

// pullTick does what is due in the pull though nobody speaks.
func (t *turn) pullTick() {
	if t.s.State != Pulling {
		return
	}
	if t.s.Stage.needsPlan() && t.s.Stage != StopDrill && t.s.Held["hour"] == "" && t.hourly() {
		t.next()
		return
	}
	h := t.s.hold()
	if h == nil {
		return
	}
	if h.Stage == LightTension && t.lightLeft(h) == 0 && t.s.Held["minute"] != itoa(h.Number) {
		t.act(Act{Do: DoHold, Path: "minute", Value: itoa(h.Number)})
		if t.s.alone() && len(t.waitedFor()) == 0 {
			t.ask() // only the minute kept it from being released
		}
	}
	names := t.waitedFor()
	if h.Quiet || len(names) == 0 || t.since(h.At) < quietFor {
		return
	}
	t.act(Act{Do: DoQuiet, Value: itoa(h.Number)})
	t.tellsQuiet(names)
	if t.s.alone() {
		t.ask()
	}
}

// pullWake is when the job wants a turn for that; empty for never.
func (t *turn) pullWake() string {
	if t.s.State != Pulling {
		return ""
	}
	var due []string
	add := func(at string, after time.Duration) {
		if when, err := time.Parse(time.RFC3339, at); err == nil {
			due = append(due, when.Add(after).UTC().Format(time.RFC3339))
		}
	}
	if h := t.s.hold(); h != nil {
		if h.Stage == LightTension && t.s.Held["minute"] != itoa(h.Number) {
			held, _ := handbook.LightLoadHeld()
			add(h.At, lasts(held))
		}
		if !h.Quiet && len(t.waitedFor()) > 0 {
			add(h.At, quietFor)
		}
	}
	if t.s.Stage.needsPlan() && t.s.Stage != StopDrill && t.s.Held["hour"] == "" && t.s.Fresh != "" {
		after, _ := handbook.StaleAfter()
		add(t.s.Fresh, lasts(after))
	}
	if len(due) == 0 {
		return ""
	}
	return slices.Min(due)
}
