//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd)

package store

import "os"

// abandon closes a file that bbolt can't be asked to close any more; here its lock
// goes with it.
func abandon(f *os.File) error { return f.Close() }
