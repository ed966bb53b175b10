package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"time"

	"go.etcd.io/bbolt"

	"linetender/store/internal/record"
)

// FileName is the name of the store's file in its folder.
const FileName = "linetender.db"

const (
	newPattern  = ".new-*.db"
	formatKey   = "format"
	format      = 1
	defaultWait = 500 * time.Millisecond
	defaultKeep = 10 * 24 * time.Hour
	leastMarks  = 4096
)

// Open opens the store in folder dir, making both if they are not there.
//
// Errors: ErrLocked when another process has it, ErrReadOnly when it can't be
// written, ErrCorrupt when the file is empty, cut short or damaged, ErrFormat when
// it is no store or one of another release, ErrFull when there is no room to make
// it, ErrMissing when it is to be read only and isn't there. Each says what to do.
func Open(dir string, o Options) (*Store, error) {
	path := filepath.Join(dir, FileName)
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		if o.ReadOnly {
			return nil, fmt.Errorf("%s: %w", path, ErrMissing)
		}
		if err := create(dir, path); err != nil {
			return nil, fmt.Errorf("make the store: %w", plain(path, err))
		}
	} else if err != nil {
		return nil, fmt.Errorf("look for the store: %w", plain(path, err))
	}
	s, err := open(path, o)
	if err != nil {
		return nil, fmt.Errorf("open the store: %w", err)
	}
	if !o.ReadOnly {
		removeStale(dir)
	}
	return s, nil
}

func open(path string, o Options) (s *Store, err error) {
	s = &Store{path: path, now: o.Now, keep: o.Keep, least: leastMarks, readOnly: o.ReadOnly}
	if s.now == nil {
		s.now = time.Now
	}
	if s.keep == 0 {
		s.keep = defaultKeep
	}
	if o.Timeout == 0 {
		o.Timeout = defaultWait
	}
	defer func() {
		if err != nil {
			s = nil
		}
	}()
	if s.db, err = s.attach(o); err != nil {
		return nil, err
	}
	if same, err := s.stillThere(); err != nil || !same {
		return nil, errors.Join(err, s.Close(), fmt.Errorf("%s: %w (it was replaced this moment)", path, ErrLocked))
	}
	if err = s.examine(); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// attach opens the file below. bbolt takes an empty file for a new one and would
// make it anew; to us it is one that lost its content. Should bbolt give up on
// what it finds all the same, the lock must not be left behind.
func (s *Store) attach(o Options) (db *bbolt.DB, err error) {
	defer func(old bool) {
		debug.SetPanicOnFault(old)
		if r := recover(); r != nil {
			err = errors.Join(fmt.Errorf("%s: %w (a page of it can't be read: %v)", s.path, ErrCorrupt, r), abandon(s.file))
		}
	}(debug.SetPanicOnFault(true))
	info, err := os.Stat(s.path)
	if err != nil {
		return nil, plain(s.path, err)
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s: %w (not a plain file)", s.path, ErrFormat)
	}
	if info.Size() == 0 {
		return nil, fmt.Errorf("%s: %w (the file is empty)", s.path, ErrCorrupt)
	}
	// Under a shared lock, and before bbolt reads more than its root pages, see
	// that it can.
	looking := o
	looking.ReadOnly = true
	if db, err = s.bolt(looking); err != nil {
		return nil, err
	}
	if err := s.checkPages(db.Info().PageSize, (*pages).checkFreelist, (*pages).checkTop); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	if o.ReadOnly {
		return db, nil
	}
	if err := db.Close(); err != nil {
		return nil, err
	}
	return s.bolt(o)
}

func (s *Store) bolt(o Options) (*bbolt.DB, error) {
	db, err := bbolt.Open(s.path, 0o600, &bbolt.Options{
		Timeout:      o.Timeout,
		MaxSize:      o.MaxSize,
		ReadOnly:     o.ReadOnly,
		FreelistType: bbolt.FreelistMapType,
		OpenFile: func(path string, flag int, mode os.FileMode) (*os.File, error) {
			f, err := os.OpenFile(path, flag&^os.O_CREATE, mode)
			s.file = f
			return f, err
		},
	})
	return db, plain(s.path, err)
}

// checkPages runs checks over the pages of the file, without bbolt.
func (s *Store) checkPages(pageSize int, checks ...func(*pages) error) error {
	info, err := s.file.Stat()
	if err != nil {
		return err
	}
	p, err := readPages(s.file, info.Size(), int64(pageSize))
	for _, check := range checks {
		if err == nil {
			err = check(p)
		}
	}
	if err != nil {
		return fmt.Errorf("%s: %w", s.path, err)
	}
	return nil
}

// stillThere reports whether the file locked is the one at the path: while the
// lock was waited for, its holder may have put a compacted file in its place.
func (s *Store) stillThere() (bool, error) {
	mine, err := s.file.Stat()
	if err != nil {
		return false, err
	}
	there, err := os.Stat(s.path)
	if err != nil {
		return false, err
	}
	return os.SameFile(mine, there), nil
}

// examine refuses a file that is not ours to read.
func (s *Store) examine() error {
	return s.view(func(tx *bbolt.Tx) error {
		meta := tx.Bucket(bMeta)
		if meta == nil {
			return fmt.Errorf("%s: %w (it is some other program's file)", s.path, ErrFormat)
		}
		v, ok, err := get(meta, []byte(formatKey))
		if err != nil {
			return fmt.Errorf("%s: %w", s.path, err)
		}
		u := record.Unpack{B: v}
		if found := u.Number(); !ok || u.Done("the format") != nil || found != format {
			return fmt.Errorf("%s: %w (it has format %d, this release reads %d)", s.path, ErrFormat, found, format)
		}
		for _, name := range allBuckets() {
			if tx.Bucket(name) == nil {
				return fmt.Errorf("%s: %w (bucket %s is missing)", s.path, ErrCorrupt, name)
			}
		}
		return nil
	})
}

// create makes a complete store beside path and then gives it its name, so that
// a loss of power never leaves half a store under that name. Of
// two processes that start at once, the second must not replace the file that the
// first has opened.
func create(dir, path string) (err error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	f, err := os.CreateTemp(dir, newPattern)
	if err != nil {
		return err
	}
	temp := f.Name()
	defer os.Remove(temp)
	if err := f.Close(); err != nil {
		return err
	}
	db, err := bbolt.Open(temp, 0o600, &bbolt.Options{Timeout: defaultWait, FreelistType: bbolt.FreelistMapType})
	if err != nil {
		return err
	}
	err = db.Update(func(tx *bbolt.Tx) error {
		for _, name := range allBuckets() {
			if _, err := tx.CreateBucket(name); err != nil {
				return err
			}
		}
		return put(tx.Bucket(bMeta), []byte(formatKey), record.Number(format))
	})
	if err := errors.Join(err, db.Sync(), db.Close()); err != nil {
		return err
	}
	if err := giveName(temp, path); !errors.Is(err, ErrExists) {
		return err
	}
	return nil // another process was quicker; its store is as good
}

// removeStale clears away what a process left that died while making a store.
// One that is making its store this moment finds ours in place and uses that.
func removeStale(dir string) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return // they do no harm, and the store itself is open
	}
	for _, e := range entries {
		if ours, _ := filepath.Match(newPattern, e.Name()); ours {
			_ = os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}
