package flow

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Where it can't be told which answer is meant, it is asked, once; the new
// value waits meanwhile, so that nobody has to write it twice.

// heldWhich are the answers that may be meant, heldValue what the one becomes
// and heldOld what it stands in for.
const (
	heldWhich = "which"
	heldValue = "which_value"
	heldOld   = "which_old"
)

// changeable finds the answers that a word may mean: those that are heard
// under it. A piece of gear or an anchor is named with its place in its list.
func (t *turn) changeable(object string) []string {
	of, field, dotted := strings.Cut(object, ".")
	switch {
	case object == "kit", object == "gear":
		return []string{"gear"}
	case object == "angle":
		return t.angles()
	case object == "check", object == "checks", object == "parts", object == "":
		return nil
	case dotted && of == "any":
		return t.anyPiece(field)
	case slices.Contains([]string{"rope", "block", "shackle", "sling"}, of):
		return t.pieces("gear", of, field, of)
	case of == "anchor":
		return t.pieces("anchors", "", field, of)
	}
	tp, ok := topicByName(object)
	if !ok || strings.HasPrefix(tp.name, "sign_") || strings.HasPrefix(tp.name, "kit_") || tp.name == "which" {
		return nil
	}
	return []string{tp.name}
}

// pieces are those of a kind, or a field of them. Where there is none, it is
// the question for one.
func (t *turn) pieces(list, kind, field, question string) []string {
	var out []string
	for i := 0; ; i++ {
		at := list + "[" + itoa(i) + "]"
		k, ok := t.s.Sheet.Get(at + ".kind")
		if !ok {
			break
		}
		if kind != "" && k != kind {
			continue
		}
		if field != "" {
			at += "." + field
		}
		out = append(out, at)
	}
	if len(out) == 0 && field == "" {
		return []string{question}
	}
	return out
}

// angles are what a bare "angle" may mean: the slope, or how far the line leads off the
// way; and what else stands on the sheet that is an angle.
func (t *turn) angles() []string {
	out := []string{"slope", "off_line"}
	if tp, _ := topicByName("side_slope"); t.valueOf(tp) != "" {
		out = append(out, tp.name)
	}
	for _, field := range []string{"sling_angle", "side_angle"} {
		for _, path := range t.pieces("gear", "", field, "") {
			if _, told := t.s.Sheet.Get(path); told {
				out = append(out, path)
			}
		}
	}
	return out
}

// anyPiece are the answers that a word such as rating may mean by itself: the
// one that is asked or was given last, else all that were given.
func (t *turn) anyPiece(field string) []string {
	var out []string
	add := func(path string) {
		name := topicFilling(path)
		_, told := t.s.Sheet.Get(path)
		if stamp, _ := t.s.Sheet.Get(path + "_kind"); stamp == "unmarked" {
			told = true
		}
		if told && name != "" {
			out = append(out, name)
		}
	}
	if field == "rating" || field == "condition" || field == "rating_kind" {
		add("load.tow_point." + field)
	}
	if field == "rating_kind" {
		add("puller.rating_kind")
		add("puller.hitch_rating_kind")
	}
	if field == "rating" {
		add("load.holding_point.rating")
		add("puller.rating")
		add("puller.hitch_rating")
	}
	for _, list := range []string{"anchors", "gear"} {
		for _, path := range t.pieces(list, "", field, "") {
			add(path)
		}
	}
	last := t.s.Topic
	if n := len(t.s.Trail); n > 0 && !slices.Contains(out, last) {
		last = t.s.Trail[n-1].Topic
	}
	if slices.Contains(out, last) {
		return []string{last}
	}
	return out
}

// pieceTopic is the question for a piece of the kind that stands at a place.
func (t *turn) pieceTopic(at string) string {
	if strings.HasPrefix(at, "anchors") {
		return "anchor"
	}
	kind, _ := t.s.Sheet.Get(at + ".kind")
	if slices.Contains([]string{"rope", "block", "shackle", "sling"}, kind) {
		return kind
	}
	return "gear"
}

// pieceAt splits the place of a piece: "gear[2]" is gear and 2.
func pieceAt(at string) (list string, n int) {
	list, rest, _ := strings.Cut(at, "[")
	n, err := strconv.Atoi(strings.TrimSuffix(rest, "]"))
	if err != nil {
		panic("flow: no piece " + at)
	}
	return list, n
}

