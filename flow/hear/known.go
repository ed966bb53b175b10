package hear

import (
	"slices"
	"strconv"
	"strings"
)

// Known is who is who and what is on the list, as far as it was told before. A
// message that names a thing speaks of that thing, whatever is asked meanwhile.
type Known struct {
	Puller string                   // what the puller was called: "tractor"
	Kind   string                   // what kind of puller it is, in the sheet's words
	Hitch  string                   // where the line is made fast on it, likewise
	Pieces []Piece                  // the gear and the anchors on the list
	Called func(word string) string // of which vehicle a word was told first: "load", "puller" or neither
	Drives bool                     // whoever writes drives the puller: their seat is there
}

// A Piece is one of the gear or of the anchors on the list.
type Piece struct {
	At    string // "gear[2]"
	Kind  string
	Name  string
	Label string // by which it is told from its like: "sling 2"
	Count int    // how many of gear there are
}

// at returns the piece at a place.
func (k Known) at(place string) Piece {
	for _, p := range k.Pieces {
		if p.At == place {
			return p
		}
	}
	return Piece{}
}

// numbered returns the piece that goes by a kind and a number, when it is one
// that the words before it name.
func (k Known) numbered(kind, number string) (Piece, bool) {
	for _, p := range k.Pieces {
		words := strings.Fields(p.Label)
		if p.Kind == kind && number == "1" && !k.another(p) {
			return p, true // the only one is the first
		}
		if p.Kind == kind && len(words) > 1 && words[len(words)-1] == number {
			return p, true
		}
	}
	return Piece{}, false
}

// next reports whether a number is that of one more of a kind than the list has.
func (k Known) next(kind, number string) bool {
	n := 0
	for _, p := range k.Pieces {
		if p.Kind == kind {
			n++
		}
	}
	return n > 0 && number == itoa(n+1)
}

// another reports whether the list has another piece of a kind.
func (k Known) another(of Piece) bool {
	return slices.ContainsFunc(k.Pieces, func(p Piece) bool { return p.Kind == of.Kind && p.At != of.At })
}

// calls returns of which vehicle a name was told first: "load", "puller" or neither.
func (k Known) calls(name string) string {
	if k.Called == nil {
		return ""
	}
	return k.Called(name[strings.LastIndexByte(name, ' ')+1:])
}

// machine returns the anchor that is a machine of that name, where the stuck
// vehicle does not go by it too.
func (k Known) machine(name string) (Piece, bool) {
	if k.calls(name) == "load" {
		return Piece{}, false
	}
	for _, p := range k.Pieces {
		if p.Kind == "vehicle" && strings.HasPrefix(p.At, "anchors") && p.Name != "" && sameName(p.Name, name) {
			return p, true
		}
	}
	return Piece{}, false
}

// sameName reports whether two names end in the same word: the big oak is the oak.
func sameName(a, b string) bool {
	last := func(s string) string { return strings.ToLower(s[strings.LastIndexByte(s, ' ')+1:]) }
	return last(a) == last(b)
}

// isPiece reports whether what a message names may be the piece that is asked
// about: it is of that piece's kind, and of its name where both have one.
func (m *message) isPiece(kind, name string) bool {
	if m.asked.path == "" {
		return m.asked.class == "anchor" || m.asked.kind == kind
	}
	p := m.known.at(strings.TrimSuffix(m.asked.path, "."))
	return p.Kind == "" || p.Kind == kind && (p.Name == "" || name == "" || sameName(p.Name, name))
}

