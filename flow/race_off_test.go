//go:build !race

package flow

// Raced says that the race detector is on.
const Raced = false
