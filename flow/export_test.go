package flow

import (
	"slices"
	"strings"
	"testing"

	"linetender/calc"
	"linetender/flow/wording"
)

// Load replays a job, for the tests outside.
func Load(log Log, code string) (*Session, error) { return load(log, code) }

// Recall reads a job as the engine's next turn will find it, from where it was
// read before: what many looks at one job cost least.
func Recall(e *Engine, log Log, code string) (*Session, error) { return e.load(log, code) }

// Copied is an engine like e that has read of log already what was read of the one
// that log was copied from, by the engine whose turns those were, and knows its last plans.
func Copied(e, from *Engine, was, log Log) *Engine {
	to := &Engine{Reckon: e.Reckon, Words: e.Words, Random: e.Random, Link: e.Link, Command: e.Command, Pictures: e.Pictures, Anyone: e.Anyone}
	copyRead(&to.recall.jobs, &from.recall.jobs, was, log, (*Session).clone)
	copyRead(&to.recall.chats, &from.recall.chats, was, log, (*chatState).clone)
	plans := from.recent.plans.last(8)
	for _, p := range slices.Backward(plans) {
		to.recent.plans.put(p.key, p.value, mostPlans)
	}
	return to
}

func copyRead[T comparable](to, from *latest[string, *recalled[T]], was, log Log, clone func(T) T) {
	var none T
	for _, kept := range from.last(16) {
		if r := kept.value; same1(r.log, was) {
			r.mu.Lock()
			if r.is != none {
				to.put(kept.key, &recalled[T]{log: log, is: clone(r.is)}, 16)
			}
			r.mu.Unlock()
		}
	}
}

// last are the values that were asked for last, the last first.
func (l *latest[K, V]) last(most int) []entryOf[K, V] {
	l.mu.Lock()
	defer l.mu.Unlock()
	var out []entryOf[K, V]
	for e := l.order.Front(); e != nil && len(out) < most; e = e.Next() {
		out = append(out, e.Value.(entryOf[K, V]))
	}
	return out
}

// ReadOn folds what a job's log has after s into a copy of it: what Load gives, without
// reading all of it again.
func ReadOn(log Log, code string, s *Session) (*Session, error) { return fold(log, code, s.clone()) }

// Work is Turn with the session as it is live after it; nil without one.
func Work(e *Engine, log Log, in Input) (*Session, Turn, error) {
	x, out, err := e.work(log, in)
	if err != nil || x.s == nil || len(out.Writes) == 0 {
		return nil, out, err
	}
	s := x.s
	s.Last++
	s.Update = x.entry.Update
	s.close(x.entry, s.Last)
	return s, out, nil
}

// Barred says what keeps the puller from pulling, as a key.
func Barred(e *Engine, s *Session, at Input) (string, bool) {
	t := newTurn(e, at)
	t.s = s
	k, _, is := t.barred()
	return string(k), is
}

// Fewer has rapid draw so many games in a test whose games are long.
var Fewer = fewer

// Lone leaves a test out of a run under the race detector: it plays whole jobs in
// one goroutine, so there is nothing to find and ten times as long to wait. It
// runs in every other run; what runs side by side is tested in desk and channels.
func Lone(t *testing.T) {
	t.Helper()
	if Raced {
		t.Skip("one goroutine: nothing for the race detector")
	}
}

// StandAt puts values on a job's sheet, each as told, and asks topic; what that
// fills is blank again. With no topic it stands at the verdict.
func StandAt(e *Engine, log Log, in Input, code, name string, told [][2]string) (Turn, error) {
	t := newTurn(e, in)
	s, err := load(log, code)
	if err != nil {
		return Turn{}, err
	}
	t.s = s
	for _, kv := range told {
		t.act(Act{Do: DoSet, Path: kv[0], Value: kv[1], How: Told})
		if of := topicFilling(kv[0]); of != "" && t.s.Settled[of] == "" {
			t.fire(Reopens)
			t.act(Act{Do: DoAsk, Topic: of})
			t.act(Act{Do: DoSettle, Topic: of, How: Told})
		}
	}
	tp, ok := topicByName(name)
	if !ok {
		t.fire(Decided)
		t.act(Act{Do: DoAsk})
		t.ask()
		return t.finish()
	}
	blank := tp.fills
	if list := map[string]string{"gear": "gear", "anchor": "anchors"}[tp.name]; list != "" {
		blank = []string{list}
	}
	for _, path := range blank {
		if was, ok := t.s.Sheet.Get(path); ok && was != "unknown" { // which is no answer
			t.act(Act{Do: DoSet, Path: path, Was: was, How: Told})
		}
	}
	if t.s.Settled[tp.name] != "" {
		t.act(Act{Do: DoReopen, Topic: tp.name})
	}
	t.fire(Reopens)
	t.to(tp.name, tp.state)
	return t.finish()
}

