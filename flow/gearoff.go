package flow

import (
	"cmp"
	"maps"
	"regexp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Once the gear comes off nothing is reckoned anew: no piece of it carries anything for
// this job any more. What is counted is held against what was there before the pull, what
// a piece shows is kept for the debrief, and all else that is told is a note. A hazard, a
// stop and a load that moves are heard as ever.

// GearOff reports whether the gear is being taken off, or is.
func (s Stage) GearOff() bool {
	return s == Unrig || s == UnrigHeld || s == GearCheck || s == PullOver
}

// tallied is what of the gear is told then, among what was seen.
const tallied = "tally"

var (
	// offSaid are words that all of it is off.
	offSaid = regexp.MustCompile(`^(?:(?:ok|okay|right|yes|yep|yeah|now|and|so|done|its|it's|it is|thats|that's|we have|we've|got)[ ,]+)*` +
		`(?:(?:(?:all|all of|everything|every|the|our|whole)\s+)*(?:gear|kit|rig|rigging|stuff|lot|lines?|pieces?|everything|all|all of it)(?:'?s)?(?: (?:is|are|has|have|all|come|came|now))* (?:off|away|down|in|unhooked|unrigged|stripped|packed(?: up| away)?)` +
		`|(?:(?:we'?re|we are|all|fully|everything|everything's|is) )*(?:unrigged|unhooked|derigged|taken off|stripped down))\b`)

	// notWhole denies it, or leaves something out.
	notWhole = regexp.MustCompile(`\b(?:not|\w+n'?t|except|apart from|but|still|nearly|almost|half|only|bar|yet|soon|when|once|if|till|until|should|will)\b`)

	// countedAll and lookedAll are together what is confirmed when the gear lies there.
	countedAll = regexp.MustCompile(`\b(?:counted|count(?:'?s| is)? (?:right|ok|okay|good|fine|complete)|all (?:of it |of them )?(?:is |are )?(?:here|there|present|accounted)|every(?:thing|thin|ting|thng)(?:'?s| is)? (?:here|there|accounted|counted)|nothing(?:'?s| is)? missing|complete)\b`)
	lookedAll  = regexp.MustCompile(`\b(?:looked|checked|inspected|gone over|went over|undamaged|no (?:damage|cuts|cracks)|nothing(?:'?s| is)? (?:broken|damaged|bent|cut|wrong|cracked)|(?:all|every(?:thing|thin|ting|thng)|every piece|it|rest|looks?)(?:'?s| is| are| looks?| look)?(?: \w+)? (?:good|fine|ok|okay|sound|whole|intact))\b`)
	deniedGood = regexp.MustCompile(`\b(?:no (?:damage|cuts|cracks)|nothing(?:'?s| is)? \w+|not (?:damaged|broken|bent|cut))\b`)

	// foundIt takes back that a piece is missing.
	foundIt = regexp.MustCompile(`\b(?:found|turned up|there it is|here it is|got it now|it's here|its here)\b`)
)

// offWords takes what is told of the gear, and of anything else that a plan rests on, once
// the gear comes off, and reports whether it was such.
func (t *turn) offWords(text, low string) bool {
	m := t.me()
	if m == nil || t.s.State != Pulling || !t.s.Stage.GearOff() || m.afar() || strings.HasPrefix(low, "note ") || isQuestion(low) {
		return false
	}
	h := t.whoIsWho().Listen(text, hear.TopicNone)
	if len(hazardsOf(h.Facts)) > 0 {
		return false
	}
	counts, marks := countsOf(text), hear.Marks(text)
	if seen, ok := t.sight(text); ok && !(seen.kind == "sound" && (t.s.Stage == GearCheck || t.onlyShows(marks))) {
		return false
	}
	off := t.s.Stage == Unrig && offSaid.MatchString(low) && !notWhole.MatchString(deniedGood.ReplaceAllString(firstPart(low), " "))
	found := foundIt.MatchString(low) && !notWhole.MatchString(low) && len(t.missing()) > 0
	if h.Act == hear.Change || len(h.Facts) > 0 && len(counts)+len(marks) == 0 && !off && !found {
		t.note(text)
		t.toLead(func() { t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)}) })
		t.remark(wording.PullOverNote, nil)
		return true
	}
	whole := t.s.Stage == GearCheck && t.wholeSaid(low, counts)
	if len(counts)+len(marks) == 0 && !off && !found && !whole {
		return false
	}
	t.act(Act{Do: DoReport, Path: tallied, Value: wording.Plain(text)})
	t.toLead(func() { t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)}) })
	t.sayTally(counts)
	if names := t.marksOf(marks); len(names) > 0 {
		t.say(wording.PullMarked, wording.Args{"Names": names})
		if t.s.Stage == Unrig && t.ofHolding(marks) { // a load may hang on it
			t.allHold(func() {
				t.say(wording.PullSaw, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)})
			}, func() {})
			t.ask()
			return true
		}
	}
	switch duty, mine := t.mineOpen(); {
	case off && t.isLead():
		t.handsOff(Unrig, Unrigged)
	case whole && mine && len(t.missing()) == 0:
		t.sure(t.s.hold(), duty)
	default:
		if len(counts)+len(marks) == 0 && !t.isLead() {
			t.say(wording.JoinPassed, wording.Args{"Name": t.s.Lead.Name})
		}
		t.ask()
	}
	return true
}

