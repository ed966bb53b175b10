package store

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"

	bolterrors "go.etcd.io/bbolt/errors"

	"linetender/store/internal/record"
)

// Errors of opening a store.
var (
	// ErrLocked is returned when another process has the store open.
	ErrLocked = errors.New("the store is in use by another process: close that one first, or use another data folder")

	// ErrReadOnly is returned when the store can't be written, or was opened for looking only.
	ErrReadOnly = errors.New("the store can't be written: give this user write access to the folder and the file, or use another data folder")

	// ErrCorrupt is returned when the file, or a value in it, is not as it was written.
	ErrCorrupt = record.ErrCorrupt

	// ErrFormat is returned when the file is not a store, or one of another release.
	ErrFormat = errors.New("the file is not a store that this release reads: use the release that wrote it, or another data folder")

	// ErrMissing is returned when a store that is to be read only does not exist.
	ErrMissing = errors.New("there is no store here: check the data folder")
)

// Errors of any call.
var (
	// ErrClosed is returned after Close.
	ErrClosed = errors.New("the store is closed: open it again")

	// ErrFull is returned when there is no room; nothing was written and the store goes on.
	ErrFull = errors.New("no room to write: free some space on the disk or raise the size limit, nothing already stored is lost")

	// ErrFailed is returned once the disk has failed in a commit, until the store is reopened.
	ErrFailed = errors.New("the disk failed while writing: check the disk, then start again; everything acknowledged before is kept")

	// ErrUnknown is returned for an update, parcel or stream that the store doesn't hold.
	ErrUnknown = errors.New("the store holds no such thing")

	// ErrExists is returned when a backup would replace a file.
	ErrExists = errors.New("there is a file of that name already: choose another name, nothing was replaced")

	// ErrName is returned for a name that is empty or longer than MaxName bytes.
	ErrName = errors.New("a name is 1 to 1000 bytes")
)

// Errors of Commit. Each is also known by its behaviour, for callers that may not
// import this package: errors.As to interface{ Moved() bool } or interface{ Done() bool }.
var (
	// ErrMoved is returned when a stream is not where the writer saw it: read it again.
	ErrMoved error = movedError{}

	// ErrDone is returned when the update was worked on before: there is nothing left to do.
	ErrDone error = doneError{}
)

type movedError struct{}

func (movedError) Error() string { return "the stream has moved: read it again and decide anew" }

// Moved reports that another writer got there first.
func (movedError) Moved() bool { return true }

type doneError struct{}

func (doneError) Error() string { return "the update is done already" }

// Done reports that the update was worked on before.
func (doneError) Done() bool { return true }

// plain puts the errors of bbolt and of the file system in the store's words,
// keeping the cause.
func (s *Store) plain(err error) error { return plain(s.path, err) }

func plain(path string, err error) error {
	to := func(sentinel error) error { return fmt.Errorf("%s: %w (%w)", path, sentinel, err) }
	switch {
	case err == nil:
		return nil
	case errors.Is(err, bolterrors.ErrDatabaseNotOpen):
		return fmt.Errorf("%s: %w", path, ErrClosed)
	case errors.Is(err, bolterrors.ErrTimeout):
		return fmt.Errorf("%s: %w", path, ErrLocked)
	case errors.Is(err, bolterrors.ErrDatabaseReadOnly), errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return to(ErrReadOnly)
	case errors.Is(err, bolterrors.ErrMaxSizeReached), noSpace(err):
		return to(ErrFull)
	case errors.Is(err, bolterrors.ErrInvalid), errors.Is(err, bolterrors.ErrChecksum),
		errors.Is(err, bolterrors.ErrVersionMismatch):
		return to(ErrCorrupt)
	}
	return err
}

// noSpace looks at the text as well: bbolt flattens the cause when growing the
// file is what fails.
func noSpace(err error) bool {
	for _, full := range []syscall.Errno{syscall.ENOSPC, syscall.EDQUOT} {
		if errors.Is(err, full) || strings.Contains(err.Error(), full.Error()) {
			return true
		}
	}
	return false
}

// keepsGoing reports whether a commit that ended in err left the disk worth trusting.
func keepsGoing(err error) bool {
	return errors.Is(err, ErrFull) || errors.Is(err, ErrClosed) || errors.Is(err, ErrReadOnly)
}

// MaxName is the longest name of a stream, chat, update, slot, source or secret, in bytes.
const MaxName = 1000

// CheckName refuses a name that no store takes; what says whose name it is.
func CheckName(what, name string) error {
	if len(name) == 0 || len(name) > MaxName {
		return fmt.Errorf("name of %s has %d bytes: %w", what, len(name), ErrName)
	}
	return nil
}