// otherThanAsked reports whether the words about a piece say that it is another than the
// one that is asked about: "the second oak" where the first is asked, "the tree next to it".
func (m *message) otherThanAsked(it *item) bool {
	place := strings.TrimSuffix(m.asked.path, ".")
	if place == "" {
		return false
	}
	nth, of := 0, m.known.at(place)
	for _, p := range m.known.Pieces {
		if p.At == place {
			break
		}
		if p.Kind == of.Kind {
			nth++
		}
	}
	for i := it.from - 1; i >= max(it.clause.from, it.from-3); i-- {
		switch w := m.word(i); {
		case w == "second" || w == "2nd":
			return nth != 1
		case w == "third" || w == "3rd":
			return nth != 2
		case w == "other":
			return nth == 0
		case w == "another" || w == "next":
			return true
		}
	}
	return m.word(it.to) == "next" && m.word(it.to+1) == "to" || (m.word(it.to) == "beside" || m.word(it.to) == "behind") && m.word(it.to+1) == "it"
}

// nth returns the nth piece of a kind where some are counted together, and how many go
// with it: the second of two blocks is one of the two.
func (k Known) nth(kind string, n int) (p Piece, ok bool) {
	for _, p := range k.Pieces {
		if p.Kind != kind || !strings.HasPrefix(p.At, "gear") {
			continue
		}
		if n -= max(1, p.Count); n <= 0 {
			return p, true
		}
	}
	return Piece{}, false
}

// ordinals are the words by which one of several is picked.
var ordinals = map[string]int{"first": 1, "1st": 1, "second": 2, "2nd": 2, "third": 3, "3rd": 3, "fourth": 4, "4th": 4}

// byOrdinal makes a head of the piece of the list that is named by its place among its
// kind, "the second block".
func (m *message) byOrdinal(it *item, kind string) *head {
	at := it.from - 1
	if some := m.someOfThose(it, kind); some != nil {
		return some
	}
	n := ordinals[m.word(at)]
	if n == 0 || at < it.clause.from || m.word(at-1) != "the" && m.word(at-1) != "that" && m.word(at-1) != "our" {
		return nil
	}
	p, ok := m.known.nth(kind, n)
	if !ok {
		return nil
	}
	if o := m.itemAt(at); o != nil {
		o.used, o.q = true, nil
	}
	return m.oneOf(p)
}

// someOfThose makes a head of some of the pieces that the list counts together, "one of
// the shackles"; nil where it may be of several.
func (m *message) someOfThose(it *item, kind string) *head {
	if m.word(it.from-2) != "of" || !lists.has(m.word(it.from-1), "those") {
		return nil
	}
	of := m.itemAt(it.from - 3)
	n, words := 0, 0
	if of != nil && of.clause == it.clause {
		n, words = m.smallNumber(of.from)
	}
	var those []Piece
	for _, p := range m.known.Pieces {
		if p.Kind == kind && strings.HasPrefix(p.At, "gear") {
			those = append(those, p)
		}
	}
	if n == 0 || words != of.to-of.from || len(those) != 1 || those[0].Count <= n {
		return nil
	}
	of.used, of.q = true, nil
	it.clause.one = false
	h := m.oneOf(those[0])
	if h.part != "" {
		h.count = n
		for _, o := range m.heads {
			if o.path == those[0].At+"." {
				o.count = those[0].Count - n
			}
		}
	}
	return h
}

// oneOf returns the head of a piece of the list, or of one of those that it counts, which
// leaves one fewer there.
func (m *message) oneOf(p Piece) *head {
	for _, h := range m.heads {
		if h.path == p.At+"." && !h.parted || h.part == p.At {
			return h
		}
	}
	if p.Count < 2 {
		if m.asked != nil && m.asked.path == p.At+"." {
			return m.asked
		}
		h := newHead("gear", p.At+".")
		h.kind = p.Kind
		return h
	}
	rest := newHead("gear", p.At+".")
	if m.asked != nil && m.asked.path == rest.path {
		rest = m.asked
	}
	rest.kind, rest.count, rest.parted = p.Kind, p.Count-1, true
	if !slices.Contains(m.heads, rest) {
		m.heads = append(m.heads, rest)
	}
	h := m.piece(p.Kind, "")
	h.count, h.fresh, h.adds, h.part = 1, true, true, p.At
	return h
}

