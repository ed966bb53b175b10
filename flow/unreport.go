package flow

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What somebody reported in a pull, and saw wrongly or was read wrongly, whoever reported
// it takes back in a few words: "no, the sling moved, not the puller". What was learnt from
// it counts no more and all are told; what was asked again for it stays asked, and a stop
// that it called stands until its checks are done.

var (
	unsays    = hear.Expression(`^(?:(?:oh|ah|ok|wait|hang on|hey)[ ,]+)*(?:no|nope|nah|sorry|correction|wrong|oops|i meant?|i mean|my mistake|my bad|misread|scratch that|i take (?:that|it) back|take (?:that|it) back|i was wrong)\b`)
	deniesIt  = hear.Expression(`\b(?:not|never|no) [^,.;]*|\b(?:did|was|is|has|does|were)(?:n't|nt| not)\b[^,.;]*|\b(?:take|took) (?:that|it) back\b|\bscratch that\b|\b(?:i was|that was|it was|that's) (?:wrong|a mistake|misread)\b`)
	elseMoved = regexp.MustCompile(`\b(?:moved|moves|moving|slid|slips?|slipped|gave|crept|jumped|shifted|turned|dropped|settled)\b`)
)

// lastSeen returns which report whoever speaks told last of the things that are seen in a
// pull; -1 for none.
func (t *turn) lastSeen() int {
	for i := range slices.Backward(t.s.Reports) {
		r := t.s.Reports[i]
		if _, is := sightOf(r.Kind); is && r.By.ID == t.in.Person.ID && r.Kind != "hurt" && r.Kind != "moves" {
			return i
		}
	}
	return -1
}

// takesReportBack takes such words, and reports whether they were any.
func (t *turn) takesReportBack(text string) bool {
	m := t.me()
	if m == nil || m.afar() || !t.s.Stage.Rigged() || t.s.State == Debrief || t.s.State == Closed || t.s.State == Away {
		return false
	}
	low := hear.Lowered(strings.Trim(text, " .!"))
	begin := unsays.FindString(low)
	if begin == "" || isQuestion(low) {
		return false
	}
	rest := strings.TrimLeft(low[len(begin):], " ,.;:-")
	at := t.lastSeen()
	if at < 0 || !deniesIt.MatchString(rest) && !deniesIt.MatchString(begin) {
		return false
	}
	was := t.s.Reports[at]
	left := strings.Trim(deniesIt.ReplaceAllString(rest, " "), " ,.;")
	seen, ok := sightIn(left)
	if ok && seen.kind == was.Kind {
		return false // it is told once more
	}
	t.act(Act{Do: DoUnreport, Path: strconv.Itoa(at), Value: wording.Plain(text)})
	args := wording.Args{"Name": t.whoName(), "Was": was.Words, "Text": wording.Plain(text)}
	say := func() { t.say(wording.PullTakenBack, args) }
	t.tellAll(false, say)
	say()
	switch {
	case ok && t.s.State == Pulling && seen.kind != "moves":
		t.saw(seen.kind, wording.Plain(text))
		return true
	case ok && seen.stops:
		t.haltSeen(seen.kind, text)
		return true
	case ok && seen.kind != "moves":
		t.act(Act{Do: DoReport, Path: seen.kind, Value: wording.Plain(text)})
		t.reopenFor(seen.causes...)
	case elseMoved.MatchString(left): // and what that was nobody can tell for certain
		t.act(Act{Do: DoReport, Path: "words", Value: wording.Plain(text)})
		t.holdNow()
		t.reopenFor(calc.Unclear)
	}
	if t.s.State != Halted {
		t.inChat(t.s.leadChat(), t.replan)
	}
	t.ask()
	return true
}

// learntHeld keeps, of a report, what was learnt from it: its place among what was seen.
const learntHeld = "learnt:"

// keepsLearnt notes that the last report has taught the thing seen at place n.
func (t *turn) keepsLearnt(n int) {
	if last := len(t.s.Reports) - 1; last >= 0 {
		t.act(Act{Do: DoHold, Path: learntHeld + itoa(last), Value: itoa(n)})
	}
}

// unreport takes a report out of what counts, with what was learnt from it.
func (s *Session) unreport(a Act) {
	at, err := strconv.Atoi(a.Path)
	if err != nil || at < 0 || at >= len(s.Reports) {
		return
	}
	s.Reports = slices.Clone(s.Reports)
	s.Reports[at].Kind = "taken-back"
	n, err := strconv.Atoi(s.Held[learntHeld+a.Path])
	if err != nil || n < 0 || n >= len(s.Sheet.Seen) {
		return
	}
	s.Sheet.Seen = slices.Delete(slices.Clone(s.Sheet.Seen), n, n+1)
	delete(s.Held, learntHeld+a.Path)
	for key, v := range s.Held {
		if k, err := strconv.Atoi(v); strings.HasPrefix(key, learntHeld) && err == nil && k > n {
			s.Held[key] = itoa(k - 1)
		}
	}
}
