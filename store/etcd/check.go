package etcd

import (
	"errors"
	"fmt"
	"strings"

	mvccpb "go.etcd.io/etcd/api/v3/mvccpb"

	"linetender/store"
	"linetender/store/internal/record"
)

// maxFindings is how many problems Check reports; with that many, more say nothing new.
const maxFindings = 20

// Check reads all that the store holds, as it is at one revision: the checksum of every
// value, and streams and entries against each other. nil means sound; otherwise
// the error is store.ErrCorrupt and names up to twenty problems.
func (s *Store) Check() error {
	c := checker{last: map[string]uint64{}, had: map[string]uint64{}, heads: map[string]bool{}, places: map[string]bool{}}
	_, err := s.all(s.prefix, func(kv *mvccpb.KeyValue) error {
		if err := c.look(s, kv); err != nil {
			c.found = append(c.found, err)
		}
		if len(c.found) == maxFindings {
			return errEnough
		}
		return nil
	})
	if err != nil && !errors.Is(err, errEnough) {
		return fmt.Errorf("check the store: %w", err)
	}
	if err == nil {
		c.compare()
	}
	if len(c.found) == 0 {
		return nil
	}
	return fmt.Errorf("%s: %w:\n%w", s.address, store.ErrCorrupt, errors.Join(c.found...))
}

// errEnough ends a walk that has seen enough.
var errEnough = errors.New("enough was seen")

type checker struct {
	last   map[string]uint64 // what each stream says
	had    map[string]uint64 // what entries it has
	heads  map[string]bool
	places map[string]bool // in the order of changes
	found  []error
}

func (c *checker) look(s *Store, kv *mvccpb.KeyValue) error {
	rest := string(kv.Key[len(s.prefix):])
	if strings.HasPrefix(rest, "l/") {
		return nil // leases: names only
	}
	v, err := s.unseal(string(kv.Key), kv.Value)
	if err != nil {
		return err
	}
	switch kind, name, _ := strings.Cut(rest, "/"); kind {
	case "e":
		stream, n, err := record.SplitScope([]byte(name))
		if err != nil || len(n) != 8 {
			return fmt.Errorf("key %q is no entry's: %w", rest, store.ErrCorrupt)
		}
		first, entries, err := s.entriesOf(kv)
		if err == nil && first != c.had[stream]+1 {
			err = fmt.Errorf("stream %q: entry %d comes after entry %d", stream, first, c.had[stream])
		}
		c.had[stream] += uint64(len(entries))
		return err
	case "n":
		u := record.Unpack{B: v}
		c.last[name] = u.Number()
		return u.Done("the last entry of a stream")
	case "s":
		c.places[name] = true
		_, err := s.streamOf(kv)
		return err
	case "h":
		c.heads[name] = true
	case "w":
		return s.readRow(kv).bad
	case "x":
		_, err := s.deadOf(kv)
		return err
	}
	return nil
}

func (c *checker) compare() {
	for name, last := range c.last {
		if c.had[name] != last {
			c.found = append(c.found, fmt.Errorf("stream %q says %d entries and has %d", name, last, c.had[name]))
		}
		if !c.places[name] {
			c.found = append(c.found, fmt.Errorf("stream %q has no place in the order of changes", name))
		}
		delete(c.places, name)
	}
	for name := range c.had {
		if _, ok := c.last[name]; !ok {
			c.found = append(c.found, fmt.Errorf("entries of a stream %q that isn't there", name))
		}
	}
	for name := range c.places {
		c.found = append(c.found, fmt.Errorf("a place in the order of changes for stream %q, which isn't there", name))
	}
	for name := range c.heads {
		if _, ok := c.last[name]; !ok {
			c.found = append(c.found, fmt.Errorf("the summary of a stream %q that isn't there", name))
		}
	}
}