// whichAnswer asks which of all answers is to be changed.
func (t *turn) whichAnswer(unknown string) {
	names := t.knownNames()
	if len(names) == 0 {
		t.remark(wording.RefuseBackNone, nil)
		return
	}
	if near, said, value := t.speltLike(unknown); len(near) > 0 {
		t.say(wording.RefuseChangeUnknown, wording.Args{"Text": said})
		t.unwhich()
		t.which(near, value, "")
		return
	}
	if t.changesItem(unknown) {
		return
	}
	if unknown != "" {
		t.say(wording.RefuseChangeUnknown, wording.Args{"Text": unknown})
	}
	if unknown != "" && !t.main() { // the lead is asked nothing for the slip of another
		t.ask()
		return
	}
	t.fire(Reopens)
	t.unwhich()
	t.act(Act{Do: DoAsk, Topic: "which"})
	t.ask()
}

// which asks which of some answers is meant.
func (t *turn) which(names []string, value, old string) {
	t.fire(Reopens)
	t.act(Act{Do: DoHold, Path: heldWhich, Value: strings.Join(names, " ")})
	t.act(Act{Do: DoHold, Path: heldValue, Value: value})
	t.act(Act{Do: DoHold, Path: heldOld, Value: old})
	t.act(Act{Do: DoAsk, Topic: "which"})
	t.ask()
}

// unwhich forgets what was asked about.
func (t *turn) unwhich() {
	if of := t.s.Held[heldDoubtOf]; of != "" {
		_, others := t.doubtful(of)
		t.act(Act{Do: DoHold, Path: heldDoubt, Value: doubtLines(others)})
	}
	for _, k := range []string{heldWhich, heldValue, heldOld, heldRemove, heldDoubtOf} {
		if t.s.Held[k] != "" {
			t.act(Act{Do: DoHold, Path: k})
		}
	}
}

// whichOffers are the answers that may be meant, as buttons.
func (t *turn) whichOffers() []offer {
	var out []offer
	for i, name := range strings.Fields(t.s.Held[heldWhich]) {
		out = append(out, offer{choice: "which." + itoa(i+1), label: t.whichLabel(name)})
	}
	if t.mayBeMore() {
		out = append(out, offer{choice: "which.new", label: t.saying(wording.ChoiceOneMore)})
	}
	return out
}

// whichLabel names an answer so that it is told from the others.
func (t *turn) whichLabel(name string) string {
	if at, _, of := strings.Cut(name, "]"); of {
		list, n := pieceAt(at + "]")
		fields := gearFields
		if list == "anchors" {
			fields = anchorFields
		}
		return t.pieceLine(list, n, fields, nil)
	}
	tp, _ := topicByName(name)
	what, value := t.whatChanges(name), t.valueOf(tp)
	if value == "" {
		return what
	}
	return t.sayingWith(wording.ReadItem, wording.Args{"What": what, "Text": value})
}

func (t *turn) whichNames() wording.Names {
	names := strings.Fields(t.s.Held[heldWhich])
	if len(names) == 0 {
		return t.knownNames()
	}
	var out wording.Names
	for _, n := range names {
		out = append(out, t.whichLabel(n))
	}
	if t.mayBeMore() {
		out = append(out, t.saying(wording.ChoiceOneMore))
	}
	return out
}

// whichIs goes on with the answer that is meant.
func (t *turn) whichIs(choice string) {
	names := strings.Fields(t.s.Held[heldWhich])
	_, number, _ := strings.Cut(choice, ".")
	if number == "new" && t.mayBeMore() {
		t.said = t.saying(wording.ChoiceOneMore)
		t.oneMorePiece()
		return
	}
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 || n > len(names) {
		t.miss("")
		return
	}
	t.said = t.whichLabel(names[n-1])
	t.amend(names[n-1], t.s.Held[heldValue], t.s.Held[heldOld])
}

// amendAll goes on with several pieces that are meant.
func (t *turn) amendAll(names []string) {
	if t.s.Held[heldDoubtOf] != "" {
		t.fire(Reopens)
		t.settleDoubt(names...)
		return
	}
	t.fire(Reopens)
	t.unwhich()
	t.without(names)
	t.next()
}

