package store

import (
	"bytes"
	"errors"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// Keys sort as what they stand for, first by name, then by number, and a name never
// falls among the keys of another.
func TestKeysSort(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom([]string{"", "a", "a\x00", "b", "\xff\xff"})
		a, b := name.Draw(t, "a"), name.Draw(t, "b")
		m, n := rapid.Uint64().Draw(t, "m"), rapid.Uint64().Draw(t, "n")
		x, y := scoped(a, m), scoped(b, n)
		if a == b && bytes.Compare(x, y) < 0 != (m < n) {
			t.Errorf("%d and %d of %q sort the other way", m, n, a)
		}
		if a != b && bytes.HasPrefix(y, scope(a)) {
			t.Errorf("a key of %q lies among those of %q", b, a)
		}
		if !(bytes.Compare(x, after(scope(a))) < 0) {
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
		var p pack
		p.number(n)
		p.text(text)
		p.flag(flag)
		p.bytes(b)
		p.time(at)
		p.time(time.Time{})
		u := unpack{b: p.b}
		if u.number() != n || u.text() != text || u.flag() != flag || !bytes.Equal(u.bytes(), b) || !u.time().Equal(at) || !u.time().IsZero() {
			t.Error("a record does not come back as it was")
		}
		if err := u.done("it"); err != nil {
			t.Error(err)
		}
		cut := unpack{b: p.b[:rapid.IntRange(0, len(p.b)-1).Draw(t, "cut")]}
		cut.number()
		cut.text()
		cut.flag()
		cut.bytes()
		cut.time()
		cut.time()
		if err := cut.done("it"); !errors.Is(err, ErrCorrupt) {
			t.Errorf("a record cut short: %v", err)
		}
	})
}

// Whatever lies in a file, reading it gives a record or ErrCorrupt, and a record that is
// read is written back the same.
func FuzzRecords(f *testing.F) {
	var p pack
	p.text("key")
	p.time(noon)
	p.bytes([]byte("body"))
	f.Add(p.b)
	f.Add([]byte{})
	f.Add(bytes.Repeat([]byte{0xff}, 40))
	f.Add([]byte("\x00\x03abc12345678"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if a, err := readArrival("chat", b); err == nil {
			var p pack
			p.text(a.Key)
			p.time(a.At)
			p.bytes(a.Body)
			if again, err := readArrival("chat", p.b); err != nil || again.Key != a.Key || !again.At.Equal(a.At) || !bytes.Equal(again.Body, a.Body) {
				t.Errorf("%x was read as %+v, and that as %+v, %v", b, a, again, err)
			}
		} else if !errors.Is(err, ErrCorrupt) || a.Key != "" || a.Body != nil {
			t.Errorf("got %+v, %v", a, err)
		}
		if d, err := readDead(b); err != nil && (!errors.Is(err, ErrCorrupt) || d.Body != nil) {
			t.Errorf("got %+v, %v", d, err)
		}
		if name, rest, err := splitScope(b); err == nil {
			if got := append(scope(name), rest...); !bytes.Equal(got, b) {
				t.Errorf("%x comes back as %x", b, got)
			}
		} else if !errors.Is(err, ErrCorrupt) {
			t.Error(err)
		}
		if v, err := unseal([]byte("key"), b); err == nil && !bytes.Equal(seal([]byte("key"), v), b) {
			t.Errorf("%x passes for a sealed value", b)
		}
	})
}
