package apitest

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"
)

// Server is the channel. Its methods may be called from any goroutine.
type Server struct {
	tb    testing.TB
	web   *httptest.Server
	http  *http.Client
	token string
	me    *User

	mu       sync.Mutex
	changed  chan struct{} // closed and replaced whenever something happens
	closed   chan struct{}
	revoked  bool
	privacy  bool
	journal  []Call
	broken   []string
	faults   []*Fault
	users    map[int64]*User
	chats    map[int64]*chat
	lastID   int64 // message ids are shared by all private chats and basic groups
	files    map[string]file
	commands map[string][]any
	presses  map[string]*Press
	intake   intake
	dated    time.Time // as Date has it
}

// Option changes how New sets the server up.
type Option func(*options)

type options struct {
	memory bool
	token  string
}

// InMemory serves over pipes in memory instead of a loopback socket: reach it with Client.
func InMemory() Option { return func(o *options) { o.memory = true } }

// Token sets the token that the server accepts.
func Token(token string) Option { return func(o *options) { o.token = token } }

// BotName is the user name of the bot, without the @.
const BotName = "rope_party_bot"

const botID = 700100

// New starts a server that lasts as long as the test, and fails the test at its end if a call
// broke the API.
func New(tb testing.TB, opts ...Option) *Server {
	tb.Helper()
	o := options{token: fmt.Sprintf("%d:AAtest-token_never-to-be-seen", botID)}
	for _, opt := range opts {
		opt(&o)
	}
	s := &Server{
		tb: tb, token: o.token, privacy: true,
		changed: make(chan struct{}), closed: make(chan struct{}),
		users: map[int64]*User{}, chats: map[int64]*chat{}, files: map[string]file{},
		commands: map[string][]any{}, presses: map[string]*Press{},
		intake: newIntake(),
	}
	s.me = &User{server: s, id: botID, name: "Rope party", bot: true}
	s.web = httptest.NewUnstartedServer(s)
	s.http = &http.Client{}
	if o.memory {
		s.web.Listener.Close()
		pipes := newPipes()
		s.web.Listener = pipes
		s.http.Transport = &http.Transport{DialContext: pipes.dial}
	} else {
		s.http.Transport = &http.Transport{MaxIdleConnsPerHost: 64}
	}
	s.web.Start()
	tb.Cleanup(func() {
		s.Close()
		for _, v := range s.TakeViolations() {
			tb.Errorf("the channel was misused: %s", v)
		}
	})
	return s
}

// Close stops the server; New does it at the end of the test. Calls in progress are cut off.
func (s *Server) Close() {
	s.mu.Lock()
	select {
	case <-s.closed:
		s.mu.Unlock()
		return
	default:
	}
	close(s.closed)
	s.mu.Unlock()
	s.web.CloseClientConnections()
	s.http.CloseIdleConnections()
	s.web.Close()
}

// URL is the address to give to the client in place of the real channel's.
func (s *Server) URL() string { return s.web.URL }

// Token is the one token that the server accepts.
func (s *Server) Token() string { return s.token }

// Client reaches the server, over memory if it was started with InMemory.
func (s *Server) Client() *http.Client { return s.http }

// Revoke makes every further call fail with 401, as after the owner has revoked the token.
func (s *Server) Revoke() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.revoked = true
	s.notify()
}

// Privacy switches the group privacy mode; it is on to begin with, as it is for a new bot.
func (s *Server) Privacy(on bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.privacy = on
}

// TakeViolations returns what was called against the rules so far, and forgets it.
func (s *Server) TakeViolations() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	v := s.broken
	s.broken = nil
	return v
}

// Wait blocks until cond holds, looking again whenever something happened on the server. cond
// is called without the lock held, so it may use every method. It fails the test if the context
// of the test ends first or nothing happened for two minutes.
func (s *Server) Wait(what string, cond func() bool) {
	s.tb.Helper()
	quiet := time.NewTimer(2 * time.Minute)
	defer quiet.Stop()
	for {
		s.mu.Lock()
		changed := s.changed
		s.mu.Unlock()
		if cond() {
			return
		}
		select {
		case <-changed:
			quiet.Reset(2 * time.Minute)
		case <-s.closed:
			s.tb.Fatalf("server closed while waiting for %s", what)
		case <-s.tb.Context().Done():
			s.tb.Fatalf("test ended while waiting for %s", what)
		case <-quiet.C:
			s.tb.Fatalf("nothing happened for two minutes while waiting for %s", what)
		}
	}
}

// notify wakes all that wait; the caller holds mu.
func (s *Server) notify() {
	close(s.changed)
	s.changed = make(chan struct{})
}

// ServeHTTP answers one call.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if path, ok := strings.CutPrefix(r.URL.Path, "/file/bot"+s.token+"/"); ok {
		s.serveFile(w, r, path)
		return
	}
	rest, ok := strings.CutPrefix(r.URL.Path, "/bot")
	token, method, found := strings.Cut(rest, "/")
	if !ok || !found {
		writeRefusal(w, &refusal{code: http.StatusNotFound, text: "Not Found"})
		return
	}
	s.mu.Lock()
	revoked := s.revoked
	s.mu.Unlock()
	if token != s.token || revoked {
		writeRefusal(w, &refusal{code: http.StatusUnauthorized, text: "Unauthorized"})
		return
	}
	m, ok := api.methods[method]
	if !ok {
		s.violate("%s is not a method of the API (or not one that the table holds)", method)
		writeRefusal(w, &refusal{code: http.StatusNotFound, text: "Not Found: method not found"})
		return
	}
	p, files, err := readParams(r, m)
	if r.Context().Err() != nil {
		return // the client left in mid-request: nothing was called
	}
	if err != nil {
		s.violate("%s: %v", method, err)
		writeRefusal(w, badRequest("%v", err))
		return
	}
	s.answer(w, r, m, p, files)
}

func (s *Server) answer(w http.ResponseWriter, r *http.Request, m shape, p params, files map[string]Upload) {
	lenient(p)
	n := s.enter(m.name, p, files)
	fault := s.strike(m.name, p)
	if fault != nil && !fault.Late {
		s.leave(n, fault.String())
		fault.answer(s, w, r, nil)
		return
	}
	var result any
	err := api.fitsShape(m, p, m.name)
	if err != nil {
		s.violate("%v", err)
		err = badRequest("%v", err)
	} else {
		result, err = s.do(r.Context(), m.name, p, files)
	}
	if err == nil && m.name != "getUpdates" { // updates were checked when they were queued
		checkAnswer(m, result)
	}
	body := encodeAnswer(result, err)
	if fault != nil {
		s.leave(n, fault.String())
		fault.answer(s, w, r, body)
		return
	}
	s.leave(n, outcome(err))
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status(err))
	w.Write(body)
}

func (s *Server) do(ctx context.Context, method string, p params, files map[string]Upload) (any, error) {
	if method == "getUpdates" {
		return s.getUpdates(ctx, p)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	defer s.notify()
	handler, ok := handlers[method]
	if !ok {
		return nil, badRequest("apitest knows %s but does not play it", method)
	}
	return handler(s, p, files)
}

// violate notes a breach of the API.
func (s *Server) violate(format string, args ...any) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.note(format, args...)
}

// note is violate for a caller that holds mu.
func (s *Server) note(format string, args ...any) {
	s.broken = append(s.broken, fmt.Sprintf(format, args...))
	s.notify()
}

// breach is a refusal that is a violation too; the caller holds mu.
func (s *Server) breach(p params, format string, args ...any) *refusal {
	r := badRequest(format, args...)
	s.note("chat %v: %s", p["chat_id"], r.text)
	return r
}
