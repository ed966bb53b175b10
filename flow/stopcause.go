package flow

import (
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What a stop in the pull was for says which answers it makes doubtful.

// stopCauses are the sights that can be the reason for a stop.
func stopCauses() []sight {
	return slices.DeleteFunc(slices.Clone(sights), func(s sight) bool { return s.kind == "moves" })
}

func stopCauseOf(name string) (sight, bool) {
	s, ok := sightOf(name)
	return s, ok && s.kind != "moves"
}

func isCause(name string) bool { _, ok := stopCauseOf(name); return ok }

// causeIn returns the cause that words name; the words themselves where they
// name none, so that the same words twice are the same reason.
func causeIn(words string) string {
	low := strings.ToLower(strings.Trim(wording.Plain(words), " .!"))
	if s, ok := sightIn(low); ok {
		if _, ok := stopCauseOf(s.kind); ok {
			return s.kind
		}
	}
	if rainy.MatchString(low) {
		return "weather"
	}
	for _, c := range causeWords {
		if holdsAny(low, c.words) || holdsAny(low, c.vague) {
			return c.name
		}
	}
	return low
}

type causeWord struct {
	name  string
	words []string
	vague []string // that may be in a reason for another thing
}

// causeWords are words that are enough in a reason, where in a report they
// would not be.
var causeWords = []causeWord{
	{"inside", []string{"child", "kid", "dog", "animal", "walked in", "ran in", "bystander", "walker"}, []string{"somebody", "someone", "person"}},
	{"signal", []string{"radio"}, []string{"signal", "sight"}},
}

// causeOffers are the reasons that the lead can press at a stop in the pull.
func (t *turn) causeOffers() []offer {
	stop := t.s.stop()
	if stop == nil || stop.Drill || !t.s.Stage.Rigged() {
		return nil
	}
	var out []offer
	for _, c := range stopCauses() {
		out = append(out, offer{choice: "stop_cause." + c.kind + "." + stop.call(), label: t.saying(wording.Key("cause." + c.kind))})
	}
	return out
}

// causePress takes the reason for a stop from the lead.
func (t *turn) causePress(name, of string) {
	c, ok := stopCauseOf(name)
	if stop := t.s.stop(); !ok || t.s.State != Halted || stop == nil || of != stop.call() {
		t.notice = true
		t.say(wording.RefuseStaleShort, nil)
		return
	}
	t.said = t.saying(wording.Key("cause." + name))
	if !t.leads() {
		return
	}
	t.act(Act{Do: DoCause, Value: c.kind})
	t.resumeHalted(t.saying(wording.Key("cause." + c.kind)))
}

// afterStop reopens what the last stop could have changed. Two stops for the
// same reason say that the plan is not understood: all of the list is asked
// again, and the plan is read back.
func (t *turn) afterStop() {
	stop := t.s.Stops[len(t.s.Stops)-1]
	if slices.Contains(stop.causes(), "hurt") {
		t.hurt(stop)
		return
	}
	t.lookFor(stop)
	t.learnFrom(stop)
	if !t.s.Stage.needsPlan() {
		t.backToPull()
		t.ask()
		return
	}
	t.reopenFor(t.madeDoubtful(stop)...)
	t.reopenNamed(stop)
	if len(hazards(t.s.Sheet)) > 0 && t.refers("") { // what hands the job over is asked nothing more
		return
	}
	if slices.ContainsFunc(stop.causes(), func(cause string) bool { return t.s.stopsFor(cause) > 1 }) {
		t.stale()
		if p := t.plan(); p != nil {
			t.sayApart(wording.StopTwice, nil)
			t.tell(p)
			t.toldOf(p)
		}
	}
	t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
	if t.easeFirst() {
		return
	}
	t.next()
}

// madeDoubtful is what a stop makes doubtful: that people have moved, whatever it was
// for, and what its reasons could have changed. Where no reason is certain, that is
// more; where nothing was seen, nothing but that.
func (t *turn) madeDoubtful(stop Stop) []calc.Cause {
	out := []calc.Cause{calc.Stopped}
	for _, cause := range stop.causes() {
		c, known := stopCauseOf(cause)
		out = append(out, c.causes...)
		if cause == "runs" && (bareRolled.MatchString(hear.Lowered(stop.Words)) || bareRolled.MatchString(hear.Lowered(stop.Reason))) {
			out = append(out, calc.Tipped)
		}
		if known && t.certain(stop, c.kind) || !known && stop.nothingSeen(cause) {
			continue
		}
		out = append(out, calc.Unclear)
	}
	return out
}

// bareRolled are words that a load rolled, and not which way: on its wheels or over on
// its side, so that both are looked at.
var bareRolled = hear.Expression(`\b(?:it|load|truck|lorry|van|car|vehicle|trailer|wagon)(?: has| have| just)* rolled\W*$|\brolled (?:load|truck|lorry|van|car|vehicle|trailer|wagon)\b`)

// wentOver puts it on the sheet that the load lies on its side, told with a stop while
// it is rigged: that hands the job over, whatever is said to end the stop.
func (t *turn) wentOver(text string) {
	if !t.s.Stage.Rigged() || slices.Contains(hazards(t.s.Sheet), "overturned") {
		return
	}
	t.factsNow(slices.DeleteFunc(hazardsOf(t.factsIn(calledOff.ReplaceAllString(text, ""))), func(f hear.Fact) bool { return !slices.Contains(kinds(f.Value), "overturned") }))
}

// certain reports whether a stop was for a cause by more than a vague word of its
// reason: somebody who dropped a block is no bystander.
func (t *turn) certain(stop Stop, kind string) bool {
	at := slices.IndexFunc(causeWords, func(c causeWord) bool { return c.name == kind })
	if at < 0 || slices.Contains(stop.Looked, kind) || t.byLabelled(stop) {
		return true
	}
	low := hear.Lowered(stop.Reason)
	seen, ok := sightIn(low)
	return holdsAny(low, causeWords[at].words) || ok && seen.kind == kind
}

func holdsAny(text string, words []string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(text, w) })
}

