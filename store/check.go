package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"

	"go.etcd.io/bbolt"

	"linetender/store/internal/record"
)

// maxFindings is how many problems Check reports; with that many, more say nothing new.
const maxFindings = 20

// Check goes through the whole file: the shape of its pages, bbolt's own check of
// them, the checksum of every value, and every bucket against the others. Nothing
// can be written meanwhile. nil means sound; otherwise the error is ErrCorrupt and
// names up to twenty problems.
func (s *Store) Check() (err error) {
	if err := s.usable(); err != nil && s.panicked.Load() {
		return err
	}
	defer s.shield(&err)()
	// On a read transaction bbolt's check may not run beside a writer.
	tx, err := s.db.Begin(!s.readOnly)
	if err != nil {
		return s.plain(err)
	}
	defer func() { err = errors.Join(err, s.plain(tx.Rollback())) }()
	// The pages come first: on broken ones the rest, which goes through bbolt, could
	// end the process.
	err = s.checkPages(s.db.Info().PageSize, (*pages).checkFreelist, (*pages).checkAll)
	if err != nil {
		return err
	}
	c := checker{tx: tx}
	for _, part := range []func(){c.streams, c.entries, c.inbox, c.updates, c.outbox, c.front, c.rest} {
		part()
	}
	if len(c.findings) == 0 {
		for problem := range tx.Check() {
			c.found("%v", problem)
		}
	}
	return c.verdict(s.path)
}

// checker gathers problems.
type checker struct {
	tx       *bbolt.Tx
	findings []error
	more     int
}

func (c *checker) found(format string, args ...any) {
	if len(c.findings) == maxFindings {
		c.more++
		return
	}
	c.findings = append(c.findings, fmt.Errorf(format, args...))
}

func (c *checker) verdict(path string) error {
	if len(c.findings) == 0 {
		return nil
	}
	err := errors.Join(c.findings...)
	if c.more > 0 {
		err = fmt.Errorf("%w\nand %d more", err, c.more)
	}
	return fmt.Errorf("%s: %w:\n%w", path, ErrCorrupt, err)
}

// each hands every sound row of a bucket to visit and reports the others.
func (c *checker) each(bucket []byte, visit func(k, v []byte) error) {
	_ = c.tx.Bucket(bucket).ForEach(func(k, sealed []byte) error {
		v, err := record.Unseal(k, sealed)
		if err == nil && visit != nil {
			err = visit(k, v)
		}
		if err != nil {
			c.found("%s: %w", bucket, err)
		}
		return nil
	})
}

func (c *checker) count(bucket []byte) int { return c.tx.Bucket(bucket).Stats().KeyN }

// streams holds streams and the order of changes against each other.
func (c *checker) streams() {
	c.each(bStreams, func(k, _ []byte) error {
		st, _, err := readStream(c.tx, string(k))
		if err != nil {
			return err
		}
		name, ok, err := get(c.tx.Bucket(bChanges), record.Number(st.change))
		if err == nil && (!ok || !bytes.Equal(name, k)) {
			err = fmt.Errorf("stream %q is not at change %d", k, st.change)
		}
		return err
	})
	c.each(bChanges, nil)
	if s, ch := c.count(bStreams), c.count(bChanges); s != ch {
		c.found("%d streams, %d places in the order of changes", s, ch)
	}
}

// entries sees that each stream has its entries, from 1 to the last, and no other.
func (c *checker) entries() {
	had := map[string]uint64{}
	c.each(bEntries, func(k, _ []byte) error {
		name, n, err := splitScoped(k)
		if err != nil {
			return err
		}
		if n != had[name]+1 {
			err = fmt.Errorf("stream %q: entry %d comes after entry %d", name, n, had[name])
		}
		had[name] = n
		return err
	})
	c.each(bStreams, func(k, v []byte) error {
		u := record.Unpack{B: v}
		last, n := u.Number(), had[string(k)]
		delete(had, string(k))
		if last != n {
			return fmt.Errorf("stream %q says %d entries and has %d", k, last, n)
		}
		return nil
	})
	for name, n := range had {
		c.found("%d entries of a stream %q that isn't there", n, name)
	}
}

