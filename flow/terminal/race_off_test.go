//go:build !race

package terminal

// raced says that the race detector is on.
const raced = false
