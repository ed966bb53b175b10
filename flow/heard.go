package flow

import (
	"maps"
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

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
	}
	if facts := t.inPassing(h.Facts); len(facts) < len(h.Facts) {
		if h.Facts = facts; len(facts) == 0 {
			t.remark(wording.PullNoChange, nil)
			return
		}
	}
	if t.lowering(&h) {
		t.ask()
		return
	}
	switch t.s.State {
	case Verdict, Referred, Pulling:
		if len(h.Facts) == 0 {
			if t.s.State != Verdict || isQuestion(strings.ToLower(t.in.Text)) || !t.doneSince(h) && !t.takenBack(h) && !t.unloaded() && !t.changesUnsaid() {
				t.miss(h.Rest)
			}
			return
		}
		if t.s.State == Pulling && t.toldWorse(h.Facts) {
			return
		}
		if t.s.State == Pulling {
			if h.Facts = inPulls(t.in.Text, h.Facts); len(h.Facts) == 0 {
				if !t.tellsDamage() {
					t.remark(wording.PullNoChange, nil)
				}
				return
			}
		}
		if t.s.State != Pulling && t.soundsGood(topic{}, &h) || t.slipped(topic{}, h) || t.outdone(topic{}, &h) || t.whichPiece(h) {
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
	if soundTopic(tp.name) && !t.hesitates() && t.goodAnswer(tp, h) && t.putBack(tp.name, t.lookTold(t.in.Text), Told, false) {
		return
	}
	if t.soundsGood(tp, &h) || t.heardSpecial(tp, &h) || t.slipped(tp, h) || t.onlyWeightBeside(h) && t.weightInPassing(t.in.Text) || t.outdone(tp, &h) || t.whichPiece(h) {
		return
	}
	amend := t.s.State == Amend
	before := t.written()
	done := t.hearFacts(h, amend)
	if t.err != nil {
		return
	}
	if len(done) > 0 && t.refers(h.Unread()) {
		return // whatever was asked: a hazard that is named ends the asking
	}
	if len(done) == 0 && t.unmoved {
		t.rest(h)
		t.staysBad(tp)
		return
	}
	if !t.answers(tp, done) && t.stamps {
		t.rest(h)
		t.next() // what is told twice is asked again at once
		return
	}
	if !t.answers(tp, done) {
		if len(done) == 0 && t.steeper(h.Rest) && t.unsettle(h) {
			t.say(wording.RefuseSteeper, nil)
			t.next()
			return
		}
		if len(done) == 0 && !t.doubts && len(t.passing) == 0 {
			if !t.weightInPassing(t.in.Text) && !t.someWeight(t.in.Text) {
				t.miss(h.Rest)
			}
			return
		}
		if t.written() == before { // nothing new: said often enough, buttons come
			t.act(Act{Do: DoMiss})
		}
		// Other things were said: they are noted, and the question stays.
		t.turned()
		t.rest(h)
		if !t.askDoubt(true) {
			t.ask()
		}
		return
	}
	if _, told := t.s.Sheet.Get(tp.fills0()); !told && tp.name != "" && !t.answers(tp, slices.DeleteFunc(slices.Clone(done), func(p string) bool { return strings.HasSuffix(p, "_from") })) && t.unitWanted(h.Unread()) {
		t.ask() // "phone says 12"
		return
	}
	t.rest(h)
	t.settle(tp.name, Told)
	t.next()
}

// unread are the fields of which a better old answer must not stand when a new
// one could not be read, and what tells that words are such an answer.
var unread = map[string]func(string) bool{
	"load.sunk":   regexp.MustCompile(`(?i)\b(deep|deeper|sunk|sink|sinks|sinking|sank|bogged|mired|buried)\b`).MatchString,
	"load.locked": func(rest string) bool { return wontTurn.MatchString(stuckOne.ReplaceAllString(rest, "")) },
	"load.slope":  func(rest string) bool { return hear.Steeper(rest, hear.TopicNone) },
}

// wontTurn are words that wheels do not turn, and stuckOne how the stuck vehicle is named,
// which says nothing of them.
var (
	wontTurn = regexp.MustCompile(`(?i)\b(jammed|locked|seized|stuck|dragging|brake|handbrake)\b`)
	stuckOne = regexp.MustCompile(`(?i)\b(?:the|our|his|her|their|that|my) stuck(?: \w+)?$|\b(?:the|our|his|her|their|that|my) stuck \w+`)
)

// parks is how people say of another vehicle that it is put somewhere: its brakes are
// to hold, and say nothing of the stuck one's wheels.
var parks = regexp.MustCompile(`(?i)\bpark(?:ed|s|ing)?\b`)

// topicOf is the question by which a field is asked.
func topicOf(field string) string {
	return map[string]string{"load.sunk": "sunk", "load.locked": "wheels", "load.slope": "slope"}[field]
}

// talkOnly is what people write beside what they tell and that tells nothing.
var talkOnly = regexp.MustCompile(`(?i)^(?:\W*\b(?:lol|ha+|haha|sorry|thanks?|thank you|cheers|ta|mate|pal|please|ok|okay|right|well|hi|hello|hey|yes|yep|yeah|no|for the wait|the wait|good|great|nice|` +
	`god|damn|bloody|man|love|dear|anyway|so|and|but|then|now|just|you know|i see|got it|will do|on it|no worries|all right|alright|all clear|all good|none|none of (?:these|those|them|that|it))\b)+\W*$`)

// bareHook is a hook that nothing is told of.
var bareHook = regexp.MustCompile(`(?i)\b(?:tow|towing|recovery) hooks?\b`)

// boardsUnder is how people say that the stuck vehicle's wheels stand on boards now.
var boardsUnder = regexp.MustCompile(`(?i)\b(?:boards|planks?|planking|sleepers|mats|matting)\b.*\b(?:under|beneath|below|laid|down|in (?:now|place))\b|\bon (?:the |some |thick )?(?:boards|planks|sleepers|mats)\b|\b(?:laid|put|placed|shoved) (?:\w+ ){0,3}(?:boards|planks?|planking|sleepers|mats|matting)\b`)

// boardsElse are boards that lie elsewhere than under the wheels of the stuck vehicle.
var boardsElse = regexp.MustCompile(`(?i)\b(?:chocks?|chocked|behind|pads?|padding|tree|trunk|edge|rope|not|to lay|can|could|will|would|if)\b`)

// boarded reports whether words say so. Under a puller's wheels nobody has said
// what boards do.
func (t *turn) boarded(words string) bool {
	return boardsUnder.MatchString(words) && !boardsElse.MatchString(words) && t.ownerIn(words) != "puller" && t.ownerNamed(words) != "puller" && !isQuestion(strings.ToLower(words))
}

// rest says what of a message was not read, unless it is plainly talk. It is
// the one place that decides so.
func (t *turn) rest(h hear.Heard) {
	t.unsettle(h)
	if t.asksOfDone(h) {
		// what is to be known of it is asked
	} else if t.steeper(h.Rest) {
		t.say(wording.RefuseSteeper, nil)
	} else if rest := h.Unread(); bareHook.MatchString(rest) {
		t.say(wording.RefuseHook, nil)
	} else if t.boarded(rest) {
		t.say(wording.ReadBoards, nil)
	} else if hear.ToCome(rest) {
		t.say(wording.RefuseToCome, nil)
	} else if far := stoodOff(rest); far != "" && tellsAnchor(h) {
		t.say(wording.RefuseHowFar, wording.Args{"Text": far})
	} else if _, looked := hear.LookedBy(rest); rest != "" && !talkOnly.MatchString(rest) && !(looked && (t.eyed || onlyLooked.MatchString(rest))) {
		t.say(wording.RefusePart, wording.Args{"Text": rest})
	}
}

// onlyLooked says that somebody looked, and nothing of what they saw.
var onlyLooked = regexp.MustCompile(`(?i)^\W*[\pL'’-]+\s+(?:(?:has|have|had|also|just|now)\s+)*(?:looked|checked|inspected|examined|went over|had a (?:good |close )?look)(?:\s+(?:it|them|at|over|again|too|all|both|as well|of|that|this|the \w+))*\W*$|^\W*(?:(?:was|is|it|its|it'?s|they|all|been|has)\s+)*(?:looked (?:at|over)|checked|inspected|examined)(?:\s+(?:over|again))*\s+by\s+[\pL'’-]+\W*$`)

// steeper reports whether words that were not read say that a part of the way is steeper.
func (t *turn) steeper(rest string) bool {
	topic := hear.TopicNone
	if tp, ok := topicByName(t.s.Topic); ok {
		topic = tp.heard()
	}
	return t.ownerIn(rest) != "puller" && hear.Steeper(rest, topic)
}

// takenBack reopens, after the plan, what is told anew in words that were not
// read: "it's sinking" is no reason to go on by what stood.
func (t *turn) takenBack(h hear.Heard) bool {
	if !slices.ContainsFunc(slices.Collect(maps.Keys(unread)), func(field string) bool {
		_, told := t.s.Sheet.Get(field)
		return told && unread[field](h.Rest)
	}) {
		return false
	}
	t.fire(Reopens)
	t.act(Act{Do: DoAsk})
	t.rest(h)
	t.next()
	return true
}

// unsettle takes back what stood of a thing that was told again and not
// understood, and reports whether there was any.
func (t *turn) unsettle(h hear.Heard) (done bool) {
	for _, field := range slices.Sorted(maps.Keys(unread)) {
		about := unread[field]
		if was, told := t.s.Sheet.Get(field); told && about(h.Rest) && !(field == "load.locked" && t.letOff(h.Rest)) && !(field == "load.locked" && parks.MatchString(h.Rest)) && !slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return f.Field == field }) {
			// It was said again and not understood: what was said before stands no more.
			t.act(Act{Do: DoSet, Path: field, Was: was, How: Told})
			t.act(Act{Do: DoReopen, Topic: topicOf(field)})
			done = true
		}
	}
	return done
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
		case tp.name == "puller" && strings.HasPrefix(path, "puller."), tp.name == "wheel_radius" && path == "load.lip":
			return true
		case tp.name == "anchor" && strings.HasPrefix(path, "anchors["):
			return true
		case tp.state == AtGear && strings.HasPrefix(path, "gear[") && !strings.Contains(tp.name, "["):
			return true
		case tp.name == "ground" && path != "load.ground", tp.name == "puller.slope" && path == "puller.pull" && t.slopeOpen():
			continue
		case slices.Contains(tp.fills, path):
			return true
		case tp.name == strings.TrimSuffix(path, "_kind"):
			return true
		}
	}
	return false
}

