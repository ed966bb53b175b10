package flow

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
)

// longLog is the entries of a job of n events, and its summary's witness.
func longLog(t testing.TB, n int) ([][]byte, Witness) {
	t.Helper()
	var out [][]byte
	chain := ""
	for i := range n {
		e := Entry{
			N: uint64(i + 1), Prev: chain, At: fmt.Sprintf("2026-05-04T09:%02d:%02dZ", i/60%60, i%60), Offset: "+02:00",
			Who: Person{ID: "test/1", Name: "Ada"}, Chat: "test/1", Update: fmt.Sprintf("test:%d", i),
			Heard: Heard{Text: fmt.Sprintf("%d t, \"loaded\"", i)}, State: Start,
			Acts: []Act{{Do: DoSet, Path: "load.mass", Value: "2.4 t", Was: "2 t", How: Told}},
			Said: []Said{{Key: "read.mass", Text: "2.4 t: I reckon with 2.16 to 2.64 t."}},
		}
		body, err := e.encode()
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, body)
		chain = Link(chain, body)
	}
	return out, Witness{Last: uint64(n), Chain: chain}
}

func over(log [][]byte) func(func(uint64, []byte) error) error {
	return func(visit func(uint64, []byte) error) error {
		for i, body := range log {
			if err := visit(uint64(i+1), body); err != nil {
				return err
			}
		}
		return nil
	}
}

