package store

import (
	"bytes"
	"errors"
	"testing"
	"time"

	"pgregory.net/rapid"

	"linetender/store/internal/record"
)

// Keys sort as what they stand for, first by name, then by number, and a name never
// falls among the keys of another.
func TestKeysSort(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom([]string{"", "a", "a\x00", "b", "\xff\xff"})
		a, b := name.Draw(t, "a"), name.Draw(t, "b")
		m, n := rapid.Uint64().Draw(t, "m"), rapid.Uint64().Draw(t, "n")
		x, y := record.Scoped(a, m), record.Scoped(b, n)
		if a == b && bytes.Compare(x, y) < 0 != (m < n) {
			t.Errorf("%d and %d of %q sort the other way", m, n, a)
		}
		if a != b && bytes.HasPrefix(y, record.Scope(a)) {
			t.Errorf("a key of %q lies among those of %q", b, a)
		}
		if !(bytes.Compare(x, after(record.Scope(a))) < 0) {
			t.Errorf("%d of %q lies after all of them", m, a)
		}
		if got, k, err := splitScoped(x); got != a || k != m || err != nil {
			t.Errorf("%q, %d comes back as %q, %d, %v", a, m, got, k, err)
		}
	})
}

func TestPackRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, text, b := rapid.Uint64().Draw(t, "n"), rapid.String().Draw(t, "text"), rapid.SliceOf(rapid.Byte()).Draw(t, "bytes")
		flag := rapid.Bool().Draw(t, "flag")
		at := time.Unix(rapid.Int64Range(-1<<40, 1<<40).Draw(t, "sec"), rapid.Int64Range(0, 999_999_999).Draw(t, "nsec"))
		var p record.Pack
		p.Number(n)
		p.Text(text)
		p.Flag(flag)
		p.Bytes(b)
		p.Time(at)
		p.Time(time.Time{})
		u := record.Unpack{B: p.B}
		if u.Number() != n || u.Text() != text || u.Flag() != flag || !bytes.Equal(u.Bytes(), b) || !u.Time().Equal(at) || !u.Time().IsZero() {
			t.Error("a record does not come back as it was")
		}
		if err := u.Done("it"); err != nil {
			t.Error(err)
		}
		cut := record.Unpack{B: p.B[:rapid.IntRange(0, len(p.B)-1).Draw(t, "cut")]}
		cut.Number()
		cut.Text()
		cut.Flag()
		cut.Bytes()
		cut.Time()
		cut.Time()
		if err := cut.Done("it"); !errors.Is(err, ErrCorrupt) {
			t.Errorf("a record cut short: %v", err)
		}
	})
}

// Whatever lies in a file, reading it gives a record or ErrCorrupt, and a record that is
// read is written back the same.
func FuzzRecords(f *testing.F) {
	var p record.Pack
	p.Text("key")
	p.Time(noon)
	p.Bytes([]byte("body"))
	f.Add(p.B)
	f.Add([]byte{})
	f.Add(bytes.Repeat([]byte{0xff}, 40))
	f.Add([]byte("\x00\x03abc12345678"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if a, err := readArrival("chat", b); err == nil {
			var p record.Pack
			p.Text(a.Key)
			p.Time(a.At)
			p.Bytes(a.Body)
			if again, err := readArrival("chat", p.B); err != nil || again.Key != a.Key || !again.At.Equal(a.At) || !bytes.Equal(again.Body, a.Body) {
				t.Errorf("%x was read as %+v, and that as %+v, %v", b, a, again, err)
			}
		} else if !errors.Is(err, ErrCorrupt) || a.Key != "" || a.Body != nil {
			t.Errorf("got %+v, %v", a, err)
		}
		if d, err := readDead(b); err != nil && (!errors.Is(err, ErrCorrupt) || d.Body != nil) {
			t.Errorf("got %+v, %v", d, err)
		}
		if name, rest, err := record.SplitScope(b); err == nil {
			if got := append(record.Scope(name), rest...); !bytes.Equal(got, b) {
				t.Errorf("%x comes back as %x", b, got)
			}
		} else if !errors.Is(err, ErrCorrupt) {
			t.Error(err)
		}
		if v, err := record.Unseal([]byte("key"), b); err == nil && !bytes.Equal(record.Seal([]byte("key"), v), b) {
			t.Errorf("%x passes for a sealed value", b)
		}
	})
}
