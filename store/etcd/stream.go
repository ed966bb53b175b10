package etcd

import (
	"context"
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

// entryKey is the full key of an entry.
func (s *Store) entryKey(stream string, n uint64) string {
	return s.key("e/", string(record.Scoped(stream, n)))
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

// batchEntries is how many entries Replay reads at a time.
const batchEntries = 256

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
	scope := s.key("e/", string(record.Scope(name)))
	if after == ^uint64(0) {
		return nil, 0, s.usable()
	}
	got, _, err := s.read(
		clientv3.OpGet(s.key("n/", name)),
		clientv3.OpGet(s.entryKey(name, after+1), clientv3.WithRange(clientv3.GetPrefixRangeEnd(scope)), clientv3.WithLimit(batchEntries)))
	if err != nil {
		return nil, 0, err
	}
	last, _, err = s.last(got[0])
	if err != nil || after >= last {
		return nil, 0, err
	}
	n := after
	for _, kv := range got[1].Kvs {
		n++
		if string(kv.Key) != s.entryKey(name, n) {
			return nil, 0, fmt.Errorf("entry %d is missing: %w", n, store.ErrCorrupt)
		}
		v, err := s.unseal(string(kv.Key), kv.Value)
		if err != nil {
			// What comes before it is sound; it is what the next batch begins with.
			if len(entries) > 0 {
				return entries, last, nil
			}
			return nil, 0, err
		}
		entries = append(entries, v)
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
