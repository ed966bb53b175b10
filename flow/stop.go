package flow

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"time"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A stop is obeyed first and talked about afterwards. Every phone of the job
// is told ahead of all else, those on the spot say that they stand still, and
// only the lead can let the job go on.

// A Stop is one call of stop.
type Stop struct {
	Number   int
	Calls    int // how often it was called again
	By       Person
	Others   []Person // who called it again, each time
	At       string
	Moment   string   // the same, as exactly as its channel tells
	Stage    Stage    // where the pull stood
	Drill    bool     // it was called for the drill
	Hold     int      // the last hold point's number then
	Cause    string   // one of stopCauses, or words
	Words    string   // with which it was called, as they were written; empty for a button
	Also     []string // what else it was for, as it was told before
	Looked   []string // causes of which it was told with the stop what to look at
	Still    []string // members who said that they stand still, or were seen to
	Over     string   // when the lead let the job go on
	Reason   string
	NoneHurt bool // that somebody was hurt was a mistake
}

// drills reports whether a call of stop may be the drill's: nothing was written
// with it, and it is for nothing that was seen. A danger that comes while the
// drill is on is a stop like any other.
func drills(cause, text string) bool {
	return !isCause(cause) && (text == "" || hear.StopsAlone(text))
}

// stop returns the stop that is on, nil for none.
func (s *Session) stop() *Stop {
	if n := len(s.Stops); n > 0 && s.Stops[n-1].Over == "" {
		return &s.Stops[n-1]
	}
	return nil
}

// calls is how often somebody has called it.
func (s *Stop) calls(id string) int {
	n := 0
	for _, by := range append([]Person{s.By}, s.Others...) {
		if by.ID == id {
			n++
		}
	}
	return n
}

// call names one call of a stop, so that a button that was put up before it was
// called again ends nothing.
func (s *Stop) call() string { return itoa(s.Number) + "-" + itoa(s.Calls) }

// moving returns those on the spot who have a phone and have not said that
// they stand still.
func (s *Session) moving() []Member {
	stop := s.stop()
	if stop == nil {
		return nil
	}
	var out []Member
	for _, m := range s.present(AsLead, AsCrew) {
		if !slices.Contains(stop.Still, m.ID) {
			out = append(out, m)
		}
	}
	return out
}

// halt stops everything. It is told ahead of anything else, and again if it
// is called again. What was written with it may say what it is for.
func (t *turn) halt() {
	if seen, ok := t.sight(t.in.Text); ok && t.s != nil && isCause(seen.kind) && t.in.Press == nil && (t.s.Stage.Rigged() || seen.kind == "hurt") {
		if seen.kind == "hurt" { // who it is, is read again when the stop is over
			t.act(Act{Do: DoReport, Path: seen.kind, Value: wording.Plain(t.in.Text)})
		}
		t.haltFor(seen.kind, wording.Key("look."+seen.kind))
		t.stopTells(t.in.Text)
		return
	}
	t.haltFor("", "")
	t.stopTells(t.in.Text)
}

// haltSeen reports what was seen, in whose words, and stops everything for it.
func (t *turn) haltSeen(kind, words string) {
	t.act(Act{Do: DoReport, Path: kind, Value: wording.Plain(words)})
	t.haltFor(kind, wording.Key("look."+kind))
}

// haltFor stops everything for something that was seen, and says what to look
// at.
func (t *turn) haltFor(cause string, look wording.Key) {
	if t.s == nil {
		t.say(wording.StopCalled, nil)
		t.sayReach()
		return
	}
	again := t.s.State == Halted && t.s.stop() != nil
	t.fire(Stops)
	if !again {
		if t.s.Held["stop_reason"] != "" { // of a stop that was left, not ended
			t.act(Act{Do: DoHold, Path: "stop_reason"})
		}
		t.act(Act{Do: DoStop, Value: cause, Path: t.drillsBy(cause), Moment: t.in.At.UTC().Format(time.RFC3339Nano)})
	} else {
		// Who calls again may have seen another thing: what was said of the first counts no more.
		t.act(Act{Do: DoHold, Path: "stop_reason"})
		t.act(Act{Do: DoCause, Value: cause, Moment: t.in.At.UTC().Format(time.RFC3339Nano)})
	}
	seen := func() {
		if look != "" {
			t.say(wording.PullSaw, wording.Args{"Name": t.whoName(), "Text": t.saying(wording.Key("saw." + cause))})
			t.say(look, nil)
		}
	}
	if !t.goesNear() { // who goes to the line hasn't stopped by calling it
		t.act(Act{Do: DoStill, Value: t.in.Person.ID})
	}
	for _, chat := range t.s.chats() {
		if chat == t.in.Chat {
			continue
		}
		t.inChat(chat, func() {
			t.urgent = true
			t.called(again)
			seen()
			t.sayOpens(chat)
			if again && !t.movingIn(chat) && chat != t.s.leadChat() {
				return // they stand already, and have been told what comes next
			}
			w := t.want(chat)
			if w.id != "" {
				w.say()
			}
			t.act(Act{Do: DoWant, Path: chat, Value: w.id})
		})
	}
	t.urgent = true
	t.called(again)
	seen()
	t.sayReach()
	if t.left == nil {
		t.ask()
	}
}

