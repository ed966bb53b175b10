package flow

import (
	"time"

	"linetender/flow/wording"
)

// Silence is told by the clock and not with the next word: of who has confirmed
// nothing (pullTick), of a lead who does not release what all have confirmed, of a
// stop that nobody ends, and of a question that stands in the middle of a pull. Each
// is told once, to who leads and who watches from afar, and nothing goes on by it.

// heldSilent is which silence was told last.
const heldSilent = "silent"

// silence is who has been silent since when, and what names it; no name for nobody.
func (t *turn) silence() (names wording.Names, since, what string) {
	if t.s.alone() || !t.s.Stage.Rigged() {
		return nil, "", ""
	}
	lead := wording.Names{t.s.Lead.Name}
	switch stop, h := t.s.stop(), t.s.hold(); {
	case t.s.State == Halted && stop != nil:
		if still := t.movers(); len(still) > 0 {
			lead = still
		}
		return lead, stop.At, "stop-" + stop.call() + "-" + itoa(len(stop.Still))
	case t.s.State == Pulling && h != nil && len(t.waitedFor()) == 0 && len(h.Withheld) == 0:
		since = h.At
		for _, y := range h.Sure {
			since = max(since, y.At)
		}
		return lead, since, "hold-" + itoa(h.Number)
	case t.s.State == Amend && t.s.Stage.Lies() && !reminded(t.s.Wants[t.s.leadChat()]):
		at := t.s.Since[t.s.leadChat()].At
		return lead, at, "asked-" + t.s.Topic + "-" + at
	}
	return nil, "", ""
}

// silenceTick tells of it when it is due.
func (t *turn) silenceTick() {
	names, since, what := t.silence()
	if len(names) == 0 || since == "" || t.s.Held[heldSilent] == what || t.since(since) < quietFor {
		return
	}
	t.act(Act{Do: DoHold, Path: heldSilent, Value: what})
	t.tellsQuiet(names)
}

// silenceWake is when the job wants a turn for that; empty for never.
func (t *turn) silenceWake() string {
	names, since, what := t.silence()
	at, err := time.Parse(time.RFC3339, since)
	if len(names) == 0 || err != nil || t.s.Held[heldSilent] == what {
		return ""
	}
	return at.Add(quietFor).UTC().Format(time.RFC3339)
}
