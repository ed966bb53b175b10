//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package store

import (
	"errors"
	"os"
	"syscall"
)

// abandon closes a file that bbolt can't be asked to close any more. The lock is
// taken off by name: the memory that is mapped to the file outlives the closing, and
// would keep it.
func abandon(f *os.File) error {
	return errors.Join(syscall.Flock(int(f.Fd()), syscall.LOCK_UN), f.Close())
}
