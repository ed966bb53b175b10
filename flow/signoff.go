package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What fails and may be signed for takes two people by name and a reason. The
// lead says who. Whoever of them has a phone in the job is asked there for their
// own word, with what it is about and why: it counts once they have said yes, and
// a no of either leaves it unsigned. Somebody of the crew without a phone is asked aloud,
// and the lead, who hears them, gives the answer; of others the lead's word is all there is,
// and the report says so.

// A Put is what one of those who are to sign was asked on their own phone.
type Put struct {
	Number int // so that a button of an earlier asking does nothing
	Member string
	Name   string
	Check  string
	Why    string // what fails, as it was said
	Reason string
	Text   string // the very words
	At     string
	Said   string // when they said yes; empty before
}

// aloud stands before the name of somebody without a phone, in the place of a member.
const aloud = "aloud:"

// isAloud reports whether it is asked by voice, and answered on the lead's phone.
func (p Put) isAloud() bool { return strings.HasPrefix(p.Member, aloud) }

// id names what is asked of them, as a want.
func (p Put) id() string { return "word-" + itoa(p.Number) }

// applyPut does one act of asking for a word.
func (s *Session) applyPut(a Act, e Entry) {
	switch a.Do {
	case DoPut:
		s.Putted++
		s.Puts = append(s.Puts, Put{Number: s.Putted, Member: a.Path, Name: first0(a.Names), Check: a.Topic, Why: a.Was, Reason: a.Reason, Text: a.Value, At: e.At})
	case DoWord:
		for i := range s.Puts {
			if s.Puts[i].Member == a.Path {
				s.Puts[i].Said = e.At
			}
		}
	}
}

// needSign asks for a name to a failing check that takes one.
func (t *turn) needSign(id string) {
	if t.refusedHere(id) {
		t.act(Act{Do: DoHold, Path: "sign"})
		t.act(Act{Do: DoHold, Path: "checking"})
		t.fire(Decided)
		t.act(Act{Do: DoAsk})
		t.ask()
		return
	}
	t.sayRefusals(id, "")
	t.act(Act{Do: DoHold, Path: "sign", Value: id}) // and nobody is asked for a word to another any more
	if t.s.State != Checks && t.s.State != Verdict && !slices.Contains(hubs, t.s.State) {
		t.fire(NeedCheck)
	}
	if id == "T4" {
		t.say(wording.SignerOwnPoint, nil)
	}
	t.to("sign_name", Signing)
}

// whyFailed is what the plan says of a failing check.
func (t *turn) whyFailed(id string) string {
	if c := t.failing(id); c.Text != "" {
		return c.Text
	}
	return id
}

// failing is the plan's check of an id that fails; the zero one where none does.
func (t *turn) failing(id string) calc.Check {
	if p := t.plan(); p != nil {
		for _, c := range p.Checks {
			if c.ID == id && c.Result == calc.Fail {
				return c
			}
		}
	}
	return calc.Check{}
}

// sign takes name, second name and reason, one after the other.
func (t *turn) sign(text string, no bool) {
	if no || text == "" {
		t.unsigned()
		t.ask()
		return
	}
	if t.s.Topic == "sign_word" {
		t.remark(wording.RefuseNotHere, nil)
		return
	}
	text = wording.Plain(text)
	if t.s.Topic != "sign_reason" {
		if _, young := splitYoung(text); len(young) > 0 {
			t.keepUnfit(young...)
			t.sayYoung(young)
			t.ask()
			return
		}
		name, ok := t.signer(text)
		if !ok {
			t.notSigned(text)
			return
		}
		text = name
		switch {
		case t.refusesUnfit(text):
			return
		case len(strings.Fields(text)) < 2 && t.stranger(text): // whole, or with what they are, it says who
			t.remark(wording.SignerWho, wording.Args{"Name": text, "Names": wording.Names(t.lookersAll())})
			return
		}
	} else if hear.NoReason(text) || !saysWhat(text) {
		t.remark(wording.SignerReason, nil)
		return
	}
	if len(text) < 2 || hear.Listen(text, hear.TopicYesNo).Act == hear.Yes && len(strings.Fields(text)) == 1 {
		t.miss("") // ok is no reason either
		return
	}
	switch t.s.Topic {
	case "sign_name":
		t.act(Act{Do: DoHold, Path: "sign_name", Value: text})
		t.to("sign_second", Signing)
	case "sign_second":
		if t.samePerson(text, t.s.Held["sign_name"]) {
			t.remark(wording.RefuseSamePerson, wording.Args{"Name": text})
			return
		}
		if t.signsAfar(t.s.Held["sign_name"]) {
			if t.signsAfar(text) {
				t.remark(wording.SignerAfar, wording.Args{"Name": text})
				return
			}
			// Whoever sees it answers for it first.
			text = t.swapSigner(text)
		}
		t.act(Act{Do: DoHold, Path: "sign_second", Value: text})
		t.to("sign_reason", Signing)
	default:
		t.act(Act{Do: DoHold, Path: "sign_reason", Value: text})
		t.puts1()
		if len(t.unsaid()) > 0 {
			t.to("sign_word", Signing)
			return
		}
		t.signs()
	}
}

