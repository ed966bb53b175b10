package flow

import (
	"maps"
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// words takes the few words that belong to the moment rather than to the
// message, and reports whether it did.
func (t *turn) words(text string) bool {
	low := strings.ToLower(strings.Trim(text, " .!"))
	switch low {
	case "that's all", "thats all", "that is all", "nothing else", "no more", "all of it", "done":
		if t.s.State == AtGear || t.s.Topic == "names" {
			t.choose(offer{choice: "done"})
			return true
		}
	case "checks", "check", "check list", "checklist", "the checks":
		t.startChecks()
		return true
	case "close", "finish", "finished", "job done", "all done":
		if t.s.Stage.Lies() && (t.s.State == Verdict || t.s.State == Referred) {
			t.remark(wording.PullStillOn, nil)
			return true
		}
		if t.s.State == Verdict || t.s.State == Referred {
			t.close()
			return true
		}
	case "card":
		if t.s.State == Referred {
			t.refer(t.plan(), hazards(t.s.Sheet))
			t.ask()
			return true
		}
	case "plan", "the plan", "show plan":
		if p := t.plan(); p != nil && t.s.Figured && t.s.State != Referred {
			t.showWhole(p)
			return true
		}
	}
	if name, ok := strings.CutPrefix(low, "save kit"); ok {
		t.saveKit(strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(name), "as ")))
		return true
	}
	return t.putRight(text) || t.freeText(text)
}

// freeText takes a message at the questions where any words are an answer.
func (t *turn) freeText(text string) bool {
	if !t.closing() && t.s.State != Signing && t.s.Topic != "names" && t.s.Topic != "second_look" && t.s.Topic != "kit_name" && t.s.State != Halted {
		return false
	}
	h := hear.Listen(text, hear.TopicText)
	switch h.Act {
	case hear.Help, hear.Why, hear.Back, hear.SoFar, hear.Leave, hear.New, hear.Words, hear.Note, hear.Change, hear.Skip, hear.Kit, hear.Greet:
		return false
	}
	switch {
	case t.s.State == Halted && t.inStop(text):
	case t.s.State == Halted:
		t.resumeHalted(text)
	case t.closing():
		t.leavesAs(text)
	case t.s.State == Signing:
		t.sign(text, h.Act == hear.No)
	case t.s.Topic == "names" && t.in.Group && !t.isLead():
		t.miss("") // whatever the others talk about is nobody's name
	case t.s.Topic == "names":
		t.names(text)
	case t.s.Topic == "second_look":
		t.looked(text)
	default:
		t.saveKit(text)
	}
	return true
}

// do does what the person wants, or takes the message as an answer.
func (t *turn) do(h hear.Heard) {
	switch h.Act {
	case hear.Stop:
		t.halt()
	case hear.Help, hear.Why:
		if len(h.Facts)+len(h.Cleared) > 0 && !t.hub() {
			t.answered(h)
			return
		}
		if h.Act == hear.Help {
			t.how()
		} else {
			t.why()
		}
	case hear.Skip:
		t.skip()
	case hear.Back:
		if t.closing() {
			t.leavesAs("back")
			return
		}
		t.back()
	case hear.Change:
		t.change(h)
	case hear.SoFar:
		t.soFar()
		t.ask()
	case hear.Leave:
		if m := t.me(); m != nil && t.in.Group && !t.isLead() {
			t.gone(*m) // one of a group; the job stays
			t.ask()
			return
		}
		t.leave()
	case hear.New:
		t.fresh()
	case hear.Words:
		t.remark(wording.HelpWords, nil)
		t.insert(wording.HelpCrew)
		t.insert(wording.HelpShow)
		t.insert(wording.HelpMore)
	case hear.Greet:
		t.ask()
	case hear.Note:
		t.note(h.Object)
		t.remark(wording.ReadNoted, nil)
	case hear.Kit:
		t.kitWord(h.Object)
	case hear.Same:
		t.same()
	case hear.Sum:
		t.quickSum(h.Object)
		t.ask()
	default:
		t.heard(h)
	}
}

// insert puts a paragraph before the last one.
func (t *turn) insert(k wording.Key) {
	n := len(t.replies) - 1
	t.replies = slices.Insert(t.replies, max(n, 0), reply{key: k})
}

// how says how to find the answer out, and why says what it changes.
func (t *turn) how() {
	if t.s.Topic == "slope" && !t.hub() {
		t.say(wording.HowSlope, nil)
		t.ask()
		t.offers = append([]offer{{choice: "level"}, {choice: "board"}}, t.offers...)
		return
	}
	if c, ok := t.walkedItem(); ok {
		t.aboutItem(c, true)
		return
	}
	t.remark(t.about("how"), nil)
}

func (t *turn) why() {
	if t.s.State == Verdict {
		t.reasons()
		return
	}
	if c, ok := t.walkedItem(); ok {
		t.aboutItem(c, false)
		return
	}
	t.remark(t.about("why"), nil)
}

