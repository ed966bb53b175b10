package main

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"

	"linetender/flow"
	"linetender/flow/terminal"
)

// What a terminal that joins asks at the hatch. It sits down once, by a
// question whose answer goes on as long as it sits there, a line each time
// that something may be new and now and then one that says no more than that
// somebody is there; everything else is short questions.
const (
	sitQuestion   = "/seat"
	sayQuestion   = "/seat/say"
	nextQuestion  = "/seat/next"
	heardQuestion = "/seat/heard"
	leaveQuestion = "/seat/leave" // what that would mean
	makeQuestion  = "/seat/show"
)

// largestSaid is the most that a terminal may send at once, in bytes.
const largestSaid = 1 << 20

// A welcome is the first line of what a terminal hears that sits down.
type welcome struct {
	Chat   string `json:"chat"`
	Photos string `json:"photos,omitempty"` // where pictures are kept that it sends; empty keeps none
}

// seats serve the terminals that have joined.
type seats struct {
	exchange *terminal.Exchange
	render   func(context.Context, flow.Show) (flow.Shown, error)
	photos   string

	mu     sync.Mutex
	sat    map[string]*terminal.Seat
	closed bool // this process ends, so nobody has left
}

// awayAfter is how long a terminal may be gone before its people are told that
// nothing reaches who sat there: a line that is cut is taken up again sooner.
const awayAfter = 5 * time.Second

func (s *seats) routes(mux *http.ServeMux) {
	mux.HandleFunc("GET "+sitQuestion, s.sit)
	mux.HandleFunc("POST "+sayQuestion, s.at(s.say))
	mux.HandleFunc("GET "+nextQuestion, s.at(s.next))
	mux.HandleFunc("POST "+heardQuestion, s.at(s.heard))
	mux.HandleFunc("GET "+leaveQuestion, s.at(s.parting))
	mux.HandleFunc("GET "+makeQuestion, s.show)
}

// drawing is a maker of what messages show that tells the operator what it
// could not make; the person is told by the channel.
func drawing(make func(context.Context, flow.Show) (flow.Shown, error), log *slog.Logger) func(context.Context, flow.Show) (flow.Shown, error) {
	return func(ctx context.Context, s flow.Show) (flow.Shown, error) {
		made, err := make(ctx, s)
		if err != nil && ctx.Err() == nil {
			log.Error("something to be shown could not be made", "what", s.What, "job", s.Job, "entry", s.Entry, "err", err)
		}
		return made, err
	}
}

// seatName is how the chat of a terminal may be called after the scheme.
var seatName = regexp.MustCompile(`^[a-z0-9]{1,32}$`)

// newSeatName is short enough to be typed, and no two are likely alike.
func newSeatName() string { return strings.ToLower(rand.Text()[:6]) }

func (s *seats) sit(w http.ResponseWriter, r *http.Request) {
	name := r.FormValue("as")
	if name == "" {
		name = newSeatName()
	}
	if !seatName.MatchString(name) {
		http.Error(w, "that is no name of a terminal", http.StatusBadRequest)
		return
	}
	chat := terminal.Scheme + name
	seat, err := s.exchange.Sit(chat)
	if err != nil {
		http.Error(w, fmt.Sprintf("another terminal speaks as %s now", name), http.StatusConflict)
		return
	}
	s.put(chat, seat)
	defer s.drop(chat)
	out, flush := json.NewEncoder(w), http.NewResponseController(w)
	if out.Encode(welcome{Chat: chat, Photos: s.photos}) != nil || flush.Flush() != nil {
		return
	}
	beat := time.NewTicker(beatEvery)
	defer beat.Stop()
	for {
		what := sayNew
		select {
		case <-r.Context().Done(): // it left, or we close
			return
		case <-seat.Stirs():
		case <-beat.C:
			what = sayHere
		}
		if out.Encode(what) != nil || flush.Flush() != nil {
			return
		}
	}
}

