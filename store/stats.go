package store

import (
	"encoding/binary"
	"fmt"
	"time"

	"go.etcd.io/bbolt"

	"linetender/store/internal/record"
)

// Stats are counts of what the store holds, for whoever watches over it.
type Stats struct {
	Streams       int       // all streams
	Waiting       int       // arrivals not yet worked on
	WaitingChats  int       // chats that have any
	OldestWaiting time.Time // when the first of them came in; zero when none
	Unsent        int       // parcels to be sent, delayed ones too
	UnsentUrgent  int       // urgent ones among them
	UnsentChats   int       // chats that have any
	Dead          int       // updates buried and parcels dropped
	Marks         int       // done marks kept
	Size          int64     // bytes of the file
	Free          int64     // bytes of it that are free for use again
}

// Stats counts what the store holds now. It goes through the keys of all but the
// entries and the summaries, so it is for once in a while.
func (s *Store) Stats() (st Stats, err error) {
	err = s.view(func(tx *bbolt.Tx) error {
		st.Streams = tx.Bucket(bChanges).Stats().KeyN
		st.Dead = tx.Bucket(bDead).Stats().KeyN
		st.Marks = tx.Bucket(bDone).Stats().KeyN
		st.Size = tx.Size()
		if err := st.countInbox(tx); err != nil {
			return err
		}
		return st.countQueue(tx)
	})
	if err != nil {
		return Stats{}, fmt.Errorf("count the store: %w", err)
	}
	now := s.db.Stats()
	st.Free = int64(now.FreePageN+now.PendingPageN) * int64(s.db.Info().PageSize)
	return st, nil
}

func (st *Stats) countInbox(tx *bbolt.Tx) error {
	var oldest []byte
	var oldestChat, chat string
	c := tx.Bucket(bInbox).Cursor()
	for k, _ := c.First(); k != nil; k, _ = c.Next() {
		name, seq, err := splitScoped(k)
		if err != nil {
			return err
		}
		if st.Waiting++; name != chat || st.Waiting == 1 {
			st.WaitingChats++
			chat = name
		}
		if oldest == nil || seq < binary.BigEndian.Uint64(oldest[len(oldest)-8:]) {
			oldest, oldestChat = k, name
		}
	}
	if oldest == nil {
		return nil
	}
	v, _, err := get(tx.Bucket(bInbox), oldest)
	if err != nil {
		return err
	}
	a, err := readArrival(oldestChat, v)
	st.OldestWaiting = a.At
	return err
}

func (st *Stats) countQueue(tx *bbolt.Tx) error {
	c := tx.Bucket(bQueue).Cursor()
	for k, _ := c.First(); k != nil; k, _ = c.Next() {
		_, ticket, err := record.SplitScope(k)
		if err != nil {
			return err
		}
		if len(ticket) != ticketSize {
			return fmt.Errorf("queue key %q: %w", k, ErrCorrupt)
		}
		st.Unsent++
		if ticket[0] == urgentClass {
			st.UnsentUrgent++
		}
	}
	st.UnsentChats = tx.Bucket(bFront).Stats().KeyN
	return nil
}
