package flow

import (
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"linetender/calc"
	"linetender/calc/bound"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A piece that is not to be used, or is not there, is taken off the list by
// the words that people have for that, so that a plan never counts on it. What
// is named must be one of the list: nothing else is ever taken off, and where
// several may be meant it is asked.

// heldRemove says that the piece that is asked about is to be taken off.
const heldRemove = "remove"

// removes takes pieces off the list that a message says are not used, and
// reports whether it did.
func (t *turn) removes(text string) bool {
	switch t.s.State {
	case Away, Halted, Closed, Signing, Debrief, Referred:
		return false
	}
	if hear.TookOff(text) && (!t.tellsGear() || !t.namesGear(text)) {
		return false // off the rig, or off the load
	}
	what, rest := hear.Removed(t.asLabelled(text))
	if what == "" || t.s.Topic == "which" || t.s.Topic == "names" || t.s.Topic == "kit_name" {
		return false
	}
	var gone []string
	parts := t.removedParts(what)
	if all := t.meant(what); len(all) == 1 && t.goesBy(all[0], what) {
		parts = []string{what} // whatever its name is made of
	}
	for _, part := range parts {
		meant := t.meant(part)
		switch {
		case len(meant) == 0 && len(gone) > 0 && !t.namesGear(part):
			continue // "the rope with bits and bobs"
		case len(meant) == 0 && t.s.Topic == "anchor" && strings.HasPrefix(strings.ToLower(part), "anchor"):
			tp, _ := topicByName(t.s.Topic)
			t.nothing(tp)
			return true
		case len(meant) == 0 && t.s.Topic == "anchor" && strings.HasPrefix(strings.ToLower(part), "tree"):
			t.note(text)
			t.say(wording.ReadNoTrees, nil)
			t.ask()
			return true
		case len(meant) == 0:
			return t.noSuchPiece(part)
		case len(meant) > 1 && !severalMeant.MatchString(part):
			t.fire(Reopens)
			t.act(Act{Do: DoHold, Path: heldRemove, Value: "1"})
			t.which(meant, "", "")
			return true
		}
		gone = append(gone, meant...)
	}
	t.without(gone)
	if rest = t.notOfGone(rest); rest == "" {
		t.afterRemoval()
		return true
	}
	h := t.whoIsWho().Listen(rest, hear.TopicNone)
	t.inWords(rest, func() {
		if len(h.Facts) > 0 {
			t.adding = true // "another rope, forget the old one"
			t.hearFacts(h, false)
			t.adding = false
		} else if h.Rest == "" && h.Act == hear.None {
			h.Rest = rest
		}
		t.rest(h)
	})
	t.afterRemoval()
	return true
}

// asLabelled returns a text in which a piece that is written out as the list has it, with
// all that is told of it, goes by its label alone.
func (t *turn) asLabelled(text string) string {
	for _, list := range []string{"anchors", "gear"} {
		fields := gearFields
		if list == "anchors" {
			fields = anchorFields
		}
		for i := range t.pieces(list, "", "kind", "") {
			if line := t.pieceLine(list, i, fields, nil); strings.Contains(text, line) {
				text = strings.ReplaceAll(text, line, t.label(list, i))
			}
		}
	}
	return text
}

// goesBy reports whether words are the label of a piece.
func (t *turn) goesBy(at, words string) bool {
	list, n := pieceAt(at)
	return strings.EqualFold(strings.TrimPrefix(strings.ToLower(words), "the "), t.label(list, n))
}

// ofGone begins what is told of a thing that was just taken off the list: "that was the
// bolt one", "its pin is bent", "because it squeaks".
var ofGone = regexp.MustCompile(`(?i)^\W*(?:(?:that|this|it|they|those|these|which)(?:'?s|’s|'?re)?\s+(?:(?:is|was|are|were|has|had|looks?|looked|came|got|only|just|too|so|not|no)\s+)*(?:an?|the|my|old|one|bad|dead|bent|worn|rusty|broken|damaged|cracked|frayed|knotted|welded|faded|homemade|unmarked|unstamped|rotten|leaning|too|no|not|dodgy|short|weak|thin|rubbish|useless|junk)\b|(?:because|cos|cuz|coz|bc|since|as)\b|(?:was|were)\b|its\s+\w+\s+is\b|the one\b)`)

// notOfGone drops from words that follow what was taken off the list those that tell of
// that: a piece that is gone comes back by no reason that is given for it. What tells of
// anything but a piece stays.
func (t *turn) notOfGone(rest string) string {
	clauses := strings.Split(rest, ", ")
	return strings.Join(slices.DeleteFunc(clauses, func(c string) bool {
		return ofGone.MatchString(c) && !slices.ContainsFunc(t.whoIsWho().Listen(c, hear.TopicNone).Facts, func(f hear.Fact) bool {
			return !strings.HasPrefix(f.Field, "gear[") && !strings.HasPrefix(f.Field, "anchors[")
		})
	}), ", ")
}

// noSuchPiece says that what is to be taken off is not on the list, where it
// would be gear or an anchor at all, and reports whether it did.
func (t *turn) noSuchPiece(words string) bool {
	if !t.namesGear(words) {
		return false
	}
	at, pieces := piecesIn(t.whoIsWho().Listen(words, hear.TopicNone).Facts)
	if t.tieOff(pieces[at[0]].kind, strings.HasPrefix(at[0], "anchors")) {
		return true
	}
	var names wording.Names
	for _, list := range []string{"anchors", "gear"} {
		for i := range t.pieces(list, "", "kind", "") {
			names = append(names, t.label(list, i))
		}
	}
	if len(names) == 0 {
		names = wording.Names{t.saying(wording.ListNone)}
	}
	t.remark(wording.RefuseNoPiece, wording.Args{"Text": words, "Names": names})
	return true
}

// namesGear reports whether words name gear or an anchor, on the list or not.
func (t *turn) namesGear(words string) bool {
	at, pieces := piecesIn(t.whoIsWho().Listen(words, hear.TopicNone).Facts)
	return len(at) > 0 && pieces[at[0]].kind != ""
}

// severalMeant are words that mean all of what they name.
var severalMeant = regexp.MustCompile(`(?i)\b(?:all|both|every|(?:ropes|blocks|pulleys|shackles|slings|trees|anchors)$)`)

// afterRemoval goes on: where a question stands that is not touched, with that.
func (t *turn) afterRemoval() {
	if _, err := after(t.s.State, NeedAnchor); err != nil && t.s.State != Anchor && len(t.s.Sheet.Anchors) == 0 {
		t.fire(Reopens) // none is left: what there is to make fast to is asked again
		t.next()
		return
	}
	tp, ok := topicByName(t.s.Topic)
	if !ok || t.hub() || t.s.Settled[t.s.Topic] != "" || strings.Contains(tp.name, "[") || t.s.State == Amend || t.s.State == Checks {
		t.next()
		return
	}
	t.turned()
	t.ask()
}

// removedParts splits "rope 2 and 3" into what each names.
func (t *turn) removedParts(what string) []string {
	var out []string
	kind := ""
	for _, part := range joins.Split(what, -1) {
		part = strings.TrimSpace(part)
		if onlyNumber.MatchString(part) && kind != "" {
			part = kind + " " + part
		}
		if m := kindAndNumber.FindStringSubmatch(part); m != nil {
			kind = m[1]
		}
		if part != "" {
			out = append(out, part)
		}
	}
	return out
}

var (
	joins         = regexp.MustCompile(`(?i)\s+(?:and|n|'n'|&|\+)\s+`)
	onlyNumber    = regexp.MustCompile(`^\d+$`)
	kindAndNumber = regexp.MustCompile(`(?i)^(?:the\s+)?(\p{L}+)\s+(\d+)$`)
	ordinal       = regexp.MustCompile(`(?i)\b(?:(first|1st)|(second|2nd)|(third|3rd)|(fourth|4th))\b`)
	figureIn      = regexp.MustCompile(`(?i)\b(\d+(?:[.,]\d+)?)\s*(m|mm|cm|in|inch|ft|feet|foot|t|ton|kn|kg|lb|lbs|metres?|meters?)\b`)
)

// meant returns the places of the pieces and anchors that some words may mean:
// none where they name no piece of the list, or tell of it what none has.
func (t *turn) meant(words string) []string {
	low := strings.ToLower(words)
	var out []string
	number := 0
	if m := kindAndNumber.FindStringSubmatch(low); m != nil {
		number, _ = strconv.Atoi(m[2]) // out of range is no piece's number either
	}
	for i, o := range ordinal.FindStringSubmatch(low) {
		if i > 0 && o != "" {
			number = i
		}
	}
	counted := map[string]int{}
	for _, list := range []string{"anchors", "gear"} {
		for i := 0; ; i++ {
			at := list + "[" + itoa(i) + "]"
			kind, ok := t.s.Sheet.Get(at + ".kind")
			if !ok {
				break
			}
			label := strings.ToLower(t.label(list, i))
			if strings.TrimPrefix(low, "the ") == label {
				return []string{at}
			}
			if !t.namesPiece(at, kind, low) {
				continue
			}
			name, _ := t.s.Sheet.Get(at + ".name")
			counted[kind+name]++
			its := counted[kind+name]
			if n := t.numbers(list, t.plainLabel(list, i))[i]; n > 0 {
				its = n
			}
			if number > 0 && number != its {
				continue
			}
			out = append(out, at)
		}
	}
	if len(out) == 0 {
		return nil
	}
	for _, m := range figureIn.FindAllStringSubmatch(low, -1) {
		out = slices.DeleteFunc(out, func(at string) bool { return !t.holdsFigure(at, m[1], m[2]) })
	}
	return t.bySize(out, low)
}

// namesPiece reports whether some words name a piece: by its kind, its name or,
// as "the unmarked one", by what is told of it.
func (t *turn) namesPiece(at, kind, low string) bool {
	has := func(words ...string) bool {
		for _, w := range words {
			if w != "" && regexp.MustCompile(`(?i)(?:^|[^\p{L}])`+regexp.QuoteMeta(w)+`s?(?:$|[^\p{L}])`).MatchString(low) {
				return true
			}
		}
		return false
	}
	name, _ := t.s.Sheet.Get(at + ".name")
	marked, _ := t.s.Sheet.Get(at + ".rating_kind")
	cond, _ := t.s.Sheet.Get(at + ".condition")
	material, _ := t.s.Sheet.Get(at + ".material")
	if has("unmarked", "unstamped", "unrated") && marked != "unmarked" || has("damaged", "broken", "cut", "cracked", "frayed") && cond != "damaged" {
		return false
	}
	for _, fibre := range []string{"polyester", "nylon", "hmpe", "polypropylene", "manila", "wire"} {
		if has(fibre) && material != fibre {
			return false
		}
	}
	words := map[string][]string{
		"rope": {"rope", "line"}, "block": {"block", "pulley", "sheave"}, "shackle": {"shackle"}, "sling": {"sling", "strop", "strap"},
		"tree": {"tree"}, "stump": {"stump"}, "picket": {"stake", "picket"}, "deadman": {"log", "deadman"}, "vehicle": {"vehicle"},
	}[kind]
	if strings.HasPrefix(at, "anchors") {
		words = append(words, "anchor")
	}
	return has(append(words, kind, strings.ToLower(name))...) || has("one", "piece") && (figureIn.MatchString(low) || has("unmarked", "damaged"))
}

// holdsFigure reports whether a figure is one that was told of a piece.
func (t *turn) holdsFigure(at, figure, unit string) bool {
	for _, f := range []string{"length", "diameter", "rating", "mass"} {
		if v, ok := t.s.Sheet.Get(at + "." + f); ok {
			m := figureIn.FindStringSubmatch(strings.ToLower(v))
			if m != nil && strings.Replace(m[1], ",", ".", 1) == strings.Replace(figure, ",", ".", 1) && m[2][:1] == unit[:1] && (m[2] == "mm") == (unit == "mm") {
				return true
			}
		}
	}
	return false
}

// sizes are the words that tell one piece from its like by how large it is.
var sizes = []struct {
	word  *regexp.Regexp
	field string
	more  bool
}{
	{regexp.MustCompile(`\b(?:thin(?:n?er|n?est)?|small(?:er|est)?)\b`), "diameter", false},
	{regexp.MustCompile(`\b(?:thick(?:er|est)?|big(?:ger|gest)?)\b`), "diameter", true},
	{regexp.MustCompile(`\bshort(?:er|est)?\b`), "length", false},
	{regexp.MustCompile(`\blong(?:er|est)?\b`), "length", true},
}

// bySize keeps the thinnest, thickest, shortest or longest of some pieces
// where the words say that and the sizes are told.
func (t *turn) bySize(at []string, low string) []string {
	for _, size := range sizes {
		if len(at) < 2 || !size.word.MatchString(low) {
			continue
		}
		best, n := "", 0
		var most float64
		for _, a := range at {
			v, _ := t.s.Sheet.Get(a + "." + size.field)
			r, err := bound.ReadLength(v)
			if err != nil {
				return at
			}
			m := r.Value.Best.Metres()
			switch {
			case best == "" || size.more && m > most || !size.more && m < most:
				best, most, n = a, m, 1
			case m == most:
				n++
			}
		}
		if n == 1 {
			return []string{best}
		}
	}
	return at
}

// without takes pieces off the list, says which, and keeps what was told of
// the others under their new places.
func (t *turn) without(gone []string) {
	t.stand()
	t.untiedWith(gone)
	var names wording.Names
	for _, at := range gone {
		list, n := pieceAt(at)
		fields := gearFields
		if list == "anchors" {
			fields = anchorFields
		}
		names = append(names, t.pieceLine(list, n, fields, nil))
		t.tookOffBad(at)
	}
	called := t.rigNames()
	for _, list := range []string{"anchors", "gear"} {
		t.thin(list, gone)
	}
	t.renamesRig(called, func(at string) string { return thinned(at, gone) })
	t.say(wording.ReadRemoved, wording.Args{"Names": names})
	t.saysWayGone()
	if t.s.Held[heldPiece] != "" {
		t.act(Act{Do: DoHold, Path: heldPiece})
	}
}

// thinned returns where a piece stands once some are gone; empty for those.
func thinned(at string, gone []string) string {
	list, n := pieceAt(at)
	if slices.Contains(gone, at) {
		return ""
	}
	before := 0
	for _, g := range gone {
		if l, i := pieceAt(g); l == list && i < n {
			before++
		}
	}
	return list + "[" + itoa(n-before) + "]"
}

// thin writes a list anew without some of its pieces.
func (t *turn) thin(list string, gone []string) {
	type told struct {
		path, value string
		how         How
	}
	var keep []told
	var settled []told
	kinds, left, cut, next := map[string]string{}, map[string]bool{}, false, 0
	places := map[int]int{}
	for i := 0; ; i++ {
		at := list + "[" + itoa(i) + "]"
		kind, ok := t.s.Sheet.Get(at + ".kind")
		if !ok {
			break
		}
		use, _ := t.s.Sheet.Get(at + ".use")
		if slices.Contains(gone, at) {
			cut = true
			if list == "anchors" {
				defer t.untellLengths(lengthsOf[anchorUse(at, use)], nil)
			}
			if kinds[kind] != "holding" {
				kinds[kind] = use
			}
			continue
		}
		left[kind] = true
		to := list + "[" + itoa(next) + "]"
		places[i] = next
		next++
		for _, f := range slices.Concat([]string{"kind", "use", "count"}, belongings[list+"[].kind"]) {
			if v, ok := t.s.Sheet.Get(at + "." + f); ok {
				keep = append(keep, told{to + "." + f, v, t.s.How[at+"."+f]})
			}
		}
		for _, name := range slices.Sorted(maps.Keys(t.s.Settled)) {
			if f, ok := strings.CutPrefix(name, at+"."); ok {
				settled = append(settled, told{path: to + "." + f, how: t.s.Settled[name]})
			}
		}
	}
	if !cut {
		return
	}
	for _, name := range slices.Sorted(maps.Keys(t.s.Settled)) {
		if strings.HasPrefix(name, list+"[") {
			t.act(Act{Do: DoReopen, Topic: name})
		}
	}
	t.thinsBad(list, func(i int) bool { _, stays := places[i]; return stays })
	numbered := t.keepNumbers(list, places)
	t.act(Act{Do: DoSet, Path: list, How: Told})
	for _, k := range keep {
		t.act(Act{Do: DoSet, Path: k.path, Value: k.value, How: k.how})
	}
	numbered()
	for _, s := range settled {
		t.act(Act{Do: DoSettle, Topic: s.path, How: s.how})
	}
	// What was asked of the kind is open again where nothing of it is left.
	reopen := func(name string) {
		if t.s.Settled[name] != "" {
			t.act(Act{Do: DoReopen, Topic: name})
		}
	}
	for _, kind := range slices.Sorted(maps.Keys(kinds)) {
		if list == "anchors" && next == 0 {
			reopen("anchor")
		}
		if list == "gear" && !left[kind] {
			reopen(kind)
		}
		if kinds[kind] == "holding" {
			reopen("holding")
		}
	}
}

// spareBad names the pieces that a plan need not have and that alone stand in
// its way: without one of them it would be no no-go, and no check that passes
// or is answered would be less sure than it is with it.
func (t *turn) spareBad() []string {
	var out []string
	with, ok := t.e.reckon(t.s.Sheet)
	if !ok {
		return nil
	}
	for i, g := range t.s.Sheet.Gear {
		if g.RatingKind != "unmarked" && g.Condition != "damaged" && (g.Improvised == nil || !*g.Improvised) && (g.Knots == nil || len(*g.Knots) == 0) {
			continue
		}
		trial := t.s.Sheet
		trial.Gear = slices.Delete(slices.Clone(trial.Gear), i, i+1)
		c, err := trial.Case()
		if err != nil {
			continue
		}
		if d := calc.Decide(c); d == calc.NoGo || d == calc.Refer {
			continue
		}
		if without, ok := t.e.reckon(trial); ok && nowhereWorse(with.plan, without.plan) {
			out = append(out, t.label("gear", i))
		}
	}
	return out
}

// nowhereWorse reports whether another plan has no check that fails or is open
// and is not so in the one that stands: what is then missing is no mend.
func nowhereWorse(is, would *calc.Plan) bool {
	bad := func(p *calc.Plan) map[string]int {
		out := map[string]int{}
		for _, c := range p.Checks {
			ill := 0
			switch {
			case c.Result == calc.Fail && c.Severity != calc.Advice:
				ill = 2
			case c.Result == calc.Unknown:
				ill = 1
			}
			out[c.ID] = max(out[c.ID], ill)
		}
		return out
	}
	was := bad(is)
	for id, ill := range bad(would) {
		if ill > was[id] {
			return false
		}
	}
	return true
}
