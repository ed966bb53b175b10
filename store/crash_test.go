package store

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"go.etcd.io/bbolt"
)

// The worker is this binary run as another process. It takes in updates 1, 2, 3, …
// of three chats, works on them, sends what they led to, and says on standard output
// what was acknowledged to it, until it is killed. Each start goes on from the store.

const crashChats = 3

func crashKey(i int64) string  { return fmt.Sprintf("u:%08d", i) }
func crashChat(i int64) string { return fmt.Sprint("chat", i%crashChats) }

// crashBody differs in length and content from update to update, so that a torn or
// misplaced one can't pass for another.
func crashBody(i int64, part string) string {
	return fmt.Sprintf("%d %s %s", i, part, strings.Repeat(fmt.Sprint(i, part), int(i*7919%400)))
}

func workUntilKilled(dir string) {
	s, err := Open(dir, Options{Timeout: 5 * time.Second})
	for err == nil {
		err = workOnce(s)
	}
	fmt.Println("error", err)
	os.Exit(1)
}

func workOnce(s *Store) error {
	i, _, err := s.Cursor("src")
	if err != nil {
		return err
	}
	i++
	// The one before is delivered again: its repeat must have no effect.
	batch := []Arrival{{Key: crashKey(i), Chat: crashChat(i), At: noon, Body: []byte(crashBody(i, "in"))}}
	if i > 1 {
		batch = append(batch, Arrival{Key: crashKey(i - 1), Chat: crashChat(i - 1), At: noon, Body: []byte("repeat")})
	}
	if err := s.Accept("src", i, batch); err != nil {
		return err
	}
	fmt.Println("accepted", i)
	chats, err := s.Chats()
	if err != nil {
		return err
	}
	for _, chat := range chats {
		if err := workOn(s, chat); err != nil {
			return err
		}
	}
	if i%4 == 0 {
		return nil // so that something stays behind in the outbox
	}
	due, err := s.Due(noon, 1, nil)
	if err != nil {
		return err
	}
	for _, d := range due {
		if err := s.Sent(d.ID, "last", d.Body); err != nil {
			return err
		}
		fmt.Println("sent", d.ID)
	}
	return nil
}

func workOn(s *Store, chat string) error {
	a, ok, err := s.Next(chat)
	if err != nil || !ok {
		return err
	}
	var i int64
	if _, err := fmt.Sscanf(a.Key, "u:%d", &i); err != nil {
		return err
	}
	_, last, err := s.Head(chat)
	if err != nil {
		return err
	}
	_, all, err := s.Head("all")
	if err != nil {
		return err
	}
	_, err = s.Commit(Turn{Update: a.Key, Chat: chat, Outbox: []Parcel{{Body: []byte(crashBody(i, "out"))}},
		Writes: []Write{
			{Stream: chat, After: last, Entries: lines(crashBody(i, "heard"), crashBody(i, "said")), Head: []byte(crashBody(i, "head"))},
			{Stream: "all", After: all, Entries: lines(a.Key)},
		}})
	if err == nil {
		fmt.Println("done", i)
	}
	return err
}

// acknowledged is what the worker was told is durable.
type acknowledged struct {
	accepted int64
	done     int64
	sent     map[uint64]bool
}

func TestCrash(t *testing.T) {
	rounds := campaign(40, 120, 500)
	dir := t.TempDir()
	ack := acknowledged{sent: map[uint64]bool{}}
	for round := range rounds {
		killWorker(t, dir, &ack)
		s, err := Open(dir, Options{Timeout: 10 * time.Second})
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		verifyCrashed(t, s, ack)
		shut(t, s)
		if t.Failed() {
			t.Fatalf("round %d", round)
		}
	}
	if ack.done < int64(rounds) || len(ack.sent) < rounds {
		t.Fatalf("in %d rounds only %d turns and %d sends were acknowledged: this shows nothing", rounds, ack.done, len(ack.sent))
	}
	t.Logf("%d kills, %d turns, %d sends", rounds, ack.done, len(ack.sent))
}

// killWorker runs the worker and kills it a random moment after a random number of
// lines, then reads what else it said before it died. Some are killed while they
// still open the store.
func killWorker(t *testing.T, dir string, ack *acknowledged) {
	t.Helper()
	cmd := child(t, "worker", dir)
	out, err := cmd.StdoutPipe()
	must(t, err)
	must(t, cmd.Start())
	kill := func() {
		time.AfterFunc(time.Duration(rand.IntN(3000))*time.Microsecond, func() { _ = cmd.Process.Kill() })
	}
	after := rand.IntN(120)
	if after == 0 {
		kill()
	}
	n := 0
	for sc := bufio.NewScanner(out); sc.Scan(); {
		if n++; n == after {
			kill()
		}
		var what string
		var i int64
		if _, err := fmt.Sscan(sc.Text(), &what, &i); err != nil || what == "error" {
			// A line cut off by the kill acknowledges nothing; anything else is a fault.
			if !strings.HasPrefix(sc.Text(), "error") {
				continue
			}
			t.Errorf("worker: %s", sc.Text())
			_ = cmd.Process.Kill()
			break
		}
		switch what {
		case "accepted":
			ack.accepted = max(ack.accepted, i)
		case "done":
			ack.done = max(ack.done, i)
		case "sent":
			ack.sent[uint64(i)] = true
		}
	}
	_ = cmd.Wait() // "signal: killed"
}