// inbox sees that every row is what its update says is waiting.
func (c *checker) inbox() {
	c.each(bInbox, func(k, v []byte) error {
		chat, seq, err := splitScoped(k)
		if err != nil {
			return err
		}
		a, err := readArrival(chat, v)
		if err != nil {
			return err
		}
		state, _, err := get(c.tx.Bucket(bUpdates), []byte(a.Key))
		if err != nil {
			return err
		}
		u := record.Unpack{B: state}
		if u.Byte() != waiting || u.Number() != seq || u.Text() != chat {
			return fmt.Errorf("update %q lies in the inbox and isn't waiting there", a.Key)
		}
		return nil
	})
}

// updates holds the states of updates against the inbox and the done marks.
func (c *checker) updates() {
	wait, marks := 0, 0
	c.each(bUpdates, func(k, v []byte) error {
		switch u := (record.Unpack{B: v}); u.Byte() {
		case waiting:
			wait++
		case done:
			marks++
		default:
			return fmt.Errorf("update %q has no known state", k)
		}
		return nil
	})
	c.each(bDone, func(k, v []byte) error {
		u := record.Unpack{B: v}
		u.Time()
		key := u.Text()
		if err := u.Done("done mark"); err != nil {
			return err
		}
		state, _, err := get(c.tx.Bucket(bUpdates), []byte(key))
		if err == nil && (len(state) != 1 || state[0] != done) {
			err = fmt.Errorf("update %q has a done mark and isn't done", key)
		}
		return err
	})
	if n := c.count(bInbox); n != wait {
		c.found("%d updates are waiting, the inbox has %d", wait, n)
	}
	if n := c.count(bDone); n != marks {
		c.found("%d updates are done, there are %d marks", marks, n)
	}
}

// outbox holds the parcels and the queues against each other.
func (c *checker) outbox() {
	c.each(bOutbox, func(k, _ []byte) error {
		id := binary.BigEndian.Uint64(k)
		p, err := readParcel(c.tx, id)
		if err != nil {
			return err
		}
		if c.tx.Bucket(bQueue).Get(p.place(id)) == nil {
			err = fmt.Errorf("parcel %d is in no queue", id)
		}
		return err
	})
	if o, q := c.count(bOutbox), c.count(bQueue); o != q {
		c.found("%d parcels, %d places in queues", o, q)
	}
}

// front sees that it has the first parcel of every queue, and no other.
func (c *checker) front() {
	chats := 0
	last := ""
	_ = c.tx.Bucket(bQueue).ForEach(func(k, _ []byte) error {
		chat, ticket, err := record.SplitScope(k)
		if err != nil || len(ticket) != ticketSize {
			c.found("queue: key %q has the wrong length", k)
			return nil
		}
		if chats > 0 && chat == last {
			return nil
		}
		chats, last = chats+1, chat
		v, _, err := get(c.tx.Bucket(bFront), ticket)
		if err != nil {
			c.found("front: %w", err)
			return nil
		}
		p, err := readParcel(c.tx, binary.BigEndian.Uint64(ticket[1:]))
		u := record.Unpack{B: v}
		if at := u.Time(); err != nil || u.Text() != chat || !at.Equal(p.notBefore) {
			c.found("front: the first parcel of chat %q is not there as it is", chat)
		}
		return nil
	})
	if n := c.count(bFront); n != chats {
		c.found("%d chats have parcels, the front has %d", chats, n)
	}
}

// rest looks at the buckets that stand alone.
func (c *checker) rest() {
	for _, b := range [][]byte{bMeta, bSources, bReceipts, bSecrets} {
		c.each(b, nil)
	}
	c.each(bDead, func(_, v []byte) error {
		_, err := readDead(v)
		return err
	})
}
