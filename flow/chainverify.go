package flow

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
)

// Tamper is what was done to an entry.
type Tamper string

// What can be told of a chain that does not hold.
const (
	Changed  Tamper = "changed"
	Dropped  Tamper = "dropped"
	Added    Tamper = "added"
	Shifted  Tamper = "moved"
	Repeated Tamper = "repeated"
	CutShort Tamper = "cut short" // nothing ends in the chain that was noted
)

// A Fault is the first entry of a job that is not as it was written.
type Fault struct {
	Entry uint64 // its number, from 1: of a dropped one the number that it had
	Is    Tamper
	Note  string // what more is known, for whoever looks into it
}

// Error says which entry it is and what was done to it.
func (f *Fault) Error() string {
	text := fmt.Sprintf("event %d was %s", f.Entry, f.Is)
	if f.Is == CutShort {
		text = "it does not end as was noted"
	}
	if f.Note != "" {
		text += ": " + f.Note
	}
	return text
}

// A Witness is what is known of a job's chain beside its entries.
type Witness struct {
	Noted string // a chain as a card or a report shows it, whole or its beginning; blanks do not count
	Last  uint64 // of the summary: number of the last entry; 0 where it does not say
	Chain string // of the summary: after the last entry; empty where it does not say
}

// Witness returns what a summary says of the chain.
func (h Head) Witness() Witness { return Witness{Last: h.N, Chain: h.Chain} }

// A Redaction is an entry from which a person's data was taken out.
type Redaction struct {
	Entry uint64
	By    uint64 // the entry that records it
	At    string // when, RFC 3339
}

// A Proof is what [Verify] has found.
type Proof struct {
	Entries  uint64
	Loose    uint64 // so many at the beginning carry no link of their own: a release before the chain wrote them
	Chain    string // after the last
	Noted    uint64 // the entry after which the chain was what was noted; 0 where nothing was
	Redacted []Redaction
	Fault    *Fault // nil: all is as it was written
}

// NotedLeast is the least of a noted chain that says enough, in hex digits.
const NotedLeast = 16

// ReadNoted reads a chain as people copy it: blanks and case do not count.
//
// Errors: it is no hex, or shorter than NotedLeast digits, or longer than 64.
func ReadNoted(text string) (string, error) {
	noted := strings.ToLower(strings.Join(strings.Fields(text), ""))
	if strings.Trim(noted, "0123456789abcdef") != "" || len(noted) < NotedLeast || len(noted) > 64 {
		return "", fmt.Errorf("%q is no head of a log: write %d to 64 of the digits 0 to 9 and a to f, as the report or the card shows them", text, NotedLeast)
	}
	return noted, nil
}

// Verify holds the entries of one job, as replay hands them over in order,
// against their chain and against w. It keeps about 300 bytes an entry.
//
// Errors: those of replay. What is wrong with the entries is the proof's Fault.
func Verify(replay func(visit func(n uint64, body []byte) error) error, w Witness) (Proof, error) {
	var c chain
	err := replay(func(_ uint64, body []byte) error {
		c.add(body)
		return nil
	})
	if err != nil {
		return Proof{}, err
	}
	return c.prove(w), nil
}

// chain is the links of a job in order, and what its entries say of others
// that were redacted.
type chain struct {
	links   []link
	records map[uint64]record
}

// record is the latest that the log says of a redacted entry.
type record struct {
	raw string
	by  uint64
	at  string
}

func (c *chain) add(body []byte) {
	l := readLink(body)
	before := l.prev
	if l.loose() && len(c.links) > 0 && c.links[len(c.links)-1].loose() {
		before = c.links[len(c.links)-1].out
	}
	l.out = chainOf(before, l.own)
	c.links = append(c.links, l)
	if !l.noise && bytes.Contains(body, []byte(erasedTopic)) {
		c.note(body)
	}
}

// note keeps what an entry records of redacted ones.
func (c *chain) note(body []byte) {
	e, err := DecodeEntry(body)
	if err != nil {
		return // nothing that a chain could be read from; the links say what is wrong
	}
	for _, a := range e.Acts {
		n, err := strconv.ParseUint(a.Path, 10, 64)
		if a.Do != DoNote || a.Topic != erasedTopic || err != nil {
			continue
		}
		if c.records == nil {
			c.records = map[uint64]record{}
		}
		c.records[n] = record{raw: a.Value, by: uint64(len(c.links)), at: e.At}
	}
}

func (c *chain) prove(w Witness) Proof {
	p := Proof{Entries: uint64(len(c.links))}
	for _, l := range c.links {
		if !l.loose() {
			break
		}
		p.Loose++
	}
	if len(c.links) > 0 {
		p.Chain = c.links[len(c.links)-1].out
	}
	if p.Fault = c.fault(int(p.Loose), w); p.Fault != nil {
		return p
	}
	if p.Fault = c.redactions(&p); p.Fault != nil {
		return p
	}
	if w.Noted == "" {
		return p
	}
	for i, l := range c.links {
		if strings.HasPrefix(l.out, w.Noted) {
			p.Noted = uint64(i + 1)
		}
	}
	if p.Noted == 0 {
		p.Fault = &Fault{Entry: p.Entries + 1, Is: CutShort,
			Note: fmt.Sprintf("none of its %d events ends in the head that was noted, so the end was dropped, or it was written anew", p.Entries)}
	}
	return p
}

// redactions lists the redacted entries and holds what is left of them against
// what the log records of it.
func (c *chain) redactions(p *Proof) *Fault {
	for i, l := range c.links {
		if !l.gone {
			continue
		}
		n := uint64(i + 1)
		r := c.records[n]
		p.Redacted = append(p.Redacted, Redaction{Entry: n, By: r.by, At: r.at})
		switch {
		case r.by <= n:
			return &Fault{Entry: n, Is: Changed, Note: "it says that a person's data was taken out of it, and no event records that"}
		case r.raw != l.raw:
			return &Fault{Entry: n, Is: Changed, Note: fmt.Sprintf("it is not what event %d left of it when a person's data was taken out", r.by)}
		}
	}
	return nil
}
