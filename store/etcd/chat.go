package etcd

import (
	"fmt"

	mvccpb "go.etcd.io/etcd/api/v3/mvccpb"
	clientv3 "go.etcd.io/etcd/client/v3"

	"linetender/store"
	"linetender/store/internal/record"
)

// Rekey moves what waits for a chat, and what is to be sent to it, to the chat's
// new name, as store.Store.Rekey does. Rows keep their keys, and so their places. What
// does not fit in one transaction is moved in several; a call that broke off is made again.
func (s *Store) Rekey(oldChat, newChat string) error {
	if err := store.CheckName("chat", oldChat); err != nil {
		return err
	}
	if err := store.CheckName("chat", newChat); err != nil {
		return err
	}
	if oldChat == newChat {
		return nil
	}
	for {
		more, err := s.rekeySome(oldChat, newChat)
		if err != nil {
			return fmt.Errorf("rename chat %q to %q: %w", oldChat, newChat, err)
		}
		if !more {
			break
		}
	}
	_, err := s.apply(change{then: []clientv3.Op{clientv3.OpDelete(s.key("r/", string(record.Scope(oldChat))), clientv3.WithPrefix())}, landed: harmless})
	return err
}

// rekeySome moves as many rows as fit, and reports whether there may be more.
func (s *Store) rekeySome(oldChat, newChat string) (more bool, err error) {
	rows := 0
	var c change
	size := 0
	_, err = s.all(s.key("w/", ""), func(kv *mvccpb.KeyValue) error {
		r := s.readRow(kv)
		if r.bad != nil {
			return r.bad
		}
		if r.chat != oldChat || more {
			return nil
		}
		if size += len(kv.Key) + len(kv.Value) + len(newChat) + 64; rows > 0 && (rows == s.o.Ops || size > s.o.Bytes-spareBytes) {
			more = true
			return nil
		}
		c.when = append(c.when, unchanged(r.key, r.mod))
		c.then = append(c.then, s.renamed(r, newChat))
		rows++
		return nil
	})
	if err != nil || rows == 0 {
		return false, err
	}
	c.landed = harmless // made twice, it is refused, and then nothing is left to move
	out, err := s.apply(c)
	if err != nil {
		return false, err
	}
	if !out.done {
		s.mirror.refresh()
		return true, nil
	}
	s.shown(out)
	return more, nil
}

// renamed returns how a row is written under its new chat. It is the caller's own.
func (s *Store) renamed(r row, chat string) clientv3.Op {
	if r.arrival != nil {
		r.arrival.Chat = chat
		return s.put(r.key, packArrival(*r.arrival, r.place))
	}
	r.parcel.chat = chat
	return s.put(r.key, r.parcel.pack())
}

// Forget removes the receipts and the dead of a chat: what the store itself keeps
// about a chat besides its streams (see Erase) and what is still on its way in or out.
func (s *Store) Forget(chat string) error {
	_, err := s.apply(change{then: []clientv3.Op{clientv3.OpDelete(s.key("r/", string(record.Scope(chat))), clientv3.WithPrefix())}, landed: harmless})
	if err == nil {
		_, err = s.deleteDead(func(d store.Dead) bool { return d.Chat == chat })
	}
	if err != nil {
		return fmt.Errorf("forget chat %q: %w", chat, err)
	}
	return nil
}

// ForgetSlots removes the receipts of a chat whose slots begin with prefix.
func (s *Store) ForgetSlots(chat, prefix string) error {
	_, err := s.apply(change{then: []clientv3.Op{clientv3.OpDelete(s.key("r/", string(record.Scope(chat))+prefix), clientv3.WithPrefix())}, landed: harmless})
	if err != nil {
		return fmt.Errorf("forget slots %q of chat %q: %w", prefix, chat, err)
	}
	return nil
}
