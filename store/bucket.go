package store

import (
	"bytes"

	"go.etcd.io/bbolt"

	"linetender/store/internal/record"
)

// The buckets of the file; the package doc says what each keeps.
var (
	bMeta     = []byte("meta")
	bEntries  = []byte("entries")
	bStreams  = []byte("streams")
	bChanges  = []byte("changes")
	bSources  = []byte("sources")
	bInbox    = []byte("inbox")
	bUpdates  = []byte("updates")
	bDone     = []byte("done")
	bOutbox   = []byte("outbox")
	bQueue    = []byte("queue")
	bFront    = []byte("front")
	bReceipts = []byte("receipts")
	bDead     = []byte("dead")
	bSecrets  = []byte("secrets")
)

func allBuckets() [][]byte {
	return [][]byte{bMeta, bEntries, bStreams, bChanges, bSources, bInbox, bUpdates,
		bDone, bOutbox, bQueue, bFront, bReceipts, bDead, bSecrets}
}

// put stores value under key with its checksum.
func put(b *bbolt.Bucket, key, value []byte) error { return b.Put(key, record.Seal(key, value)) }

// get returns the value under key, and whether there is one. It is valid only
// while the transaction lasts.
func get(b *bbolt.Bucket, key []byte) (value []byte, ok bool, err error) {
	sealed := b.Get(key)
	if sealed == nil {
		return nil, false, nil
	}
	value, err = record.Unseal(key, sealed)
	return value, err == nil, err
}

// first returns a copy of the first key with the given beginning, or nil.
func first(b *bbolt.Bucket, beginning []byte) []byte {
	k, _ := b.Cursor().Seek(beginning)
	if k == nil || !bytes.HasPrefix(k, beginning) {
		return nil
	}
	return bytes.Clone(k)
}

// keysOf returns copies of all keys with the given beginning, to change them by:
// a cursor must not be walked over what is being deleted.
func keysOf(b *bbolt.Bucket, beginning []byte) (keys [][]byte) {
	c := b.Cursor()
	for k, _ := c.Seek(beginning); k != nil && bytes.HasPrefix(k, beginning); k, _ = c.Next() {
		keys = append(keys, bytes.Clone(k))
	}
	return keys
}

// deleteScope deletes all keys that belong to name.
func deleteScope(b *bbolt.Bucket, name string) error {
	for _, k := range keysOf(b, record.Scope(name)) {
		if err := b.Delete(k); err != nil {
			return err
		}
	}
	return nil
}

// after is a key behind all keys that consist of scope and at most nine bytes.
func after(scope []byte) []byte {
	return append(bytes.Clone(scope), 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff)
}