// byNumber makes a head of the piece that is named by its number: "sling 2".
func (m *message) byNumber(it *item, kind string) *head {
	next := m.word(it.to)
	p, ok := m.known.numbered(kind, next)
	oneMore := !ok && m.known.next(kind, next)
	if !ok && !oneMore || it.to > it.clause.to-1 || slices.Contains([]string{"of", "x", "off", "m", "t", "mm", "each", "more"}, m.word(it.to+1)) && m.tokens[it.to].mark == unbroken {
		return nil
	}
	for _, o := range it.clause.items {
		if o.from == it.to {
			if o.q != nil && !o.q.bare() {
				return nil
			}
			o.used, o.q = true, nil
			it.clause.one = false
		}
	}
	if n, err := strconv.Atoi(next); oneMore && err == nil {
		if p, counted := m.known.nth(kind, n); counted {
			return m.oneOf(p) // "block 2" of two that were counted together
		}
	}
	if oneMore { // "rope 2" where there is one
		h := newHead("gear", "")
		h.kind, h.fresh, h.adds = kind, true, true
		return h
	}
	for _, h := range m.heads {
		if h.path == p.At+"." {
			return h
		}
	}
	if m.asked != nil && m.asked.path == p.At+"." {
		return m.asked
	}
	h := newHead("gear", p.At+".")
	h.kind = kind
	return h
}

// lettered returns the name of a piece that goes by a capital behind what it is, "block A"
// of "snatch block A"; empty where it goes by none.
func (m *message) lettered(it *item, kind string) string {
	if it.to >= it.clause.to || m.tokens[it.to-1].mark != unbroken || strings.ToUpper(m.text) == m.text {
		return ""
	}
	by := m.itemAt(it.to)
	letter := m.text[m.tokens[it.to].from:m.tokens[it.to].to]
	if by == nil || by.to-by.from != 1 || len(letter) != 1 || letter < "A" || letter > "E" {
		return ""
	}
	by.used = true
	return kind + " " + letter
}

// nicknames makes a vehicle of a word in no list by which one was told of
// before, where the message says what it weighs: "the rattler is 4.1 t".
func (m *message) nicknames() {
	if m.known.Called == nil {
		return
	}
	for i, it := range m.items {
		if it.means != nil || it.q != nil || i+1 >= len(m.items) {
			continue
		}
		weight := it.to
		for slices.Contains([]string{"is", "weighs", "about", "only", "actually", "itself", "s", "at"}, m.word(weight)) {
			weight++
		}
		heavy := slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.from == weight && o.q != nil && o.q.is(mass) && !stamped(o) })
		if !heavy {
			continue
		}
		switch m.known.calls(m.word(it.from)) {
		case "puller":
			it.means, it.name = map[string]string{"vehicle": "puller", "called": "puller"}, m.word(it.from)
		case "load":
			it.means, it.name = map[string]string{"vehicle": "casualty"}, m.word(it.from)
		}
	}
}

// partOf reports whether a winch is named only for a part of it: its wire, the
// frame that it stands on.
func (m *message) partOf(it *item) bool {
	return it.has("winch") && m.tokens[it.to-1].mark == unbroken && slices.ContainsFunc(it.clause.items, func(o *item) bool {
		return o.from == it.to && (o.has("end") || o.has("gear") || o.has("wire")) && !o.has("vehicle")
	})
}

// plateOn reports whether a place is named for the plate that is read there.
func (m *message) plateOn(it *item) bool {
	for i := it.from - 1; i > it.clause.from; i-- {
		switch w := m.word(i); {
		case w == "on" || w == "at":
			return slices.Contains([]string{"plate", "stamp", "stamped", "tag", "sticker", "label", "marked", "printed", "written"}, m.word(i-1))
		case !slices.Contains([]string{"the", "its", "winch", "machine", "tractor"}, w):
			return false
		}
	}
	return false
}
