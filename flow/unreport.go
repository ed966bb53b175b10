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
	unsays    = hear.Expression(`^(?:(?:oh|ah|ok|wait|hang on|hey)[ ,]+)*(?:no|nope|nah|sorry|correction|wrong|oops|i meant?|i mean|my mistake|my bad|misread|scratch that|i take (?:that|it) back|take (?:that|it) back|i was wrong|(?:(?:the|my|that|this|last) )*report (?:was|is) (?:wrong|false|not (?:right|true|so)|a mistake))\b`)
	deniesIt  = hear.Expression(`\b(?:not|never|no) [^,.;]*|\b(?:did|was|is|has|does|were)(?:n't|nt| not)\b[^,.;]*|\b(?:dint|didn|dident|didnot|dinnt)\b[^,.;]*|\b(?:take|took) (?:that|it) back\b|\bscratch that\b|\b(?:i was|that was|it was|that's|report was|report is) (?:wrong|a mistake|misread|false)\b`)
	elseMoved = regexp.MustCompile(`\b(?:moved|moves|moving|slid|slips?|slipped|gave|crept|jumped|shifted|turned|dropped|settled)\b`)

	// backNamed stands before what is taken back by its name, and deniedAlone is a report
	// that is denied in a sentence of its own, of what was and not of what is now.
	backNamed   = hear.Expression(`^(?:(?:no|sorry|please|ok)[ ,]+)*(?:i |we |i'll |can i )?(?:take|took|taking) back\b[ ,:]*(?:(?:the|my|that|this) (?:report|sighting)\b[ ,:]*)?(?:(?:that|of|about|saying) )*`)
	deniedAlone = hear.Expression(`^(?:the |our |his |her |my )?((?:\w+ )?\w+) (?:did not|didn't|didnt|didn|dint|dident|didnot|dinnt|has not|hasn't|hasnt|never)((?: really| actually| even)*) (\w+)(?: at all| after all| really)?$`)
)

// pulling is what slips when the puller does.
var pulling = regexp.MustCompile(`^(?:` + pullerNouns + `|truck|wheels?|tyres?|tires?|tracks?)$`)

