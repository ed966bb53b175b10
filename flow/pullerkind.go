package flow

import (
	"strings"

	"linetender/flow/wording"
)

// What whoever drives does with hands and feet hangs on what pulls: a machine has
// a seat and a brake, a winch a control, a hand winch a handle and a pawl, and
// people haul on a call.

// forPuller returns the key of a sentence for the kind of puller that the job has:
// its own where it has one, and else the sentence of a machine.
func (t *turn) forPuller(k wording.Key) wording.Key {
	if t.s == nil {
		return k
	}
	kind, _ := t.s.Sheet.Get("puller.kind")
	if own := k + wording.Key("_"+strings.ReplaceAll(kind, "-", "_")); kind != "" && t.e.Words.Has(own) {
		return own
	}
	return k
}