func (t *turn) called(again bool) {
	t.say(wording.StopCalled, nil)
	words := ""
	if t.in.Press == nil {
		words = stopWords(t.in.Text)
	}
	if r := []rune(words); len(r) > 160 {
		words = string(r[:160]) // a stop is short, whatever it was called with
	}
	if again {
		t.say(wording.StopAgain, nil)
	}
	switch {
	case words != "": // what was seen is on every screen with the stop
		t.say(wording.StopWords, wording.Args{"Name": t.whoName(), "Text": words})
	case !again && t.whoName() != "":
		t.say(wording.StopWho, wording.Args{"Name": t.whoName()})
	}
	if stop := t.s.stop(); stop != nil && stop.Drill {
		t.say(wording.DrillIsOne, nil)
	}
}

// stopWords are the words of a stop where they say more than that it is one.
func stopWords(text string) string {
	words := wording.Plain(strings.TrimPrefix(strings.TrimSpace(text), "/"))
	if len(strings.Fields(words)) < 2 {
		return ""
	}
	return words
}

// stopOn tells whoever comes into the job, or comes back, of a stop that is on,
// ahead of all else: who called it and why.
func (t *turn) stopOn() {
	stop := t.s.stop()
	if stop == nil {
		return
	}
	t.urgent = true
	t.say(wording.StopCalled, nil)
	cause, named := stopCauseOf(stop.Cause)
	switch {
	case stop.Words != "":
		t.say(wording.StopWords, wording.Args{"Name": stop.By.Name, "Text": stop.Words})
	case named:
		t.say(wording.StopFor, wording.Args{"Name": stop.By.Name, "Text": t.saying(wording.Key("cause." + cause.kind))})
	case stop.By.Name != "":
		t.say(wording.StopWho, wording.Args{"Name": stop.By.Name})
	}
	if stop.Drill {
		t.say(wording.DrillIsOne, nil)
	}
}

// whoName is what the crew call the one who speaks.
func (t *turn) whoName() string {
	if t.s == nil {
		return t.in.Person.Name
	}
	return t.s.nameOf(t.in.Person)
}

func (t *turn) movingIn(chat string) bool {
	for _, m := range t.s.moving() {
		if m.Chat == chat {
			return true
		}
	}
	return false
}

// wantStill asks a chat with somebody on the spot whether they stand still.
// The lead is asked for the reason, and told who has not answered yet.
func (t *turn) wantStill(chat string) want {
	stop := t.s.stop()
	if t.s.State != Halted || stop == nil || t.s.alone() {
		return want{}
	}
	if chat == t.s.leadChat() {
		id := "stop-" + itoa(stop.Number) + "-lead"
		if stop.Drill && t.s.Held[heldDrill] != "" {
			id += "-failed"
		}
		return want{id: id, say: func() {
			t.offers = t.causeOffers()
			if waiting := t.movers(); len(waiting) > 0 {
				t.say(wording.StopWaits, wording.Args{"Names": waiting})
				t.offers = append(t.offers, offer{choice: "all_still." + stop.call(), label: t.saying(wording.ChoiceAllStill)})
			}
			if stop.Drill {
				t.askDrilled(stop)
				return
			}
			if reason := t.s.Held["stop_reason"]; reason != "" {
				t.say(wording.StopHeld, wording.Args{"Text": wording.Plain(reason)})
				return
			}
			t.say(wording.AskHalted, nil)
		}}
	}
	if !t.movingIn(chat) {
		return want{id: "stop-" + itoa(stop.Number) + "-wait", say: func() {
			t.say(wording.StopOnlyLead, wording.Args{"Name": t.s.Lead.Name})
			if t.leadElsewhere() {
				t.say(wording.StopLeadElsewhere, wording.Args{"Name": t.s.Lead.Name})
			}
		}}
	}
	return want{id: "stop-" + itoa(stop.Number), say: func() {
		t.say(wording.StopStill, nil)
		t.offers = []offer{{choice: "still." + itoa(stop.Number), label: t.saying(wording.ChoiceStill)}}
	}}
}

// movers are the names of those who have not said that they stand still, the
// lead left out: who asks for the reason stands.
func (t *turn) movers() wording.Names {
	var out wording.Names
	for _, m := range t.s.moving() {
		if m.ID != t.s.Lead.ID {
			out = append(out, m.Name)
		}
	}
	return out
}

