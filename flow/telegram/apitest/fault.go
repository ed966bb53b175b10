package apitest

import (
	"fmt"
	"net"
	"net/http"
	"time"
)

// Fault makes calls fail. The first fault that was set and fits a call strikes it.
type Fault struct {
	Method string // the method it strikes, or Download; empty for all but getUpdates
	Chat   int64  // the chat it strikes; 0 for all
	Times  int    // how often; 0 for as long as it is set
	Kind   Kind
	Late   bool // strikes after the call has had its effect: the caller cannot know that it had

	RetryAfter time.Duration // of TooMany: in whole seconds
	Pause      time.Duration // of Slow: in the middle of the answer
	Code       int           // of Broken: the status, 500 if 0
	struck     int
}

// Kind is what happens to a call that a fault strikes.
type Kind int

const (
	TooMany Kind = iota // 429 with retry_after
	Broken              // a 5xx with a page of HTML, as a proxy on the way would send
	Half                // the answer ends in the middle
	Reset               // the connection is reset without an answer
	Hang                // no answer until the caller gives up
	Slow                // the answer comes, with a pause in the middle
	Garbage             // 200 with a body that is no JSON
)

var kindNames = [...]string{"too many", "broken", "half", "reset", "hang", "slow", "garbage"}

func (k Kind) String() string { return kindNames[k] }

func (f *Fault) String() string {
	if f.Late {
		return "fault after the effect: " + f.Kind.String()
	}
	return "fault: " + f.Kind.String()
}

// Fail sets a fault.
func (s *Server) Fail(f Fault) {
	if f.Kind == Slow {
		f.Late = true // a slow answer is an answer
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.faults = append(s.faults, &f)
}

// Heal removes all faults.
func (s *Server) Heal() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.faults = nil
}

func (s *Server) strike(method string, p params) *Fault {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, f := range s.faults {
		switch {
		case f.Times > 0 && f.struck == f.Times,
			f.Method != "" && f.Method != method,
			f.Method == "" && method == "getUpdates",
			f.Chat != 0 && f.Chat != p.number("chat_id"):
			continue
		}
		f.struck++
		return f
	}
	return nil
}

// answer plays the fault. body is what the call would have been answered; nil if it was not run.
func (f *Fault) answer(s *Server, w http.ResponseWriter, r *http.Request, body []byte) {
	if body == nil {
		body = encodeAnswer(true, nil)
	}
	switch f.Kind {
	case TooMany:
		wait := int(f.RetryAfter / time.Second)
		writeRefusal(w, &refusal{code: http.StatusTooManyRequests, text: fmt.Sprintf("Too Many Requests: retry after %d", wait), retryAfter: wait})
	case Broken:
		code := f.Code
		if code == 0 {
			code = http.StatusInternalServerError
		}
		w.Header().Set("Content-Type", "text/html")
		w.WriteHeader(code)
		fmt.Fprintf(w, "<html><head><title>%d</title></head></html>", code)
	case Garbage:
		w.Write([]byte("<!doctype html><p>sign in to use this network</p>"))
	case Half:
		w.Header().Set("Content-Type", "application/json")
		w.Header().Set("Content-Length", fmt.Sprint(len(body)))
		w.Write(body[:len(body)/2])
		http.NewResponseController(w).Flush()
		panic(http.ErrAbortHandler)
	case Reset:
		reset(w)
	case Hang:
		select {
		case <-r.Context().Done():
		case <-s.closed:
		}
		panic(http.ErrAbortHandler)
	case Slow:
		w.Header().Set("Content-Type", "application/json")
		w.Header().Set("Content-Length", fmt.Sprint(len(body)))
		w.Write(body[:len(body)/2])
		http.NewResponseController(w).Flush()
		pause := time.NewTimer(f.Pause)
		defer pause.Stop()
		select {
		case <-pause.C:
			w.Write(body[len(body)/2:])
		case <-r.Context().Done():
		case <-s.closed:
		}
	}
}

// reset ends the connection at once, with a TCP reset where there is TCP.
func reset(w http.ResponseWriter) {
	conn, _, err := http.NewResponseController(w).Hijack()
	if err != nil {
		panic(http.ErrAbortHandler)
	}
	if tcp, ok := conn.(*net.TCPConn); ok {
		tcp.SetLinger(0)
	}
	conn.Close()
}
