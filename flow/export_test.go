package flow

import "testing"

// Load replays a job, for the tests outside.
func Load(log Log, code string) (*Session, error) { return load(log, code) }

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
