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

// fitted returns the key of a sentence for the rig that the plan has: one that
// names no block where the rope runs straight, no holding line where nothing holds,
// what stays on a load that is left where it can roll, how a holding line is paid out,
// and then the one for the puller.
func (t *turn) fitted(k wording.Key) wording.Key {
	if t.s == nil {
		return k
	}
	for _, without := range []struct {
		key  wording.Key
		gone func() bool
	}{
		{"_straight", func() bool { return !t.rigParts().blocks }},
		{"_unheld", func() bool { return !t.holdNeeded() }},
		{"_left", t.leftOnSlope},
		{"_out", t.paysOut},
	} { // few sentences have such a form, and to know costs more than to look for it
		if t.e.Words.Has(k+without.key) && without.gone() {
			k += without.key
		}
	}
	return t.forPuller(k)
}

// fits is a sentence for the rig that the plan has.
func (t *turn) fits(k wording.Key) string { return t.saying(t.fitted(k)) }
