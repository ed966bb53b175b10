package store

import (
	"errors"
	"testing"

	"go.etcd.io/bbolt"
)

// TestTogetherFails: when the transaction fails, all that were in it are told,
// and who comes later.
func TestTogetherFails(t *testing.T) {
	for _, how := range failures {
		t.Run(how, func(t *testing.T) {
			s := fresh(t, Options{})
			accept1(t, s, "k", "c", "x")
			commit := func(tx *bbolt.Tx) error {
				_, _, err := takeWaiting(tx, "k")
				if err != nil {
					return err
				}
				return s.markDone(tx, "k")
			}
			d := failDisk(t, s)
			defer d.mend()
			errs := together(t, s, func(tx *bbolt.Tx) error {
				d.how, d.at = how, d.writes+1
				return commit(tx)
			}, commit)
			for i, err := range errs {
				if !errors.Is(err, ErrFailed) {
					t.Errorf("change %d came to %v", i, err)
				}
			}
			if err := s.SetSecret("later", nil); !errors.Is(err, ErrFailed) {
				t.Errorf("a later change came to %v", err)
			}
		})
	}
}