// saysWhat reports whether a reason has words that say what is done, measured or arranged:
// a bare word has none.
func saysWhat(text string) bool {
	var told []string
	for _, w := range wordsIn.FindAllString(hear.Lowered(text), -1) {
		if len([]rune(w)) > 2 && !hear.Listed(w, "fillword") && !hear.NoReason(w) && !slices.Contains(told, w) {
			told = append(told, w)
		}
	}
	return len(told) > 1
}

// signsAfar reports whether a signer follows the job from afar.
func (t *turn) signsAfar(name string) bool {
	m := t.phoneOf(name)
	return m != nil && m.afar()
}

// swapSigner makes somebody on the spot the first, and returns who is the second then.
func (t *turn) swapSigner(first string) (second string) {
	second = t.s.Held["sign_name"]
	t.act(Act{Do: DoHold, Path: "sign_name", Value: first})
	t.say(wording.SignerFirst, wording.Args{"Name": first, "Second": second})
	return second
}

// stranger reports whether a name is of nobody of the crew, where they are known
// by name, nor of anybody with a phone in the job.
func (t *turn) stranger(name string) bool {
	return len(t.lookersAll()) > 0 && t.seatNamed(name) == nil && t.phoneOf(name) == nil && !sameName(name, t.s.Lead.Name)
}

// lookersAll are the crew by name.
func (t *turn) lookersAll() []string {
	var out []string
	for _, s := range t.s.Seats {
		if s.Name != "" && !t.unfit(s.Name) && !slices.Contains(out, s.Name) {
			out = append(out, s.Name)
		}
	}
	return out
}

// signs keeps the signature, with all that were to be asked having said yes.
func (t *turn) signs() {
	id, name, second, reason := t.s.Held["sign"], t.s.Held["sign_name"], t.s.Held["sign_second"], t.s.Held["sign_reason"]
	why := t.whyFailed(id) // before it is signed for
	t.act(Act{Do: DoSign, Topic: id, Names: []string{name}, Second: second, Reason: reason, Was: why, Pieces: t.failing(id).Pieces})
	t.say(wording.ChecksSigned, wording.Args{"Why": why, "Name": name, "Second": second, "Reason": reason})
	t.tellSigned(id, name, second, reason)
	for _, k := range signHeld {
		t.act(Act{Do: DoHold, Path: k})
	}
	t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
	t.next()
}

// signHeld is what is kept of a signature until it is one.
var signHeld = []string{"sign", "sign_name", "sign_second", "sign_reason"}

// unsigned ends the asking without a signature.
func (t *turn) unsigned() {
	t.act(Act{Do: DoHold, Path: "sign"})
	t.act(Act{Do: DoHold, Path: "checking"})
	t.say(wording.ChecksRefused, nil)
	t.fire(Decided)
	t.act(Act{Do: DoAsk})
}

