package store

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"time"

	"go.etcd.io/bbolt"

	"linetender/store/internal/record"
)

// Classes of a parcel; urgent sorts first.
const (
	urgentClass = 0
	plainClass  = 1
)

// ticketSize is the length of a class and an id.
const ticketSize = 9

// parcel is the record of an unsent parcel.
type parcel struct {
	chat      string
	urgent    bool
	tries     uint64
	notBefore time.Time
	why       string // of the latest delay
	body      []byte
}

func (p parcel) class() byte {
	if p.urgent {
		return urgentClass
	}
	return plainClass
}

// ticket is class and id: parcels are due in its order, over all and in a chat.
func (p parcel) ticket(id uint64) []byte {
	return binary.BigEndian.AppendUint64([]byte{p.class()}, id)
}

func (p parcel) place(id uint64) []byte { return append(record.Scope(p.chat), p.ticket(id)...) }

func readParcel(tx *bbolt.Tx, id uint64) (p parcel, err error) {
	v, ok, err := get(tx.Bucket(bOutbox), record.Number(id))
	if err != nil {
		return parcel{}, err
	}
	if !ok {
		return parcel{}, fmt.Errorf("parcel %d: %w", id, ErrUnknown)
	}
	u := record.Unpack{B: v}
	p = parcel{chat: u.Text(), urgent: u.Flag(), tries: u.Number(), notBefore: u.Time(), why: u.Text(), body: u.Bytes()}
	if err := u.Done(fmt.Sprintf("parcel %d", id)); err != nil {
		return parcel{}, err
	}
	return p, nil
}

func (p parcel) write(tx *bbolt.Tx, id uint64) error {
	var r record.Pack
	r.Text(p.chat)
	r.Flag(p.urgent)
	r.Number(p.tries)
	r.Time(p.notBefore)
	r.Text(p.why)
	r.Bytes(p.body)
	return put(tx.Bucket(bOutbox), record.Number(id), r.B)
}

// enqueue adds a parcel to the end of its class in its chat.
func enqueue(tx *bbolt.Tx, add Parcel) error {
	id, err := tx.Bucket(bOutbox).NextSequence()
	if err != nil {
		return err
	}
	p := parcel{chat: add.Chat, urgent: add.Urgent, body: add.Body}
	if err := p.write(tx, id); err != nil {
		return err
	}
	return changeQueue(tx, p.chat, func(queue *bbolt.Bucket) error { return queue.Put(p.place(id), nil) })
}

// dequeue takes a parcel out and returns what it was.
func dequeue(tx *bbolt.Tx, id uint64) (parcel, error) {
	p, err := readParcel(tx, id)
	if err != nil {
		return parcel{}, err
	}
	if err := tx.Bucket(bOutbox).Delete(record.Number(id)); err != nil {
		return parcel{}, err
	}
	err = changeQueue(tx, p.chat, func(queue *bbolt.Bucket) error { return queue.Delete(p.place(id)) })
	return p, err
}

// changeQueue runs change on the queue of a chat and keeps the front true to it:
// one row a chat, for its first unsent parcel. That row is why finding what is due
// doesn't depend on how much is waiting behind it.
func changeQueue(tx *bbolt.Tx, chat string, change func(queue *bbolt.Bucket) error) error {
	queue, front := tx.Bucket(bQueue), tx.Bucket(bFront)
	mine := record.Scope(chat)
	before := first(queue, mine)
	if err := change(queue); err != nil {
		return err
	}
	now := first(queue, mine)
	if bytes.Equal(before, now) {
		return nil
	}
	if before != nil {
		if err := front.Delete(before[len(mine):]); err != nil {
			return err
		}
	}
	if now == nil {
		return nil
	}
	return writeFront(tx, now[len(mine):])
}

