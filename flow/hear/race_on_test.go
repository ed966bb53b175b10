//go:build race

package hear

// raced says that the race detector is on. What runs in one goroutine is ten
// times slower under it and shows it nothing.
const raced = true
