package flow

import (
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A tow ball, a bumper or a lashing eye that was told, and any other place that no
// line may be made fast to, is not waved away by the next word: a correction that puts
// a good part in its place is asked back, with the part that is not to be used named,
// and counts on a plain yes alone. Until then the job goes by what was told first.
//
// Source: common practice.

// heldBetter is the place that is told to be made fast to another part, and heldBetters
// what was told of that one, a path and its value a line.
const (
	heldBetter  = "better"
	heldBetters = "betters"
)

// refusedPart reports whether a field is the kind of a place to make fast to, and its
// value one that no line may be made fast to.
func refusedPart(path, value string) bool {
	switch path {
	case "load.tow_point.kind", "load.holding_point.kind":
		return calc.TowPointRefused(value)
	case "puller.hitch":
		return calc.HitchRefused(value)
	}
	return false
}

// askedBack keeps from the changes what would put a good part in the place of one that
// no line may be made fast to, to be asked back.
func (t *turn) askedBack(changes []change) []change {
	if t.bettered || t.anotherPuller(changes) {
		return changes
	}
	if path, _ := t.betterOpen(); path != "" && slices.ContainsFunc(changes, func(c change) bool { return c.path == path && refusedPart(path, c.value) }) {
		t.act(Act{Do: DoHold, Path: heldBetter}) // it is that one after all
		t.act(Act{Do: DoHold, Path: heldBetters})
	}
	at := slices.IndexFunc(changes, func(c change) bool {
		was, told := t.s.Sheet.Get(c.path)
		return told && refusedPart(c.path, was) && !refusedPart(c.path, c.value) && c.value != ""
	})
	if at < 0 {
		return changes
	}
	path := changes[at].path
	var out []change
	var waits []string
	for _, c := range changes {
		if strings.HasPrefix(c.path, strings.TrimSuffix(path, "kind")) {
			waits = append(waits, c.path+" "+c.value)
		} else {
			out = append(out, c)
		}
	}
	t.act(Act{Do: DoHold, Path: heldBetter, Value: path})
	t.act(Act{Do: DoHold, Path: heldBetters, Value: strings.Join(waits, "\n")})
	t.doubts, t.unmoved = true, true
	return out
}

// anotherPuller reports whether the changes are of another machine that pulls: its hitch
// is no correction of the first one's.
func (t *turn) anotherPuller(changes []change) bool {
	return slices.ContainsFunc(changes, func(c change) bool {
		was, told := t.s.Sheet.Get(c.path)
		return (c.path == "puller.kind" || c.path == "puller.name" || c.path == "puller.mass") && told && was != c.value
	})
}

// betterOpen is what is asked back about: the place, and what it is to be; empty where
// nothing is, or where the job has come elsewhere.
func (t *turn) betterOpen() (path, value string) {
	switch t.s.State {
	case Halted, Away, Closed, Referred, Pulling, Debrief:
		return "", ""
	case Amend:
		if t.s.Held[heldAmend] != "" || t.s.Topic == "which" {
			return "", "" // another change is under way, and asks first
		}
	}
	path = t.s.Held[heldBetter]
	if was, _ := t.s.Sheet.Get(path); path == "" || !refusedPart(path, was) {
		return "", ""
	}
	for _, c := range t.betters() {
		if c.path == path {
			value = c.value
		}
	}
	return path, value
}

// betters are the changes that wait.
func (t *turn) betters() []change {
	var out []change
	for l := range strings.SplitSeq(t.s.Held[heldBetters], "\n") {
		if path, value, ok := strings.Cut(l, " "); ok {
			out = append(out, change{set: set{path, value}, how: Told})
		}
	}
	return out
}

// askBetter is the question, and its buttons.
func (t *turn) askBetter() (wording.Key, wording.Args, []offer, bool) {
	path, value := t.betterOpen()
	if path == "" {
		return "", nil, nil, false
	}
	was, _ := t.s.Sheet.Get(path)
	tp, _ := topicByName(topicFilling(path))
	return wording.AskBetter, wording.Args{"What": t.name(tp.name), "Was": t.word(path, was), "Text": t.word(path, value)}, []offer{{choice: "better_yes"}, {choice: "better_no"}}, true
}

// betterWords takes words to that question: a plain yes, a no, or what is neither.
func (t *turn) betterWords(text string) bool {
	path, _ := t.betterOpen()
	if path == "" || !t.main() {
		return false
	}
	tp, _ := topicByName(topicFilling(path))
	waits, named := t.betters(), t.whoIsWho().Listen(text, tp.heard())
	other := slices.ContainsFunc(named.Facts, func(f hear.Fact) bool {
		return !slices.ContainsFunc(waits, func(c change) bool { return c.path == f.Field && sameText(c.value, f.Value) })
	})
	switch h := hear.Listen(text, hear.TopicYesNo); {
	case (h.Act == hear.Yes && h.Unread() == "" || named.Act == hear.Yes && len(named.Facts) > 0 && named.Unread() == "") && !other && !isQuestion(strings.ToLower(text)):
		t.betterChoice("better_yes")
	case h.Act == hear.No && h.Unread() == "" && len(h.Facts) == 0:
		t.betterChoice("better_no")
	default:
		return false
	}
	return true
}

// betterChoice does what the answer says.
func (t *turn) betterChoice(choice string) bool {
	if choice != "better_yes" && choice != "better_no" {
		return false
	}
	path, _ := t.betterOpen()
	if path == "" {
		return false
	}
	was, _ := t.s.Sheet.Get(path)
	changes := t.betters()
	t.act(Act{Do: DoHold, Path: heldBetter})
	t.act(Act{Do: DoHold, Path: heldBetters})
	if t.s.State == Verdict {
		t.fire(Reopens)
		t.act(Act{Do: DoAsk})
	}
	if choice == "better_no" {
		t.say(wording.ReadUnchanged, nil)
		t.next()
		return true
	}
	t.bettered = true
	if len(t.put(changes)) > 0 {
		t.say(wording.BetterNoted, wording.Args{"Was": t.word(path, was)})
	}
	t.next()
	return true
}
