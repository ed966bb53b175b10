package flow

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
)

// The entries of a job form a chain. Each holds, as Prev, the chain up to it;
// the chain after it is the digest of both. Whoever knows the last value, from
// a card or a report, can tell whether anything before it is as it was.

// Link returns the chain after an entry: SHA-256, in hex, over the chain
// before it and the SHA-256 of the entry's bytes as they were written. The
// chain before the first entry is empty.
//
// An entry from which a person's data was taken out states the digest of what
// it was, and is linked by that: the chain holds. What is left of the entry is
// vouched for by a later entry of the job, which records its digest.
func Link(before string, body []byte) string {
	if !bytes.Contains(body, []byte(`"was"`)) { // nothing was taken out of it
		sum := sha256.Sum256(body)
		return chainOf(before, hex.EncodeToString(sum[:]))
	}
	l := readLink(body)
	return chainOf(before, l.own)
}

// chainOf is the chain after an entry with a digest.
func chainOf(before, own string) string {
	sum := sha256.New()
	sum.Write([]byte(before))
	sum.Write([]byte(own))
	return hex.EncodeToString(sum.Sum(nil))
}

// link is what the chain is made of: one entry without its content.
type link struct {
	n     uint64 // as the entry states it; 0 where it does not
	prev  string // as the entry states it
	out   string // the chain after it, by its own prev
	own   string // digest of the entry as it was written first
	raw   string // digest of its bytes
	gone  bool   // a person's data was taken out
	noise bool   // is no entry at all
}

// readLink reads of an entry what links it. out is not set.
func readLink(body []byte) link {
	sum := sha256.Sum256(body)
	l := link{raw: hex.EncodeToString(sum[:])}
	l.own = l.raw
	var e struct {
		N    uint64 `json:"n"`
		Prev string `json:"prev"`
		Was  string `json:"was"`
	}
	if err := json.Unmarshal(body, &e); err != nil {
		l.noise = true
		return l
	}
	l.n, l.prev = e.N, e.Prev
	if e.Was != "" {
		l.own, l.gone = e.Was, true
	}
	return l
}

// loose reports whether an entry carries no link: a release before the chain
// wrote it.
func (l link) loose() bool { return l.n == 0 && l.prev == "" && !l.noise }
