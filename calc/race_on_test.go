//go:build race

package calc

// raced says that the race detector is on. Plans made one after the other are
// ten times slower under it and show it nothing.
const raced = true
