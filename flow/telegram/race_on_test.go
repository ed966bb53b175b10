//go:build race

package telegram

// raced says that the race detector is on, under which a plan takes ten times as long.
const raced = true
