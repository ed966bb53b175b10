//go:build !race

package telegram

// raced says that the race detector is on.
const raced = false