// heardWhich takes which answer is meant, in words.
func (t *turn) heardWhich(text string) {
	value, old := t.s.Held[heldValue], t.s.Held[heldOld]
	names := strings.Fields(t.s.Held[heldWhich])
	if t.mayBeMore() && onePieceMore.MatchString(text) {
		t.oneMorePiece()
		return
	}
	if at := slices.IndexFunc(names, func(n string) bool { return strings.HasSuffix(n, "]") && t.goesBy(n, strings.Trim(text, " .!")) }); at >= 0 {
		t.amend(names[at], value, old) // "oak 50 cm" is one of them by its name, and no new figure
		return
	}
	if t.figuresToo(text, names, value) {
		return
	}
	if some := t.severalMeant(text, names); len(some) > 1 && (t.s.Held[heldDoubtOf] != "" || t.s.Held[heldRemove] != "") {
		t.amendAll(some)
		return
	}
	if name, ok := nthMeant(text, names); ok {
		t.amend(name, value, old)
		return
	}
	switch act := hear.Listen(text, hear.TopicYesNo).Act; {
	case act == hear.Yes && len(names) == 1 && !t.mayBeMore():
		t.amend(names[0], value, old)
		return
	case act == hear.No && len(names) > 0: // none of them
		t.unchanged()
		return
	}
	ofPiece := len(names) > 0 && strings.HasSuffix(names[0], "]") // "no knots in it" tells of a piece, and picks none
	if h := hear.Listen("change "+text, hear.TopicNone); h.Act == hear.Change && !(ofPiece && strings.Contains(h.Object, ".")) {
		if meant := t.changeable(h.Object); len(meant) > 0 && len(names) == 0 {
			t.change(h)
			return
		} else if len(meant) > 0 {
			both := slices.DeleteFunc(slices.Clone(names), func(n string) bool { return !meets(n, meant) })
			if len(both) == 1 {
				t.amend(both[0], value, old)
				return
			}
		}
	}
	if owner := t.ownerNamed(text); owner != "" {
		of := slices.DeleteFunc(slices.Clone(names), func(n string) bool { return ownerOfTopic(n) != owner })
		if len(of) == 1 {
			t.amend(of[0], value, old)
			return
		}
	}
	if n, ok := t.mostLike(text, names); ok {
		t.amend(names[n], value, old)
		return
	}
	if len(names) == 0 {
		if h := hear.Listen(text, hear.TopicNone); len(h.Facts) > 0 {
			t.hearFacts(h, false)
			t.next()
			return
		}
	}
	t.miss(text)
}

// figuresToo takes a message that says more than which answer is meant, as one
// that goes on: "up, and the tractor is about 9000 lb" names the tractor for a
// weight of its own, and chooses nothing. What was to be changed stays as it is.
func (t *turn) figuresToo(text string, names []string, value string) bool {
	h := t.whoIsWho().Listen(text, hear.TopicNone)
	if len(names) == 0 || len(h.Facts) == 0 || !strings.ContainsAny(text, "0123456789") || bareFigure(text) {
		return false
	}
	for _, n := range names {
		if strings.EqualFold(strings.Trim(text, "[]. "), t.whichLabel(n)) {
			return false
		}
	}
	if slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return sameText(f.Value, value) }) {
		return false // it says the value again, with what it is of
	}
	if at, pieces := piecesIn(h.Facts); t.mayBeMore() && !ofThose.MatchString(t.s.Held[heldDoubtText]) && strings.HasPrefix(names[0], "gear[") && len(at) > 0 && !slices.ContainsFunc(at, func(p string) bool { return pieces[p].list != "gear" || pieces[p].remark() }) {
		t.oneMorePiece() // who goes on with the next piece reads out a list
		t.relisted = true
		t.replies = t.replies[:0]
		t.inWords(text, t.text)
		return true
	}
	if of := t.s.Held[heldDoubtOf]; of != "" {
		waits, in := t.s.Held[heldDoubt], t.s.Held[heldDoubtText]
		t.act(Act{Do: DoHold, Path: heldDoubt})
		t.unchanged()
		t.replies = t.replies[:0]
		t.act(Act{Do: DoHold, Path: heldDoubt, Value: waits}) // what is in doubt is asked again
		t.act(Act{Do: DoHold, Path: heldDoubtText, Value: in})
		t.inWords(text, t.text)
		return true
	}
	t.unchanged()
	t.replies = t.replies[:0]
	t.say(wording.ReadUnchanged, nil)
	t.inWords(text, t.text)
	return true
}

// meets reports whether a name is one of some answers, or of a piece of theirs.
func meets(name string, some []string) bool {
	at, _, _ := strings.Cut(name, ".")
	return slices.ContainsFunc(some, func(s string) bool {
		of, _, _ := strings.Cut(s, ".")
		return s == name || strings.HasSuffix(of, "]") && of == at
	})
}