// puts1 puts it to each of both who has a phone. Who speaks has said it.
func (t *turn) puts1() {
	why := t.whyFailed(t.s.Held["sign"])
	id, name, second := t.s.Held["sign"], t.s.Held["sign_name"], t.s.Held["sign_second"]
	asked := t.sayingWith(wording.AskSignName, wording.Args{"Why": why})
	for i, who := range []string{name, second} {
		m := t.phoneOf(who)
		if seat := t.seatNamed(who); m == nil && seat != nil && !t.s.alone() && !t.s.single() {
			p := Put{Name: seat.Name, Why: why, Reason: t.s.Held["sign_reason"]}
			t.act(Act{Do: DoPut, Topic: id, Path: aloud + seat.Name, Names: []string{seat.Name}, Was: why, Reason: p.Reason, Value: t.sayingWith(wording.AskSignAloud, t.putArgs(p))})
		}
		if m == nil {
			continue
		}
		p := Put{Name: m.Name, Why: why, Reason: t.s.Held["sign_reason"]}
		p.Text = t.sayingWith(wording.AskSignPut, t.putArgs(p))
		if m.ID == t.in.Person.ID {
			if p.Text = asked; i > 0 {
				p.Text += " " + t.sayingWith(wording.AskSignSecond, wording.Args{"Name": name})
			}
		}
		for _, r := range t.refusalsOf(id) {
			if r.Member != m.ID {
				p.Text = t.sayingWith(wording.ChecksWasRefused, wording.Args{"Name": r.Name, "Text": r.Words}) + " " + p.Text
			}
		}
		t.act(Act{Do: DoPut, Topic: id, Path: m.ID, Names: []string{m.Name}, Was: why, Reason: p.Reason, Value: p.Text})
		if m.ID == t.in.Person.ID {
			t.act(Act{Do: DoWord, Topic: id, Path: m.ID})
		}
	}
}

func (t *turn) putArgs(p Put) wording.Args {
	return wording.Args{"Name": p.Name, "Why": p.Why, "Reason": p.Reason}
}

// phoneOf returns who of the job goes by a name, or has the part of somebody who
// does, on a phone of their own; nil for nobody.
func (t *turn) phoneOf(name string) *Member {
	name, _, _ = strings.Cut(name, ",")
	if s := t.seatNamed(name); s != nil {
		if m := t.s.phone(*s); m != nil {
			return m
		}
	}
	if m := t.s.called(name); m != nil {
		return m
	}
	for _, m := range t.s.present() {
		if sameName(m.Name, name) {
			return t.s.member(m.ID)
		}
	}
	return nil
}

// samePerson reports whether two names are of one: alike, or the names of one
// phone.
func (t *turn) samePerson(a, b string) bool {
	a, _, _ = strings.Cut(a, ",")
	b, _, _ = strings.Cut(b, ",")
	x, y := t.phoneOf(a), t.phoneOf(b)
	return sameName(a, b) || x != nil && y != nil && x.ID == y.ID
}

// unsaid lists what was put to somebody who has not said yes yet.
func (t *turn) unsaid() []Put {
	if t.s.State != Signing {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(t.s.Puts), func(p Put) bool { return p.Said != "" })
}

// unsaidNames are whom it waits for.
func (t *turn) unsaidNames() wording.Names {
	var out wording.Names
	for _, p := range t.unsaid() {
		out = append(out, p.Name)
	}
	return out
}

// wantWord asks in a chat for the word of whoever is to sign there.
func (t *turn) wantWord(chat string) want {
	for _, p := range t.unsaid() {
		m, k := t.s.member(p.Member), wording.AskSignPut
		if p.isAloud() {
			m, k = t.s.member(t.s.Lead.ID), wording.AskSignAloud
		}
		if t.s.Topic == "sign_word" && m != nil && !m.Gone && m.Chat == chat {
			return want{id: p.id(), say: func() {
				t.sayRefusals(p.Check, p.Member)
				t.say(k, t.putArgs(p))
				n := "." + itoa(p.Number)
				t.offers = []offer{{choice: "word.yes" + n, label: t.saying(wording.ChoiceYes)}, {choice: "word.no" + n, label: t.saying(wording.ChoiceNo)}}
			}}
		}
	}
	return want{}
}

// answersFor reports whether who speaks may give that word: whose it is, or the lead who
// has heard it said.
func (t *turn) answersFor(p Put) bool {
	return p.Member == t.in.Person.ID || p.isAloud() && t.isLead()
}

// wordPress takes such a word by its button.
func (t *turn) wordPress(parts []string) bool {
	if len(parts) != 3 {
		return false
	}
	for _, p := range t.unsaid() {
		if t.s.Topic != "sign_word" || itoa(p.Number) != parts[2] {
			continue
		}
		if !t.answersFor(p) {
			t.aside1(wording.SeatNotYours, wording.Args{"Name": p.Name})
			return true
		}
		if parts[1] == "yes" && t.in.Press == nil && t.justTurned() { // its label was written
			t.askTurned(t.saying(wording.ItemYourWord))
			return true
		}
		t.said = t.saying(wording.Key("choice." + parts[1]))
		t.word1(p, parts[1] == "yes")
		return true
	}
	t.aside1(wording.ItemOver, nil)
	return true
}

