package main

import (
	"errors"
	"maps"
	"slices"
	"strings"
	"time"

	"linetender/flow"
	"linetender/store"
)

// The file is a store.
var _ Store = (*store.Store)(nil)

// eraser is the store for those who want to be forgotten.
type eraser struct {
	Store
	taken func() // when not nil, is called when something was taken out of a log
}

// EraseStream removes a stream, if it is there.
func (e eraser) EraseStream(name string) error {
	if err := e.Erase(name); !errors.Is(err, store.ErrUnknown) {
		return err
	}
	return nil
}

// Erase removes a stream.
func (e eraser) Erase(name string) error {
	defer e.tell()
	return e.Store.Erase(name)
}

// Redact puts other bytes in the place of entries.
func (e eraser) Redact(w flow.Write, redone map[uint64][]byte) error {
	defer e.tell()
	return e.Store.Redact(w, redone)
}

func (e eraser) tell() {
	if e.taken != nil {
		e.taken()
	}
}

// share is the part of the store that one channel works on: the chats whose
// name begins with its scheme. What a run of the other channel left behind
// stays for the next run of that one.
type share struct {
	Store
	scheme string            // such as "telegram/"
	other  func(chat string) // is told of an arrival in a chat of another channel, when not nil
}

// Accept takes in arrivals. The desk puts in what jobs wait for, whichever
// channel their lead is on.
func (s share) Accept(source string, cursor int64, arrivals []store.Arrival) error {
	if err := s.Store.Accept(source, cursor, arrivals); err != nil || s.other == nil {
		return err
	}
	for _, a := range arrivals {
		if !strings.HasPrefix(a.Chat, s.scheme) {
			s.other(a.Chat)
		}
	}
	return nil
}

// Chats returns the channel's own chats that have something waiting.
func (s share) Chats() ([]string, error) {
	all, err := s.Store.Chats()
	var own []string
	for _, chat := range all {
		if strings.HasPrefix(chat, s.scheme) {
			own = append(own, chat)
		}
	}
	return own, err
}

// Due returns what is due in the channel's own chats.
func (s share) Due(now time.Time, limit int, busy map[string]bool) ([]store.Due, error) {
	others := func(d store.Due) bool { return !strings.HasPrefix(d.Chat, s.scheme) }
	due, err := s.Store.Due(now, limit, busy)
	if err != nil || !slices.ContainsFunc(due, others) {
		return due, err
	}
	skip := map[string]bool{}
	maps.Copy(skip, busy) // which is the caller's
	for slices.ContainsFunc(due, others) {
		for _, d := range due {
			if others(d) {
				skip[d.Chat] = true
			}
		}
		if due, err = s.Store.Due(now, limit, skip); err != nil {
			return nil, err
		}
	}
	return due, nil
}
