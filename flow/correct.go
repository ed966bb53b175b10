package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc/job"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A correction is of what it names, else of the last answer of its kind; what
// is named wins over what is asked. The load's slope and the puller's, and
// likewise their weights and grounds, must never be mixed: where it can't be
// told whose is meant, it is asked.

// corrects takes a message that puts right an earlier answer, and reports
// whether it did. What is no correction is left for the question that stands.
func (t *turn) corrects(text string) bool {
	switch t.s.State {
	case Away, Halted, Closed, Signing, Debrief:
		return false
	}
	if t.s.Topic == "which" || hear.Listen(text, hear.TopicText).Act != hear.None {
		return false
	}
	if t.hazardIn(text) {
		return false // it comes before anything that could be asked about the rest
	}
	if of, ok := hear.Blamed(text); ok {
		if names := t.changeable(string(of)); len(names) == 1 {
			t.amend(names[0], "", "")
			return true
		} else if len(names) > 1 {
			t.which(names, "", "")
			return true
		}
	}
	said, sure := hear.Correction(text)
	value, old := hear.Instead(said)
	marked := sure != hear.NoCorrection || old != ""
	if value == "" {
		if marked && len(t.s.Trail) > 0 && t.s.State != Amend { // "wrong", and no more
			t.amendOne(t.reach(t.s.Trail[len(t.s.Trail)-1].Topic), "", "")
			return true
		}
		return false
	}
	if marked && t.byNumber(value) {
		return false // which is meant is said: it is read like anything that is told of it
	}
	if object, becomes := hear.Named(value); object != "" && becomes != "" {
		if object == "angle" && !marked {
			if tp, _ := topicByName(t.s.Topic); angular(tp.name) || t.s.Settled["slope"] == "" || !t.accepts("off_line", becomes) {
				object = "slope"
			} else {
				t.which(t.angles(), becomes, old)
				return true
			}
		}
		if object == "mass" && hear.Ballasted(text) && t.ownerIn(text) == "" && t.s.Settled["mass"] != "" && ownerOfTopic(t.s.Topic) != "puller" {
			t.which([]string{"puller.mass", "mass"}, becomes, old) // either may bear it
			return true
		}
		if names := t.namedNow(object, becomes, old, text, marked); len(names) > 0 {
			if !marked && t.betterAgain(names, becomes) {
				return true
			}
			if strings.HasPrefix(names[0], "anchors[") && !t.accepts("anchor", becomes) {
				becomes = value // what it is belongs to what is said of it
			}
			if twin := twinOf(names[0]); twin != "" && twin == t.s.Topic && t.s.Settled[twin] == "" && sure != hear.SureCorrection && old == "" && t.ownerIn(text) == "" {
				names = []string{twin, names[0]} // both have one, and nobody's is named
				t.which(names, becomes, old)
				return true
			}
			t.amendOne(names, becomes, old)
			return true
		}
		if !marked {
			return false
		}
	}
	if name, becomes := t.figureFor(value, old); name != "" {
		t.amend(name, becomes, old)
		return true
	}
	owner := t.ownerIn(value)
	if !marked {
		return t.ownersOther(owner, value)
	}
	names := t.ofKind(value, owner)
	if of := t.piecesNamed(old); of != nil && strings.HasPrefix(of[0], "anchors[") {
		t.amendOne(of, value, "") // "the loader instead of the oak" is no puller
		return true
	}
	if of := t.piecesNamed(value); of != nil {
		names = of // a rope's length is no height, whatever was asked
	}
	if asked := t.s.Topic; sure == hear.SureCorrection && len(names) > 1 && names[0] == asked && t.s.Settled[asked] == "" && twinOf(asked) == "" {
		names = names[1:] // what has no answer yet can't be put right
	}
	if old != "" && t.ownerNamed(old) == "puller" && slices.ContainsFunc(t.whoIsWho().Listen(value, hear.TopicPuller).Facts, func(f hear.Fact) bool { return f.Field == "puller.kind" }) {
		names = []string{"puller"} // one machine in the place of the other
	}
	if old != "" {
		asks := len(names) > 1 && names[0] == t.s.Topic && t.s.Settled[t.s.Topic] == ""
		switch was := t.holding1(names, old); {
		case len(was) > 1 && asks && owner == "" && !slices.Contains(was, t.s.Topic):
			t.which(append(names[:1:1], was...), value, old) // it may be the one that is asked
			return true
		case len(was) > 0:
			names = was
		case asks: // "3 tonnes, not 2" puts nothing right that was told
			t.amend(names[0], value, old)
			return true
		}
	}
	if old != "" && owner == "" && len(names) > 0 && slices.Contains(names, twinOf(names[0])) {
		t.which([]string{names[0], twinOf(names[0])}, value, old) // both were so, and neither is named
		return true
	}
	switch {
	case len(names) == 0, names[0] == t.s.Topic && (len(names) == 1 || t.amending(t.s.Topic)):
		return t.ownersOther(owner, value)
	case names[0] == t.s.Topic, owner == stranger && len(names) > 1:
		if names = t.outdoing(names, value); len(names) > 1 {
			t.which(names, value, old)
		} else if len(names) == 1 {
			t.amendOne(names, value, old)
		}
	default:
		t.amendOne(t.alike(names), value, old)
	}
	return true
}

