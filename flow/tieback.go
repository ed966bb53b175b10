package flow

import (
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What a tree is tied back to, and with what, stands in no list: a tie is known only as
// being there. So with any anchor that goes or is told to be unsound, and with any line
// that may be the tie itself, it is asked after anew; a tie that outlives what it hangs
// on would pass for one.

var (
	// tieGone are words that what a tree is tied back with is gone or bad.
	tieGone = hear.Expression(`\b(?:chains?|ties?|tie ?backs?|back ?stays?|strops?|straps?)\b(?:\W+\w+){0,5}?\W+(?:broken?|snapped|parted|gone|undone|loose|slack|cracked|cut|frayed|bent|removed|taken|fell|fallen|off|slipped|slipping|missing|rusted|rusty)\b` +
		`|\b(?:broke|snapped|removed|took off|undid|took away|lost) (?:the |its |that )?(?:chain|tie|tie ?back|back ?stay)\b`)
	// tieDenied are words that a tree is not tied back any more.
	tieDenied = hear.Expression(`\b(?:not|no longer|never|\w+n'?t) (?:\w+ )?tied (?:back|up|to)\b|\btied back no more\b|\buntied\b|\bno (?:tie ?back|back ?stay)\b`)
	// tieWhole denies what stands in words on a tie.
	tieWhole = hear.Expression(`\b(?:not|no|never|nothing|\w+n'?t)\b`)
)

// ties are the places of the anchors that are told to be tied back, but one.
func (t *turn) ties(but string) []change {
	var out []change
	for i, a := range t.s.Sheet.Anchors {
		if at := "anchors[" + itoa(i) + "]"; at != but && a.TiedBack != nil && *a.TiedBack {
			out = append(out, change{set: set{at + ".tied_back", ""}, how: Told})
		}
	}
	return out
}

// tiesGone are the ties that a message speaks against: of the anchor that it names,
// else all.
func (t *turn) tiesGone(text string) []change {
	low := hear.Lowered(text)
	if isQuestion(low) || hear.HeardOnly(low) {
		return nil
	}
	gone := tieGone.FindStringSubmatch(low)
	if denied := tieDenied.MatchString(low); !denied && (gone == nil || tieWhole.MatchString(gone[0])) {
		return nil
	}
	all := t.ties("")
	named := slices.DeleteFunc(slices.Clone(all), func(c change) bool {
		list, n := pieceAt(strings.TrimSuffix(c.path, ".tied_back"))
		_, is := wordsAt(text, t.label(list, n))
		return !is
	})
	if len(named) > 0 {
		return named
	}
	return all
}

// unties takes out the ties that a message speaks against, and reports whether that is
// all that it tells.
func (t *turn) unties(text string) bool {
	if t.s.State == Away || t.s.State == Closed || t.s.State == Debrief || t.me() == nil {
		return false
	}
	gone := t.tiesGone(text)
	if len(gone) == 0 {
		return false
	}
	facts := t.factsIn(text)
	if slices.ContainsFunc(facts, func(f hear.Fact) bool { return strings.HasSuffix(f.Field, ".tied_back") }) {
		return false // it is told anew how it is tied
	}
	t.note(text)
	t.goBy(gone)
	if len(facts) > 0 {
		return false
	}
	t.ask()
	return true
}

// untying adds to changes by which an anchor is unsound the ties of the others, any of
// which may be to it.
func (t *turn) untying(changes []change) []change {
	for _, c := range changes {
		at, field, _ := strings.Cut(c.path, "].")
		if !strings.HasPrefix(at, "anchors[") || !(field == "alive" && c.value == "false" || field == "lean" && c.value == "true") {
			continue
		}
		for _, tie := range t.ties(at + "]") {
			if !slices.ContainsFunc(changes, func(o change) bool { return o.path == tie.path }) {
				changes = append(slices.Clone(changes), tie)
			}
		}
	}
	return changes
}

// untiedWith takes out ties where pieces are taken off the list that may be what they
// hang on: an anchor, or what goes round one.
func (t *turn) untiedWith(gone []string) {
	for _, at := range gone {
		if kind, _ := t.s.Sheet.Get(at + ".kind"); strings.HasPrefix(at, "anchors[") || mayTie(kind) {
			t.put(t.ties(at))
			return
		}
	}
}

// mayTie reports whether gear of a kind may be what an anchor is tied back with.
func mayTie(kind string) bool {
	return slices.Contains([]string{"rope", "sling", "strap", "chain"}, kind)
}

// tieOff takes out ties where what is to be taken off is on no list but may be one, and
// reports whether there was any.
func (t *turn) tieOff(kind string, anchor bool) bool {
	ties := t.ties("")
	if len(ties) == 0 || !anchor && !mayTie(kind) {
		return false
	}
	t.stand()
	t.put(ties)
	t.afterRemoval()
	return true
}

// saysUntied says which anchors are asked after anew, once their ties are off the sheet.
func (t *turn) saysUntied(changes []change, before []string) {
	var names wording.Names
	for i, c := range changes {
		at, is := strings.CutSuffix(c.path, ".tied_back")
		if !is || c.value != "" || before[i] != "true" {
			continue
		}
		if t.s.Settled[c.path] != "" {
			t.act(Act{Do: DoReopen, Topic: c.path})
		}
		list, n := pieceAt(at)
		names = append(names, t.label(list, n))
	}
	if len(names) > 0 {
		t.say(wording.ReadUntied, wording.Args{"Names": names})
	}
}