// verifyCrashed holds the store against what was acknowledged: all of that is
// there, in order, whole, once; and of what was not, nothing is there in part.
func verifyCrashed(t *testing.T, s *Store, ack acknowledged) {
	t.Helper()
	cursor, _, err := s.Cursor("src")
	must(t, err)
	if cursor < ack.accepted || cursor > ack.accepted+1 {
		t.Errorf("cursor %d, acknowledged %d", cursor, ack.accepted)
	}
	finished := map[int64]bool{}
	for _, key := range contents(t, s, "all", 0) {
		var i int64
		_, err := fmt.Sscanf(key, "u:%d", &i)
		must(t, err)
		if finished[i] {
			t.Errorf("update %d had its effect twice", i)
		}
		finished[i] = true
	}
	if !finished[ack.done] && ack.done > 0 {
		t.Errorf("update %d was acknowledged as done and isn't", ack.done)
	}
	for c := range int64(crashChats) {
		verifyChat(t, s, crashChat(c), cursor, finished)
	}
	verifyOutbox(t, s, ack, contents(t, s, "all", 0))
}

// verifyChat sees that a chat's updates up to the cursor are either all through
// its stream, in order, or waiting, in order.
func verifyChat(t *testing.T, s *Store, chat string, cursor int64, finished map[int64]bool) {
	t.Helper()
	var want []string
	next := int64(0)
	head := ""
	for i := int64(1); i <= cursor; i++ {
		if crashChat(i) != chat {
			continue
		}
		if finished[i] {
			if next != 0 {
				t.Errorf("update %d of %s is done, %d before it isn't", i, chat, next)
			}
			want = append(want, crashBody(i, "heard"), crashBody(i, "said"))
			head = crashBody(i, "head")
		} else if next == 0 {
			next = i
		}
	}
	if got := contents(t, s, chat, 0); !slices.Equal(got, want) {
		t.Errorf("%s has %d entries, want %d, or they differ", chat, len(got), len(want))
	}
	if got, _, err := s.Head(chat); err != nil || string(got) != head {
		t.Errorf("head of %s is %.20q, want %.20q (%v)", chat, got, head, err)
	}
	a, ok, err := s.Next(chat)
	must(t, err)
	if ok != (next != 0) || ok && (a.Key != crashKey(next) || string(a.Body) != crashBody(next, "in")) {
		t.Errorf("%s waits with %.20q, %v; want update %d", chat, a.Key, ok, next)
	}
}

// verifyOutbox sees that the parcels of the turns done, numbered in their order,
// were sent in order or are to be sent, none lost and none changed. The process
// that was killed may have marked one more than it could say.
func verifyOutbox(t *testing.T, s *Store, ack acknowledged, turns []string) {
	t.Helper()
	unsent := map[uint64]bool{}
	must(t, s.db.View(func(tx *bbolt.Tx) error {
		return tx.Bucket(bOutbox).ForEach(func(k, _ []byte) error {
			id := binary.BigEndian.Uint64(k)
			unsent[id] = true
			var i int64
			if _, err := fmt.Sscanf(turns[id-1], "u:%d", &i); err != nil {
				return err
			}
			p, err := readParcel(tx, id)
			if err == nil && (string(p.body) != crashBody(i, "out") || p.chat != crashChat(i)) {
				err = fmt.Errorf("parcel %d of update %d is %.20q to %s", id, i, p.body, p.chat)
			}
			return err
		})
	}))
	silent := 0
	for id := uint64(1); id <= uint64(len(turns)); id++ {
		switch {
		case ack.sent[id] && unsent[id]:
			t.Errorf("parcel %d was acknowledged as sent and isn't", id)
		case !ack.sent[id] && !unsent[id]:
			silent++
			ack.sent[id] = true // gone from now on
		}
	}
	if silent > 1 {
		t.Errorf("%d parcels are gone that nobody was told were sent", silent)
	}
	if len(unsent)+len(ack.sent) != len(turns) {
		t.Errorf("%d unsent and %d sent of %d turns", len(unsent), len(ack.sent), len(turns))
	}
}
