//go:build unix

package main

import (
	"io/fs"
	"os"
	"syscall"
)

func ownedPrivately(info fs.FileInfo) bool {
	st, ok := info.Sys().(*syscall.Stat_t)
	return ok && int(st.Uid) == os.Getuid() && info.Mode().Perm()&0o077 == 0
}
