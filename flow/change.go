package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// back takes up the last answer again. From a change that was begun it goes
// back to where the job stood, and the answer stays.
func (t *turn) back() {
	if t.s.State == Away || t.s.State == Halted {
		t.remark(wording.RefuseNotHere, nil)
		return
	}
	if t.s.State == Pulling {
		t.remark(wording.PullNoBack, nil)
		return
	}
	if t.s.State == Amend && (t.s.Held[heldAmend] != "" || t.s.Topic == "which") {
		t.unchanged()
		return
	}
	if t.s.State == Signing && t.s.Topic != "sign_name" { // to its own first question
		id := t.s.Held["sign"]
		for _, k := range signHeld {
			t.act(Act{Do: DoHold, Path: k})
		}
		t.needSign(id)
		return
	}
	trail := t.s.Trail
	for i, spot := range trail {
		if spot.Topic == t.s.Topic { // it is being answered again
			trail = trail[:i]
			break
		}
	}
	for len(trail) > 0 && t.s.Settled[trail[len(trail)-1].Topic] == "" {
		trail = trail[:len(trail)-1] // what a change left without an answer
	}
	if len(trail) == 0 || !t.s.alone() && strings.HasPrefix(trail[len(trail)-1].Topic, "site.") { // what others saw is theirs to answer
		t.remark(wording.RefuseBackNone, nil)
		return
	}
	t.reopen(trail[len(trail)-1].Topic)
}

// reopen asks a topic again. What it filled stays until there is a new answer.
func (t *turn) reopen(name string) {
	tp, ok := topicByName(name)
	if !ok {
		t.remark(wording.RefuseNotHere, nil)
		return
	}
	t.fire(Reopens)
	t.act(Act{Do: DoReopen, Topic: name})
	t.act(Act{Do: DoAsk, Topic: name})
	if text := t.valueOf(tp); text != "" {
		what := t.name(name)
		if c, ok := siteCheckOf(strings.TrimPrefix(name, "site.")); ok && strings.HasPrefix(name, "site.") {
			what, text = t.itemAnswer(c) // its value is no word for people
		}
		t.say(wording.ReadWord, wording.Args{"What": what, "Text": text})
	}
	t.ask()
}

// change takes up an earlier answer by its name. With the new value in the
// same message it is done at once.
func (t *turn) change(h hear.Heard) {
	if t.s.State == Away || t.s.State == Halted || t.s.State == Closed {
		t.remark(wording.RefuseNotHere, nil)
		return
	}
	if t.changesNumbered() {
		return
	}
	number := strings.ContainsAny(h.Value, "0123456789")
	if h.Object == "people" && ofTheCrew.MatchString(t.in.Text) && (number || h.Value == "" && t.s.Sheet.Crew != nil && t.s.State != Referred) {
		h.Object = "crew" // not the hazards among which people were asked for first
	}
	if m := minusSign.FindStringSubmatch(t.in.Text); m != nil && number {
		t.say(wording.RefuseMinus, wording.Args{"Text": strings.TrimSpace(m[1])})
		h.Value = "" // it is asked for
	}
	switch names := t.changeable(h.Object); len(names) {
	case 0:
		t.whichAnswer(h.Rest)
	case 1:
		t.amend(t.thickness(names[0], h.Value), h.Value, h.Old)
	default:
		t.which(names, h.Value, h.Old)
	}
}

// ofTheCrew is how the crew is meant where one is named.
var ofTheCrew = regexp.MustCompile(`(?i)\b(people|persons|crew|men|hands)\b`)

// heldAmend is what is being changed and how it stood, for who thinks better
// of it; heldPiece the piece that an answer is about.
const (
	heldAmend = "amend"
	heldPiece = "piece"
)

