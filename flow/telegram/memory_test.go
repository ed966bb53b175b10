package telegram

import (
	"bytes"
	"errors"
	"log/slog"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"linetender/flow"
	"linetender/flow/telegram/apitest"
)

// memory is an inbox and an outbox as the tests need them: in memory, and failing on request.
type memory struct {
	mu       sync.Mutex
	fail     error // of Accept and Sent
	cursors  map[string]int64
	set      time.Time
	seen     map[string]bool
	arrivals []flow.Arrival
	accepts  int
	parcels  []*due
	next     uint64
	receipts map[string][]byte
	sent     []uint64
	dropped  map[uint64]string
	delays   []string
}

func newMemory() *memory {
	return &memory{cursors: map[string]int64{}, seen: map[string]bool{}, receipts: map[string][]byte{}, dropped: map[uint64]string{}}
}

func (m *memory) Accept(source string, cursor int64, arrivals []flow.Arrival) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.accepts++
	if m.fail != nil {
		return m.fail
	}
	if cursor != 0 {
		m.cursors[source], m.set = cursor, time.Now()
	}
	for _, a := range arrivals {
		if !m.seen[a.Key] {
			m.seen[a.Key] = true
			m.arrivals = append(m.arrivals, a)
		}
	}
	return nil
}

func (m *memory) Cursor(source string) (int64, time.Time, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.cursors[source], m.set, nil
}

func (m *memory) got() []flow.Arrival {
	m.mu.Lock()
	defer m.mu.Unlock()
	return slices.Clone(m.arrivals)
}

func (m *memory) failing(err error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.fail = err
}

func (m *memory) Due(now time.Time, limit int, busy map[string]bool) ([]due, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	front := map[string]*due{}
	for _, p := range m.parcels {
		if f := front[p.Chat]; f == nil || p.Urgent && !f.Urgent {
			front[p.Chat] = p
		}
	}
	var list []due
	for _, p := range front {
		if !busy[p.Chat] && !p.NotBefore.After(now) {
			list = append(list, *p)
		}
	}
	slices.SortFunc(list, func(a, b due) int {
		if a.Urgent != b.Urgent {
			if a.Urgent {
				return -1
			}
			return 1
		}
		return int(a.ID) - int(b.ID)
	})
	return list[:min(limit, len(list))], nil
}

func (m *memory) find(id uint64) (*due, error) {
	for _, p := range m.parcels {
		if p.ID == id {
			return p, nil
		}
	}
	return nil, errors.New("unknown parcel")
}

func (m *memory) remove(id uint64) {
	m.parcels = slices.DeleteFunc(m.parcels, func(p *due) bool { return p.ID == id })
}

func (m *memory) Sent(id uint64, slot string, receipt []byte) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	p, err := m.find(id)
	if err != nil || m.fail != nil {
		return errors.Join(err, m.fail)
	}
	if slot != "" {
		m.receipts[p.Chat+" "+slot] = receipt
	}
	m.sent = append(m.sent, id)
	m.remove(id)
	return nil
}

func (m *memory) Receipt(chat, slot string) ([]byte, bool, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	r, ok := m.receipts[chat+" "+slot]
	return r, ok, nil
}

func (m *memory) Delay(id uint64, until time.Time, why string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	p, err := m.find(id)
	if err != nil {
		return err
	}
	p.Tries++
	p.NotBefore = until
	m.delays = append(m.delays, why)
	return nil
}

func (m *memory) Drop(id uint64, why string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.dropped[id] = why
	m.remove(id)
	return nil
}

// post puts a message into the outbox.
func (m *memory) post(t *testing.T, chat int64, msg flow.Message) uint64 {
	t.Helper()
	body, err := msg.Encode()
	if err != nil {
		t.Fatal(err)
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.next++
	m.parcels = append(m.parcels, &due{ID: m.next, Chat: ChatKey(chat, 0), Urgent: msg.Urgent, Body: body})
	return m.next
}

func (m *memory) left() int {
	m.mu.Lock()
	defer m.mu.Unlock()
	return len(m.parcels)
}

func (m *memory) gaveUp(id uint64) string {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.dropped[id]
}

func words(text string) flow.Message {
	return flow.Message{Parts: []flow.Said{{Key: "test", Text: text}}}
}

// ground is a channel under test with all around it.
type ground struct {
	srv *apitest.Server
	box *memory
	ch  *Channel
	log *logged
}

// setUp makes a channel on a server in memory.
func setUp(t *testing.T, change ...func(*Config)) *ground {
	t.Helper()
	g := &ground{srv: apitest.New(t, apitest.InMemory()), box: newMemory(), log: &logged{}}
	c := Config{
		Token: g.srv.Token(), Server: g.srv.URL(), HTTP: g.srv.Client(), Inbox: g.box, Outbox: g.box, Behind: g.box.Behind,
		Log: slog.New(slog.NewJSONHandler(g.log, &slog.HandlerOptions{Level: slog.LevelDebug})),
	}
	for _, f := range change {
		f(&c)
	}
	var err error
	if g.ch, err = New(c); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if text := g.log.String(); strings.Contains(text, "AAtest-token") {
			t.Errorf("the token is in the log:\n%s", text)
		}
	})
	return g
}

// logged is a log that can be read while it is written.
type logged struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (l *logged) Write(b []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.buf.Write(b)
}

func (l *logged) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.buf.String()
}

// Behind is what the store does.
func (m *memory) Behind(chat string, id uint64, limit int, visit func([]byte) bool) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, p := range m.parcels {
		if p.Chat == chat && p.ID > id && !p.Urgent {
			if limit--; limit < 0 || !visit(p.Body) {
				break
			}
		}
	}
	return nil
}
