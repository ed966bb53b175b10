package etcd

import (
	"context"
	"encoding/binary"
	"fmt"
	"time"

	mvccpb "go.etcd.io/etcd/api/v3/mvccpb"
	clientv3 "go.etcd.io/etcd/client/v3"

	"linetender/store"
	"linetender/store/internal/record"
)

// stream is when a stream was last changed, and its place among the streams changed in
// the same turn. The revision of this record is its place in the order of changes; what may change
// without a new place, the number of the last entry and the summary, stands apart.
type stream struct {
	changed time.Time
	place   uint64
	mod     int64 // not written, etcd keeps it
}

func (st stream) pack() []byte {
	var p record.Pack
	p.Time(st.changed)
	p.Number(st.place)
	return p.B
}

// readStream returns the record read, and whether there is one.
func (s *Store) readStream(got *clientv3.GetResponse) (stream, bool, error) {
	if len(got.Kvs) == 0 {
		return stream{}, false, nil
	}
	st, err := s.streamOf(got.Kvs[0])
	return st, err == nil, err
}

func (s *Store) streamOf(kv *mvccpb.KeyValue) (stream, error) {
	v, err := s.unseal(string(kv.Key), kv.Value)
	if err != nil {
		return stream{}, err
	}
	u := record.Unpack{B: v}
	st := stream{changed: u.Time(), place: u.Number(), mod: kv.ModRevision}
	if err := u.Done(fmt.Sprintf("stream %q", kv.Key)); err != nil {
		return stream{}, err
	}
	return st, nil
}

// last returns the number of the last entry read, and whether there is a stream.
func (s *Store) last(got *clientv3.GetResponse) (n uint64, there bool, err error) {
	v, kv, err := s.value(got)
	if kv == nil || err != nil {
		return 0, false, err
	}
	u := record.Unpack{B: v}
	n = u.Number()
	return n, true, u.Done("the last entry of a stream")
}

// The entries of one write stand together, under the number of the last of them: a turn of
// many entries is one part of a transaction, and a stream ends where its last row says.

// entriesKey is the full key of the entries of a write that ends with number n.
func (s *Store) entriesKey(stream string, n uint64) string {
	return s.key("e/", string(record.Scoped(stream, n)))
}

// entriesEnd is behind all entries of a stream.
func (s *Store) entriesEnd(stream string) string {
	return clientv3.GetPrefixRangeEnd(s.key("e/", string(record.Scope(stream))))
}

// standsAt compares: the last entry of a stream is number n if a write ended there and none
// beyond.
func (s *Store) standsAt(stream string, n uint64) []clientv3.Cmp {
	when := []clientv3.Cmp{clientv3.Compare(clientv3.CreateRevision(s.entriesKey(stream, n+1)).WithRange(s.entriesEnd(stream)), "=", 0)}
	if n > 0 {
		when = append(when, present(s.entriesKey(stream, n)))
	}
	return when
}

func packEntries(entries [][]byte) []byte {
	size := 8
	for _, e := range entries {
		size += len(e) + binary.MaxVarintLen64
	}
	p := record.Pack{B: make([]byte, 0, size+record.SumSize)}
	p.Number(uint64(len(entries)))
	for _, e := range entries {
		p.Bytes(e)
	}
	return p.B
}

// entriesOf returns the entries of a row and the number of the first.
func (s *Store) entriesOf(kv *mvccpb.KeyValue) (first uint64, entries [][]byte, err error) {
	v, err := s.unseal(string(kv.Key), kv.Value)
	if err != nil {
		return 0, nil, err
	}
	u := record.Unpack{B: v}
	count := u.Number()
	at := record.Unpack{B: kv.Key[max(0, len(kv.Key)-8):]}
	last := at.Number()
	if err := at.Done("entries"); err != nil || count == 0 || count > last || count > uint64(len(v)) {
		return 0, nil, fmt.Errorf("the row %q of entries can't be as it is: %w", kv.Key, store.ErrCorrupt)
	}
	for range count {
		entries = append(entries, u.Bytes())
	}
	return last - count + 1, entries, u.Done("entries")
}

