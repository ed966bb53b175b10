package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc/job"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What ties an anchor back is a rope, a sling, a strap or a chain, and as soon one of those
// that are listed for the rig as not. One piece can't do both: which it is, is asked of each
// tie while a piece of the list may be it, and that piece is then none that the rig has.
//
// Source: common practice.

// tieUse is the use of a piece that ties an anchor back.
const tieUse = "tie-back"

// tieField is the question what an anchor is tied back with.
const tieField = ".tied_with"

// tieChoice begins the buttons of the pieces that may be it.
const (
	tieChoice = "tie."
	tieOther  = "tie_other"
)

var (
	// withWhat is what an anchor is tied back with, in words of the tie.
	withWhat = regexp.MustCompile(`(?i)\b(?:with|using|by(?: means of)?)\s+(an? |some |another )?([^,.;!?]+)`)
	// towards begins what it is tied to, which names no piece.
	towards = regexp.MustCompile(`(?i)\b(?:to|onto|on to|round|around|on|from|off|behind)\b.*$`)
	// tiedUpTo is what it is tied to, in words of the tie.
	tiedUpTo = regexp.MustCompile(`(?i)\b(?:to|onto|round|around)\s+(?:an? |the |another |our |that |its |second |2nd )[^,.;!?]+`)
	// saysYes is a yes with a thing behind it.
	saysYes = regexp.MustCompile(`(?i)^\W*(?:yes|yeah|yep|yup|it is|its|it's)\b\W*(.+)$`)
	// noneOfList are words that it is no piece of the list.
	noneOfList = regexp.MustCompile(`(?i)^\W*(?:(?:no|nope|nah|it'?s|its|with|the|by|of|just)\W+)*(?:none|neither|no|nope|not (?:one )?(?:of|on|with|from|any)|another|a different|a separate|something else|somebody'?s|someone'?s|an extra|other|the other)\b`)
)

// heldTie keeps, before the place of an anchor, the kind of thing that it was told to be
// tied back with.
const heldTie = "tie "

// freeForTie are the places of the pieces that may be what an anchor is tied back with.
func (t *turn) freeForTie(anchor string) []string {
	told := t.s.Held[heldTie+anchor]
	var out []string
	for i, g := range t.s.Sheet.Gear {
		if mayTie(g.Kind) && (told == "" || told == tieKind(g.Kind)) && (g.Use == "" || g.Use == "spare" || g.Use == "anchor" || g.Use == "load") {
			out = append(out, "gear["+itoa(i)+"]")
		}
	}
	return out
}

// tieKind is what pieces go by alike in talk of a tie.
func tieKind(kind string) string {
	if kind == "strap" {
		return "sling"
	}
	return kind
}

// tieAnchor is the anchor that a question of a tie is about.
func tieAnchor(tp topic) string {
	return strings.TrimSuffix(strings.TrimSuffix(tp.name, tieField), ".tied_back")
}

// tiesOpen are the questions what anchors are tied back with that are still to be asked.
func (t *turn) tiesOpen() []string {
	var out []string
	for _, c := range t.ties("") {
		anchor := strings.TrimSuffix(c.path, ".tied_back")
		if t.s.Settled[anchor+tieField] == "" && len(t.freeForTie(anchor)) > 0 {
			out = append(out, anchor+tieField)
		}
	}
	return out
}

// tieOffers are the buttons of that question: each piece that may be it, and none of them.
func (t *turn) tieOffers(tp topic) []offer {
	var out []offer
	for _, at := range t.freeForTie(tieAnchor(tp)) {
		list, n := pieceAt(at)
		out = append(out, offer{choice: tieChoice + itoa(n), label: t.pieceLine(list, n, gearFields, nil)})
	}
	return append(out, offer{choice: tieOther})
}

// tieChosen takes a button of the question.
func (t *turn) tieChosen(tp topic, choice string) {
	if choice != tieOther {
		at := "gear[" + strings.TrimPrefix(choice, tieChoice) + "]"
		if !slices.Contains(t.freeForTie(tieAnchor(tp)), at) {
			t.miss("")
			return
		}
		list, n := pieceAt(at)
		t.said = t.pieceLine(list, n, gearFields, nil)
		t.tiesWith(at, 1)
	}
	t.settle(tp.name, Pressed)
	t.next()
}

