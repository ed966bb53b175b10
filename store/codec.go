package store

import (
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"time"
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

const sumSize = 4

// seal appends a checksum over key and value, so that a value that rotted, or
// was filed under another key, is noticed when it is read.
func seal(key, value []byte) []byte {
	return binary.BigEndian.AppendUint32(value[:len(value):len(value)], sum(key, value))
}

// unseal returns the value without its checksum; it is still bbolt's memory.
func unseal(key, sealed []byte) ([]byte, error) {
	if len(sealed) < sumSize {
		return nil, fmt.Errorf("value of %q has %d bytes: %w", key, len(sealed), ErrCorrupt)
	}
	value := sealed[:len(sealed)-sumSize]
	if binary.BigEndian.Uint32(sealed[len(value):]) != sum(key, value) {
		return nil, fmt.Errorf("value of %q does not match its checksum: %w", key, ErrCorrupt)
	}
	return value, nil
}

func sum(key, value []byte) uint32 {
	return crc32.Update(crc32.Checksum(key, castagnoli), castagnoli, value)
}

// number is a key that sorts as the number does.
func number(n uint64) []byte { return binary.BigEndian.AppendUint64(nil, n) }

// scope is the beginning of all keys that belong to name. The length in front
// keeps one name from being the beginning of another.
func scope(name string) []byte {
	return append(binary.BigEndian.AppendUint16(make([]byte, 0, 2+len(name)+9), uint16(len(name))), name...)
}

// scoped is the key of the n-th thing that belongs to name.
func scoped(name string, n uint64) []byte { return binary.BigEndian.AppendUint64(scope(name), n) }

// splitScope takes a key apart into its name and what follows it.
func splitScope(key []byte) (name string, rest []byte, err error) {
	if len(key) < 2 || len(key)-2 < int(binary.BigEndian.Uint16(key)) {
		return "", nil, fmt.Errorf("key %q is cut short: %w", key, ErrCorrupt)
	}
	end := 2 + int(binary.BigEndian.Uint16(key))
	return string(key[2:end]), key[end:], nil
}

// pack builds a record of fixed numbers and length-prefixed strings.
type pack struct{ b []byte }

func (p *pack) byte(v byte)     { p.b = append(p.b, v) }
func (p *pack) number(v uint64) { p.b = binary.BigEndian.AppendUint64(p.b, v) }
func (p *pack) bytes(v []byte)  { p.b = append(binary.AppendUvarint(p.b, uint64(len(v))), v...) }
func (p *pack) text(v string)   { p.b = append(binary.AppendUvarint(p.b, uint64(len(v))), v...) }
func (p *pack) flag(v bool)     { p.byte(map[bool]byte{true: 1}[v]) }

// time keeps the instant to the nanosecond for any year; the zone is not kept.
func (p *pack) time(t time.Time) {
	p.number(uint64(t.Unix()))
	p.b = binary.BigEndian.AppendUint32(p.b, uint32(t.Nanosecond()))
}

// unpack reads a record back. A record too short sets short, and all reads from
// there on give zero values; done says so.
type unpack struct {
	b     []byte
	short bool
}

func (u *unpack) take(n uint64) []byte {
	if u.short || n > uint64(len(u.b)) {
		u.short = true
		return nil
	}
	v := u.b[:n]
	u.b = u.b[n:]
	return v
}

func (u *unpack) byte() byte {
	if v := u.take(1); v != nil {
		return v[0]
	}
	return 0
}

func (u *unpack) flag() bool { return u.byte() == 1 }

func (u *unpack) number() uint64 {
	if v := u.take(8); v != nil {
		return binary.BigEndian.Uint64(v)
	}
	return 0
}

// bytes returns a copy that outlives the transaction.
func (u *unpack) bytes() []byte {
	n, size := binary.Uvarint(u.b)
	if size <= 0 {
		u.short = true
		return nil
	}
	u.take(uint64(size))
	return append([]byte{}, u.take(n)...)
}

func (u *unpack) text() string { return string(u.bytes()) }

func (u *unpack) time() time.Time {
	sec := u.number()
	v := u.take(4)
	if v == nil {
		return time.Time{}
	}
	return time.Unix(int64(sec), int64(binary.BigEndian.Uint32(v))).UTC()
}

// done reports whether the record was exactly as long as it should be.
func (u *unpack) done(what string) error {
	if u.short || len(u.b) != 0 {
		return fmt.Errorf("record of %s has the wrong length: %w", what, ErrCorrupt)
	}
	return nil
}
