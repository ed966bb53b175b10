// Package wording turns what the conversation wants to say into sentences.
//
// Every sentence, button and unit label that a person can read stands in one
// message file a language, en.toml here; code holds only keys and arguments.
// Arguments are typed quantities. This package alone chooses unit, digits and
// the direction of rounding: what a piece has to carry is rounded up, what it
// may carry is rounded down, and a range is rounded outward.
//
// The argument names used in the file are a closed list (args.go), each with
// its kind, so that a test can render every message and a slip fails there
// and not in front of a person.
package wording

//go:generate go run ./makekeys
