package store

import (
	"bytes"
	"encoding/binary"
	"fmt"

	"go.etcd.io/bbolt"

	"linetender/store/internal/record"
)

// Rekey moves what waits for a chat, and what is to be sent to it, to the chat's
// new name, as when a group gets another number. Order is kept: what is there under
// both names is merged in the order it came. Receipts of the old name are let go,
// because what they name is not in the new chat. Streams keep their names.
func (s *Store) Rekey(oldChat, newChat string) error {
	if err := CheckName("chat", oldChat); err != nil {
		return err
	}
	if err := CheckName("chat", newChat); err != nil {
		return err
	}
	if oldChat == newChat {
		return nil
	}
	return s.update(func(tx *bbolt.Tx) error {
		if err := rekeyInbox(tx, oldChat, newChat); err != nil {
			return err
		}
		if err := rekeyOutbox(tx, oldChat, newChat); err != nil {
			return err
		}
		return deleteScope(tx.Bucket(bReceipts), oldChat)
	})
}

func rekeyInbox(tx *bbolt.Tx, oldChat, newChat string) error {
	inbox := tx.Bucket(bInbox)
	for _, k := range keysOf(inbox, record.Scope(oldChat)) {
		_, seq, err := splitScoped(k)
		if err != nil {
			return err
		}
		v, _, err := get(inbox, k)
		if err != nil {
			return err
		}
		v = bytes.Clone(v)
		a, err := readArrival(oldChat, v)
		if err != nil {
			return err
		}
		if err := inbox.Delete(k); err != nil {
			return err
		}
		if err := put(inbox, record.Scoped(newChat, seq), v); err != nil {
			return err
		}
		if err := setWaiting(tx, a.Key, newChat, seq); err != nil {
			return err
		}
	}
	return nil
}

func rekeyOutbox(tx *bbolt.Tx, oldChat, newChat string) error {
	mine := record.Scope(oldChat)
	for _, k := range keysOf(tx.Bucket(bQueue), mine) {
		if len(k) != len(mine)+ticketSize {
			return fmt.Errorf("queue key %q: %w", k, ErrCorrupt)
		}
		id := binary.BigEndian.Uint64(k[len(mine)+1:])
		p, err := dequeue(tx, id)
		if err != nil {
			return err
		}
		p.chat = newChat
		if err := p.write(tx, id); err != nil {
			return err
		}
		err = changeQueue(tx, newChat, func(queue *bbolt.Bucket) error { return queue.Put(p.place(id), nil) })
		if err != nil {
			return err
		}
	}
	return nil
}

// Forget removes the receipts and the dead of a chat: what the store itself keeps
// about a chat besides its streams (see Erase) and what is still on its way in or out.
func (s *Store) Forget(chat string) error {
	return s.update(func(tx *bbolt.Tx) error {
		if err := deleteScope(tx.Bucket(bReceipts), chat); err != nil {
			return err
		}
		_, err := deleteDead(tx, func(d Dead) bool { return d.Chat == chat })
		return err
	})
}

// ForgetSlots removes the receipts of a chat whose slots begin with prefix.
func (s *Store) ForgetSlots(chat, prefix string) error {
	err := s.update(func(tx *bbolt.Tx) error {
		b := tx.Bucket(bReceipts)
		for _, k := range keysOf(b, append(record.Scope(chat), prefix...)) {
			if err := b.Delete(k); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return fmt.Errorf("forget slots %q of chat %q: %w", prefix, chat, err)
	}
	return nil
}