// firstPart is a message up to its first mark.
func firstPart(low string) string {
	if at := strings.IndexAny(low, ",.;\n"); at > 0 {
		return low[:at]
	}
	return low
}

// countsOf are the counts of a message: the one sling that has a cut is none.
func countsOf(text string) []hear.Counted {
	marks := hear.Marks(text)
	return slices.DeleteFunc(hear.Tally(text), func(c hear.Counted) bool {
		return !c.Missing && !c.All && slices.ContainsFunc(marks, func(k hear.Mark) bool { return k.Kind == c.Kind })
	})
}

// onlyShows reports whether marks are what pieces show that lie slack, and nothing that has
// just parted.
func (t *turn) onlyShows(marks []hear.Mark) bool {
	return len(marks) > 0 && !t.ofHolding(marks) && !slices.ContainsFunc(marks, func(k hear.Mark) bool { return k.What == "broke" || k.Kind == "" })
}

// wholeSaid reports whether words say that every piece was counted and looked over.
func (t *turn) wholeSaid(low string, counts []hear.Counted) bool {
	rest := deniedGood.ReplaceAllString(low, " ")
	return countedAll.MatchString(low) && lookedAll.MatchString(low) && !notWhole.MatchString(rest) &&
		!slices.ContainsFunc(counts, func(c hear.Counted) bool { return c.Missing })
}

// like are kinds of which people call one by the name of another.
func like(kind, other string) bool {
	return kind == other || job.Slung(kind) && job.Slung(other) && kind != "chain" && other != "chain"
}

// rigged are the pieces that were there when it was pulled.
func (t *turn) rigged() []job.GearSheet {
	if t.s.Pulled != nil {
		return t.s.Pulled.Gear
	}
	return t.s.Sheet.Gear
}

// toBeThere is how many pieces of a kind, or of one use, there are to be, and how many of
// them at least lie there: what holds a load that can roll stays on.
func (t *turn) toBeThere(c hear.Counted) (least, all int) {
	stays := t.leftOnSlope()
	for _, g := range t.rigged() {
		if !like(g.Kind, c.Kind) || c.Use != "" && g.Use != c.Use {
			continue
		}
		all += piecesOf(g)
		if !(stays && g.Use == "holding") {
			least += piecesOf(g)
		}
	}
	return least, all
}

// sayTally says what was counted against what there was, and what is missing.
func (t *turn) sayTally(counts []hear.Counted) {
	var names wording.Names
	for _, c := range counts {
		if _, all := t.toBeThere(c); !c.Missing && !c.All && all > 0 {
			names = append(names, t.sayingWith(wording.PullTallyOf, wording.Args{"Name": t.pieceName(c.Kind, "", c.Use), "Number": c.Number, "Total": all}))
		}
	}
	if len(names) > 0 {
		t.say(wording.PullTally, wording.Args{"Names": names})
	}
	if missing := t.missingNames(); len(missing) > 0 {
		t.say(wording.PullMissing, wording.Args{"Names": missing})
	}
}