// wordSaid takes it in words. Only a plain yes is one.
func (t *turn) wordSaid(text string) bool {
	for _, p := range t.unsaid() {
		if t.s.Topic != "sign_word" || !t.answersFor(p) || t.want(t.in.Chat).id != p.id() {
			continue // another question stands there first
		}
		switch h := hear.Listen(text, hear.TopicYesNo); {
		case h.Act == hear.No:
			t.word1(p, false)
		case h.Act == hear.Yes && !inPart(text, true):
			if t.justTurned() {
				t.askTurned(t.saying(wording.ItemYourWord))
				return true
			}
			t.word1(p, true)
		default:
			return false
		}
		return true
	}
	return false
}

// word1 keeps the word of one who was asked: all of them make it a signature, and
// a no of either none.
func (t *turn) word1(p Put, yes bool) {
	if !yes {
		t.say(wording.ItemNotedWord, wording.Args{"Text": t.saying(wording.ChoiceNo)})
		t.refuses(p)
		return
	}
	t.act(Act{Do: DoWord, Topic: p.Check, Path: p.Member})
	t.act(Act{Do: DoRefuse, Topic: p.Check, Path: p.Member}) // their own no is over
	t.say(wording.ItemNotedWord, wording.Args{"Text": t.saying(wording.ChoiceYes)})
	if len(t.unsaid()) == 0 {
		t.inChat(t.s.leadChat(), t.signs)
	}
	t.ask()
}

// iDo are words that whoever writes answers for it, with or without their name: "I do, Tom".
var iDo = regexp.MustCompile(`(?i)^\W*(?:i|me)(?:(?: do|(?: will|'ll| can)? (?:sign|answer|take it|vouch)(?: for)?(?: it| that| this)?| will| am)(?: for (?:it|that|this))?)?(?:\s*[,:;.-]\s*(\pL[\pL'’ -]*))?\W*$`)

// signer reads who signs: a name, with what they are after a comma, or whoever
// speaks.
func (t *turn) signer(text string) (string, bool) {
	if slices.ContainsFunc(wordsIn.FindAllString(hear.Lowered(text), -1), func(w string) bool { return hear.Listed(w, "nosigner") }) {
		return "", false // "not sure, i am not a boss" is nobody's name
	}
	if people := hear.People(text); len(people) == 1 && people[0] == (hear.Person{Me: true}) {
		text = t.s.nameOf(t.in.Person)
	}
	if m := iDo.FindStringSubmatch(text); m != nil && !isQuestion(hear.Lowered(text)) {
		if text = strings.TrimSpace(m[1]); text == "" {
			text = t.s.nameOf(t.in.Person)
		}
	}
	name, ok := hear.OneName(text)
	if !ok || len(name) < 2 || !job.Somebody(name) || hear.Listen(text, hear.TopicYesNo).Act == hear.Yes { // a yes is nobody's name
		return "", false
	}
	if strings.Contains(text, ",") {
		return text, true
	}
	return wording.Plain(name), true
}

// notSigned takes what was said instead of a name: what puts the failing check
// right, or a no that goes on. Nothing else said here is anybody's signature.
func (t *turn) notSigned(text string) {
	h := t.whoIsWho().Listen(text, hear.TopicCheck)
	if done := t.hearFacts(h, false); len(done) > 0 {
		t.act(Act{Do: DoHold, Path: "sign_name"})
		t.next()
		return
	}
	if first, _, _ := strings.Cut(strings.ToLower(text), " "); hear.Listen(first, hear.TopicYesNo).Act == hear.No {
		t.sign("", true)
		return
	}
	t.miss("")
}

// tellSigned tells everybody with a phone of their own what was signed for, and
// by whom: whoever was named as a signer must know it, and so must those whose
// safety it is about.
func (t *turn) tellSigned(id, name, second, reason string) {
	from := t.mail.chat
	for _, chat := range t.s.chats(AsLead, AsCrew, AsCoordinator) {
		if chat == from {
			continue // it was said there
		}
		t.inChat(chat, func() {
			t.say(wording.EyesSigned, wording.Args{"Why": t.whyFailed(id), "Name": name, "Second": second, "Reason": reason})
		})
	}
}
