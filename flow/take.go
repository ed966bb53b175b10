package flow

import (
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// take works out what the input is and does it. A stop comes before all else.
func (t *turn) take() {
	if t.s != nil {
		t.stood0 = t.standing0()
		t.manning0, t.manned0, t.hurt0 = t.manning(), t.s.Code, t.hurtHere()
		t.moved0 = t.s.Stage.Moves()
		defer t.heardAgain()() // told after whatever they say, which may be a stop
		defer t.unreadAfter()()
	}
	switch {
	case t.in.Away:
		t.away()
	case t.stops() && t.left != nil:
		t.stopFromOutside()
	case t.stops() && !t.answersStop() && !t.answersDrill() && !(t.drillOn() && t.drillFailed(t.in.Text)) && !t.signsRule() && !t.ofTheStop() && !t.toldStopped() && !t.rulesEarly() && !t.saysPartBack():
		if t.s != nil {
			t.quits(t.in.Text)
		}
		t.halt()
	case t.left != nil:
		t.takeOutside()
	case t.in.Tick != "":
		t.tick()
	case t.outsideHere():
		t.takeOutsideHere()
	case t.in.Press != nil:
		t.pressed()
	case t.in.Other != "":
		t.other()
	case t.in.Edited && t.in.Other == OtherLocation && t.s != nil:
		t.note(t.in.Other) // a place that is kept up to date by the phone
		t.silent = true
	case t.in.Edited:
		t.remark(wording.RefuseEdited, nil)
	case len(t.in.Text) > longestText || !utf8.ValidString(t.in.Text):
		t.remark(wording.RefuseTooLong, nil)
	default:
		t.text()
	}
}

// stops reports whether the input calls a stop: its button, however old, or
// the word anywhere in a message, rewritten ones too.
func (t *turn) stops() bool {
	if t.in.Press != nil {
		return t.in.Press.Choice == choiceStop
	}
	return hear.Stops(t.in.Text)
}

// remark answers beside the job and asks the current question again.
func (t *turn) remark(k wording.Key, args wording.Args) {
	t.say(k, args)
	if t.s != nil {
		t.ask()
	}
}

// other answers what is not words. A picture or a place is kept, because it
// belongs to the moment; nothing is read out of it.
func (t *turn) other() {
	if t.strayed() {
		t.say(wording.DoorNotIn, nil)
		return
	}
	if t.s == nil {
		t.begin()
		t.to(firstTopics[0].name, People)
		t.replies, t.offers = t.replies[:len(t.replies)-1], nil
	}
	if !t.main() {
		t.otherAside()
		return
	}
	args := wording.Args{"Example": t.example()}
	switch t.in.Other {
	case OtherPhoto, OtherVideo:
		t.note(t.in.Other)
		t.remark(wording.ReadPhoto, args)
	case OtherLocation:
		t.note(t.in.Other)
		t.remark(wording.ReadLocation, nil)
	case OtherVoice:
		t.remark(wording.RefuseVoice, args)
	case OtherFile:
		if len(t.in.Files) > 0 {
			t.note(t.in.Other)
			t.remark(wording.ReadFile, nil)
			return
		}
		t.remark(wording.RefuseFile, args)
	default:
		t.remark(wording.RefuseFile, args)
	}
}

// otherAside does the same for a phone that is not asked the questions of the
// job. The lead and the coordinators are told that there is something to see.
func (t *turn) otherAside() {
	k := wording.ReadFile
	switch {
	case t.in.Other == OtherLocation:
	case len(t.in.Files) > 0, t.in.Other == OtherPhoto, t.in.Other == OtherVideo:
	default:
		t.remark(wording.RefuseFileAside, nil)
		return
	}
	t.note(t.in.Other)
	words := wording.Plain(t.in.Text)
	for _, chat := range t.s.chats(AsLead, AsCoordinator) {
		if chat == t.in.Chat {
			continue
		}
		t.inChat(chat, func() {
			if words == "" {
				t.say(wording.JoinSent, wording.Args{"Name": t.whoName()})
				return
			}
			t.say(wording.JoinSentWith, wording.Args{"Name": t.whoName(), "Text": words})
		})
	}
	t.remark(k, nil)
}

func (t *turn) note(text string) {
	if t.s != nil {
		t.act(Act{Do: DoNote, Value: text})
	}
}

// pressed does what a button says, if it is one of those that are up.
func (t *turn) pressed() {
	p := t.in.Press
	if t.s != nil && p.Session == t.s.Code && t.crewPress(p.Choice) {
		return
	}
	if t.s == nil || p.Session != t.s.Code || p.Revision != t.s.Shown[t.in.Chat] {
		t.notice = true
		t.say(wording.RefuseStaleShort, nil)
		return
	}
	if t.partingPress(p.Choice) {
		return
	}
	if act, ok := choiceActs[p.Choice]; ok && !t.offered(p.Choice) {
		if t.parting(p.Choice) {
			return
		}
		t.do(hear.Heard{Act: act})
		return
	}
	for _, o := range t.allChoices() {
		if o.choice == p.Choice {
			t.choose(o)
			return
		}
	}
	t.notice = true
	t.say(wording.RefuseStaleShort, nil)
}

// offered reports whether a choice is an answer to the current question.
func (t *turn) offered(choice string) bool {
	tp, ok := topicByName(t.s.Topic)
	if !ok {
		return false
	}
	for _, o := range tp.offers {
		if o.choice == choice {
			return true
		}
	}
	return false
}

// choiceActs are the buttons that say what a word says too.
var choiceActs = map[string]hear.Act{
	"how": hear.Help, "working": hear.Why, "skip": hear.Skip, "back": hear.Back,
	"so_far": hear.SoFar, "leave": hear.Leave, "new": hear.New, "go_on": hear.Yes,
}

// text takes what was written.
func (t *turn) text() {
	text := strings.TrimSpace(t.in.Text)
	if command, ok := strings.CutPrefix(text, "/"); ok {
		text = strings.ReplaceAll(command, "_", " ")
	}
	if told := hear.Amended(text); told != text && (t.s == nil || t.s.Stage == NotBegun) { // in a pull wait is no word in passing
		t.inWords(told, t.text)
		return
	}
	if t.s == nil {
		t.open(text)
		return
	}
	if m := t.me(); m != nil && t.comesBack() && !t.s.alone() && (!t.main() || t.s.State == Pulling) {
		t.backIn(*m)
		return
	}
	if t.drillTold(text) || t.foundTold(text) || t.laysAside(text) || t.partingWords(text) || t.goesOff(text) || t.unreadWords(text) || t.markWords(text) || t.betterWords(text) {
		return
	}
	if whole, ok := t.withUnit(text); ok {
		t.inWords(whole, t.text)
		return
	}
	if t.signsRule() {
		t.say(wording.SignerRuleStop, nil)
		t.sign(text, false)
		return
	}
	if t.rulesEarly() && !t.saysPartBack() {
		t.note(text)
		t.remark(wording.SignerRuleEarly, nil)
		return
	}
	if t.moreOf(text) || t.endNamed(text) || t.notes(text) || t.swapsWith(text) || t.shortAnswer(text) || t.typed(text) {
		return
	}
	if o, ok := t.byLabel(text); ok && t.main() && !t.itemsOn() && !t.seatAsked() {
		t.choose(o)
		return
	}
	if t.crewWords(text) {
		return
	}
	topic := hear.TopicNone
	if tp, ok := topicByName(t.s.Topic); ok && t.main() {
		topic = tp.heard()
	}
	if t.winchAnchored(text) || t.takesBack(text) || t.unties(text) || t.main() && t.unstamps(text) {
		return
	}
	if t.main() && (t.exchanges(text) || t.namesHoldPoint(text) || t.goodAgain(text)) || t.memberDiffers(text, topic) || t.main() && t.words(text) {
		return
	}
	if topic == hear.TopicTon {
		topic = t.whoseTon()
	} else if t.tonTold(text) || t.main() && (t.removes(text) || t.corrects(text)) {
		return
	}
	h := t.whoIsWho().Listen(text, topic)
	if t.supposes(text, h) {
		return
	}
	if t.asksWhyOf(text, h) {
		h = hear.Heard{Act: hear.Why}
	}
	if t.remarked(text, h) || t.aside(text, h) {
		return
	}
	if h.Act == hear.Greet && strings.HasPrefix(strings.ToLower(text), "start") {
		t.again()
		return
	}
	t.do(h)
}

// whyFirst is a question why a figure is as it is, with which somebody tells what they
// think it comes from.
var whyFirst = regexp.MustCompile(`(?i)^\W*(?:but |and |hey |ok )?(?:why|how come)\b[^?]*\?`)

// asksWhyOf reports whether a message asks why and tells nothing but figures that are
// there already: it changes nothing, unless one of them is what is asked.
func (t *turn) asksWhyOf(text string, h hear.Heard) bool {
	if len(h.Facts) == 0 || !whyFirst.MatchString(text) {
		return false
	}
	tp, _ := topicByName(t.s.Topic)
	return !slices.ContainsFunc(h.Facts, func(f hear.Fact) bool {
		_, told := t.s.Sheet.Get(f.Field)
		return slices.Contains(tp.fills, f.Field) && !told || !strings.HasSuffix(f.Field, "_from") && !(figureField(f.Field) && told)
	})
}

// whoIsWho is who is who in the job.
func (t *turn) whoIsWho() hear.Known {
	k := hear.Known{}
	if p := t.s.Sheet.Puller; p != nil {
		k.Puller, k.Kind, k.Hitch = p.Name, p.Kind, p.Hitch
	}
	if d := t.s.doer("driver"); d != nil && d.Member != "" {
		k.Drives = d.Member == t.in.Person.ID
	}
	for i, a := range t.s.Sheet.Anchors {
		k.Pieces = append(k.Pieces, hear.Piece{At: "anchors[" + itoa(i) + "]", Kind: a.Kind, Name: a.Name, Label: strings.ToLower(t.label("anchors", i))})
	}
	for i, g := range t.s.Sheet.Gear {
		k.Pieces = append(k.Pieces, hear.Piece{At: "gear[" + itoa(i) + "]", Kind: g.Kind, Name: g.Name, Label: strings.ToLower(t.label("gear", i)), Count: piecesOf(g)})
	}
	k.Called = func(word string) string {
		if notVehicle(word) {
			return ""
		}
		return t.ownerNamed(word)
	}
	return k
}

// tonNamed is how people name a ton at once when they read that it is not
// plain which they meant, and before it is asked.
var tonNamed = regexp.MustCompile(`(?i)^\W*(?:it'?s |that'?s |in |they'?re )?(?:metric|tonnes?|short tons?|long tons?|us tons?|uk tons?|american|imperial|british)\b`)

// cwtNamed is how they name a hundredweight.
var cwtNamed = regexp.MustCompile(`(?i)^\W*(?:it'?s |that'?s |an? |the )?(?:long|short|uk|us|old|(?:100|112) ?(?:lbs?|pounds?))(?: (?:one|ones|hundredweights?|cwt|cwts))?\W*$`)

// tonTold takes which ton it was, told before it is asked, with what else the
// message says.
func (t *turn) tonTold(text string) bool {
	if !t.main() || !t.tonOpen() || !tonNamed.MatchString(text) && !(t.hundredweights() && cwtNamed.MatchString(text)) {
		return false
	}
	h := t.whoIsWho().Listen(text, t.whoseTon())
	if h.Act != hear.Unit {
		return false
	}
	done := t.hearFacts(h, false)
	if tp, ok := topicByName(t.s.Topic); ok && t.answers(tp, done) {
		t.settle(tp.name, Told)
	}
	t.rest(h)
	t.whichTon(h.Object)
	return true
}

// whoseTon is the question which ton it was of the one weight that it was asked
// for, so that another figure is one for that.
func (t *turn) whoseTon() hear.Topic {
	load, puller := t.s.Held[heldTon+"load.mass"] != "", t.s.Held[heldTon+"puller.mass"] != ""
	switch {
	case load && !puller:
		return hear.TonOf("load.mass")
	case puller && !load:
		return hear.TonOf("puller.mass")
	}
	return hear.TopicTon
}

// allChoices are the buttons that the current question can have, whether or
// not they are up: a label says what a choice means all the same.
func (t *turn) allChoices() []offer {
	choices := t.choices()
	if tp, ok := topicByName(t.s.Topic); ok && !t.hub() {
		choices = append(choices, t.offersOf(tp)...)
	}
	return choices
}

// byLabel finds the button whose label was typed.
func (t *turn) byLabel(text string) (offer, bool) {
	for _, o := range t.allChoices() {
		label, err := t.e.Words.Say(t.units(), wording.Key("choice."+o.choice), nil)
		said := strings.Trim(text, "[]. ")
		if err == nil && (strings.EqualFold(said, label) || strings.EqualFold(said, strings.ReplaceAll(o.choice, "_", " ")) ||
			len(o.sets) == 1 && len(o.sets[0].value) > 2 && strings.EqualFold(said, o.sets[0].value)) {
			if _, isAct := choiceActs[o.choice]; isAct && !t.offered(o.choice) {
				return offer{}, false
			}
			return o, true
		}
	}
	return offer{}, false
}

// open begins a job with what was written, which may hold facts already.
func (t *turn) open(text string) {
	h := hear.Listen(text, hear.TopicNone)
	if t.chatWords(text, h) {
		return
	}
	t.begin()
	t.lowering(&h)
	t.hearFacts(h, false)
	if h.Act == hear.None {
		t.rest(h)
	}
	t.next()
}

// begin makes a job and puts the chat in it.
func (t *turn) begin() {
	t.s = newSession()
	if t.chat.kits != nil {
		t.s.Units = t.chat.units
	}
	code := t.e.newCode()
	t.act(Act{Do: DoBegin, Value: code})
	t.kept = append(t.kept, Act{Do: DoEnter, Value: code})
	t.say(wording.OpenHello, nil)
	t.say(wording.OpenCaution, nil)
	t.say(wording.OpenWords, nil)
}

// again answers a start in a job that is under way.
func (t *turn) again() {
	t.began = Spot{} // whoever comes back is asked in full
	switch {
	case len(t.s.Trail) == 0 && t.s.State == Start:
		t.say(wording.OpenHello, nil)
	case t.s.State == Halted && t.me() != nil && !t.s.alone():
		t.backIn(*t.me())
		return
	case t.s.State == Halted:
		t.stopOn()
	default:
		t.stopOn()
		t.fire(Leaves)
		t.act(Act{Do: DoAsk})
		t.say(wording.OpenAgain, wording.Args{"Code": t.s.Code})
	}
	t.ask()
}