// hazardIn reports whether a message tells of a hazard, read as an answer to what is asked.
func (t *turn) hazardIn(text string) bool {
	tp, _ := topicByName(t.s.Topic)
	return slices.ContainsFunc(t.whoIsWho().Listen(text, tp.heard()).Facts, func(f hear.Fact) bool { return f.Field == "hazards" && f.Value != "none" })
}

// twoBare are a figure without a unit at the end of what is said, and one by itself.
var twoBare = [2]*regexp.Regexp{regexp.MustCompile(`(?:^|[^\d.,/])(\d+(?:[.,]\d+)?)$`), regexp.MustCompile(`^(\d+(?:[.,]\d+)?)$`)}

// figureFor returns the only answer that a figure without a unit takes the place
// of, and what it becomes: "the van is 2.9, not 2.4" is of the 2.4 t.
func (t *turn) figureFor(value, old string) (name, becomes string) {
	said, was := twoBare[0].FindStringSubmatch(value), twoBare[1].FindStringSubmatch(old)
	if said == nil || was == nil {
		return "", ""
	}
	for _, tp := range append(slices.Clone(firstTopics), laterTopics...) {
		now, told := t.s.Sheet.Get(tp.fills0())
		unit, same := strings.CutPrefix(now, was[1])
		if !told || !figured(tp.name) || !same || strings.ContainsAny(unit, "0123456789.,") {
			continue
		}
		if name != "" {
			return "", "" // of two
		}
		name, becomes = tp.name, said[1]+unit
	}
	return name, becomes
}

// piecesNamed returns the places of the pieces that a value names, and nil
// where it names none: "60 m of rope" is no figure of anything else.
func (t *turn) piecesNamed(value string) []string {
	at, pieces := piecesIn(t.whoIsWho().Listen(value, hear.TopicNone).Facts)
	if len(at) == 0 {
		return nil
	}
	return t.alikes(pieces[at[0]])
}

// alike returns the first of some answers, and with it the pieces of its list
// among them: which of those is meant nobody can tell.
func (t *turn) alike(names []string) []string {
	if !strings.HasSuffix(names[0], "]") {
		return names[:1]
	}
	list, _ := pieceAt(names[0])
	return slices.DeleteFunc(slices.Clone(names), func(n string) bool { return !strings.HasPrefix(n, list+"[") || !strings.HasSuffix(n, "]") })
}

// byNumber reports whether a text names a piece by its number: "sling 1", and "5 t on the
// tag, rope 3".
func (t *turn) byNumber(text string) bool {
	words := " " + strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(" ,;:.!?\n", r) }), " ") + " "
	return slices.ContainsFunc(t.whoIsWho().Pieces, func(p hear.Piece) bool {
		return strings.ContainsAny(p.Label, "0123456789") && strings.Contains(words, " "+strings.ToLower(p.Label)+" ")
	})
}

// spokenOf keeps those of several pieces that the words before "is" mean: "the
// first rope is 70 m".
func (t *turn) spokenOf(names []string) []string {
	if len(names) < 2 || !strings.HasSuffix(names[0], "]") {
		return names
	}
	head, _, is := strings.Cut(strings.ToLower(t.in.Text), " is ")
	if !is {
		return names
	}
	meant := t.meant(head)
	left := slices.DeleteFunc(slices.Clone(names), func(n string) bool { return !slices.Contains(meant, n) })
	if len(left) == 0 {
		return names
	}
	return left
}

// amendOne changes the one of some answers that is meant, or asks which.
func (t *turn) amendOne(names []string, value, old string) {
	names = t.spokenOf(names)
	if len(names) > 1 && old != "" {
		if was := t.holding1(names, old); len(was) == 1 {
			names = was
		}
	}
	switch names = t.outdoing(names, value); len(names) {
	case 0:
	case 1:
		t.amend(names[0], value, old)
	default:
		t.which(names, value, old)
	}
}