// standPress takes the buttons of those who stand still. They are for one stop:
// pressed late they say nothing of another.
func (t *turn) standPress(name, of string) {
	stop := t.s.stop()
	if t.s.State != Halted || stop == nil || of != itoa(stop.Number) && of != stop.call() {
		t.notice = true
		t.say(wording.RefuseStaleShort, nil)
		return
	}
	t.stands(name == "all_still")
}

// stoodWords are words that people stand, and nothing else: no other stop, and
// no reason for the one that is on.
var (
	stoodWords = regexp.MustCompile(`^(?:(?:yes|yep|yeh|yup|aye|ok|okay|right|and|now|i|i'm|im|i've|ive|we|we're|we've|they|they're|they've|you|all|both|everyone|everybody|each|of|us|them|have|has|had|is|are|am|here|still|dead|see|can|` +
		`foot|feet|came|is|hands|off|at|once|brake|brakes|on|stood|standing|standin|stopped|stand|stands|did)\b[ ,.;!-]*)+$`)
	stood    = hear.Expression(`\b(?:stood|standing?|standin|stopped|stands?)\b`)
	everyone = hear.Expression(`\b(?:all|both|everyone|everybody|each|they)\b`)
)

// saysStood reports whether words say that people stand, and nothing else.
func saysStood(text string) bool {
	low := strings.Trim(hear.Lowered(text), " .!/")
	return stood.MatchString(low) && stoodWords.MatchString(low)
}

// answersStop reports whether words are the answer to a stop that is on, though
// they hold its letters: whoever has stopped calls no other.
func (t *turn) answersStop() bool {
	return t.in.Press == nil && t.s != nil && t.s.State == Halted && t.s.stop() != nil && (saysStood(t.in.Text) || (t.isLead() || t.s.stop().calls(t.in.Person.ID) > 0) && saysMistaken(t.in.Text))
}

// saysMistaken reports whether words say that the stop itself was a mistake, and
// tell of nothing else.
func saysMistaken(text string) bool {
	low := hear.Lowered(text)
	rest := aboutStop.ReplaceAllString(low, " ")
	_, seen := sightIn(rest)
	return mistaken.MatchString(low) && !seen && !hear.Stops(rest)
}

// stoodSaid takes such words, of the lead who speaks of all as the word of who
// sees them. They are no reason, and what was sent before the stop is no answer.
func (t *turn) stoodSaid(text string) bool {
	stop := t.s.stop()
	seen := bareLabel(text) == bareLabel(t.saying(wording.ChoiceAllStill)) // all that its button says
	if t.s.State != Halted || stop == nil || !seen && !saysStood(text) {
		return false
	}
	if m := t.me(); m == nil || m.As != AsLead && m.As != AsCrew {
		return false
	}
	all := seen || t.isLead() && everyone.MatchString(strings.ToLower(text))
	switch {
	case t.saidBefore():
		t.note(text)
		t.remark(wording.StopBefore, nil)
	case stop.Drill && t.isLead() && len(t.movers()) == 0 && !seen:
		t.drilled(true)
	case t.s.alone():
		t.note(text)
		t.endsHow()
	default:
		t.stands(all)
	}
	return true
}

// stands keeps that somebody stands still. The lead may say it of all whom the
// lead sees.
func (t *turn) stands(all bool) {
	if all && !t.isLead() {
		t.remark(wording.StopOnlyLead, wording.Args{"Name": t.s.Lead.Name})
		return
	}
	t.act(Act{Do: DoStill, Value: t.in.Person.ID})
	if all && len(t.movers()) > 0 {
		var seen, left wording.Names
		for _, m := range t.s.moving() {
			if t.s.mustGo(m.ID) {
				left = append(left, m.Name)
				continue
			}
			seen = append(seen, m.Name)
			t.act(Act{Do: DoStill, Value: m.ID})
		}
		if len(seen) > 0 {
			t.say(wording.StopSeen, wording.Args{"Names": seen})
		}
		if len(left) > 0 {
			t.say(wording.StopMustGo, wording.Args{"Names": left})
		}
	} else if all {
		t.say(wording.StopCounted, nil)
	} else {
		t.say(wording.StopStands, nil)
	}
	if reason := t.s.Held["stop_reason"]; reason != "" && len(t.movers()) == 0 {
		t.restart(reason)
		return
	}
	t.ask()
}

// mustGo reports whether somebody wrote of having to go, about when the stop that
// is on was called or since: whoever leads can't have seen them stand for good.
func (s *Session) mustGo(id string) bool {
	stop := s.stop()
	return stop != nil && slices.ContainsFunc(s.Reports, func(r Report) bool {
		return r.Kind == "leaving" && r.By.ID == id && r.Hold >= stop.Hold-1
	})
}

