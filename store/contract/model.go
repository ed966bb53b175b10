package contract

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"linetender/store"
)

// model is the store as anyone would write it first: slices and maps, no files.
// Random calls go to both, and all that can be seen of them must agree.
type model struct {
	inbox   []store.Arrival // in order of acceptance
	known   map[string]bool
	done    map[string]bool
	cursors map[string]int64
	streams map[string]*modelStream
	changes []string // stream names, last changed last
	parcels []*item  // in order of commit
	receipt map[[2]string]string
	dead    []string
	gone    []uint64 // names of parcels that were sent or dropped
	secrets map[string]string
}

type modelStream struct {
	entries []string
	head    string
}

// item is an unsent parcel. A store names it as it likes; the name is learned
// once the parcel is first seen to be due.
type item struct{ store.Due }

func newModel() *model {
	return &model{known: map[string]bool{}, done: map[string]bool{}, cursors: map[string]int64{},
		streams: map[string]*modelStream{}, receipt: map[[2]string]string{}, secrets: map[string]string{}}
}

func (m *model) next(chat string) (store.Arrival, bool) {
	i := slices.IndexFunc(m.inbox, func(a store.Arrival) bool { return a.Chat == chat })
	if i < 0 {
		return store.Arrival{}, false
	}
	return m.inbox[i], true
}

func (m *model) chats() []string {
	var chats []string
	for _, a := range m.inbox {
		if !slices.Contains(chats, a.Chat) {
			chats = append(chats, a.Chat)
		}
	}
	return chats
}

func (m *model) finish(key string) {
	m.known[key], m.done[key] = true, true
	m.inbox = slices.DeleteFunc(m.inbox, func(a store.Arrival) bool { return a.Key == key })
}

func (m *model) last(stream string) uint64 {
	if st := m.streams[stream]; st != nil {
		return uint64(len(st.entries))
	}
	return 0
}

func (m *model) commit(t store.Turn) ([]uint64, error) {
	if t.Update != "" && m.done[t.Update] {
		return nil, store.ErrDone
	}
	for _, w := range t.Writes {
		if w.After != m.last(w.Stream) {
			return nil, store.ErrMoved
		}
	}
	if t.Update != "" {
		m.finish(t.Update)
	}
	var numbers []uint64
	for _, w := range t.Writes {
		if len(w.Entries) > 0 || w.Head != nil {
			m.write(w)
		}
		numbers = append(numbers, m.last(w.Stream))
	}
	for _, p := range t.Outbox {
		if p.Chat == "" {
			p.Chat = t.Chat
		}
		m.parcels = append(m.parcels, &item{store.Due{Chat: p.Chat, Urgent: p.Urgent, Body: p.Body}})
	}
	return numbers, nil
}

func (m *model) write(w store.Write) {
	st := m.streams[w.Stream]
	if st == nil {
		st = &modelStream{}
		m.streams[w.Stream] = st
	}
	for _, e := range w.Entries {
		st.entries = append(st.entries, string(e))
	}
	if w.Head != nil {
		st.head = string(w.Head)
	}
	m.forgetChange(w.Stream)
	m.changes = append(m.changes, w.Stream)
}

func (m *model) forgetChange(stream string) {
	m.changes = slices.DeleteFunc(m.changes, func(n string) bool { return n == stream })
}

func (m *model) due(now time.Time, limit int, busy map[string]bool) []*item {
	var due []*item
	seen := map[string]bool{}
	for _, urgent := range []bool{true, false} {
		for _, p := range m.parcels {
			if p.Urgent != urgent || seen[p.Chat] {
				continue
			}
			seen[p.Chat] = true
			if !busy[p.Chat] && !p.NotBefore.After(now) && len(due) < limit {
				due = append(due, p)
			}
		}
	}
	return due
}

// find returns where the parcel of a name is, or -1; name 0 is nobody's.
func (m *model) find(id uint64) int {
	return slices.IndexFunc(m.parcels, func(p *item) bool { return p.ID == id && id != 0 })
}

// take removes a parcel.
func (m *model) take(id uint64) (store.Due, error) {
	i := m.find(id)
	if i < 0 {
		return store.Due{}, store.ErrUnknown
	}
	p := m.parcels[i]
	m.parcels = slices.Delete(m.parcels, i, i+1)
	m.gone = append(m.gone, id)
	return p.Due, nil
}

