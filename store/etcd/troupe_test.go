package etcd

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"linetender/flow"
	"linetender/flow/script"
	"linetender/flow/telegram/apitest"
	"linetender/store/contract"
)

// A balancer stands in front of the replicas, as one does in front of a webhook: it
// passes what is posted to one of those that live, and to the next if that one doesn't answer.
type balancer struct {
	mu       sync.Mutex
	backends map[int]string
	turn     int
	server   *httptest.Server
	client   *http.Client
}

func newBalancer() *balancer {
	b := &balancer{backends: map[int]string{}, client: &http.Client{Timeout: 2 * time.Second, Transport: &http.Transport{MaxIdleConnsPerHost: 32}}}
	b.server = httptest.NewServer(http.HandlerFunc(b.pass))
	return b
}

func (b *balancer) set(i int, address string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if address == "" {
		delete(b.backends, i)
		return
	}
	b.backends[i] = address
}

func (b *balancer) next(n int) (list []string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.turn++
	for i := range n {
		if a, ok := b.backends[(b.turn+i)%n]; ok {
			list = append(list, a)
		}
	}
	return list
}

func (b *balancer) pass(w http.ResponseWriter, r *http.Request) {
	body, err := io.ReadAll(r.Body)
	if err != nil {
		return
	}
	for _, to := range b.next(8) {
		req, err := http.NewRequestWithContext(r.Context(), r.Method, "http://"+to, strings.NewReader(string(body)))
		if err != nil {
			continue
		}
		req.Header = r.Header.Clone()
		resp, err := b.client.Do(req)
		if err != nil {
			continue
		}
		_, _ = io.Copy(io.Discard, resp.Body)
		resp.Body.Close()
		w.WriteHeader(resp.StatusCode)
		return
	}
	w.WriteHeader(http.StatusServiceUnavailable)
}

// talk is what people say: all golden conversations but their stops, which go ahead of
// everything and so are answered in an order that chance makes.
func talk(t testing.TB) (lines []string) {
	t.Helper()
	scripts, err := script.Folder("../../testdata/talk")
	must(t, err)
	for _, s := range scripts {
		lines = append(lines, "new")
		for _, step := range s.Steps {
			if !(&flow.Engine{}).Urgent(flow.Input{Text: step.Input}) {
				lines = append(lines, step.Input)
			}
		}
	}
	return lines
}

// wave has every seat say its next line, and posts until all of it is durable somewhere.
func wave(ctx context.Context, srv *apitest.Server, seats []*apitest.Seat, lines []string, n, parts int, hook string, how apitest.Delivery) (posts int) {
	for i, s := range seats {
		s.Say(lines[(i%parts*131+n)%len(lines)])
	}
	for srv.Pending() > 0 && ctx.Err() == nil {
		posts += len(srv.Deliver(ctx, hook, how))
	}
	return posts
}

const firstSeat = 5001

func seatsAt(srv *apitest.Server, n int) (seats []*apitest.Seat) {
	for i := range n {
		seats = append(seats, srv.User(firstSeat+int64(i), "Ada").Private())
	}
	return seats
}

// quiet waits until nothing waits for its turn and nothing to be sent.
func quiet(t testing.TB, s contract.Store, stuck func()) {
	t.Helper()
	late := time.After(patience)
	for {
		n, err := s.Stats()
		switch {
		case err == nil && n.Dead != 0:
			t.Fatalf("%d updates or messages were given up", n.Dead)
		case err == nil && n.Waiting == 0 && n.Unsent == 0:
			return
		}
		select {
		case <-late:
			stuck()
			t.Fatalf("%d updates wait and %d messages are unsent, and it does not end; %v", n.Waiting, n.Unsent, err)
		case <-time.After(10 * time.Millisecond): // looks again; nothing depends on how often
		}
	}
}

var jobCode = regexp.MustCompile(`\b[a-z]+-\d\d\b`)