// head returns the summary read. A stream that is there has one, be it empty; nil is for none.
func (s *Store) head(got *clientv3.GetResponse, there bool) ([]byte, error) {
	v, _, err := s.value(got)
	if v == nil && there && err == nil {
		v = []byte{}
	}
	return v, err
}

// Head returns the latest summary of a stream and the number of its last entry;
// nil and 0 for a stream that isn't there. An empty summary is not nil.
func (s *Store) Head(name string) (head []byte, last uint64, err error) {
	got, _, err := s.read(clientv3.OpGet(s.key("n/", name)), clientv3.OpGet(s.key("h/", name)))
	if err == nil {
		var there bool
		if last, there, err = s.last(got[0]); err == nil {
			if head, err = s.head(got[1], there); err == nil {
				return head, last, nil
			}
		}
	}
	return nil, 0, fmt.Errorf("head of stream %q: %w", name, err)
}

// batchWrites is how many writes Replay reads at a time.
const batchWrites = 64

// Replay hands the entries of a stream after number after to visit, in order. An
// error from visit ends it and is returned as it is.
//
// Errors: store.ErrCorrupt when an entry is damaged or missing; visit has then seen
// only sound ones before it.
func (s *Store) Replay(name string, after uint64, visit func(n uint64, entry []byte) error) error {
	for {
		entries, last, err := s.replayBatch(name, after)
		if err != nil {
			return fmt.Errorf("replay stream %q after entry %d: %w", name, after, err)
		}
		for _, e := range entries {
			after++
			if err := visit(after, e); err != nil {
				return err
			}
		}
		if after >= last {
			return nil
		}
	}
}

func (s *Store) replayBatch(name string, after uint64) (entries [][]byte, last uint64, err error) {
	if after == ^uint64(0) {
		return nil, 0, s.usable()
	}
	got, _, err := s.read(
		clientv3.OpGet(s.key("n/", name)),
		clientv3.OpGet(s.entriesKey(name, after+1), clientv3.WithRange(s.entriesEnd(name)), clientv3.WithLimit(batchWrites)))
	if err != nil {
		return nil, 0, err
	}
	last, _, err = s.last(got[0])
	if err != nil || after >= last {
		return nil, 0, err
	}
	n := after
	for _, kv := range got[1].Kvs {
		first, some, err := s.entriesOf(kv)
		if err == nil && (first > n+1 || first+uint64(len(some)) <= n+1) {
			err = fmt.Errorf("entry %d is missing: %w", n+1, store.ErrCorrupt)
		}
		if err != nil {
			// What comes before it is sound; it is what the next batch begins with.
			if len(entries) > 0 {
				return entries, last, nil
			}
			return nil, 0, err
		}
		some = some[n+1-first:]
		n += uint64(len(some))
		entries = append(entries, some...)
	}
	if n < last && !got[1].More || n > last {
		return nil, 0, fmt.Errorf("entries end at %d of %d: %w", n, last, store.ErrCorrupt)
	}
	return entries, last, nil
}

// Erase removes a stream, its summary and its place in the list, for good. What
// is written to it later begins at entry 1 again. The bytes leave the members'
// files when they compact and defragment.
//
// Errors: store.ErrUnknown when there is no such stream.
func (s *Store) Erase(name string) error {
	if err := s.erase(name); err != nil {
		return fmt.Errorf("erase stream %q: %w", name, err)
	}
	return nil
}

func (s *Store) erase(name string) error {
	at := s.key("n/", name)
	// Looked for first: gone after an answer was lost, it was erased, and by this call as like as not.
	got, _, err := s.read(clientv3.OpGet(at, clientv3.WithCountOnly()))
	if err != nil {
		return err
	}
	if got[0].Count == 0 {
		return store.ErrUnknown
	}
	out, err := s.apply(change{
		when: []clientv3.Cmp{present(at)},
		then: []clientv3.Op{
			clientv3.OpDelete(at), clientv3.OpDelete(s.key("s/", name)), clientv3.OpDelete(s.key("h/", name)),
			clientv3.OpDelete(s.key("e/", string(record.Scope(name))), clientv3.WithPrefix()),
		},
		landed: func(ctx context.Context) (int64, error) { return s.seen(ctx, at, false) },
	})
	if err == nil && !out.done {
		err = store.ErrUnknown
	}
	return err
}
