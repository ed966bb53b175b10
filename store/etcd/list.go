package etcd

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	clientv3 "go.etcd.io/etcd/client/v3"

	"linetender/store"
)

// Streams hands the streams whose name begins with prefix to visit, in order of
// their last change, as store.Store.Streams does.
//
// The order is that of etcd's revisions. The members sort by it, which takes them time
// with every stream there is, so pages grow: the first is quick, and a whole walk asks
// few times.
//
// Errors: store.ErrUnknown when there is no stream named from.
func (s *Store) Streams(prefix, from string, newestFirst bool, visit func(name string, head []byte, last uint64, changed time.Time) error) error {
	w := walk{s: s, prefix: s.key("s/", prefix), newestFirst: newestFirst, page: firstPage}
	if from != "" {
		if err := w.startAt(from); err != nil {
			return fmt.Errorf("list streams: %w", err)
		}
	}
	for !w.over {
		rows, err := w.more()
		if err != nil {
			return fmt.Errorf("list streams: %w", err)
		}
		for batch := range slices.Chunk(rows, batchHeads) {
			heads, err := w.heads(batch)
			if err != nil {
				return fmt.Errorf("list streams: %w", err)
			}
			for _, h := range heads {
				if err := visit(h.name, h.head, h.last, h.changed); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

const (
	firstPage = 64
	mostPage  = 16384
	// batchHeads is how many summaries are read at a time, three parts of a transaction each.
	batchHeads = 32
)

// walk goes through the streams in order of change, a page each time.
type walk struct {
	s           *Store
	prefix      string // full
	newestFirst bool
	page        int
	begun       bool
	at          stream // the place of the last one seen, once begun
	over        bool
}

// listed is one stream of a listing.
type listed struct {
	name string
	stream
	last uint64
	head []byte
}

// byChange orders streams as they were last changed.
func byChange(a, b stream) int {
	return cmp.Or(cmp.Compare(a.mod, b.mod), cmp.Compare(a.place, b.place))
}

func (w *walk) startAt(from string) error {
	got, _, err := w.s.read(clientv3.OpGet(w.s.key("s/", from)))
	if err != nil {
		return err
	}
	st, ok, err := w.s.readStream(got[0])
	if err == nil && !ok {
		err = fmt.Errorf("begin after stream %q: %w", from, store.ErrUnknown)
	}
	w.begun, w.at = true, st
	return err
}

// more returns the next page. Streams that changed in one turn share a revision, so a
// page may break off among them: those at its edge are left to the next.
func (w *walk) more() ([]listed, error) {
	limit := w.page + w.s.o.Ops
	w.page = min(4*w.page, mostPage)
	opts := []clientv3.OpOption{clientv3.WithPrefix(), clientv3.WithLimit(int64(limit))}
	order := clientv3.SortAscend
	if w.newestFirst {
		order = clientv3.SortDescend
	}
	opts = append(opts, clientv3.WithSort(clientv3.SortByModRevision, order))
	if w.begun && w.newestFirst {
		opts = append(opts, clientv3.WithMaxModRev(w.at.mod))
	} else if w.begun {
		opts = append(opts, clientv3.WithMinModRev(w.at.mod))
	}
	got, _, err := w.s.read(clientv3.OpGet(w.prefix, opts...))
	if err != nil {
		return nil, err
	}
	kvs := got[0].Kvs
	if w.over = len(kvs) < limit; !w.over {
		edge := kvs[len(kvs)-1].ModRevision
		for len(kvs) > 0 && kvs[len(kvs)-1].ModRevision == edge {
			kvs = kvs[:len(kvs)-1]
		}
	}
	var rows []listed
	for _, kv := range kvs {
		st, err := w.s.streamOf(kv)
		if err != nil {
			return nil, err
		}
		if !w.passed(st) {
			rows = append(rows, listed{name: string(kv.Key[len(w.s.key("s/", "")):]), stream: st})
		}
	}
	slices.SortFunc(rows, func(a, b listed) int {
		if w.newestFirst {
			a, b = b, a
		}
		return byChange(a.stream, b.stream)
	})
	if len(rows) > 0 {
		w.begun, w.at = true, rows[len(rows)-1].stream
		if !w.newestFirst {
			w.over = false // what changes meanwhile comes at the end
		}
	}
	return rows, nil
}

func (w *walk) passed(st stream) bool {
	if !w.begun {
		return false
	}
	if w.newestFirst {
		return byChange(st, w.at) >= 0
	}
	return byChange(st, w.at) <= 0
}

// heads reads the records and summaries of streams as they are now. One that has
// gone is left out; one that has changed is shown as it is, and, walked oldest first,
// comes again.
func (w *walk) heads(batch []listed) ([]listed, error) {
	var ops []clientv3.Op
	for _, l := range batch {
		ops = append(ops, clientv3.OpGet(w.s.key("s/", l.name)), clientv3.OpGet(w.s.key("n/", l.name)), clientv3.OpGet(w.s.key("h/", l.name)))
	}
	got, _, err := w.s.read(ops...)
	if err != nil {
		return nil, err
	}
	var out []listed
	for i, l := range batch {
		st, there, err := w.s.readStream(got[3*i])
		if err != nil {
			return nil, err
		}
		if !there {
			continue
		}
		l.stream = st
		if l.last, _, err = w.s.last(got[3*i+1]); err != nil {
			return nil, err
		}
		if l.head, err = w.s.head(got[3*i+2], true); err != nil {
			return nil, err
		}
		out = append(out, l)
	}
	return out, nil
}
