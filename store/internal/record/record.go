// Package record is how the stores write down what they keep: numbers and
// length-prefixed strings, with a checksum over key and value.
package record

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"time"
)

// ErrCorrupt is returned for a value that is not as it was written.
var ErrCorrupt = errors.New("the store is damaged: stop, keep a copy of the file as it is, and put the latest backup in its place")

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// SumSize is how many bytes Seal adds.
const SumSize = 4

// Seal appends a checksum over key and value, so that a value that rotted, or
// was filed under another key, is noticed when it is read.
func Seal(key, value []byte) []byte {
	return binary.BigEndian.AppendUint32(value[:len(value):len(value)], sum(key, value))
}

// Unseal returns the value without its checksum; it shares memory with sealed.
func Unseal(key, sealed []byte) ([]byte, error) {
	if len(sealed) < SumSize {
		return nil, fmt.Errorf("value of %q has %d bytes: %w", key, len(sealed), ErrCorrupt)
	}
	value := sealed[:len(sealed)-SumSize]
	if binary.BigEndian.Uint32(sealed[len(value):]) != sum(key, value) {
		return nil, fmt.Errorf("value of %q does not match its checksum: %w", key, ErrCorrupt)
	}
	return value, nil
}

func sum(key, value []byte) uint32 {
	return crc32.Update(crc32.Checksum(key, castagnoli), castagnoli, value)
}

// Number is a key that sorts as the number does.
func Number(n uint64) []byte { return binary.BigEndian.AppendUint64(nil, n) }

// Scope is the beginning of all keys that belong to name. The length in front
// keeps one name from being the beginning of another.
func Scope(name string) []byte {
	return append(binary.BigEndian.AppendUint16(make([]byte, 0, 2+len(name)+9), uint16(len(name))), name...)
}

// Scoped is the key of the n-th thing that belongs to name.
func Scoped(name string, n uint64) []byte { return binary.BigEndian.AppendUint64(Scope(name), n) }

// SplitScope takes a key apart into its name and what follows it.
func SplitScope(key []byte) (name string, rest []byte, err error) {
	if len(key) < 2 || len(key)-2 < int(binary.BigEndian.Uint16(key)) {
		return "", nil, fmt.Errorf("key %q is cut short: %w", key, ErrCorrupt)
	}
	end := 2 + int(binary.BigEndian.Uint16(key))
	return string(key[2:end]), key[end:], nil
}

// Pack builds a record of fixed numbers and length-prefixed strings.
type Pack struct{ B []byte }

func (p *Pack) Byte(v byte)     { p.B = append(p.B, v) }
func (p *Pack) Number(v uint64) { p.B = binary.BigEndian.AppendUint64(p.B, v) }
func (p *Pack) Bytes(v []byte)  { p.B = append(binary.AppendUvarint(p.B, uint64(len(v))), v...) }
func (p *Pack) Text(v string)   { p.B = append(binary.AppendUvarint(p.B, uint64(len(v))), v...) }
func (p *Pack) Flag(v bool)     { p.Byte(map[bool]byte{true: 1}[v]) }

// Time keeps the instant to the nanosecond for any year; the zone is not kept.
func (p *Pack) Time(t time.Time) {
	p.Number(uint64(t.Unix()))
	p.B = binary.BigEndian.AppendUint32(p.B, uint32(t.Nanosecond()))
}

// Unpack reads a record back. A record too short sets short, and all reads from
// there on give zero values; Done says so.
type Unpack struct {
	B     []byte
	short bool
}

func (u *Unpack) take(n uint64) []byte {
	if u.short || n > uint64(len(u.B)) {
		u.short = true
		return nil
	}
	v := u.B[:n]
	u.B = u.B[n:]
	return v
}

func (u *Unpack) Byte() byte {
	if v := u.take(1); v != nil {
		return v[0]
	}
	return 0
}

func (u *Unpack) Flag() bool { return u.Byte() == 1 }

func (u *Unpack) Number() uint64 {
	if v := u.take(8); v != nil {
		return binary.BigEndian.Uint64(v)
	}
	return 0
}

// Bytes returns a copy that outlives the transaction.
func (u *Unpack) Bytes() []byte {
	n, size := binary.Uvarint(u.B)
	if size <= 0 {
		u.short = true
		return nil
	}
	u.take(uint64(size))
	return append([]byte{}, u.take(n)...)
}

func (u *Unpack) Text() string { return string(u.Bytes()) }

func (u *Unpack) Time() time.Time {
	sec := u.Number()
	v := u.take(4)
	if v == nil {
		return time.Time{}
	}
	return time.Unix(int64(sec), int64(binary.BigEndian.Uint32(v))).UTC()
}

// Done reports whether the record was exactly as long as it should be.
func (u *Unpack) Done(what string) error {
	if u.short || len(u.B) != 0 {
		return fmt.Errorf("record of %s has the wrong length: %w", what, ErrCorrupt)
	}
	return nil
}