func (m *model) rekey(oldChat, newChat string) {
	if oldChat == newChat {
		return
	}
	for i := range m.inbox {
		if m.inbox[i].Chat == oldChat {
			m.inbox[i].Chat = newChat
		}
	}
	for i := range m.parcels {
		if m.parcels[i].Chat == oldChat {
			m.parcels[i].Chat = newChat
		}
	}
	maps.DeleteFunc(m.receipt, func(k [2]string, _ string) bool { return k[0] == oldChat })
}

// Small sets of names, so that calls meet: one the beginning of another.
var (
	someChat   = rapid.SampledFrom([]string{"c", "c1", "c10", "c\x00"})
	someStream = rapid.SampledFrom([]string{"s", "s/1", "s/10", "t", "t\xff"})
	someKey    = rapid.Map(rapid.IntRange(0, 30), func(i int) string { return fmt.Sprint("k", i) })
	someSlot   = rapid.SampledFrom([]string{"", "live", "live2"})
	someBody   = rapid.SliceOfN(rapid.Byte(), 0, 20)
	someTime   = rapid.Map(rapid.IntRange(-3, 3), func(i int) time.Time { return noon.Add(time.Duration(i) * time.Hour) })
)

type machine struct {
	m *model
	s Store
	h Harness
	t testing.TB
}

func testModel(t *testing.T, h Harness) {
	rapid.Check(t, func(rt *rapid.T) {
		w := &machine{m: newModel(), h: h, t: t}
		w.s = h.Fresh(t, nil)
		defer func() {
			if err := errors.Join(w.s.Check(), w.s.Close()); err != nil {
				rt.Errorf("at the end: %v", err)
			}
		}()
		rt.Repeat(map[string]func(*rapid.T){
			"": w.compare, "accept": w.accept, "commit": w.commit, "bury": w.bury, "sent": w.sent, "delay": w.delay,
			"drop": w.drop, "rekey": w.rekey, "erase": w.erase, "secret": w.secret, "reopen": w.reopen,
		})
	})
}

func (w *machine) reopen(t *rapid.T) {
	if err := w.s.Close(); err != nil {
		t.Fatal(err)
	}
	w.s = w.h.Again(w.t, w.s)
}

func agree(t *rapid.T, got, want error) {
	t.Helper()
	if !errors.Is(got, want) {
		t.Fatalf("got error %v, want %v", got, want)
	}
}

func (w *machine) accept(t *rapid.T) {
	source, cursor := rapid.SampledFrom([]string{"a", "b"}).Draw(t, "source"), rapid.Int64Range(-2, 5).Draw(t, "cursor")
	var batch []store.Arrival
	for range rapid.IntRange(0, 4).Draw(t, "arrivals") {
		batch = append(batch, store.Arrival{Key: someKey.Draw(t, "key"), Chat: someChat.Draw(t, "chat"),
			At: someTime.Draw(t, "at"), Body: someBody.Draw(t, "body")})
	}
	agree(t, w.s.Accept(source, cursor, batch), nil)
	if cursor != 0 {
		w.m.cursors[source] = cursor
	}
	for _, a := range batch {
		if !w.m.known[a.Key] {
			w.m.known[a.Key] = true
			w.m.inbox = append(w.m.inbox, a)
		}
	}
}

func (w *machine) commit(t *rapid.T) {
	turn := store.Turn{Chat: someChat.Draw(t, "chat")}
	if rapid.Bool().Draw(t, "caused") {
		turn.Update = someKey.Draw(t, "update")
		if a, ok := w.m.next(turn.Chat); ok && rapid.Bool().Draw(t, "its own") {
			turn.Update = a.Key
		}
	}
	for _, stream := range rapid.SliceOfNDistinct(someStream, 0, 3, rapid.ID).Draw(t, "streams") {
		write := store.Write{Stream: stream, After: w.m.last(stream), Entries: rapid.SliceOfN(someBody, 0, 3).Draw(t, "entries")}
		if rapid.Bool().Draw(t, "summed up") {
			write.Head = someBody.Draw(t, "head")
		}
		if rapid.IntRange(0, 9).Draw(t, "late") == 0 {
			write.After += rapid.SampledFrom([]uint64{1, ^uint64(0)}).Draw(t, "by")
		}
		turn.Writes = append(turn.Writes, write)
	}
	for range rapid.IntRange(0, 3).Draw(t, "parcels") {
		p := store.Parcel{Urgent: rapid.IntRange(0, 3).Draw(t, "urgent") == 0, Body: someBody.Draw(t, "body")}
		if rapid.Bool().Draw(t, "elsewhere") {
			p.Chat = someChat.Draw(t, "to")
		}
		turn.Outbox = append(turn.Outbox, p)
	}
	got, err := w.s.Commit(turn)
	want, wantErr := w.m.commit(turn)
	agree(t, err, wantErr)
	if !slices.Equal(got, want) {
		t.Fatalf("numbers %v, want %v", got, want)
	}
}

