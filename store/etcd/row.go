package etcd

import (
	"fmt"
	"strings"
	"time"

	mvccpb "go.etcd.io/etcd/api/v3/mvccpb"

	"linetender/store"
	"linetender/store/internal/record"
)

// placeBits is how many bits of an id tell the place in its transaction; the
// members would have to take more than 1024 parts for it not to do.
const placeBits = 10

// row is one thing that waits: an arrival, or a parcel.
type row struct {
	key          string // full
	chat         string
	created, mod int64
	place        uint64 // among those made with it

	arrival *store.Arrival
	parcel  *parcel
	bad     error // why its value can't be read
}

// id orders rows as they were made. For a parcel it is its name too.
func (r *row) id() uint64 { return uint64(r.created)<<placeBits | r.place }

// parcel is the value of an unsent parcel.
type parcel struct {
	chat      string
	urgent    bool
	tries     uint64
	notBefore time.Time
	why       string // of the latest delay
	body      []byte
}

func (p parcel) pack() []byte {
	var r record.Pack
	r.Text(p.chat)
	r.Flag(p.urgent)
	r.Number(p.tries)
	r.Time(p.notBefore)
	r.Text(p.why)
	r.Bytes(p.body)
	return r.B
}

func unpackParcel(v []byte) (p parcel, err error) {
	u := record.Unpack{B: v}
	p = parcel{chat: u.Text(), urgent: u.Flag(), tries: u.Number(), notBefore: u.Time(), why: u.Text(), body: u.Bytes()}
	if err := u.Done("a parcel"); err != nil {
		return parcel{}, err
	}
	return p, nil
}

// packArrival leaves out the update's key, which is in the row's own.
func packArrival(a store.Arrival, place uint64) []byte {
	var p record.Pack
	p.Text(a.Chat)
	p.Time(a.At)
	p.Number(place)
	p.Bytes(a.Body)
	return p.B
}

func unpackArrival(update string, v []byte) (a store.Arrival, place uint64, err error) {
	u := record.Unpack{B: v}
	a = store.Arrival{Key: update, Chat: u.Text(), At: u.Time()}
	place = u.Number()
	a.Body = u.Bytes()
	if err := u.Done("update " + update); err != nil {
		return store.Arrival{}, 0, err
	}
	return a, place, nil
}

// readRow makes a row of what etcd holds. What can't be read becomes a row all the
// same, so that it is noticed and not passed over.
func (s *Store) readRow(kv *mvccpb.KeyValue) row {
	r := row{key: string(kv.Key), created: kv.CreateRevision, mod: kv.ModRevision}
	v, err := s.unseal(r.key, kv.Value)
	if err != nil {
		r.bad = err
		return r
	}
	switch rest := r.key[len(s.prefix):]; {
	case strings.HasPrefix(rest, "w/i/"):
		a, place, err := unpackArrival(rest[len("w/i/"):], v)
		r.arrival, r.chat, r.place, r.bad = &a, a.Chat, place, err
	case strings.HasPrefix(rest, "w/o/") && len(rest) > len("w/o/")+8:
		p, err := unpackParcel(v)
		u := record.Unpack{B: []byte(rest[len(rest)-8:])}
		r.parcel, r.chat, r.place, r.bad = &p, p.chat, u.Number(), err
	default:
		r.bad = fmt.Errorf("key %q is of no kind that waits: %w", rest, store.ErrCorrupt)
	}
	return r
}