// heardTied takes, asked whether an anchor is tied back, a yes that says to what or with
// what: neither is an anchor or a piece of the pull. It reports whether it did.
func (t *turn) heardTied(tp topic) bool {
	text := t.in.Text
	if !strings.HasSuffix(tp.name, ".tied_back") || isQuestion(strings.ToLower(text)) {
		return false
	}
	bare := t.withoutAnchors(tiedUpTo.ReplaceAllString(withWhat.ReplaceAllString(text, ""), ""))
	if m := saysYes.FindStringSubmatch(bare); m != nil && len(t.tieMeant(tieAnchor(tp), m[1])) == 1 {
		bare = "yes" // "yes, chain to the ash"
	}
	h := t.whoIsWho().Listen(bare, tp.heard())
	told := slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return f.Field == tp.fills0() && f.Value == "true" })
	if sameText(bare, text) || h.Unread() != "" || !told && (h.Act != hear.Yes || len(h.Facts) > 0) || onlyThought.MatchString(text) || againstIt.MatchString(text) {
		return false
	}
	t.answer(tp, []change{{set: set{tp.fills0(), "true"}, how: Told}})
	return true
}

// withoutAnchors takes out of words to which anchor of the list it is tied, by its name and
// number: "to oak 2".
func (t *turn) withoutAnchors(words string) string {
	for _, a := range t.s.Sheet.Anchors {
		for _, name := range []string{a.Name, a.Kind} {
			if name != "" {
				words = regexp.MustCompile(`(?i)\b(?:to|onto|round|around)\s+`+regexp.QuoteMeta(name)+`(?:\s+\d+)?\b`).ReplaceAllString(words, "")
			}
		}
	}
	return words
}

// heardTie takes words to what an anchor is tied back with, and reports whether it did.
func (t *turn) heardTie(tp topic, h hear.Heard) bool {
	text, anchor := t.in.Text, tieAnchor(tp)
	if m := withWhat.FindStringSubmatch(text); m != nil {
		text = m[1] + m[2]
	}
	switch at, kind := t.tieMeant(anchor, text), t.tieNamed(text); {
	case isQuestion(strings.ToLower(text)):
		return false
	case t.tieImprovised(text):
		t.noTie(anchor)
		t.next()
		return true
	case len(at) == 1:
		t.tiesWith(at[0], 1)
		t.tieJoined(text)
	case len(at) > 1:
		t.miss("") // which of them
		return true
	case noneOfList.MatchString(text), h.Act == hear.No, kind != "": // "a wire rope" is none of polyester
	default:
		return false
	}
	t.settle(tp.name, Told)
	t.next()
	return true
}

// tieMeant are the pieces that may tie an anchor back and that some words name.
func (t *turn) tieMeant(anchor, words string) []string {
	words = strings.TrimSpace(towards.ReplaceAllString(words, ""))
	if noneOfList.MatchString(words) || t.tieNamed(words) == "" && !figureIn.MatchString(words) { // "in line" is no line
		return nil
	}
	free := t.freeForTie(anchor)
	return slices.DeleteFunc(t.meant(words), func(at string) bool { return !slices.Contains(free, at) })
}

// tieNamed is the kind of thing that words name as what ties; empty where they name none.
func (t *turn) tieNamed(words string) string {
	at, pieces := piecesIn(t.whoIsWho().Listen(towards.ReplaceAllString(words, ""), hear.TopicNone).Facts)
	for _, p := range at {
		if pieces[p].list == "gear" && mayTie(pieces[p].kind) {
			return tieKind(pieces[p].kind)
		}
	}
	return ""
}

// tieTold takes, of the anchors that a message tells to be tied back, with what, where the
// message says that; what it leaves open is asked. "With a rope" may be another than the
// one that is listed.
func (t *turn) tieTold(changes []change) {
	for _, c := range changes {
		anchor, is := strings.CutSuffix(c.path, ".tied_back")
		if !is {
			continue
		}
		if t.s.Settled[anchor+tieField] != "" {
			t.act(Act{Do: DoReopen, Topic: anchor + tieField})
		}
		words, another := "", false
		if m := withWhat.FindStringSubmatch(t.in.Text); m != nil {
			words, another = m[2], m[1] != ""
		} else if m := saysYes.FindStringSubmatch(t.in.Text); m != nil && t.s.Topic == c.path {
			words = m[1]
		}
		if c.value == "true" && t.tieImprovised(words) {
			t.noTie(anchor)
			continue
		}
		kind := ""
		if c.value == "true" && words != "" {
			kind = t.tieNamed(words)
		}
		if t.s.Held[heldTie+anchor] != kind {
			t.act(Act{Do: DoHold, Path: heldTie + anchor, Value: kind})
		}
		if at := t.tieMeant(anchor, words); kind != "" && !another && len(at) == 1 {
			t.tiesWith(at[0], 1)
			t.settle(anchor+tieField, c.how)
		}
		if c.value == "true" {
			t.tieJoined(words)
		}
	}
}