func prove(t testing.TB, log [][]byte, w Witness) Proof {
	t.Helper()
	p, err := Verify(over(log), w)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestVerifySound(t *testing.T) {
	log, w := longLog(t, 1000)
	p := prove(t, log, w)
	if p.Fault != nil || p.Entries != 1000 || p.Loose != 0 || p.Chain != w.Chain {
		t.Fatalf("a sound log: %+v, fault %v", p, p.Fault)
	}
	if p = prove(t, nil, Witness{}); p.Fault != nil || p.Chain != "" {
		t.Errorf("an empty log: %+v", p)
	}
}

// One byte of any event: it is found, and the event is named. All bits of all
// bytes of some events, and, with LINETENDER_LONG, of every byte of every
// event one bit; else of every two-hundredth byte.
func TestVerifyAnyByte(t *testing.T) {
	Lone(t)
	log, w := longLog(t, 1000)
	var whole chain
	for _, body := range log {
		whole.add(body)
	}
	step := 199
	if os.Getenv("LINETENDER_LONG") != "" {
		step = 1
	}
	dice := rand.New(rand.NewPCG(1, 2))
	flips := 0
	for i, body := range log {
		all := i == 0 || i == 500 || i == len(log)-1
		for at := range body {
			if !all && at%step != i%step {
				continue
			}
			bits := []int{dice.IntN(8)}
			if all {
				bits = []int{0, 1, 2, 3, 4, 5, 6, 7}
			}
			for _, bit := range bits {
				bad := slices.Clone(body)
				bad[at] ^= 1 << bit
				// Only the one link is read anew: what the others say is as before.
				var one chain
				one.links = append(one.links, link{n: 1})
				one.add(bad)
				c := chain{links: slices.Clone(whole.links)}
				c.links[i] = one.links[1]
				if f := c.prove(w).Fault; f == nil || f.Entry != uint64(i+1) || f.Is != Changed {
					t.Fatalf("bit %d of byte %d of event %d, %q: %v", bit, at, i+1, bad, f)
				}
				flips++
			}
		}
	}
	t.Logf("%d flips, each found and named", flips)
}

// The shortcut of the test above finds what Verify finds.
func TestVerifyOneByte(t *testing.T) {
	log, w := longLog(t, 12)
	for i := range log {
		for at := range log[i] {
			bad := slices.Clone(log)
			bad[i] = slices.Clone(log[i])
			bad[i][at] ^= 0x20
			if f := prove(t, bad, w).Fault; f == nil || f.Entry != uint64(i+1) || f.Is != Changed {
				t.Fatalf("byte %d of event %d: %v", at, i+1, f)
			}
		}
	}
}

// Any event dropped, repeated at its place or elsewhere, swapped with any of
// some others, or put in by somebody who knows the chain.
func TestVerifyOrder(t *testing.T) {
	bodies, w := longLog(t, 1000)
	// What an entry says of its links is read once: only the order changes.
	log := linksOf(bodies...)
	check := func(what string, got []link, at int, is Tamper) {
		t.Helper()
		c := chain{links: got}
		if f := c.prove(w).Fault; f == nil || f.Entry != uint64(at) || f.Is != is {
			t.Fatalf("%s: %v, want event %d %s", what, f, at, is)
		}
	}
	step := 5
	if os.Getenv("LINETENDER_LONG") != "" {
		step = 1
	}
	for i := 0; i < len(log); i += step {
		n := i + 1
		check(fmt.Sprint("drop ", n), slices.Delete(slices.Clone(log), i, i+1), n, Dropped)
		check(fmt.Sprint("repeat ", n), slices.Insert(slices.Clone(log), i+1, log[i]), n+1, Repeated)
		for _, j := range []int{i + 1, i + 2, (i + 331) % len(log), len(log) - 1} {
			if j >= len(log) || j == i {
				continue
			}
			swapped := slices.Clone(log)
			swapped[i], swapped[j] = swapped[j], swapped[i]
			check(fmt.Sprint("swap ", n, " and ", j+1), swapped, min(i, j)+1, Shifted)
			moved := slices.Insert(slices.Delete(slices.Clone(log), i, i+1), j, log[i])
			check(fmt.Sprint("move ", n, " to ", j+1), moved, min(i, j)+1, Shifted)
		}
		prev := ""
		if i > 0 {
			prev = log[i-1].out
		}
		forged := Entry{N: uint64(n), Prev: prev, At: "2026-05-04T09:00:00Z", Who: Person{Name: "Mallory"}, State: Start}
		body, err := forged.encode()
		if err != nil {
			t.Fatal(err)
		}
		check(fmt.Sprint("put in ", n), slices.Insert(slices.Clone(log), i, linksOf(body)...), n, Added)
		check(fmt.Sprint("put in noise at ", n), slices.Insert(slices.Clone(log), i, linksOf([]byte("noise"))...), n, Added)
	}
	check("more at the end", append(slices.Clone(log), linksOf([]byte("noise"))...), 1001, Changed)

	// The shortcut finds what Verify finds.
	bodies[300], bodies[700] = bodies[700], bodies[300]
	if f := prove(t, bodies, w).Fault; f == nil || f.Entry != 301 || f.Is != Shifted {
		t.Errorf("swapped, by Verify: %v", f)
	}
}

func linksOf(bodies ...[]byte) []link {
	var c chain
	for _, body := range bodies {
		c.add(body)
	}
	return c.links
}

// A dropped tail shows against the summary, and against a chain noted
// elsewhere even where the summary was made to fit.
func TestVerifyTail(t *testing.T) {
	log, w := longLog(t, 30)
	at20 := prove(t, log[:20], Witness{}).Chain
	if f := prove(t, log[:20], w).Fault; f == nil || f.Is != Dropped || f.Entry != 21 {
		t.Errorf("against the summary: %v", f)
	}
	if f := prove(t, log[:20], Witness{Last: 20, Chain: at20, Noted: w.Chain[:16]}).Fault; f == nil || f.Is != CutShort {
		t.Errorf("against a noted chain: %v", f)
	}
	if p := prove(t, log, Witness{Last: 30, Chain: w.Chain, Noted: at20}); p.Fault != nil || p.Noted != 20 {
		t.Errorf("a chain noted on the way: %+v, %v", p, p.Fault)
	}
	if f := prove(t, log, Witness{Last: 20, Chain: at20}).Fault; f == nil || f.Is != Added || f.Entry != 21 {
		t.Errorf("more than the summary counts: %v", f)
	}
}

// Events of a release before the chain are held by the first that has a link.
func TestVerifyLoose(t *testing.T) {
	log, _ := longLog(t, 12)
	chain := ""
	for i := range log {
		var e Entry
		if err := json.Unmarshal(log[i], &e); err != nil {
			t.Fatal(err)
		}
		e.N, e.Prev = 0, ""
		if i >= 5 {
			e.N, e.Prev = uint64(i+1), chain
		}
		log[i], _ = e.encode()
		chain = Link(chain, log[i])
	}
	w := Witness{Last: 12, Chain: chain}
	if p := prove(t, log, w); p.Fault != nil || p.Loose != 5 || p.Chain != chain {
		t.Fatalf("%+v, %v", p, p.Fault)
	}
	bad := slices.Clone(log)
	bad[2] = []byte(strings.Replace(string(bad[2]), "2.4 t", "2.5 t", 1))
	if f := prove(t, bad, w).Fault; f == nil || f.Entry != 5 || f.Note == "" {
		t.Errorf("one of the loose changed: %v", f)
	}
}

func TestReadNoted(t *testing.T) {
	if got, err := ReadNoted(" 9F2C 41d0 0011 2233\n"); err != nil || got != "9f2c41d000112233" {
		t.Errorf("%q, %v", got, err)
	}
	for _, bad := range []string{"", "9f2c", "9f2c41d00011223g", strings.Repeat("a", 65)} {
		if got, err := ReadNoted(bad); err == nil || got != "" {
			t.Errorf("%q is read as %q", bad, got)
		}
	}
}
