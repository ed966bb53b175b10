package main

import (
	"errors"
	"fmt"
	"io/fs"
	"net"
	"os"
	"path/filepath"
	"strings"

	"github.com/adrg/xdg"
)

// A local socket is a file, and who can reach the file can connect. It stands
// in a folder of its own that only its user can enter, inside of the data
// folder; where that path is longer than a socket's may be, or the disk there
// knows no sockets, in a new folder among the user's runtime files.
const (
	socketFolder = "hatch"
	socketName   = "socket"
	shortFolder  = "linetender-" // and letters of chance
	// longestSocket is what every system takes: 104 bytes with the end mark
	// on the BSDs and macOS, 108 on Linux and Windows.
	longestSocket = 103
)

// listenPrivately listens where only this user can connect.
func listenPrivately(dir string) (net.Listener, error) {
	own := filepath.Join(dir, socketFolder)
	l, err := listenIn(own)
	if err == nil {
		return l, nil
	}
	for _, base := range shortBases() {
		folder, made := os.MkdirTemp(base, shortFolder) // for its owner only, and nobody's before
		if made != nil {
			err = errors.Join(err, made)
			continue
		}
		l, short := listenIn(folder)
		if short == nil {
			return l, nil
		}
		err = errors.Join(err, short, os.Remove(folder))
	}
	return nil, err
}

// shortBases are where a short private folder can be made.
func shortBases() []string {
	// The environment may have been set after the library read it.
	xdg.Reload()
	var bases []string
	if private(xdg.RuntimeDir) {
		bases = append(bases, xdg.RuntimeDir)
	}
	return append(bases, os.TempDir())
}

// listenIn makes folder if it is not there, closes it to others and listens
// in it.
func listenIn(folder string) (net.Listener, error) {
	path := filepath.Join(folder, socketName)
	if len(path) > longestSocket {
		return nil, fmt.Errorf("%s is too long for a socket", path)
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, err
	}
	if err := os.Chmod(folder, 0o700); err != nil {
		return nil, err
	}
	if !private(folder) {
		return nil, fmt.Errorf("%s is another user's, or others can enter it", folder)
	}
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	l, err := net.Listen("unix", path)
	if err != nil {
		return nil, errors.Join(err, dropFolder(path))
	}
	if err := os.Chmod(path, 0o600); err != nil {
		return nil, errors.Join(err, l.Close(), dropFolder(path))
	}
	return l, nil
}

// private reports whether folder is a folder, this user's, and closed to
// others.
func private(folder string) bool {
	info, err := os.Lstat(folder)
	return err == nil && info.IsDir() && ownedPrivately(info)
}

// clearSocket takes away what a process that died has left of its hatch. A
// note is only text: nothing is removed that is not a socket in a folder as
// this program makes them.
func clearSocket(dir, socket string) {
	folder := filepath.Dir(socket)
	ours := folder == filepath.Join(dir, socketFolder) || strings.HasPrefix(filepath.Base(folder), shortFolder)
	info, err := os.Lstat(socket)
	if err != nil || !ours || filepath.Base(socket) != socketName || info.Mode().Type() != fs.ModeSocket || !private(folder) {
		return
	}
	// What can't be removed is only untidy: nothing is looked for there again.
	_ = os.Remove(socket)
	_ = os.Remove(folder)
}

// dropFolder removes the folder of a socket that is closed.
func dropFolder(socket string) error {
	err := os.Remove(filepath.Dir(socket))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}