// tieImprovised reports whether words name as what ties a thing that is not made for it: a
// ratchet strap, twine, fence wire.
func (t *turn) tieImprovised(words string) bool {
	return slices.ContainsFunc(t.whoIsWho().Listen(towards.ReplaceAllString(words, ""), hear.TopicNone).Facts, func(f hear.Fact) bool {
		return strings.HasPrefix(f.Field, "gear[") && strings.HasSuffix(f.Field, ".improvised") && f.Value == "true"
	})
}

// noTie takes an anchor as not tied back, since an improvised piece is worth nothing.
func (t *turn) noTie(anchor string) {
	t.put([]change{{set: set{anchor + ".tied_back", "false"}, how: Told}})
	t.settle(anchor+".tied_back", Told)
	list, n := pieceAt(anchor)
	t.say(wording.ReadTieImprovised, wording.Args{"Name": t.label(list, n)})
}

// tieJoined sets apart what joins the ends of a tie, told beside it: "with the chain and two
// shackles".
func (t *turn) tieJoined(words string) {
	for _, part := range joins.Split(words, -1)[1:] { // the first is what ties
		at := slices.DeleteFunc(t.gearOnly(t.meant(part)), func(at string) bool {
			_, n := pieceAt(at)
			g := t.s.Sheet.Gear[n]
			return !slices.Contains([]string{"shackle", "link", "hook"}, g.Kind) || g.Use != "" && g.Use != "spare"
		})
		if len(at) == 1 {
			n := 1
			if m := soMany.FindStringSubmatch(part); m != nil {
				n = map[string]int{"2": 2, "two": 2, "3": 3, "three": 3, "4": 4, "four": 4}[strings.ToLower(m[1])]
			}
			t.tiesWith(at[0], n)
		}
	}
}

// soMany begins a part that tells of several.
var soMany = regexp.MustCompile(`(?i)^\W*(?:the |our |my )?(2|two|3|three|4|four)\b`)

// tiesWith sets a piece apart as what ties an anchor back; of several alike so many.
func (t *turn) tiesWith(at string, many int) {
	list, n := pieceAt(at)
	changes := []change{{set: set{at + ".use", tieUse}, how: Told}}
	if count := piecesOf(t.s.Sheet.Gear[n]); count > many {
		one := "gear[" + itoa(len(t.s.Sheet.Gear)) + "]"
		for _, f := range slices.Concat([]string{"kind"}, belongings[list+"[].kind"]) {
			if v, told := t.s.Sheet.Get(at + "." + f); told {
				t.act(Act{Do: DoSet, Path: one + "." + f, Value: v, How: t.s.How[at+"."+f]})
			}
			if how := t.s.Settled[at+"."+f]; how != "" {
				t.act(Act{Do: DoSettle, Topic: one + "." + f, How: how})
			}
		}
		if many > 1 {
			t.act(Act{Do: DoSet, Path: one + ".count", Value: itoa(many), How: Told})
		}
		changes = []change{{set: set{at + ".count", itoa(count - many)}, how: Told}, {set: set{one + ".use", tieUse}, how: Told}}
	}
	t.put(changes)
}

// tieFreed gives the rig back what tied anchors back, once none is tied back any more.
func (t *turn) tieFreed(changes []change) {
	if len(t.ties("")) > 0 || !slices.ContainsFunc(changes, func(c change) bool { return strings.HasSuffix(c.path, ".tied_back") && c.value == "false" }) {
		return
	}
	var free []change
	for i, g := range t.s.Sheet.Gear {
		if g.Use == tieUse {
			free = append(free, change{set: set{"gear[" + itoa(i) + "].use", ""}, how: Told})
		}
	}
	if len(free) == 0 {
		return
	}
	var names wording.Names
	for _, c := range free {
		list, n := pieceAt(strings.TrimSuffix(c.path, ".use"))
		names = append(names, t.label(list, n))
	}
	t.put(free)
	t.say(wording.ReadTieFreed, wording.Args{"Names": names})
}

// tieMayBe asks anew what anchors are tied back with, where a piece that may be it comes
// to the list and none of the list was.
func (t *turn) tieMayBe(changes []change) {
	came := slices.ContainsFunc(changes, func(c change) bool {
		return strings.HasPrefix(c.path, "gear[") && strings.HasSuffix(c.path, ".kind") && mayTie(c.value)
	})
	if !came || slices.ContainsFunc(t.s.Sheet.Gear, func(g job.GearSheet) bool { return g.Use == tieUse }) {
		return
	}
	for _, tie := range t.ties("") {
		if name := strings.TrimSuffix(tie.path, ".tied_back") + tieField; t.s.Settled[name] != "" {
			t.act(Act{Do: DoReopen, Topic: name})
		}
	}
}