// What goes to a terminal that sits there, and how often at least. One that
// hears nothing for longestSilence counts its line as lost: a process that
// hangs passes no stop on, though it is there.
const (
	sayNew         = "new"
	sayHere        = "here"
	beatEvery      = 3 * time.Second
	longestSilence = 15 * time.Second
)

func (s *seats) put(chat string, seat *terminal.Seat) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.sat == nil {
		s.sat = map[string]*terminal.Seat{}
	}
	s.sat[chat] = seat
}

func (s *seats) drop(chat string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	seat := s.sat[chat]
	seat.Leave()
	delete(s.sat, chat)
	if s.closed {
		return
	}
	time.AfterFunc(awayAfter, func() {
		s.mu.Lock()
		back := s.closed || s.sat[chat] != nil
		s.mu.Unlock()
		if back {
			return
		}
		if err := seat.Gone(context.Background()); err != nil && s.exchange.Desk.Report != nil {
			s.exchange.Desk.Report.Error("tell that a terminal has closed", "chat", chat, "err", err)
		}
	})
}

// close says that what ends from here on is this process and not the terminals.
func (s *seats) close() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.closed = true
}

// turn has a chat given its turns, beside whatever goes on.
func (s *seats) turn(chat string) {
	if !strings.HasPrefix(chat, terminal.Scheme) {
		return
	}
	go func() {
		// What fails is tried again with the chat's next line, or at the next start.
		if err := s.exchange.Turns(context.Background(), chat); err != nil && s.exchange.Desk.Report != nil {
			s.exchange.Desk.Report.Error("turn", "chat", chat, "err", err)
		}
	}()
}

// at finds the seat that a question comes from.
func (s *seats) at(answer func(http.ResponseWriter, *http.Request, string, *terminal.Seat) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		chat := r.URL.Query().Get("chat")
		s.mu.Lock()
		seat := s.sat[chat]
		s.mu.Unlock()
		if seat == nil {
			http.Error(w, "no terminal sits there", http.StatusGone)
			return
		}
		if err := answer(w, r, chat, seat); err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
		}
	}
}

// say takes in what was entered. Who spoke is the chat's person, whatever the
// line says; its turn is carried through though the terminal leaves meanwhile.
func (s *seats) say(w http.ResponseWriter, r *http.Request, chat string, seat *terminal.Seat) error {
	var said terminal.Written
	if err := json.NewDecoder(http.MaxBytesReader(w, r.Body, largestSaid)).Decode(&said); err != nil {
		return fmt.Errorf("read what a terminal said: %w", err)
	}
	said.Person.ID = chat
	return seat.Say(context.WithoutCancel(r.Context()), said)
}

func (s *seats) next(w http.ResponseWriter, r *http.Request, _ string, seat *terminal.Seat) error {
	p, ok, err := seat.Next(r.Context())
	if err != nil {
		return err
	}
	if !ok {
		w.WriteHeader(http.StatusNoContent)
		return nil
	}
	return json.NewEncoder(w).Encode(p)
}

func (s *seats) heard(_ http.ResponseWriter, r *http.Request, _ string, seat *terminal.Seat) error {
	id, err := strconv.ParseUint(r.URL.Query().Get("id"), 10, 64)
	if err != nil {
		return errors.New("that is no number of a message")
	}
	return seat.Heard(r.Context(), id)
}

func (s *seats) parting(w http.ResponseWriter, r *http.Request, _ string, seat *terminal.Seat) error {
	p, err := seat.Parting(r.Context())
	if err != nil {
		return err
	}
	return json.NewEncoder(w).Encode(p)
}

func (s *seats) show(w http.ResponseWriter, r *http.Request) {
	entry, err := strconv.ParseUint(r.FormValue("entry"), 10, 64)
	if err != nil || s.render == nil {
		http.Error(w, "there is nothing to show", http.StatusNotFound)
		return
	}
	made, err := s.render(r.Context(), flow.Show{What: r.FormValue("what"), Job: r.FormValue("job"), Entry: entry, Caption: r.FormValue("caption")})
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	// An error in here shows at the other end as an answer that is cut short.
	_ = json.NewEncoder(w).Encode(made)
}