// answered takes an answer that has a question behind it, and answers that
// too: why this is asked, or how the next is found out.
func (t *turn) answered(h hear.Heard) {
	asked, act := t.s.Topic, h.Act
	why := t.about("why")
	h.Act = hear.None
	t.heard(h)
	if t.err != nil || t.hub() || len(t.replies) == 0 {
		return
	}
	switch {
	case act == hear.Why:
		t.insert(why)
	case t.s.Topic == asked || t.s.Settled[asked] != "":
		t.insert(t.about("how"))
	}
}

// about returns the key of a section for where the job stands.
func (t *turn) about(section string) wording.Key {
	s := t.s
	switch s.State {
	case Referred, Halted, Away, Closed, Verdict, Pulling, Debrief:
		return wording.Key(section + "." + string(s.State))
	}
	if _, ok := topicByName(s.Topic); ok {
		return t.ofKind1(section, s.Topic)
	}
	return wording.Key(section + "." + string(Amend))
}

// skip takes the careful value for what nobody knows, and says so.
func (t *turn) skip() {
	tp, ok := topicByName(t.s.Topic)
	switch {
	case t.s.State == Signing:
		t.remark(wording.RefuseSkipSign, nil)
		return
	case !ok || t.hub():
		t.remark(wording.RefuseNotHere, nil)
		return
	case tp.noskip:
		t.remark(wording.RefuseSkipPeople, nil)
		return
	}
	if t.skipSpecial(tp) {
		return
	}
	var changes []change
	for _, s := range tp.skip {
		changes = append(changes, change{set: s, how: Skipped})
	}
	t.put(quiet(changes, tp.name != "mass" && tp.name != "slope"))
	switch {
	case len(changes) == 0:
		t.say(wording.ReadUnasked, wording.Args{"What": t.name(tp.name)})
	case tp.name != "mass" && tp.name != "slope":
		t.say(wording.ReadSkipped, wording.Args{"What": t.name(tp.name), "Text": t.word(changes[0].path, changes[0].value)})
	}
	t.settle(tp.name, Skipped)
	if tp.name == "names" {
		t.propose(t.everyone(nil))
	}
	t.next()
}

// quiet marks changes that were read back already.
func quiet(changes []change, yes bool) []change {
	for i := range changes {
		changes[i].quiet = yes
	}
	return changes
}

// hub reports whether the job stands where nothing is asked of the sheet.
func (t *turn) hub() bool {
	switch t.s.State {
	case Referred, Halted, Away, Closed, Verdict:
		return true
	}
	return false
}

// heard takes a message as an answer to the current question, with whatever
// else it says.
func (t *turn) heard(h hear.Heard) {
	switch t.s.State {
	case Away:
		t.comeBack(h)
		return
	case Closed:
		t.remark(wording.RefuseNotHere, nil)
		return
	case Verdict, Referred, Pulling:
		if len(h.Facts) == 0 {
			t.miss(h.Rest)
			return
		}
		if t.s.State == Pulling {
			if h.Facts = inPulls(t.in.Text, h.Facts); len(h.Facts) == 0 {
				t.remark(wording.PullNoChange, nil)
				return
			}
		}
		if t.slipped(topic{}, h) || t.outdone(topic{}, &h) || t.whichPiece(h) {
			return
		}
		if len(t.number(t.ofPieces(h.Facts), false)) == 0 {
			t.miss(h.Rest) // a piece that is there, named in passing
			return
		}
		// A fact after the plan is a change of it.
		t.fire(Reopens)
		t.act(Act{Do: DoAsk})
		t.hearFacts(h, false)
		t.rest(h)
		t.next()
		return
	}
	tp, ok := topicByName(t.s.Topic)
	if !ok {
		t.miss(h.Rest)
		return
	}
	if t.heardSpecial(tp, h) || t.slipped(tp, h) || t.outdone(tp, &h) || t.whichPiece(h) {
		return
	}
	amend := t.s.State == Amend
	before := t.written()
	done := t.hearFacts(h, amend)
	if t.err != nil {
		return
	}
	if len(done) > 0 && t.refers() {
		return // whatever was asked: a hazard that is named ends the asking
	}
	if !t.answers(tp, done) {
		if len(done) == 0 && !t.doubts {
			t.miss(h.Rest)
			return
		}
		if t.written() == before { // nothing new: said often enough, buttons come
			t.act(Act{Do: DoMiss})
		}
		// Other things were said: they are noted, and the question stays.
		t.turned()
		t.rest(h)
		t.ask()
		return
	}
	t.rest(h)
	t.settle(tp.name, Told)
	t.next()
}

// unread are the fields of which a better old answer must not stand when a new
// one could not be read, and the words that such an answer has.
var unread = map[string]*regexp.Regexp{
	"load.sunk":   regexp.MustCompile(`(?i)\b(deep|sunk|sink|sinks|sank|bogged|mired|buried)\b`),
	"load.locked": regexp.MustCompile(`(?i)\b(jammed|locked|seized|stuck|dragging|brake|handbrake)\b`),
}

