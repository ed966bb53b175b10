package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
)

// Whose an answer is: the load's and the puller's must never be mixed.

// counterparts are the answers that the load and the puller each have.
var counterparts = map[string]string{"slope": "puller.slope", "mass": "puller.mass", "ground": "puller.ground", "side_slope": "puller.side_slope"}

// twinOf returns the same answer of the other vehicle.
func twinOf(name string) string {
	if twin := counterparts[name]; twin != "" {
		return twin
	}
	for load, puller := range counterparts {
		if puller == name {
			return load
		}
	}
	return ""
}

// ownersOther takes what is said of one vehicle while the other's is asked,
// and asks whose it is where the name is new.
func (t *turn) ownersOther(owner, value string) bool {
	if owner == "" {
		return false // most messages name nobody's: they are not listened to once more for that
	}
	name := t.vehicles(value)
	twin := twinOf(name)
	if twin == "" {
		return false
	}
	spoken := t.s.Settled["puller"] != "" || ownerOfTopic(name) == "puller" || ownerOfTopic(t.s.Topic) == "puller"
	switch {
	case owner == stranger && spoken && (name != t.s.Topic || ownerOfTopic(name) == "puller"):
		t.which([]string{name, twin}, value, "")
	case owner == "load" && ownerOfTopic(name) == "puller", owner == "puller" && ownerOfTopic(name) == "load":
		t.amend(twin, value, "")
	default:
		return false
	}
	return true
}

// weightInPassing asks whose a weight is that is told of a vehicle by its kind before it
// was asked what pulls: it may be of the one that is stuck, or of the one that will pull.
func (t *turn) weightInPassing(text string) bool {
	if t.s.Settled["puller"] != "" || t.s.Sheet.Puller != nil || t.s.Topic == "puller" || !t.main() || isQuestion(hear.Lowered(text)) {
		return false
	}
	facts := t.whoIsWho().Listen(text, hear.TopicPuller).Facts
	kind := slices.ContainsFunc(facts, func(f hear.Fact) bool { return f.Field == "puller.kind" })
	at := slices.IndexFunc(facts, func(f hear.Fact) bool { return f.Field == "puller.mass" })
	if !kind || at < 0 {
		return false
	}
	t.which([]string{"mass", "puller.mass"}, facts[at].Value, "")
	return true
}

// weighsSo are words that a figure is what something weighs, or what stands on its plate.
var weighsSo = regexp.MustCompile(`(?i)\b(?:plate|weigh\w*|weight|papers|registration)\b`)

// someWeight asks of which vehicle a weight is that is told of neither, where the weights of
// both were told or asked before: "plate says 3.3 tonne".
func (t *turn) someWeight(text string) bool {
	if t.s.Settled["mass"] == "" || t.s.Sheet.Puller == nil || !t.main() || !weighsSo.MatchString(text) || isQuestion(hear.Lowered(text)) || t.ownerIn(text) != "" {
		return false
	}
	facts := t.whoIsWho().Listen(text, hear.TopicMass).Facts
	if len(facts) == 0 || slices.ContainsFunc(facts, func(f hear.Fact) bool { return f.Field != "load.mass" && f.Field != "load.mass_from" }) ||
		!slices.ContainsFunc(facts, func(f hear.Fact) bool { return f.Field == "load.mass" }) {
		return false
	}
	names := []string{"mass", "puller.mass"}
	if kind, _ := t.s.Sheet.Get("puller.kind"); kind == "winch" || kind == "hand-winch" {
		names = append(names, "puller.rating")
	} else if kind == "people" {
		names = names[:1]
	}
	t.which(names, text, "")
	return true
}

// onlyWeightBeside reports whether all that was heard is a weight that is not plainly said
// of the stuck vehicle, where that one's was told.
func (t *turn) onlyWeightBeside(h hear.Heard) bool {
	_, told := t.s.Sheet.Get("load.mass")
	return told && len(h.Facts) > 0 && !slices.ContainsFunc(h.Facts, func(f hear.Fact) bool {
		return f.Field != "load.mass_from" && (f.Field != "load.mass" || !t.beside(f))
	})
}

