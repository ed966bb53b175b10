//go:build !windows

package store

import (
	"errors"
	"os"
)

// syncDir makes names given in dir outlast a loss of power.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}