func writeFront(tx *bbolt.Tx, ticket []byte) error {
	if len(ticket) != ticketSize {
		return fmt.Errorf("queue key ends in %q: %w", ticket, ErrCorrupt)
	}
	p, err := readParcel(tx, binary.BigEndian.Uint64(ticket[1:]))
	if err != nil {
		return err
	}
	var r record.Pack
	r.Time(p.notBefore)
	r.Text(p.chat)
	return put(tx.Bucket(bFront), ticket, r.B)
}

// Due returns at most limit parcels to send now: of every chat that is not busy its
// first unsent one, or none while that one is delayed beyond now, so that order is kept
// in a chat. Urgent ones come first, in a chat and over all; beyond that, older ones.
func (s *Store) Due(now time.Time, limit int, busy map[string]bool) ([]Due, error) {
	var due []Due
	err := s.view(func(tx *bbolt.Tx) error {
		c := tx.Bucket(bFront).Cursor()
		for k, sealed := c.First(); k != nil && len(due) < limit; k, sealed = c.Next() {
			v, err := record.Unseal(k, sealed)
			if err != nil {
				return err
			}
			u := record.Unpack{B: v}
			notBefore, chat := u.Time(), u.Text()
			if err := u.Done("the front of the outbox"); err != nil {
				return err
			}
			if busy[chat] || notBefore.After(now) {
				continue
			}
			if len(k) != ticketSize {
				return fmt.Errorf("front key %q: %w", k, ErrCorrupt)
			}
			id := binary.BigEndian.Uint64(k[1:])
			p, err := readParcel(tx, id)
			if err != nil {
				return err
			}
			due = append(due, Due{ID: id, Chat: chat, Urgent: p.urgent, Body: p.body, Tries: int(p.tries), NotBefore: p.notBefore})
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("find what is due: %w", err)
	}
	return due, nil
}

// Sent marks a parcel sent, and keeps what the channel answered under the
// parcel's chat and slot, in the same transaction; an empty slot keeps nothing.
//
// Errors: ErrUnknown when the parcel is not unsent.
func (s *Store) Sent(id uint64, slot string, receipt []byte) error {
	if len(slot) > MaxName {
		return CheckName("slot", slot)
	}
	return s.update(func(tx *bbolt.Tx) error {
		p, err := dequeue(tx, id)
		if err != nil || slot == "" {
			return err
		}
		return put(tx.Bucket(bReceipts), append(record.Scope(p.chat), slot...), receipt)
	})
}

// Receipt returns the latest receipt kept under chat and slot, and whether there is one.
func (s *Store) Receipt(chat, slot string) (receipt []byte, ok bool, err error) {
	err = s.view(func(tx *bbolt.Tx) error {
		v, found, err := get(tx.Bucket(bReceipts), append(record.Scope(chat), slot...))
		if found {
			receipt, ok = append([]byte{}, v...), true
		}
		return err
	})
	if err != nil {
		return nil, false, fmt.Errorf("receipt %q of chat %q: %w", slot, chat, err)
	}
	return receipt, ok, nil
}

// Delay counts a try of a parcel and puts the next off until the time given.
//
// Errors: ErrUnknown when the parcel is not unsent.
func (s *Store) Delay(id uint64, until time.Time, why string) error {
	return s.update(func(tx *bbolt.Tx) error {
		p, err := readParcel(tx, id)
		if err != nil {
			return err
		}
		p.tries++
		p.notBefore, p.why = until, why
		if err := p.write(tx, id); err != nil {
			return err
		}
		if tx.Bucket(bFront).Get(p.ticket(id)) == nil {
			return nil
		}
		return writeFront(tx, p.ticket(id))
	})
}

// Drop gives up on a parcel and keeps it among the dead with the reason.
//
// Errors: ErrUnknown when the parcel is not unsent.
func (s *Store) Drop(id uint64, why string) error {
	return s.update(func(tx *bbolt.Tx) error {
		p, err := dequeue(tx, id)
		if err != nil {
			return err
		}
		return s.addDead(tx, Dead{Kind: DeadParcel, Key: fmt.Sprint(id), Chat: p.chat, Why: why, Body: p.body})
	})
}
