//go:build !race

package calc

// raced says that the race detector is on.
const raced = false