// ends are what every chat's jobs came to: what was heard, where it led and what was said,
// without the codes, which chance makes.
func ends(t testing.TB, s contract.Store) (all map[string]string, turns int) {
	t.Helper()
	var jobs []string
	must(t, s.Streams(flow.JobStream(""), "", false, func(name string, _ []byte, _ uint64, _ time.Time) error {
		jobs = append(jobs, name)
		return nil
	}))
	// Jobs of a chat in the order in which they began, not in which they last changed.
	began := map[string][]string{}
	all = map[string]string{}
	for _, job := range jobs {
		var b strings.Builder
		var chat, at string
		must(t, s.Replay(job, 0, func(_ uint64, body []byte) error {
			e, err := flow.DecodeEntry(body)
			if err != nil {
				return err
			}
			if at == "" {
				chat, at = e.Chat, updateNumber(e.Update)
			}
			turns++
			fmt.Fprintf(&b, "%q %s %s", e.Heard.Text, e.State, e.Topic)
			if e.Decided != nil {
				fmt.Fprintf(&b, " %s %s", e.Decided.Decision, e.Decided.Digest)
			}
			for _, p := range e.Said {
				fmt.Fprintf(&b, "\n  %s: %s", p.Key, p.Text)
			}
			b.WriteString("\n")
			return nil
		}))
		began[chat] = append(began[chat], at+"\x00"+jobCode.ReplaceAllString(b.String(), "larch-42"))
	}
	for chat, list := range began {
		slices.Sort(list)
		for _, l := range list {
			_, text, _ := strings.Cut(l, "\x00")
			all[chat] += text + "--\n"
		}
	}
	return all, turns
}

// updateNumber is an update's number so that it sorts as text.
func updateNumber(key string) string {
	return fmt.Sprintf("%020s", key[strings.LastIndex(key, "/")+1:])
}

func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range min(len(w), len(g)) {
		if w[i] != g[i] {
			return fmt.Sprintf("line %d is\n%s\nwant\n%s", i+1, g[i], w[i])
		}
	}
	return fmt.Sprintf("%d lines, want %d", len(g), len(w))
}

// told is what a chat was sent, in order, as it was first said.
func told(srv *apitest.Server) map[int64][]string {
	all := map[int64][]string{}
	for _, c := range srv.Calls("sendMessage") {
		if c.OK() {
			all[c.Chat()] = append(all[c.Chat()], jobCode.ReplaceAllString(c.Text(), "larch-42"))
		}
	}
	return all
}

// again holds what a chat was told against what it is told without a fault, and returns how
// many messages were said again: a sender that takes over begins with what the one before it may
// have said, in the same order. Anything else that is missing, added or out of order is an error.
func again(want, got []string) (twice int, err error) {
	const back = 8 // messages of the parcels that one sender may have had under way in a chat
	i := 0
	for _, m := range got {
		if i < len(want) && m == want[i] {
			i++
			continue
		}
		j := i - 1
		for ; j >= max(0, i-back); j-- {
			if want[j] == m {
				break
			}
		}
		if j < max(0, i-back) {
			rest := "nothing more"
			if i < len(want) {
				rest = want[i]
			}
			return twice, fmt.Errorf("told out of turn:\n%s\nwhere it goes on with:\n%s", m, rest)
		}
		twice++
		i = j + 1
	}
	if i < len(want) {
		return twice, fmt.Errorf("never told:\n%s", want[i])
	}
	return twice, nil
}

// A patrol watches how long things wait, from outside.
type patrol struct {
	s           *Store
	stop, ended chan struct{}
	mu          sync.Mutex
	during      string            // what goes wrong at present
	longest     map[string]waited // by what went wrong when they came
}

// waited is the longest that an update waited for its turn, and a message to be sent.
type waited struct{ turn, send time.Duration }

func newPatrol(s *Store) *patrol {
	p := &patrol{s: s, stop: make(chan struct{}), ended: make(chan struct{}), longest: map[string]waited{}}
	go p.watch()
	return p
}

func (p *patrol) note(what string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.during = what
}

func (p *patrol) watch() {
	defer close(p.ended)
	type came struct {
		at     time.Time
		during string
	}
	first := map[string]came{}
	tick := time.NewTicker(10 * time.Millisecond)
	defer tick.Stop()
	for {
		select {
		case <-p.stop:
			return
		case <-tick.C:
		}
		now := time.Now()
		there := map[string]bool{}
		p.mu.Lock()
		p.s.mirror.mu.Lock()
		for key, r := range p.s.mirror.rows {
			there[key] = true
			f, ok := first[key]
			if !ok {
				f = came{now, p.during}
				first[key] = f
			}
			w := p.longest[f.during]
			if d := now.Sub(f.at); r.arrival != nil {
				w.turn = max(w.turn, d)
			} else {
				w.send = max(w.send, d)
			}
			p.longest[f.during] = w
		}
		p.s.mirror.mu.Unlock()
		p.mu.Unlock()
		for key := range first {
			if !there[key] {
				delete(first, key)
			}
		}
	}
}

// end returns the longest of all.
func (p *patrol) end(t testing.TB) (all waited) {
	close(p.stop)
	<-p.ended
	for what, w := range p.longest {
		t.Logf("longest wait of an update %v, of a message %v: %s", w.turn.Round(10*time.Millisecond), w.send.Round(10*time.Millisecond), what)
		all.turn, all.send = max(all.turn, w.turn), max(all.send, w.send)
	}
	return all
}