// vehicles returns the answer that a value would be taken for, if the load
// and the puller each have it.
func (t *turn) vehicles(value string) string {
	if twinOf(t.s.Topic) != "" && t.accepts(t.s.Topic, value) {
		return t.s.Topic
	}
	tp, _ := topicByName(t.s.Topic)
	for _, f := range t.whoIsWho().Listen(value, tp.heard()).Facts {
		if name := topicFilling(f.Field); twinOf(name) != "" {
			return name
		}
	}
	return ""
}

// stranger is the owner where something is named that was not spoken of yet.
const stranger = "?"

// ownerIn returns of which vehicle a sentence says where it stands or what it
// weighs: load, puller, a stranger, or nothing where it names none.
func (t *turn) ownerIn(text string) string {
	if ofPuller.MatchString(text) {
		return "puller"
	}
	name := hear.Subject(text)
	if name == "" {
		return ""
	}
	if owner := t.ownerNamed(name); owner != "" {
		return owner
	}
	if object, _ := hear.Named(name + " 1"); object != "" || hear.Vehicle(name) || notVehicle(name) {
		return ""
	}
	return stranger
}

// ofPuller is how people say that an answer is the puller's.
var ofPuller = regexp.MustCompile(`(?i)\b(?:under|of|for|at|by) the puller\b|\bpuller['’]?s\b`)

// ownerNamed returns which vehicle a name is that of.
func (t *turn) ownerNamed(name string) string {
	for _, w := range strings.Fields(strings.ToLower(name)) {
		w = strings.TrimSuffix(strings.TrimSuffix(strings.Trim(w, ".,!"), "'s"), "’s")
		told := t.s.Spoken[w]
		switch {
		case w == "puller", t.s.Sheet.Puller != nil && strings.EqualFold(w, t.s.Sheet.Puller.Name):
			return "puller"
		case w == "load", w == "stuck", w == "casualty":
			return "load"
		case told.Load && !told.Puller:
			return "load"
		case told.Puller && !told.Load:
			return "puller"
		}
	}
	return ""
}

// notVehicle reports whether a name is that of a place or a part.
func notVehicle(name string) bool {
	for _, w := range strings.Fields(name) {
		if slices.Contains([]string{"road", "lane", "track", "hill", "bank", "field", "way", "path", "verge", "ditch", "ground", "drive", "yard", "slope",
			"wheel", "wheels", "axle", "rope", "line", "block", "anchor", "tree", "oak", "eye", "ball", "back", "front", "rear", "side", "whole", "thing", "one"}, w) {
			return true
		}
	}
	return false
}

// ownerOfTopic returns whose an answer is.
func ownerOfTopic(name string) string {
	tp, _ := topicByName(name)
	switch {
	case strings.HasPrefix(tp.fills0(), "puller."):
		return "puller"
	case strings.HasPrefix(tp.fills0(), "load."):
		return "load"
	}
	return ""
}

// callIt keeps of which vehicle a word was told first, by which it is known
// again when it is named later. "Tow eye on the pickup", said of the puller,
// does not make the pickup one, and "the puller's slope is level" makes no slope and
// no level a puller.
func (s *Session) callIt(path, text string) {
	of, _, _ := strings.Cut(path, ".")
	if of != "load" && of != "puller" {
		return
	}
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !('a' <= r && r <= 'z' || r >= 0x80 || r == '-') }) {
		told, before := s.Spoken[w]
		if len(w) <= 2 || before && told.After != s.Last || !hear.MayName(w) {
			continue
		}
		told.After = s.Last
		told.Load, told.Puller = told.Load || of == "load", told.Puller || of == "puller"
		s.Spoken[w] = told
	}
}
