package etcd

import (
	"context"
	"errors"
	"fmt"
	"time"

	"go.etcd.io/etcd/api/v3/v3rpc/rpctypes"
	clientv3 "go.etcd.io/etcd/client/v3"

	"linetender/store"
	"linetender/store/internal/record"
)

// Commit writes one turn whole or not at all, as store.Store.Commit does.
//
// Errors: as there, and ErrLarge; ErrAway when it is not known whether it was written:
// commit again, and store.ErrDone says that it was.
func (s *Store) Commit(t store.Turn) (numbers []uint64, err error) {
	if err := store.CheckTurn(t); err != nil {
		return nil, err
	}
	if t.Update == "" && len(t.Writes) == 0 && len(t.Outbox) == 0 {
		return nil, nil
	}
	if numbers, err = s.commit(t, s.o.Now()); err != nil {
		return nil, fmt.Errorf("commit a turn: %w", err)
	}
	return numbers, nil
}

// work is one turn on its way.
type work struct {
	s     *Store
	turn  store.Turn
	token string
	at    time.Time
	mark  string // full key of its done mark
	change
}

// commit makes a turn that changed its streams at the time given.
func (s *Store) commit(t store.Turn, at time.Time) ([]uint64, error) {
	w := &work{s: s, turn: t, token: token(), at: at}
	// A turn that no update caused is known again by a mark of its own.
	name := t.Update
	if name == "" {
		name = "turn/" + w.token
	}
	w.mark = s.key("d/", name)
	w.when = append(w.when, absent(w.mark))
	w.look = append(w.look, clientv3.OpGet(w.mark))
	w.landed = w.hasLanded
	numbers := make([]uint64, len(t.Writes))
	for i, write := range t.Writes {
		numbers[i] = w.write(i, write)
	}
	for i, p := range t.Outbox {
		w.send(i, p)
	}
	if t.Update != "" {
		w.then = append(w.then, clientv3.OpDelete(s.key("w/i/", t.Update)))
	}
	out, err := w.apply()
	if err != nil {
		return nil, err
	}
	if !out.done {
		return nil, w.refusal(out)
	}
	s.noteTurn(w, out)
	return numbers, nil
}

// apply makes the change with its mark. A lease of marks that has run out is replaced.
func (w *work) apply() (outcome, error) {
	var p record.Pack
	p.Text(w.token)
	p.Time(w.s.o.Now())
	then := w.then
	for again := false; ; again = true {
		lease, err := w.s.marks.lease(w.s)
		if err != nil {
			return outcome{}, err
		}
		w.then = append(then[:len(then):len(then)], w.s.put(w.mark, p.B, clientv3.WithLease(lease)))
		out, err := w.s.apply(w.change)
		if !errors.Is(err, rpctypes.ErrLeaseNotFound) || again {
			return out, err
		}
		w.s.marks.drop(lease)
	}
}

// write adds the entries of one stream.
func (w *work) write(i int, in store.Write) (last uint64) {
	s := w.s
	w.when = append(w.when, s.standsAt(in.Stream, in.After)...)
	at := s.key("n/", in.Stream)
	w.look = append(w.look, clientv3.OpGet(at))
	last = in.After
	if len(in.Entries) == 0 && in.Head == nil {
		return last
	}
	if len(in.Entries) > 0 {
		last += uint64(len(in.Entries))
		w.then = append(w.then, s.put(s.entriesKey(in.Stream, last), packEntries(in.Entries)))
	}
	if in.Head != nil {
		w.then = append(w.then, s.put(s.key("h/", in.Stream), in.Head))
	}
	w.then = append(w.then, s.put(at, record.Number(last)), s.put(s.key("s/", in.Stream), stream{changed: w.at, place: uint64(i)}.pack()))
	return last
}

// send adds one parcel.
func (w *work) send(i int, in store.Parcel) {
	p := parcel{chat: in.Chat, urgent: in.Urgent, body: in.Body}
	if p.chat == "" {
		p.chat = w.turn.Chat
	}
	key := w.s.key("w/o/", w.token+string(record.Number(uint64(i))))
	w.then = append(w.then, w.s.put(key, p.pack()))
}

// hasLanded looks for the mark that only this turn writes.
func (w *work) hasLanded(ctx context.Context) (int64, error) {
	got, rev, err := w.s.readIn(ctx, clientv3.OpGet(w.mark))
	if err != nil {
		return 0, err
	}
	if ours, err := w.ours(got[0]); !ours || err != nil {
		return 0, err
	}
	return rev, nil
}

func (w *work) ours(got *clientv3.GetResponse) (bool, error) {
	v, kv, err := w.s.value(got)
	if kv == nil || err != nil {
		return false, err
	}
	u := record.Unpack{B: v}
	by := u.Text()
	u.Time()
	return by == w.token, u.Done("done mark")
}

// refusal says why the change was not made.
func (w *work) refusal(out outcome) error {
	if len(out.found[0].Kvs) > 0 {
		// Seen to be done, it no longer waits, even if the mirror hasn't heard.
		w.s.mirror.remove(w.s.key("w/i/", w.turn.Update), out.rev)
		return fmt.Errorf("update %q: %w", w.turn.Update, store.ErrDone)
	}
	for i, write := range w.turn.Writes {
		last, _, err := w.s.last(out.found[1+i])
		if err != nil {
			return err
		}
		if last != write.After {
			return fmt.Errorf("stream %q is at entry %d, the writer saw %d: %w", write.Stream, last, write.After, store.ErrMoved)
		}
	}
	// What was compared and what was read are one state, so this is a store in disorder.
	return fmt.Errorf("the entries of a stream and its record disagree: %w", store.ErrCorrupt)
}

// noteTurn lets the mirror know what the watch will tell it later.
func (s *Store) noteTurn(w *work, out outcome) {
	if w.turn.Update != "" {
		s.mirror.remove(s.key("w/i/", w.turn.Update), out.rev)
	}
	if len(w.turn.Outbox) > 0 {
		s.shown(out)
	}
}