// topicOf is the question by which a field is asked.
func topicOf(field string) string {
	return map[string]string{"load.sunk": "sunk", "load.locked": "wheels"}[field]
}

// talkOnly is what people write beside what they tell and that tells nothing.
var talkOnly = regexp.MustCompile(`(?i)^(?:\W*\b(?:lol|ha+|haha|sorry|thanks?|thank you|cheers|ta|mate|pal|please|ok|okay|right|well|hi|hello|hey|yes|yep|yeah|no|for the wait|the wait|good|great|nice|` +
	`god|damn|bloody|man|love|dear|anyway|so|and|but|then|now|just|you know|i see|got it|will do|on it|no worries|all right|alright|all clear|all good|none|none of (?:these|those|them|that|it))\b)+\W*$`)

// rest says what of a message was not read, unless it is plainly talk. It is
// the one place that decides so.
func (t *turn) rest(h hear.Heard) {
	for _, field := range slices.Sorted(maps.Keys(unread)) {
		about := unread[field]
		if was, told := t.s.Sheet.Get(field); told && about.MatchString(h.Rest) && !slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return f.Field == field }) {
			// It was said again and not understood: what was said before stands no more.
			t.act(Act{Do: DoSet, Path: field, Was: was, How: Told})
			t.act(Act{Do: DoReopen, Topic: topicOf(field)})
		}
	}
	if rest := h.Unread(); rest != "" && !talkOnly.MatchString(rest) {
		t.say(wording.RefusePart, wording.Args{"Text": rest})
	}
}

// answers reports whether the paths that were written answer tp.
func (t *turn) answers(tp topic, done []string) bool {
	if tp.name == "lip" && t.s.Held["load.lip.height"] != "" {
		return true
	}
	for _, path := range done {
		switch {
		case t.amending(tp.name) && (slices.Contains(tp.fills, path) || belongsTo(path, tp.fills)):
			return true
		case tp.name == "puller" && strings.HasPrefix(path, "puller."):
			return true
		case tp.name == "anchor" && strings.HasPrefix(path, "anchors["):
			return true
		case tp.state == AtGear && strings.HasPrefix(path, "gear[") && !strings.Contains(tp.name, "["):
			return true
		case tp.name == "ground" && path != "load.ground":
			continue
		case slices.Contains(tp.fills, path):
			return true
		case tp.name == strings.TrimSuffix(path, "_kind"):
			return true
		}
	}
	return false
}

// miss says that the words can't be read as an answer: once with an example,
// after three in a row with the choices as buttons.
func (t *turn) miss(rest string) {
	if t.in.Group && !t.in.Direct {
		// People talk to each other in a group; what is not an answer and
		// not meant for the program gets none.
		t.silent = true
		return
	}
	t.act(Act{Do: DoMiss})
	k := wording.RefuseMiss
	if t.s.Topic == "mass" && figures(rest) > 1 {
		k = wording.RefuseSum // a weight in parts
	}
	if t.s.Misses >= missesForButtons && len(t.choices()) > 0 {
		k = wording.RefuseMisses
	}
	t.say(k, wording.Args{"Example": t.example()})
	if text := t.standing(t.s.Topic); text != "" && t.amending(t.s.Topic) {
		t.say(wording.RefuseStays, wording.Args{"What": t.whatChanges(t.s.Topic), "Text": text})
	}
	t.ask()
}

// figures counts the words that hold a digit.
func figures(text string) int {
	n := 0
	for _, word := range strings.Fields(text) {
		if strings.ContainsAny(word, "0123456789") {
			n++
		}
	}
	return n
}

// comeBack goes on with a job that was left. An answer to the question that
// it was left at is taken at once.
func (t *turn) comeBack(h hear.Heard) {
	if h.Act == hear.No && len(h.Facts) == 0 {
		t.fresh()
		return
	}
	on := slices.Contains([]string{"go on", "continue", "carry on"}, strings.ToLower(strings.Trim(t.in.Text, " .!/")))
	if h.Act != hear.Yes && !on && len(h.Facts) == 0 {
		t.miss(h.Rest)
		return
	}
	t.resume()
	if len(h.Facts) > 0 && t.s.State != Halted {
		t.replies = nil
		t.heard(h)
	}
}

// resume goes back to where the job stood before it was left or halted.
func (t *turn) resume() {
	if t.s.stop() != nil { // it was left in the middle of a stop, which is still on
		t.fire(Stops)
		t.act(Act{Do: DoAsk})
		t.ask()
		return
	}
	from := t.s.From
	switch from.State {
	case Pulling, Debrief:
		t.resumePull(from.State)
	case Verdict:
		t.fire(Decided)
		t.act(Act{Do: DoAsk})
		t.ask()
	case Referred:
		t.fire(Refers)
		t.act(Act{Do: DoAsk})
		t.ask()
	case "":
		t.next()
	default:
		t.to(from.Topic, from.State)
	}
}