// A notFound is how many pieces of a kind were not found.
type notFound struct {
	kind   string
	number int // 0: nobody said how many
}

// missing are the pieces that were told or counted to be missing, and not found since.
func (t *turn) missing() []notFound {
	var out []notFound
	drop := func(kind string) {
		out = slices.DeleteFunc(out, func(l notFound) bool { return kind == "" || like(l.kind, kind) })
	}
	told := []string{}
	for _, r := range t.s.Reports {
		if r.Kind == tallied {
			told = append(told, r.Words)
		}
	}
	for _, words := range append(told, t.s.Past["gear"]) {
		counts := countsOf(words)
		if low := hear.Lowered(words); foundIt.MatchString(low) && !notWhole.MatchString(low) {
			named := false
			for _, l := range slices.Clone(out) {
				if strings.Contains(low, l.kind) {
					drop(l.kind)
					named = true
				}
			}
			if !named {
				drop("")
			}
			continue
		}
		for _, c := range counts {
			least, _ := t.toBeThere(c)
			switch {
			case c.Missing:
				drop(c.Kind)
				out = append(out, notFound{c.Kind, c.Number})
			case c.All || c.Number >= least:
				drop(c.Kind)
			default:
				drop(c.Kind)
				out = append(out, notFound{c.Kind, least - c.Number})
			}
		}
	}
	return out
}

func (t *turn) missingNames() wording.Names {
	var out wording.Names
	for _, l := range t.missing() {
		name := t.pieceName(l.kind, "", "")
		if l.number > 0 {
			name = t.sayingWith(wording.PullMissingOf, wording.Args{"Name": name, "Number": l.number})
		}
		out = append(out, name)
	}
	return out
}

// marksOf names the pieces that show something, each once.
func (t *turn) marksOf(marks []hear.Mark) wording.Names {
	var out wording.Names
	for _, k := range marks {
		if k.Said != "" && !slices.Contains(out, k.Said) {
			out = append(out, k.Said)
		}
	}
	return out
}

// ofHolding reports whether any of those may be a piece of the holding line.
func (t *turn) ofHolding(marks []hear.Mark) bool {
	return t.holdNeeded() && slices.ContainsFunc(marks, func(k hear.Mark) bool {
		if k.Use == "holding" || k.Point == "holding-point" {
			return true
		}
		for i, g := range t.s.Sheet.Gear {
			if strings.EqualFold(t.label("gear", i), k.Said) {
				return g.Use == "holding"
			}
		}
		return slices.ContainsFunc(t.s.Sheet.Gear, func(g job.GearSheet) bool { return g.Use == "holding" && like(g.Kind, k.Kind) })
	})
}

// shownAll are the marks that were told once the gear was off.
func (s *Session) shownAll() []calc.Event {
	var out []calc.Event
	for _, r := range s.Reports {
		if r.Kind == tallied {
			out = append(out, s.shown(r.Words)...)
		}
	}
	for _, part := range slices.Sorted(maps.Keys(s.Past)) { // a mark is told at whichever question it comes to mind
		if name, _, _ := strings.Cut(part, ":"); slices.Contains(debriefParts, name) {
			for _, e := range s.shown(s.Past[part]) {
				if !slices.Contains(out, e) {
					out = append(out, e)
				}
			}
		}
	}
	return out
}

// shown are the marks that words tell of the pieces, as events: each of the piece that was
// named, by what the plan calls it.
func (s *Session) shown(text string) []calc.Event {
	var out []calc.Event
	for _, k := range hear.Marks(text) {
		piece := cmp.Or(k.Point, k.Said)
		for _, g := range s.Sheet.Gear {
			switch {
			case k.Kind == "" || !like(g.Kind, k.Kind):
			case strings.EqualFold(g.Name, k.Said), k.Use != "" && g.Use == k.Use:
				piece = cmp.Or(g.Name, g.Kind)
			case piece == k.Said && !slices.ContainsFunc(s.Sheet.Gear, func(o job.GearSheet) bool { return strings.EqualFold(o.Name, k.Said) }):
				piece = g.Kind
			}
		}
		if e := (calc.Event{What: k.What, Piece: piece}); piece != "" && !slices.Contains(out, e) {
			out = append(out, e)
		}
	}
	return out
}