// resumeHalted ends a stop when the lead says what it was and everybody stands.
func (t *turn) resumeHalted(reason string) {
	if t.saidBefore() {
		t.note(reason)
		t.remark(wording.StopBefore, nil)
		return
	}
	if !t.isLead() {
		t.note(reason)
		t.remark(wording.StopOnlyLead, wording.Args{"Name": t.s.Lead.Name})
		return
	}
	if by, is := t.notTheirs(reason); is {
		t.note(reason)
		t.remark(wording.StopWhoseMistake, wording.Args{"Name": by})
		return
	}
	t.noneHurt(reason)
	t.act(Act{Do: DoHold, Path: "stop_says", Value: t.whoName()})
	if waiting := t.movers(); len(waiting) > 0 {
		t.act(Act{Do: DoHold, Path: "stop_reason", Value: reason})
		t.ask()
		return
	}
	t.restart(reason)
}

// saidBefore reports whether the words were sent before the stop that is on,
// though their turn comes after it: a stop overtakes what waits. Such words
// are no answer to it. A channel that tells only whole seconds makes what was
// sent in the same one count as before: nobody reads and answers as fast.
func (t *turn) saidBefore() bool {
	stop := t.s.stop()
	if stop == nil {
		return false
	}
	at, err := time.Parse(time.RFC3339Nano, stop.Moment)
	return err == nil && !t.in.At.After(at)
}

// sayOver tells everybody that a stop in the pull is over: once the lead has
// released the first hold point after all that it asks for, or, at the drill, once
// that has been looked at. What waits for a slack line keeps it open.
func (t *turn) sayOver() {
	reason := t.s.Held["stop_open"]
	if reason == "" || t.s.Stage.needsPlan() && (len(t.s.Again) > 0 || t.openNear(nearItems...)) || t.stopWaits() {
		return
	}
	says := cmp.Or(t.s.Held["stop_says"], t.s.Lead.Name) // who leads now need not have said it
	called, words := t.calledWith()
	t.act(Act{Do: DoHold, Path: "stop_open"})
	say := func() {
		t.say(wording.StopPutRight, wording.Args{"Reason": reason, "Name": says})
		if words != "" && called != says {
			t.say(wording.StopWords, wording.Args{"Name": called, "Text": words})
		}
	}
	for _, chat := range t.s.chats() { // whose answer was the last one too
		t.inChat(chat, say)
	}
	if len(t.s.chats()) == 0 {
		say()
	}
}

// calledWith returns who called the last stop, and in which words, where these say more
// than that it is one: they stay its reason, whatever is said to it.
func (t *turn) calledWith() (who, words string) {
	if len(t.s.Stops) == 0 {
		return "", ""
	}
	last := &t.s.Stops[len(t.s.Stops)-1]
	return last.By.Name, stopWords(last.Words)
}

// restart lets the job go on. What people had seen before the stop may not be
// so any more, so the list is asked again: all of it before the pull, and in
// the pull what the reason could have changed.
func (t *turn) restart(reason string) {
	// In the pull it is over when the lead releases the next hold point, after all
	// that the reason asks for; until then it is only noted.
	pulling := t.s.Stage.Rigged() && t.s.From.State != Debrief
	k := wording.StopOver
	if pulling {
		k = wording.StopNoted
	} else if t.seenOnSpot() {
		k = wording.StopOverAnew
	}
	hurt := t.hurtChats(reason)
	over := func() { t.say(k, wording.Args{"Reason": reason, "Name": t.s.Lead.Name}) }
	for _, chat := range t.s.chats() {
		if pulling && slices.Contains(hurt, chat) { // who is hurt holds nothing
			t.inChat(chat, func() { t.say(wording.StopNotedHurt, wording.Args{"Reason": reason, "Name": t.s.Lead.Name}) })
			continue
		}
		t.inChat(chat, over)
	}
	if len(t.s.chats()) == 0 {
		over()
	}
	t.act(Act{Do: DoNote, Value: reason})
	t.act(Act{Do: DoHold, Path: "stop_reason"})
	if stop := t.s.stop(); stop != nil {
		if cause := causeIn(reason); stop.Cause == "" || isCause(cause) && !slices.Contains(stop.causes(), cause) {
			t.act(Act{Do: DoCause, Value: cause})
		}
	}
	t.act(Act{Do: DoOver, Reason: reason})
	if pulling {
		t.act(Act{Do: DoHold, Path: "stop_open", Value: reason})
	}
	if last := t.s.Stops[len(t.s.Stops)-1]; pulling || slices.Contains(last.causes(), "hurt") && t.s.From.State != Debrief {
		t.afterStop()
		return
	}
	again := t.stale()
	if len(hazards(t.s.Sheet)) > 0 && t.refers("") {
		return
	}
	if again && (t.s.From.State == Checks || t.s.From.State == Signing || t.s.From.State == Verdict) {
		t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
		t.next()
		return
	}
	t.resume()
}
