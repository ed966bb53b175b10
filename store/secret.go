package store

import (
	"fmt"

	"go.etcd.io/bbolt"
)

// Secret returns the small blob kept under name, and keeps what make returns if
// there is none. Of two callers that make one at once, both get the one that was
// kept. make runs outside any transaction; its error is returned and nothing is kept.
func (s *Store) Secret(name string, make func() ([]byte, error)) ([]byte, error) {
	if err := CheckName("secret", name); err != nil {
		return nil, err
	}
	kept, ok, err := s.lookUp(name)
	if ok || err != nil {
		return kept, err
	}
	made, err := make()
	if err != nil {
		return nil, fmt.Errorf("make secret %q: %w", name, err)
	}
	err = s.update(func(tx *bbolt.Tx) error {
		v, ok, err := get(tx.Bucket(bSecrets), []byte(name))
		if err != nil {
			return err
		}
		if ok {
			kept = append([]byte{}, v...)
			return nil
		}
		kept = append([]byte{}, made...)
		return put(tx.Bucket(bSecrets), []byte(name), kept)
	})
	if err != nil {
		return nil, fmt.Errorf("keep secret %q: %w", name, err)
	}
	return kept, nil
}

func (s *Store) lookUp(name string) (secret []byte, ok bool, err error) {
	err = s.view(func(tx *bbolt.Tx) error {
		v, found, err := get(tx.Bucket(bSecrets), []byte(name))
		if found {
			secret, ok = append([]byte{}, v...), true
		}
		return err
	})
	if err != nil {
		return nil, false, fmt.Errorf("read secret %q: %w", name, err)
	}
	return secret, ok, nil
}

// SetSecret keeps value under name in place of what was there.
func (s *Store) SetSecret(name string, value []byte) error {
	if err := CheckName("secret", name); err != nil {
		return err
	}
	return s.update(func(tx *bbolt.Tx) error { return put(tx.Bucket(bSecrets), []byte(name), value) })
}

// DeleteSecret removes what is kept under name, if anything is.
func (s *Store) DeleteSecret(name string) error {
	if err := CheckName("secret", name); err != nil {
		return err
	}
	return s.update(func(tx *bbolt.Tx) error { return tx.Bucket(bSecrets).Delete([]byte(name)) })
}