// amend opens the answer called name, which may be that of one piece, and
// takes value as the new one.
func (t *turn) amend(name, value, old string) {
	t.fire(Reopens)
	if t.s.Held[heldDoubtOf] != "" && strings.HasSuffix(name, "]") {
		t.settleDoubt(name)
		return
	}
	if t.s.Held[heldRemove] != "" && strings.HasSuffix(name, "]") {
		t.unwhich()
		t.without([]string{name})
		t.next()
		return
	}
	t.unwhich()
	if field := t.stateOf(name, value); field != "" { // "change oak dead"
		t.amend(field, value, old)
		return
	}
	if at, _, ok := strings.Cut(name, "]"); ok && !strings.Contains(name, ".") {
		t.act(Act{Do: DoHold, Path: heldPiece, Value: at + "]"})
		name = t.pieceTopic(at + "]")
	}
	t.amends(name)
	if value == "" {
		if text := t.standing(name); text != "" {
			t.say(wording.ReadWord, wording.Args{"What": t.whatChanges(name), "Text": text})
		}
		t.ask()
		return
	}
	if at, is := t.conditionOf(name, value); is { // block, condition good, Gary checked it
		t.amend(at+".condition", value, old)
		return
	}
	if name == firstTopics[0].name || name == "mass" || name == "slope" {
		value = t.withLook(value)
		t.lookText = t.in.Text
	}
	t.inWords(value, func() {
		if o, ok := t.byLabel(value); ok {
			t.choose(o)
			return
		}
		tp, _ := topicByName(name)
		h := t.whoIsWho().Listen(value, tp.heard())
		if name == "holding_point" && samePoint.MatchString(value) {
			h.Act = hear.None // not as in the last job
		}
		switch h.Act {
		case hear.None, hear.Yes, hear.No, hear.Skip, hear.Unit, hear.Stop:
			t.do(h)
		default:
			t.miss(value)
		}
	})
}

// stateOf returns the answer on the state of an anchor that is changed, where a value tells
// nothing else of it: that it is dead, or leans. Empty where it does.
func (t *turn) stateOf(at, value string) string {
	if !strings.HasPrefix(at, "anchors[") || !strings.HasSuffix(at, "]") || value == "" || !isState(strings.Fields(strings.ToLower(value)), []string{at}) {
		return ""
	}
	for _, field := range []string{at + ".alive", at + ".lean"} {
		if slices.ContainsFunc(t.whoIsWho().Listen(value, hear.Topic(field)).Facts, func(f hear.Fact) bool { return f.Field == field }) {
			return field
		}
	}
	return ""
}

// amends opens an answer to be changed, and asks it.
func (t *turn) amends(name string) {
	if how := t.s.Settled[name]; how != "" {
		held := t.s.Held[heldAmend]
		if held != "" {
			held += " "
		}
		t.act(Act{Do: DoHold, Path: heldAmend, Value: held + name + "=" + string(how)})
		t.act(Act{Do: DoReopen, Topic: name})
	} else if t.s.Held[heldAmend] == "" {
		t.act(Act{Do: DoHold, Path: heldAmend, Value: name + "="})
	}
	t.act(Act{Do: DoAsk, Topic: name})
}

// conditionOf returns the piece of which only the condition is changed, where there is
// one of that kind.
func (t *turn) conditionOf(kind, value string) (at string, is bool) {
	if !conditionFirst.MatchString(value) {
		return "", false
	}
	for i, g := range t.s.Sheet.Gear {
		if g.Kind != kind || strings.HasPrefix(t.s.Held[heldPiece], "gear[") && t.s.Held[heldPiece] != "gear["+itoa(i)+"]" {
			continue
		}
		if at != "" {
			return "", false
		}
		at = "gear[" + itoa(i) + "]"
	}
	return at, at != "" && slices.ContainsFunc(t.whoIsWho().Listen(value, hear.Topic(at+".condition")).Facts, func(f hear.Fact) bool { return f.Field == at+".condition" })
}

// conditionFirst are words of the condition and of nothing before it.
var conditionFirst = regexp.MustCompile(`(?i)^\W*(?:the )?(?:condition\b|state\b|(?:is )?(?:now )?(?:good|sound|fine|ok|damaged|undamaged)\b)`)

// inWords takes a part of the message as if it were all of it.
func (t *turn) inWords(text string, do func()) {
	whole := t.in.Text
	t.in.Text = text
	do()
	t.in.Text = whole
}

// unchanged leaves a change that was begun: what stood stands, and the job
// goes on where it was.
func (t *turn) unchanged() {
	t.unwhich()
	for _, a := range strings.Fields(t.s.Held[heldAmend]) {
		if name, how, _ := strings.Cut(a, "="); how != "" {
			t.act(Act{Do: DoSettle, Topic: name, How: How(how)})
		}
	}
	t.amended("")
	t.say(wording.ReadUnchanged, nil)
	if t.askDoubt(true) {
		return
	}
	t.resume()
}