// slopeOpen reports whether the puller is known to go up or down a slope and not how
// steep that is.
func (t *turn) slopeOpen() bool {
	_, told := t.s.Sheet.Get("puller.slope")
	way, _ := t.s.Sheet.Get("puller.pull")
	return !told && way != "level"
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
	if t.repliesLast() {
		return
	}
	if t.dangerTold() {
		return
	}
	if t.drillOn() && t.isLead() {
		t.say(t.forPuller(wording.DrillUnclear), nil)
		t.ask()
		return
	}
	t.act(Act{Do: DoMiss})
	k := wording.RefuseMiss
	if t.s.Topic == "mass" && figures(rest) > 1 {
		k = wording.RefuseSum // a weight in parts
	}
	if bareHook.MatchString(rest) {
		k = wording.RefuseHook
	}
	if hear.ToCome(rest) {
		k = wording.RefuseToCome
	}
	if t.boarded(rest) {
		k = wording.ReadBoards
	}
	if t.steeper(rest) {
		k = wording.RefuseSteeper
	}
	if soundTopic(t.s.Topic) && t.s.Topic != firstTopics[0].name && onlyLooked.MatchString(t.in.Text) {
		k = wording.RefuseLooked
	}
	if k != wording.RefuseSteeper && t.s.Misses >= missesForButtons && len(t.choices()) > 0 {
		k = wording.RefuseMisses
	} else if k == wording.RefuseMiss && t.unitWanted(t.in.Text) {
		t.ask()
		return
	}
	t.say(k, wording.Args{"Example": t.example()})
	if text := t.standing(t.s.Topic); text != "" && t.amending(t.s.Topic) {
		t.say(wording.RefuseStays, wording.Args{"What": t.whatChanges(t.s.Topic), "Text": text})
	}
	t.ask()
}

// dangerTold takes what a message tells of danger where it answers nothing and no line lies
// yet: that is no answer that could not be read. It is noted, and what is done at once is said.
func (t *turn) dangerTold() bool {
	if t.s.Stage.Lies() || t.in.Press != nil || soundTopic(t.s.Topic) { // there it is put back with the next answer
		return false
	}
	k := wording.RefuseDanger
	if _, seen := t.sight(t.in.Text); !seen {
		d, told := t.tellsOf(t.in.Text, hear.Near, hear.Drink, hear.Brake, hear.Unbraked, hear.Inside)
		if !told {
			return false
		}
		if d.Kind == hear.Drink {
			k = wording.RefuseDrunk
		}
	}
	t.note(t.in.Text)
	t.say(k, wording.Args{"Text": wording.Plain(t.in.Text)})
	t.ask()
	return true
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