// byLabelled reports whether the reason of a stop is what a button for one says.
func (t *turn) byLabelled(stop Stop) bool {
	return slices.ContainsFunc(stopCauses(), func(c sight) bool { return stop.Reason == t.saying(wording.Key("cause."+c.kind)) })
}

// nothingSeen reports whether a stop was a mistake, by its reason and by the words
// that it was called with, each time.
func (s *Stop) nothingSeen(reason string) bool {
	return saysMistaken(reason) && s.Calls == 0 && (s.Words == "" || hear.StopsAlone(s.Words))
}

// reopenNamed reopens what the words of a stop name of the list: a dog that ran into
// the chocks is more than a dog.
func (t *turn) reopenNamed(stop Stop) {
	if stop.nothingSeen(stop.Cause) {
		return
	}
	words := stop.Words
	if !t.byLabelled(stop) {
		words += " " + lookedAt.ReplaceAllString(hear.Lowered(stop.Reason), " ")
	}
	for _, c := range t.listed() {
		if (t.s.Settled[c.path()] != "" || t.s.Marks[c.path()].Value != "") && t.alludes(c, words) {
			t.unsign(c.id)
			t.reopenItem(c.path())
		}
	}
}

// hurt hands the job over: somebody is hurt, and that comes before the load.
// It goes on once the lead has said that nobody is.
func (t *turn) hurt(stop Stop) {
	say := t.hurtPosts(stop)
	t.act(Act{Do: DoSet, Path: "hazards", Value: "people-inside", How: Told})
	t.next()
	t.tellAllAndHere(false, say)
}

// lookFor says to everybody what is to be looked at after a stop, where it was
// not said with the stop itself.
func (t *turn) lookFor(stop Stop) {
	if !t.s.Stage.Rigged() {
		return
	}
	for _, cause := range stop.causes() {
		if _, ok := stopCauseOf(cause); !ok || slices.Contains(stop.Looked, cause) {
			continue
		}
		say := func() { t.say(wording.Key("look."+cause), nil) }
		t.tellAllAndHere(false, say)
	}
}

// learnFrom has what a stop was for teach what it would have taught without
// one: a slip is a slip, whatever word it came with.
func (t *turn) learnFrom(stop Stop) {
	p := t.plan()
	if p == nil || p.Tackle == nil {
		return
	}
	causes := stop.causes()
	for _, words := range []string{stop.Words, stop.Reason} {
		if hear.PullerSlips(hear.Dangers(words, nil)) && !slices.Contains(causes, "slips") {
			causes = append(causes, "slips") // told beside what counted first
		}
	}
	for _, cause := range causes {
		if s, ok := stopCauseOf(cause); ok {
			if what, more := t.teaches(s, stop.Stage, p, stop.Words); what != "" {
				t.learn(p, what, more)
			}
		}
	}
}

// causes are what a stop was for: all that was told of it, because what is
// said last takes back nothing that was seen before.
func (s *Stop) causes() []string {
	out := slices.Clone(s.Also)
	if !slices.Contains(out, s.Cause) {
		out = append(out, s.Cause)
	}
	for i, cause := range out {
		if s.NoneHurt && cause == "hurt" {
			out[i] = "mistake"
		}
	}
	return out
}

// is takes in what a stop is for.
func (s *Stop) is(cause string) {
	if _, known := stopCauseOf(s.Cause); known && s.Cause != cause && !slices.Contains(s.Also, s.Cause) {
		s.Also = append(s.Also, s.Cause)
	}
	s.Cause = cause
}

// looks takes in that it was told with the stop what to look at.
func (s *Stop) looks(cause string) {
	if cause != "" {
		s.Looked = append(s.Looked, cause)
	}
}

// stopsFor counts the stops of the pull for one reason.
func (s *Session) stopsFor(cause string) int {
	n := 0
	for i := range s.Stops {
		if stop := &s.Stops[i]; !stop.Drill && stop.Stage != NotBegun && slices.Contains(stop.causes(), cause) {
			n++
		}
	}
	return n
}

// unwalked reports whether a stop, or what was seen, has come since the rig
// was last looked over under light tension: it was loaded or handled then, so
// it is eased and walked again before it pulls.
func (s *Session) unwalked() bool {
	walked := 0
	for _, h := range s.Holds {
		if h.Stage == LightTension && h.Released == FirstMove {
			walked = h.Number
		}
	}
	for _, stop := range s.Stops {
		if !stop.Drill && stop.Stage != NotBegun && stop.Hold >= walked {
			return true
		}
	}
	return slices.ContainsFunc(s.Reports, func(r Report) bool {
		seen, ok := sightOf(r.Kind)
		return ok && seen.jerks && r.Hold >= walked
	})
}