// amended notes that a change has its answer; with no name, all of them.
func (t *turn) amended(name string) {
	held := t.s.Held[heldAmend]
	if held == "" {
		return
	}
	left := slices.DeleteFunc(strings.Fields(held), func(a string) bool {
		of, _, _ := strings.Cut(a, "=")
		return name == "" || of == name
	})
	t.act(Act{Do: DoHold, Path: heldAmend, Value: strings.Join(left, " ")})
	if t.s.Held[heldPiece] != "" {
		t.act(Act{Do: DoHold, Path: heldPiece})
	}
}

// amending reports whether name is being changed.
func (t *turn) amending(name string) bool {
	return slices.ContainsFunc(strings.Fields(t.s.Held[heldAmend]), func(a string) bool {
		of, _, _ := strings.Cut(a, "=")
		return of == name
	})
}

// written counts what the turn has put on the sheet that is new there.
func (t *turn) written() int {
	n := 0
	for _, a := range t.entry.Acts {
		if a.Do == DoSet && a.Value != a.Was {
			n++
		}
	}
	return n
}

// standing says what the answer is that may be changed.
func (t *turn) standing(name string) string {
	if at := t.s.Held[heldPiece]; at != "" {
		list, n := pieceAt(at)
		fields := gearFields
		if list == "anchors" {
			fields = anchorFields
		}
		return t.pieceLine(list, n, fields, nil)
	}
	tp, _ := topicByName(name)
	return t.valueOf(tp)
}

// whatChanges says what is being changed: of one of several pieces, which.
func (t *turn) whatChanges(name string) string {
	tp, _ := topicByName(name)
	if list, n, ok := tp.piece(); ok {
		return t.sayingWith(wording.ReadOfPiece, wording.Args{"Name": t.label(list, n), "What": t.name(name)})
	}
	return t.name(name)
}

// leave keeps everything and lets go.
func (t *turn) leave() {
	t.fire(Leaves)
	t.act(Act{Do: DoAsk})
	t.say(wording.OpenAgain, wording.Args{"Code": t.s.Code})
	if lead := t.s.Lead.Name; t.isLead() {
		k := wording.JoinLeadLets
		if t.s.tight() {
			k = wording.JoinLeadLetsTight
		}
		t.tellAll(t.s.Stage.Lies(), func() { t.say(k, wording.Args{"Name": lead}) })
	}
	t.ask()
}

// fresh begins another job. The one before stays in its log: closed where it
// was said how the load is left, else left where it stood.
func (t *turn) fresh() {
	if t.s.Stage.Lies() && t.s.State != Closed && !t.s.alone() {
		t.remark(wording.JoinBound, wording.Args{"Code": t.s.Code})
		return
	}
	switch t.s.State {
	case Closed:
	case Verdict, Referred:
		if t.s.Stage.Lies() || t.s.Past["rests"] == "" { // to be come back to
			t.fire(Leaves)
			t.act(Act{Do: DoAsk})
			break
		}
		t.fire(Closes)
		t.act(Act{Do: DoAsk})
	default:
		t.fire(Leaves)
		t.act(Act{Do: DoAsk})
	}
	t.turnPage()
	t.begin()
	t.next()
}

// turnPage ends the turn's part in the job that the chat was in.
func (t *turn) turnPage() {
	if t.err != nil {
		return
	}
	w, err := t.write()
	if err != nil {
		t.err = err
		return
	}
	t.before = append(t.before, w)
	t.over = append(t.over, t.settles(t.in.Chat, true)...)
	t.entry = newEntry(t.in)
	t.onlyHold()
	t.known = false
}

// thickness returns the question of how thick a tree or a stump is where that is all that
// it is changed to: "change oak 45 cm" is the same oak.
func (t *turn) thickness(name, value string) string {
	kind, _ := t.s.Sheet.Get(name + ".kind")
	if kind != "tree" && kind != "stump" {
		return name
	}
	field := name + ".diameter"
	facts := t.whoIsWho().Listen(value, hear.Topic(field)).Facts
	if len(facts) != 1 || facts[0].Field != field {
		return name
	}
	return field
}
