package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"go.etcd.io/bbolt"
)

// Backup writes a copy of the store, as it is at this moment, to a new file at
// path, while the store goes on serving. The copy is synced, opened again and
// checked through before it gets its name. To restore it, put it in a data folder
// as FileName while no process has that folder open.
//
// Errors: ErrExists, ErrFull, ErrReadOnly when the copy can't be written there,
// ErrCorrupt when this store, and so its copy, is damaged.
func (s *Store) Backup(path string) error {
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("back up to %s: %w", path, errors.Join(ErrExists, err))
	}
	temp, err := s.copyBeside(path)
	if temp != "" {
		defer os.Remove(temp)
	}
	if err != nil {
		return fmt.Errorf("back up to %s: %w", path, plain(path, err))
	}
	if err := checkCopy(temp); err != nil {
		return fmt.Errorf("back up to %s: the copy did not pass its check: %w", path, err)
	}
	if err := giveName(temp, path); err != nil {
		return fmt.Errorf("back up to %s: %w", path, err)
	}
	return nil
}

func (s *Store) copyBeside(path string) (temp string, err error) {
	f, err := os.CreateTemp(filepath.Dir(path), newPattern)
	if err != nil {
		return "", err
	}
	err = s.view(func(tx *bbolt.Tx) error {
		_, err := tx.WriteTo(f)
		return err
	})
	return f.Name(), errors.Join(err, f.Sync(), f.Close())
}

func checkCopy(path string) error {
	c, err := open(path, Options{ReadOnly: true})
	if err != nil {
		return err
	}
	return errors.Join(c.Check(), c.Close())
}

// giveName names a finished file, and never replaces another. A link is the only
// call that promises that; where there are no links, the look just before is
// all there is.
func giveName(temp, path string) error {
	if err := os.Link(temp, path); err != nil {
		if _, there := os.Lstat(path); there == nil {
			return ErrExists
		}
		if err := os.Rename(temp, path); err != nil {
			return plain(path, err)
		}
	}
	return syncDir(filepath.Dir(path))
}

// Compact rewrites the store in dir without its unused pages, so that the file is
// small again and what was erased is gone from it. No process may have the store
// open; the old file stands until the new one is synced and checked.
//
// Errors: as of Open, and ErrCorrupt when the rewritten file doesn't pass its check.
func Compact(dir string, o Options) (err error) {
	o.ReadOnly = false
	s, err := Open(dir, o)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	f, err := os.CreateTemp(dir, newPattern)
	if err != nil {
		return fmt.Errorf("compact: %w", plain(s.path, err))
	}
	temp := f.Name()
	defer os.Remove(temp)
	if err := f.Close(); err != nil {
		return fmt.Errorf("compact: %w", plain(s.path, err))
	}
	if err := s.compactTo(temp); err != nil {
		return fmt.Errorf("compact: %w", plain(s.path, err))
	}
	if err := checkCopy(temp); err != nil {
		return fmt.Errorf("compact: the rewritten file did not pass its check, the old one stays: %w", err)
	}
	if err := os.Rename(temp, s.path); err != nil {
		return fmt.Errorf("compact: %w", plain(s.path, err))
	}
	return syncDir(dir)
}

func (s *Store) compactTo(temp string) (err error) {
	const txBytes = 4 << 20 // a bound on the memory of one step
	defer s.shield(&err)()
	to, err := bbolt.Open(temp, 0o600, &bbolt.Options{Timeout: defaultWait, FreelistType: bbolt.FreelistMapType})
	if err != nil {
		return err
	}
	return errors.Join(bbolt.Compact(to, s.db, txBytes), to.Sync(), to.Close())
}