// TopicNames are the names of all questions, first those before the first figure.
func TopicNames() []string {
	var out []string
	for _, list := range [][]topic{firstTopics, laterTopics} {
		for _, tp := range list {
			out = append(out, tp.name)
		}
	}
	return out
}

// ForPuller is the key of a sentence for a kind of puller.
func ForPuller(kind string, k wording.Key) wording.Key {
	s := newSession()
	if err := s.Sheet.Set("puller.kind", kind); err != nil {
		panic(err)
	}
	return (&turn{e: &Engine{Words: wording.English()}, s: s}).forPuller(k)
}

// WorseEnd tells which of two figures is the worse by what they are of.
func WorseEnd(path, value, was string) bool { return worseEnd(path, value, was) }

// TimesSeen is how often a thing was seen in the pull.
func (s *Session) TimesSeen(kind string) int { return s.timesSeen(kind) }

// Worse reports whether a job is worse off with another value at a path.
func Worse(e *Engine, s *Session, path, value string) bool {
	return (&turn{e: e, s: s}).worse(path, value)
}

// StopCauses are the reasons for a stop that the lead can press.
func StopCauses() []string {
	var out []string
	for _, c := range stopCauses() {
		out = append(out, c.kind)
	}
	return out
}

// HeldAgainst holds two values of a field against each other in a job.
func HeldAgainst(e *Engine, s *Session, path, value, was string) int {
	t := newTurn(e, Input{})
	t.s = s
	return t.heldAgainst(path, value, was)
}

// Differing says what the lead is told where one of two answers stands and the other
// is told since.
func Differing(e *Engine, s *Session, path, was, said string) string {
	t := newTurn(e, Input{Chat: "test/Ada"})
	one := *s
	t.s = &one
	if one.Sheet.Set(path, was) != nil || t.worse(path, said) && one.Sheet.Set(path, said) != nil {
		return ""
	}
	one.Differs = []Differ{{Number: 1, Path: path, Was: was, Said: said}}
	one.State = Verdict
	t.wantDiffer(one.leadChat()).say()
	return string(t.replies[0].key)
}

// Retired is the gear that the debrief of a job names as it stands.
func Retired(e *Engine, s *Session) []calc.Retired {
	t := newTurn(e, Input{})
	t.s = s
	return t.retire()
}

// LeadersCard is what the leader of a crew of these reads of their part, by key.
func LeadersCard(e *Engine, s *Session, names ...string) []string {
	t := newTurn(e, Input{})
	t.s = s
	var crew []body
	for _, n := range names {
		crew = append(crew, body{name: n})
	}
	t.propose(crew)
	t.duties(t.s.Seats[0])
	var out []string
	for _, r := range t.mail.replies {
		out = append(out, string(r.key))
	}
	return out
}

// ItemFails reports whether a value of an item of the list is not as it should be.
func ItemFails(path, value string) bool {
	c, ok := siteCheckOf(strings.TrimPrefix(path, "site."))
	return ok && failing(c, value)
}

// NobodyHolds reports whether a job needs somebody at the holding line and has nobody.
func NobodyHolds(e *Engine, s *Session, at Input) bool {
	t := newTurn(e, at)
	t.s = s
	return len(s.Seats) > 0 && t.people() > 1 && t.holdNeeded() && t.holdsPost("holder") == ""
}
