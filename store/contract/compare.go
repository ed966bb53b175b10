package contract

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"pgregory.net/rapid"

	"linetender/store"
)

// compare holds all that can be seen of the store against the model.
func (w *machine) compare(t *rapid.T) {
	w.compareInbox(t)
	w.compareStreams(t)
	w.compareList(t)
	w.compareOutbox(t)
	var dead []string
	agree(t, w.s.Dead(0, func(_ uint64, d store.Dead) error {
		dead = append(dead, fmt.Sprint(d.Kind, d.Key, d.Chat, d.Body))
		return nil
	}), nil)
	if !slices.Equal(dead, w.m.dead) {
		t.Fatalf("dead %q, want %q", dead, w.m.dead)
	}
}

func (w *machine) compareInbox(t *rapid.T) {
	chats, err := w.s.Chats()
	agree(t, err, nil)
	if want := w.m.chats(); !slices.Equal(chats, want) {
		t.Fatalf("chats %q, want %q", chats, want)
	}
	for _, chat := range []string{"c", "c1", "c10", "c\x00"} {
		got, ok, err := w.s.Next(chat)
		agree(t, err, nil)
		want, wantOK := w.m.next(chat)
		if ok != wantOK || got.Key != want.Key || got.Chat != want.Chat || !got.At.Equal(want.At) || string(got.Body) != string(want.Body) {
			t.Fatalf("next of %q is %v, %v, want %v, %v", chat, got, ok, want, wantOK)
		}
	}
	for _, source := range []string{"a", "b"} {
		if got, _, err := w.s.Cursor(source); err != nil || got != w.m.cursors[source] {
			t.Fatalf("cursor of %s is %d, %v, want %d", source, got, err, w.m.cursors[source])
		}
	}
}

func (w *machine) compareStreams(t *rapid.T) {
	for _, name := range []string{"s", "s/1", "s/10", "t", "t\xff"} {
		want := w.m.streams[name]
		if want == nil {
			want = &modelStream{}
		}
		head, last, err := w.s.Head(name)
		agree(t, err, nil)
		if string(head) != want.head || last != uint64(len(want.entries)) {
			t.Fatalf("head of %q is %q at %d, want %q at %d", name, head, last, want.head, len(want.entries))
		}
		after := min(uint64(3), last)
		var got []string
		agree(t, w.s.Replay(name, after, func(n uint64, e []byte) error {
			if n != after+uint64(len(got))+1 {
				t.Fatalf("entry %d of %q comes after %d others", n, name, len(got))
			}
			got = append(got, string(e))
			return nil
		}), nil)
		if !slices.Equal(got, want.entries[after:]) {
			t.Fatalf("stream %q has %q, want %q", name, got, want.entries[after:])
		}
	}
}

func (w *machine) compareList(t *rapid.T) {
	for _, prefix := range []string{"", "s", "s/", "t"} {
		for _, newest := range []bool{false, true} {
			want := slices.Clone(w.m.changes)
			from := ""
			if newest {
				slices.Reverse(want)
			}
			if len(want) > 2 && prefix == "s" {
				from = want[0]
				want = want[1:]
			}
			want = slices.DeleteFunc(want, func(n string) bool { return !strings.HasPrefix(n, prefix) })
			var got []string
			agree(t, w.s.Streams(prefix, from, newest, func(n string, _ []byte, _ uint64, _ time.Time) error {
				got = append(got, n)
				return nil
			}), nil)
			if !slices.Equal(got, want) {
				t.Fatalf("streams %q after %q, newest first %v: %q, want %q", prefix, from, newest, got, want)
			}
		}
	}
}

func (w *machine) compareOutbox(t *rapid.T) {
	w.learn(t)
	for _, limit := range []int{1, 2, 100} {
		for _, busy := range []map[string]bool{nil, {"c": true, "c10": true}} {
			for _, now := range []time.Time{noon, noon.Add(2 * time.Hour)} {
				got, err := w.s.Due(now, limit, busy)
				agree(t, err, nil)
				want := w.m.due(now, limit, busy)
				if !slices.EqualFunc(got, want, sameDue) {
					t.Fatalf("due at %v, limit %d, busy %v: %v, want %v", now, limit, busy, got, want)
				}
			}
		}
	}
	for _, chat := range []string{"c", "c1", "c10", "c\x00"} {
		for _, slot := range []string{"live", "live2"} {
			want, wantOK := w.m.receipt[[2]string{chat, slot}]
			got, ok, err := w.s.Receipt(chat, slot)
			if err != nil || ok != wantOK || string(got) != want {
				t.Fatalf("receipt %q of %q is %q, %v, %v, want %q, %v", slot, chat, got, ok, err, want, wantOK)
			}
		}
	}
}

// learn notes the names of the parcels that are now first in their chats.
// A name rises with the order of commit and is never another's.
func (w *machine) learn(t *rapid.T) {
	late := noon.AddDate(1, 0, 0)
	got, err := w.s.Due(late, 100, nil)
	agree(t, err, nil)
	want := w.m.due(late, 100, nil)
	if len(got) != len(want) {
		t.Fatalf("due: %v, want %d parcels", got, len(want))
	}
	for i, p := range want {
		if p.ID == 0 {
			p.ID = got[i].ID
		}
	}
	last := uint64(0)
	for _, p := range w.m.parcels {
		if p.ID != 0 && p.ID <= last {
			t.Fatalf("parcel %d was committed after %d", p.ID, last)
		}
		last = max(last, p.ID)
	}
}

func sameDue(a store.Due, m *item) bool {
	b := m.Due
	return a.ID == b.ID && a.Chat == b.Chat && a.Urgent == b.Urgent && string(a.Body) == string(b.Body) &&
		a.Tries == b.Tries && a.NotBefore.Equal(b.NotBefore)
}
