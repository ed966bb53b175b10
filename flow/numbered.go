package flow

import (
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Pieces that go by one word are told apart by a number, and a number is one piece's for
// the whole job: what lies broken and what came in its place are never both "rope 2".

// heldNumber stands before the place of a piece that keeps its number though others have
// gone, heldLast before the word of pieces for the highest number that any of them had.
const (
	heldNumber = "number "
	heldLast   = "numbers "
)

// numbers are those of the pieces of a list that go by a word, by their places; none
// where there is but one and never were more.
func (t *turn) numbers(list, word string) map[int]int {
	out := map[int]int{}
	last, _ := strconv.Atoi(t.s.Held[heldLast+list+" "+word]) // empty is none
	var bare []int
	for i := 0; ; i++ {
		if t.namedBy(list, i).kind == "" {
			break
		}
		if t.plainLabel(list, i) != word {
			continue
		}
		if n, err := strconv.Atoi(strings.TrimPrefix(t.s.Held[heldNumber+list+"["+itoa(i)+"]"], word+" ")); err == nil {
			out[i] = n
			last = max(last, n)
		} else {
			bare = append(bare, i)
		}
	}
	if last == 0 && len(bare) < 2 {
		return out
	}
	for _, i := range bare {
		last++
		out[i] = last
	}
	return out
}

// keepNumbers keeps the numbers of the pieces of a list when some of them go: to is where
// each of those that stay has its place then.
func (t *turn) keepNumbers(list string, to map[int]int) (keep func()) {
	held, last := map[string]string{}, map[string]int{}
	was := 0
	for ; ; was++ {
		at := list + "[" + itoa(was) + "]"
		if _, ok := t.s.Sheet.Get(at + ".kind"); !ok {
			break
		}
		word := t.plainLabel(list, was)
		n := t.numbers(list, word)[was]
		i, stays := to[was]
		if n == 0 {
			if !stays && len(t.s.Rig) > 0 {
				last[word] = max(last[word], 1) // what comes in its place is not called as it was
			}
			continue
		}
		last[word] = max(last[word], n)
		if stays {
			held[list+"["+itoa(i)+"]"] = word + " " + itoa(n)
		}
	}
	return func() {
		for i := range was {
			at := list + "[" + itoa(i) + "]"
			if t.s.Held[heldNumber+at] != held[at] {
				t.act(Act{Do: DoHold, Path: heldNumber + at, Value: held[at]})
			}
		}
		for _, word := range slices.Sorted(maps.Keys(last)) {
			t.act(Act{Do: DoHold, Path: heldLast + list + " " + word, Value: itoa(last[word])})
		}
	}
}

// renumber gives a piece that takes another's place in the list a number of its own,
// where the old one had one.
func (t *turn) renumber(at string) {
	list, n := pieceAt(at)
	word := t.plainLabel(list, n)
	all := t.numbers(list, word)
	last, _ := strconv.Atoi(t.s.Held[heldLast+list+" "+word])
	if all[n] == 0 {
		if len(t.s.Rig) == 0 {
			return
		}
		last = max(last, 1) // so it was called that stood in its place
	}
	for _, i := range all {
		last = max(last, i)
	}
	for i, k := range all { // a place's number must not move with what comes
		if i != n {
			t.act(Act{Do: DoHold, Path: heldNumber + list + "[" + itoa(i) + "]", Value: word + " " + itoa(k)})
		}
	}
	t.act(Act{Do: DoHold, Path: heldNumber + at, Value: word + " " + itoa(last+1)})
	t.act(Act{Do: DoHold, Path: heldLast + list + " " + word, Value: itoa(last + 1)})
}

// pieceNamed finds the piece whose name, with its number, stands in a message as words of
// their own, and what is written before and behind that.
func (t *turn) pieceNamed(text string) (at, before, behind string) {
	longest := 0
	for _, list := range []string{"gear", "anchors"} {
		for i := range t.pieces(list, "", "kind", "") {
			label := t.label(list, i)
			from, named := wordsAt(text, label)
			if !named || len(label) <= longest {
				continue
			}
			longest = len(label)
			at, before, behind = list+"["+itoa(i)+"]", text[:from], text[from+len(label):]
		}
	}
	return at, before, behind
}

// wordsAt finds where words stand in a text as words of their own, in whatever case.
func wordsAt(text, words string) (from int, ok bool) {
	ofWord := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	for from = range text {
		to := from + len(words)
		if to > len(text) {
			break
		}
		before, _ := utf8.DecodeLastRuneInString(text[:from])
		behind, _ := utf8.DecodeRuneInString(text[to:])
		if strings.EqualFold(text[from:to], words) && !ofWord(before) && !ofWord(behind) {
			return from, true
		}
	}
	return 0, false
}

var (
	numberBehind  = regexp.MustCompile(`\d$`)
	sizeBehind    = regexp.MustCompile(`\d \pL+$`) // a piece that is told from its like by a figure: oak 60 cm
	becomesBehind = regexp.MustCompile(`(?i)^(?:\s*[:,=]|\s+(?:to|is|into|should be)\b).*\S`)
	changeFirst   = regexp.MustCompile(`(?i)^\W*(?:please )?change (?:the )?$`)
	nowGood       = regexp.MustCompile(`(?i)\b(?:good|fine|ok|okay|sound|undamaged|whole|all right|alright)\b`)
	notNowGood    = regexp.MustCompile(`(?i)\b(?:not|no|isn'?t|ain'?t|never|un(?:sure|safe)|but|if|when|once|until|bad|damaged|torn|cut|frayed|cracked|maybe|probably|think|thinks|guess|hope|should)\b|\?`)
)

// changesNumbered takes "change rope 1 50 m" as of the one piece that is named by its
// number, and reports whether it did.
func (t *turn) changesNumbered() bool {
	at, before, behind := t.pieceNamed(t.in.Text)
	called := strings.TrimSuffix(t.in.Text, behind)
	if at == "" || !changeFirst.MatchString(before) || !numberBehind.MatchString(called) && !(sizeBehind.MatchString(called) && becomesBehind.MatchString(behind)) {
		return false
	}
	word := "anchor"
	if strings.HasPrefix(at, "gear") {
		word, _ = t.s.Sheet.Get(at + ".kind")
	}
	h := hear.Listen("change "+word+behind, hear.TopicNone)
	names := slices.DeleteFunc(t.changeable(h.Object), func(name string) bool { return name != at && !strings.HasPrefix(name, at+".") })
	if h.Act != hear.Change || len(names) != 1 {
		return false
	}
	if f := t.oneMeasure(word, h.Value); names[0] == at && f != "" {
		names[0] += "." + f
	}
	value := h.Value
	if list, n := pieceAt(at); names[0] == at && list == "anchors" && value != "" {
		if names[0] = t.thickness(at, value); names[0] == at && !t.accepts("anchor", value) {
			value = t.plainLabel(list, n) + ", " + value // it is the same one that this is told of
		}
	}
	t.amend(names[0], value, h.Old)
	return true
}

// oneMeasure is the field of a piece of gear that a value tells of, where it tells of no
// other and names no kind: the piece is the same, and one thing of it is put right.
func (t *turn) oneMeasure(kind, value string) string {
	one := ""
	for _, f := range hear.Listen(value, hear.Topic(kind)).Facts {
		_, field, _ := strings.Cut(f.Field, "].")
		if field == "kind" && f.Value == kind && !strings.Contains(strings.ToLower(value), kind) || field == "rating_kind" && one == "rating" {
			continue
		}
		if one != "" || !slices.Contains([]string{"length", "diameter", "rating"}, field) {
			return ""
		}
		one = field
	}
	return one
}

// goodAgain takes that a piece which was told to be damaged, or not looked over, is good,
// where it is named, and reports whether it did. Who must have looked is asked of it like
// of any such word.
func (t *turn) goodAgain(text string) bool {
	if !t.tellsGear() {
		return false
	}
	at, before, behind := t.pieceNamed(text)
	if !strings.HasPrefix(at, "gear") || changeFirst.MatchString(before) {
		return false
	}
	rest := before + " " + behind
	if cond, _ := t.s.Sheet.Get(at + ".condition"); cond != "damaged" && cond != "unknown" || !nowGood.MatchString(rest) || notNowGood.MatchString(rest) || strings.ContainsAny(rest, "0123456789") {
		return false
	}
	if t.s.State == Verdict || t.s.State == Amend && t.s.Topic == "which" {
		t.unwhich()
		t.fire(Reopens)
		t.act(Act{Do: DoAsk})
	}
	t.put([]change{{set: set{at + ".condition", "good"}, how: Told}})
	if t.s.Topic == "" {
		t.next()
	} else {
		t.turned()
		t.ask()
	}
	return true
}

// unsoundSaid says what it takes for a thing that was told to be bad to be good again.
func (t *turn) unsoundSaid(path string, args wording.Args) {
	k := wording.RefuseUnsound
	if strings.HasPrefix(path, "gear[") && strings.HasSuffix(path, ".condition") {
		list, n := pieceAt(path[:strings.IndexByte(path, ']')+1])
		k = wording.RefuseUnsoundPiece
		args["What"] = t.label(list, n)
	}
	t.say(k, args)
}
