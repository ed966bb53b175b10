package main

import (
	"crypto/rand"
	"log/slog"
	"math/big"

	"linetender/calc"
	"linetender/flow"
	"linetender/flow/wording"
)

// newEngine wires the conversation to the calculation and to the words.
func newEngine(anyone bool) *flow.Engine {
	return &flow.Engine{Reckon: calc.Reckon, Words: wording.English(), Random: random, Anyone: anyone}
}

// alarm words what must be said of an arrival though the store fails it.
func alarm(e *flow.Engine, decode func(flow.Arrival) (flow.Input, bool, error), log *slog.Logger) func(flow.Arrival) string {
	return func(a flow.Arrival) string {
		in, ok, err := decode(a)
		if err != nil || !ok {
			return ""
		}
		text, err := e.Alarm(in)
		if err != nil {
			log.Error("an alarm has no words", "err", err)
		}
		return text
	}
}

// random returns a number from 0 up to n that nobody can guess: invitations
// are made with it.
func random(n int) int {
	// An error of the system's source of chance ends the program in there.
	v, err := rand.Int(rand.Reader, big.NewInt(int64(n)))
	if err != nil {
		panic("random: " + err.Error())
	}
	return int(v.Int64())
}