// namedNow returns the answers that a message names and is about. Without a
// word that takes anything back, it may be about what is asked; then it is
// none.
func (t *turn) namedNow(object, becomes, old, text string, marked bool) []string {
	names := t.changeable(object)
	if other, ok := counterparts[object]; ok && t.ownerIn(text) == "puller" {
		names = []string{other}
	}
	if len(names) == 0 || !marked && slices.Contains(names, t.s.Topic) {
		return nil
	}
	if marked {
		if twin := twinOf(object); old != "" && twin != "" && len(t.holding1(names, old)) == 0 && len(t.holding1([]string{twin}, old)) == 1 {
			return []string{twin} // whose it is shows in what it was
		}
		return names
	}
	// The name of a thing begins many an answer; that of a figure is plain.
	if len(names) != 1 || !figured(names[0]) {
		return nil
	}
	tp, ok := topicByName(t.s.Topic)
	if !ok && t.s.State != Verdict {
		return nil
	}
	read := t.whoIsWho().Listen(text, tp.heard()).Facts
	if slices.ContainsFunc(read, func(f hear.Fact) bool {
		named, _ := topicByName(names[0])
		return slices.Contains(named.fills, f.Field) || slices.Contains(tp.fills, f.Field)
	}) || !t.accepts(names[0], becomes) {
		return nil
	}
	return names
}

// angular reports whether an answer is an angle of its own.
func angular(name string) bool {
	last := name[strings.LastIndexByte(name, '.')+1:]
	return slices.Contains([]string{"slope", "side_slope", "off_line", "sling_angle", "side_angle"}, last)
}

// figured reports whether an answer is a figure.
func figured(name string) bool {
	last := name[strings.LastIndexByte(name, '.')+1:]
	return slices.Contains([]string{"mass", "slope", "side_slope", "off_line", "distance", "reach", "holding_reach", "lead", "run", "rating", "hitch_rating", "hitch_height",
		"axle_height", "wheelbase", "cg_height", "wheel_radius", "drum"}, last)
}

// ofKind returns the answers that a value may be one of: the one that is asked
// first, then those that were given, the last first.
func (t *turn) ofKind(value, owner string) []string {
	var out []string
	add := func(name string) {
		if strings.HasPrefix(name, "site.") || slices.Contains(out, name) || owner != "" && owner != stranger && ownerOfTopic(name) != owner {
			return
		}
		if t.accepts(name, value) {
			for _, n := range t.reach(name) {
				if !slices.Contains(out, n) {
					out = append(out, n)
				}
			}
		}
	}
	add(t.s.Topic)
	for i := len(t.s.Trail) - 1; i >= 0; i-- {
		if name := t.s.Trail[i].Topic; t.s.Settled[name] != "" {
			add(name)
		}
	}
	return out
}

// reach returns what an answer is of: of a question for pieces, the pieces
// that were told.
func (t *turn) reach(name string) []string {
	switch name {
	case "anchor", "rope", "block", "shackle", "sling":
		return t.changeable(name)
	}
	return []string{name}
}

// accepts reports whether a value would be an answer to a question.
func (t *turn) accepts(name, value string) bool {
	tp, ok := topicByName(name)
	if !ok || len(tp.fills) == 0 {
		return false
	}
	h := t.whoIsWho().Listen(value, tp.heard())
	if tp.name == "puller" && strings.ContainsAny(h.Rest, "0123456789") {
		return false // it is named for a figure that is not read
	}
	for _, f := range h.Facts {
		machine := f.Field == "anchors[+1].kind" && f.Value == "vehicle" && !slices.ContainsFunc(t.s.Sheet.Anchors, func(a job.AnchorSheet) bool { return a.Kind == "vehicle" })
		if machine {
			return false // a vehicle that is spoken of puts no tree right
		}
		if slices.Contains(tp.fills, f.Field) || tp.name == "anchor" && strings.HasPrefix(f.Field, "anchors[") {
			return true
		}
	}
	for _, o := range tp.offers {
		if k := wording.Key("choice." + o.choice); o.label == "" && t.e.Words.Has(k) && strings.EqualFold(t.saying(k), value) {
			return true
		}
	}
	_, ok = fits(tp.fills[0], value)
	return ok
}

// holding1 returns those of some answers that are as old says.
func (t *turn) holding1(names []string, old string) []string {
	even := func(s string) string { return strings.ToLower(strings.ReplaceAll(s, " ", "")) }
	for _, article := range []string{"the ", "a ", "an "} {
		old = strings.TrimPrefix(old, article)
	}
	return slices.DeleteFunc(slices.Clone(names), func(name string) bool {
		tp, ok := topicByName(name)
		if !ok {
			at, _, _ := strings.Cut(name, "]")
			if !strings.Contains(name, "[") {
				return true
			}
			list, n := pieceAt(at + "]")
			return !strings.Contains(even(t.pieceLine(list, n, gearFields, nil)), even(old))
		}
		for _, f := range append(t.whoIsWho().Listen(old, tp.heard()).Facts, hear.Fact{Field: tp.fills0(), Value: old}) {
			if was, told := t.s.Sheet.Get(f.Field); told && slices.Contains(tp.fills, f.Field) && even(was) == even(f.Value) {
				return false
			}
		}
		return true
	})
}

// fills0 is the path that makes a topic answered, if it has one.
func (t topic) fills0() string {
	if len(t.fills) == 0 {
		return ""
	}
	return t.fills[0]
}
