//go:build !race

package hear

// raced says that the race detector is on.
const raced = false
