package flow

import (
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
// it was, and is linked by that: the chain holds, and what the entry says now
// is vouched for by nobody.
func Link(before string, body []byte) string {
	sum := sha256.New()
	sum.Write([]byte(before))
	sum.Write([]byte(digestOf(body)))
	return hex.EncodeToString(sum.Sum(nil))
}

// digestOf is the digest of an entry as it was written first.
func digestOf(body []byte) string {
	var e struct {
		Was string `json:"was"`
	}
	if err := json.Unmarshal(body, &e); err == nil && e.Was != "" {
		return e.Was
	}
	sum := sha256.Sum256(body)
	return hex.EncodeToString(sum[:])
}
