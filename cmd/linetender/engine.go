package main

import (
	"crypto/rand"
	"math/big"

	"linetender/calc"
	"linetender/flow"
	"linetender/flow/wording"
)

// newEngine wires the conversation to the calculation and to the words.
func newEngine(anyone bool) *flow.Engine {
	return &flow.Engine{Reckon: calc.Reckon, Words: wording.English(), Random: random, Anyone: anyone}
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
