package apitest

import (
	"strings"
	"time"
)

// Call is one call that reached the server, in the order of arrival.
type Call struct {
	At      time.Time
	Method  string
	Params  map[string]any // as decoded: string, bool, json.Number, Upload, lists and maps of these
	Outcome string         // "ok", the error given, or the fault that struck; empty while it lasts
	files   map[string]Upload
}

// Chat is the chat that the call names, or 0.
func (c Call) Chat() int64 { return params(c.Params).number("chat_id") }

// Text is the text or the caption of the call.
func (c Call) Text() string {
	if t := params(c.Params).text("text"); t != "" {
		return t
	}
	return params(c.Params).text("caption")
}

// OK reports whether the call was answered with success.
func (c Call) OK() bool { return c.Outcome == "ok" }

// Speaks reports whether the call counts as a message for the channel's rate limits.
func (c Call) Speaks() bool {
	return strings.HasPrefix(c.Method, "send") && c.Method != "sendChatAction" || strings.HasPrefix(c.Method, "edit")
}

// Calls returns the calls of the given methods so far, in order; of all but getUpdates if none is given.
func (s *Server) Calls(methods ...string) []Call {
	s.mu.Lock()
	defer s.mu.Unlock()
	var found []Call
	for _, c := range s.journal {
		if len(methods) == 0 && c.Method != "getUpdates" {
			found = append(found, c)
		}
		for _, m := range methods {
			if c.Method == m {
				found = append(found, c)
			}
		}
	}
	return found
}

// Lighten forgets what the calls so far said, for what is measured after them: kept, it is much of what
// the collector has to go through.
func (s *Server) Lighten() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for i := range s.journal {
		s.journal[i].Params, s.journal[i].files = nil, nil
	}
}

// Busiest returns the largest number of calls that pick chooses within any stretch of the given
// length: what the channel's rate limits are held against.
func (s *Server) Busiest(stretch time.Duration, pick func(Call) bool) int {
	var times []time.Time
	for _, c := range s.Calls() {
		if pick(c) {
			times = append(times, c.At)
		}
	}
	most, from := 0, 0
	for to := range times {
		for times[to].Sub(times[from]) >= stretch {
			from++
		}
		most = max(most, to-from+1)
	}
	return most
}

// enter writes a call into the journal and returns its place.
func (s *Server) enter(method string, p params, files map[string]Upload) int {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.journal = append(s.journal, Call{At: time.Now(), Method: method, Params: p, files: files})
	s.notify()
	return len(s.journal) - 1
}

// leave notes how the call ended.
func (s *Server) leave(n int, outcome string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.journal[n].Outcome = outcome
	s.notify()
}