func (w *machine) bury(t *rapid.T) {
	key := someKey.Draw(t, "key")
	err := w.s.Bury(key, "why")
	i := slices.IndexFunc(w.m.inbox, func(a store.Arrival) bool { return a.Key == key })
	switch {
	case w.m.done[key]:
		agree(t, err, store.ErrDone)
	case i < 0:
		agree(t, err, store.ErrUnknown)
	default:
		agree(t, err, nil)
		w.m.dead = append(w.m.dead, fmt.Sprint(store.DeadUpdate, key, w.m.inbox[i].Chat, w.m.inbox[i].Body))
		w.m.finish(key)
	}
}

// id is the name of a parcel that was once seen, or one that nobody has.
func (w *machine) id(t *rapid.T) uint64 {
	ids := append([]uint64{0, 1 << 60}, w.m.gone...)
	for _, p := range w.m.parcels {
		if p.ID != 0 {
			ids = append(ids, p.ID)
		}
	}
	return rapid.SampledFrom(ids).Draw(t, "id")
}

func (w *machine) sent(t *rapid.T) {
	id, slot, receipt := w.id(t), someSlot.Draw(t, "slot"), someBody.Draw(t, "receipt")
	if due := w.m.due(noon, 1, nil); len(due) > 0 && rapid.Bool().Draw(t, "first") {
		id = due[0].ID
	}
	p, want := w.m.take(id)
	agree(t, w.s.Sent(id, slot, receipt), want)
	if want == nil && slot != "" {
		w.m.receipt[[2]string{p.Chat, slot}] = string(receipt)
	}
}

func (w *machine) delay(t *rapid.T) {
	id, until := w.id(t), someTime.Draw(t, "until")
	err := w.s.Delay(id, until, "why")
	i := w.m.find(id)
	if i < 0 {
		agree(t, err, store.ErrUnknown)
		return
	}
	agree(t, err, nil)
	w.m.parcels[i].Tries++
	w.m.parcels[i].NotBefore = until
}

func (w *machine) drop(t *rapid.T) {
	id := w.id(t)
	p, want := w.m.take(id)
	agree(t, w.s.Drop(id, "why"), want)
	if want == nil {
		w.m.dead = append(w.m.dead, fmt.Sprint(store.DeadParcel, id, p.Chat, p.Body))
	}
}

func (w *machine) rekey(t *rapid.T) {
	oldChat, newChat := someChat.Draw(t, "old"), someChat.Draw(t, "new")
	agree(t, w.s.Rekey(oldChat, newChat), nil)
	w.m.rekey(oldChat, newChat)
}

func (w *machine) erase(t *rapid.T) {
	name := someStream.Draw(t, "stream")
	err := w.s.Erase(name)
	if w.m.streams[name] == nil {
		agree(t, err, store.ErrUnknown)
		return
	}
	agree(t, err, nil)
	delete(w.m.streams, name)
	w.m.forgetChange(name)
}

func (w *machine) secret(t *rapid.T) {
	name, value := someSlot.Filter(func(s string) bool { return s != "" }).Draw(t, "name"), someBody.Draw(t, "value")
	got, err := w.s.Secret(name, func() ([]byte, error) { return value, nil })
	agree(t, err, nil)
	want, ok := w.m.secrets[name]
	if !ok {
		want = string(value)
		w.m.secrets[name] = want
	}
	if string(got) != want {
		t.Fatalf("secret %q is %q, want %q", name, got, want)
	}
	if rapid.Bool().Draw(t, "forget") {
		agree(t, w.s.DeleteSecret(name), nil)
		delete(w.m.secrets, name)
	}
}