// unitWords stand behind a figure.
var unitWords = []string{"m", "mm", "cm", "t", "kn", "kg", "ft", "in", "lb", "lbs", "ton", "tons", "tonne", "tonnes", "metres", "meters", "metre", "meter"}

// mostLike returns the only answer whose label has a word of the text that no
// other's has, or whose number it is.
func (t *turn) mostLike(text string, names []string) (int, bool) {
	low := strings.ToLower(strings.Trim(text, " .!"))
	if n, err := strconv.Atoi(low); err == nil {
		return n - 1, 1 <= n && n <= len(names) && !t.figureOfAnother(low, names, n-1)
	}
	if len(low) == 1 && 'a' <= low[0] && low[0] <= 'z' {
		return int(low[0] - 'a'), int(low[0]-'a') < len(names)
	}
	if found := t.alike1(low, names); len(found) == 1 {
		return found[0], true
	}
	return 0, false
}

// alike1 returns each answer whose label has a word of the text that no other's has.
func (t *turn) alike1(text string, names []string) []int {
	low := strings.ToLower(strings.Trim(text, " .!"))
	found := map[int]bool{}
	all := strings.Fields(low)
	if isState(all, names) {
		return nil
	}
	for j, w := range all {
		if picksNone[strings.Trim(w, ",.;!")] {
			continue
		}
		figure := ""
		if _, err := strconv.Atoi(w); err == nil && j+1 < len(all) && slices.Contains(unitWords, all[j+1]) {
			figure = " " + w + " " + all[j+1] + " " // the 3 of "3 m" is no piece's number
		} else if err == nil && j == 0 {
			continue
		}
		var with []int
		for i, name := range names {
			if figure != "" {
				if label := strings.NewReplacer("(", " ", ")", " ", ",", " ").Replace(strings.ToLower(t.whichLabel(name))); strings.Contains(" "+label+" ", figure) {
					with = append(with, i)
				}
				continue
			}
			if slices.Contains(strings.FieldsFunc(strings.ToLower(t.whichLabel(name)), func(r rune) bool { return strings.ContainsRune(" ,()'", r) }), strings.TrimSuffix(w, "'s")) {
				with = append(with, i)
			}
		}
		if len(with) == 1 {
			found[with[0]] = true
		}
	}
	return slices.Sorted(maps.Keys(found))
}

// picksNone are words that stand in any sentence, and in the label of a piece beside what
// tells it from another: they name none.
var picksNone = map[string]bool{}

func init() {
	for _, w := range strings.Fields("in is it its it's not no never a an the of and or to on at with for was be as by i we you that this as m mm cm ft") {
		picksNone[w] = true
	}
}

// isState reports whether a text says nothing but in what state a thing is, where it is
// asked which of several is meant: "sound" is told of the one spoken of, and picks no
// other that was told to be sound. "The sound one" does.
func isState(text, names []string) bool {
	if len(names) == 0 || !strings.HasSuffix(names[0], "]") || slices.Contains(text, "one") {
		return false
	}
	return !slices.ContainsFunc(text, func(w string) bool { return !slices.Contains(stateWords, strings.Trim(w, ",.;!")) })
}

// stateWords are what the state of a tree or a piece is told in, and what stands beside.
var stateWords = strings.Fields("sound alive live living dead dying rotten healthy good fine ok okay damaged upright leaning leans lean straight and is its it's it very quite both yes in cm mm inch inches")

// figureOfAnother reports whether a number that could pick the nth of some answers stands
// in another's label as well, as its own number or a figure of it: "2" may mean rope 2,
// or the block of 2 t.
func (t *turn) figureOfAnother(number string, names []string, n int) bool {
	for i, name := range names {
		words := strings.FieldsFunc(t.whichLabel(name), func(r rune) bool { return strings.ContainsRune(" ,()", r) })
		if i != n && slices.Contains(words, number) {
			return true
		}
	}
	return false
}

// knownNames lists the topics that have had an answer.
func (t *turn) knownNames() wording.Names {
	var out wording.Names
	for _, s := range t.s.Trail {
		if n := t.name(s.Topic); t.s.Settled[s.Topic] != "" && !slices.Contains(out, n) && !strings.HasPrefix(s.Topic, "site.") {
			out = append(out, n)
		}
	}
	return out
}