// lastSeen returns which report whoever speaks told last of the things that are seen in a
// pull, or of that kind of them; -1 for none.
func (t *turn) lastSeen(kind string) int {
	for i := range slices.Backward(t.s.Reports) {
		r := t.s.Reports[i]
		if _, is := sightOf(r.Kind); is && r.By.ID == t.in.Person.ID && r.Kind != "hurt" && r.Kind != "moves" && (kind == "" || r.Kind == kind) {
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
	if isQuestion(low) {
		return false
	}
	if at, named := t.backByName(low); at >= 0 {
		t.takeBack(at, "", text)
		return true
	} else if named && !t.main() && !claimsOnly(unmoved.ReplaceAllString(low, " unmoved ")) {
		t.passesOn(text)
		return true
	}
	begin := unsays.FindString(low)
	if begin == "" {
		return false
	}
	rest := strings.TrimLeft(low[len(begin):], " ,.;:-")
	at := t.lastSeen("")
	if at < 0 || !deniesIt.MatchString(rest) && !deniesIt.MatchString(begin) {
		return false
	}
	left := strings.Trim(deniesIt.ReplaceAllString(rest, " "), " ,.;")
	if seen, ok := sightIn(left); ok && seen.kind == t.s.Reports[at].Kind {
		return false // it is told once more
	}
	t.takeBack(at, left, text)
	return true
}

// backByName returns which report of theirs some words take back by what was seen: "take
// back the puller slips", or deny in a sentence of its own: "the winch didn't slip"; -1
// where they do not, or it was told of another thing or by another. It reports whether a
// thing that can be seen is taken back by name: such words are no new report of it.
func (t *turn) backByName(low string) (at int, named bool) {
	if begin := backNamed.FindString(low); begin != "" {
		what := strings.Trim(low[len(begin):], " ,.;:-")
		if seen, ok := sightIn(what); ok {
			return t.lastSeen(seen.kind), true
		}
		if what == "" || what == "it" || what == "that" {
			return t.lastSeen(""), false
		}
		return -1, false
	}
	m := deniedAlone.FindStringSubmatch(low)
	if m == nil {
		return -1, false
	}
	seen, ok := sightIn(m[1] + " " + m[3])
	if !ok {
		return -1, false
	}
	anew, reads := sightIn(low)
	named = reads && anew.kind == seen.kind
	at = t.lastSeen("")
	if at < 0 || t.s.Reports[at].Kind != seen.kind {
		return -1, named
	}
	thing := m[1][strings.LastIndexByte(m[1], ' ')+1:]
	if thing != "it" && !(seen.kind == "slips" && pulling.MatchString(thing)) && !slices.Contains(strings.Fields(hear.Lowered(t.s.Reports[at].Words)), thing) {
		return -1, named // the load that did not slip says nothing of the puller
	}
	return at, true
}

// passesOn hands the lead words of somebody in the pull that change nothing.
func (t *turn) passesOn(text string) {
	t.note(text)
	who := t.whoName()
	t.toLead(func() { t.say(wording.JoinSays, wording.Args{"Name": who, "Text": wording.Plain(text)}) })
	t.remark(wording.JoinPassed, wording.Args{"Name": t.s.Lead.Name})
}

// takeBack takes a report back, of which the words leave so much that was seen instead.
func (t *turn) takeBack(at int, left, text string) {
	was := t.s.Reports[at]
	seen, ok := sightIn(left)
	if !ok && !elseMoved.MatchString(left) {
		t.unasks(at)
	}
	t.act(Act{Do: DoUnreport, Path: strconv.Itoa(at), Value: wording.Plain(text)})
	args := wording.Args{"Name": t.whoName(), "Was": was.Words, "Text": wording.Plain(text)}
	say := func() { t.say(wording.PullTakenBack, args) }
	t.tellAllAndHere(false, say)
	switch {
	case ok && t.s.State == Pulling && seen.kind != "moves":
		t.saw(seen.kind, wording.Plain(text))
		return
	case ok && seen.stops:
		t.haltSeen(seen.kind, text)
		return
	case ok && seen.kind != "moves":
		t.act(Act{Do: DoReport, Path: seen.kind, Value: wording.Plain(text)})
		t.reopenFor(seen.causes...)
	case elseMoved.MatchString(left): // and what that was nobody can tell for certain
		t.act(Act{Do: DoReport, Path: "words", Value: wording.Plain(text)})
		t.holdNow()
		t.reopenFor(calc.Unclear)
	}
	if t.s.State == Referred { // the try that handed it over may be the one that was none
		t.fire(Reopens)
	}
	if t.s.State != Halted {
		t.inChat(t.s.leadChat(), t.replan)
	}
	t.ask()
}

// learntHeld keeps, of a report, what was learnt from it: its place among what was seen.
const learntHeld = "learnt:"

// keepsLearnt notes that the last report has taught the thing seen at place n.
func (t *turn) keepsLearnt(n int) {
	if last := len(t.s.Reports) - 1; last >= 0 {
		t.act(Act{Do: DoHold, Path: learntHeld + itoa(last), Value: itoa(n)})
	}
}

// shocked reports whether anything that stands as told shook the line.
func (s *Session) shocked() bool {
	return slices.ContainsFunc(s.Reports, func(r Report) bool { return shocking[r.Kind] != "" }) ||
		slices.ContainsFunc(s.Stops, func(stop Stop) bool {
			return slices.ContainsFunc(stop.causes(), func(c string) bool { return shocking[c] != "" })
		})
}

// unasks has what was asked again for a report, and for nothing that was told since, be as
// it was, once that report is taken back.
func (t *turn) unasks(at int) {
	seen, ok := sightOf(t.s.Reports[at].Kind)
	if !ok || seen.stops || at != len(t.s.Reports)-1 || len(t.s.Stops) > 0 && t.s.Stops[len(t.s.Stops)-1].At >= t.s.Reports[at].At {
		return
	}
	for _, cause := range seen.causes {
		for _, r := range calc.Stale(cause) {
			for _, g := range slices.Clone(t.s.Again) {
				if g.Why == r.Why && slices.ContainsFunc(r.In(t.s.Sheet), func(f string) bool { return topicFilling(f) == g.Topic }) {
					t.settle(g.Topic, Told)
				}
			}
		}
	}
}

// unreport takes a report out of what counts, with what was learnt from it.
func (s *Session) unreport(a Act) {
	at, err := strconv.Atoi(a.Path)
	if err != nil || at < 0 || at >= len(s.Reports) {
		return
	}
	if a.Topic != laidAside { // that was so, and only taught another thing
		s.Reports = slices.Clone(s.Reports)
		shock := shocking[s.Reports[at].Kind] != ""
		s.Reports[at].Kind = "taken-back"
		if shock && !s.shocked() { // nothing else that was told shook the line
			s.Worn = slices.DeleteFunc(slices.Clone(s.Worn), func(w Worn) bool { return w.Told == "" })
		}
	}
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
