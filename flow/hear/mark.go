package hear

import (
	"slices"
	"strings"
)

// What the gear shows once it is off is told in a few words about one piece each: "one of
// the slings has a small cut". A piece that nobody named is none: nothing is broken, and
// gloves are no gear.

// A Mark is something that a message says a piece marks1.
type Mark struct {
	What  string // as the table of what is retired calls it
	Kind  string // of the piece; empty where it is none that is known
	Use   string // where its name tells it
	Point string // tow-point or hitch, for what is no gear
	Said  string // the piece as it was named; empty for none
}

var marks1 = load("mark")

// points are what no piece of gear is and shows marks all the same.
var points = []struct{ name, use string }{
	{"tow eye", "tow-point"}, {"towing eye", "tow-point"}, {"tow point", "tow-point"}, {"tow hook", "tow-point"}, {"recovery point", "tow-point"},
	{"hitch", "hitch"}, {"drawbar", "hitch"}, {"holding point", "holding-point"},
}

// markSpan is a stretch of a message about one piece.
type markSpan struct{ from, to, sentence int }

// Marks reads what the pieces show that a message names, in its order. What is shown of
// nothing that is gear has no piece.
func Marks(text string) []Mark {
	tokens := tokenize(Straight(text))
	if len(tokens) == 0 {
		return nil
	}
	m := newMessage(text, tokens, TopicNone)
	var out []Mark
	var last Mark // the piece that was named last in the sentence
	denied, sentence := false, 0
	for _, s := range m.spans() {
		if s.sentence != sentence {
			last, denied, sentence = Mark{}, false, s.sentence
		}
		piece, at := m.pieceIn(s)
		if !(denied && m.onlyMarks(s)) { // "no cuts, bends or cracks"
			denied = false
		}
		for i := s.from; i < s.to; {
			p := marks1.longest(tokens, i)
			if p == nil || i+len(p.words) > s.to {
				i++
				continue
			}
			next := i + len(p.words)
			switch {
			case p.means["none"] != "":
				denied = true
			case p.means["mark"] == "", denied, m.doesIt(i, next):
			default:
				of := piece
				if at < 0 && last.Said != "" && m.onlyPart(s.from, i) {
					of = last
				}
				of.What = p.means["mark"]
				if of.What == "wobbles" && of.Kind != "" { // only a block has a sheave
					of = Mark{What: of.What, Kind: "block", Said: "block"}
				}
				if !slices.Contains(out, of) {
					out = append(out, of)
				}
			}
			i = next
		}
		if at >= 0 {
			last = piece
		}
	}
	return out
}

// spans cut a message at its marks, and where it goes on to another piece.
func (m *message) spans() []markSpan {
	var out []markSpan
	for _, c := range m.clauses {
		from := c.from
		for i := c.from; i < c.to; i++ {
			if slices.Contains([]string{"and", "n", "but", "also", "plus"}, m.word(i)) && i > from {
				out = append(out, markSpan{from, i, c.sentence})
				from = i + 1
			}
		}
		if from < c.to {
			out = append(out, markSpan{from, c.to, c.sentence})
		}
	}
	return out
}

// pieceIn is the piece that a span names first, and where; -1 for none.
func (m *message) pieceIn(s markSpan) (Mark, int) {
	for _, it := range m.items {
		if it.from < s.from || it.to > s.to || !it.has("gear") || m.isPartOf(it, s) {
			continue
		}
		kind, more, _ := strings.Cut(it.means["gear"], " ")
		p := Mark{Kind: kind, Said: it.name}
		if use, ok := strings.CutPrefix(more, "use="); ok {
			p.Use = use
		}
		if next := m.itemAt(it.to); next != nil && next.to <= s.to && next.q != nil && next.q.bare() {
			if n, ok := next.q.count(); ok {
				p.Said += " " + n
			}
		}
		return p, it.from
	}
	said := " "
	for i := s.from; i < s.to; i++ {
		said += m.word(i) + " "
	}
	for _, p := range points {
		if strings.Contains(said, " "+p.name+" ") {
			return Mark{Point: p.use, Said: p.name}, s.from
		}
	}
	for _, it := range m.items {
		if it.from >= s.from && it.to <= s.to && it.has("anchor") {
			return Mark{Said: it.name}, it.from
		}
	}
	return Mark{}, -1
}

// isPartOf reports whether what is named is a part of another piece that the span names: the
// hook of a chain.
func (m *message) isPartOf(it *item, s markSpan) bool {
	return marks1.is(m.word(it.from), "part") && slices.ContainsFunc(m.items, func(o *item) bool {
		return o != it && o.from >= s.from && o.to <= s.to && o.has("gear") && !marks1.is(m.word(o.from), "part")
	})
}

// doesIt reports whether a word is what somebody or something does, and no mark: "cut his
// finger", "has cut a groove".
func (m *message) doesIt(from, to int) bool {
	return to-from == 1 && slices.Contains([]string{"cut", "broke", "burned", "burnt", "stretched", "snapped"}, m.word(from)) &&
		slices.Contains([]string{"a", "an", "the", "his", "her", "my", "our", "their", "it", "into", "up"}, m.word(to)) && !slices.Contains([]string{"a", "is", "was"}, m.word(from-1))
}

// onlyPart reports whether words name no more than a part of the piece before.
func (m *message) onlyPart(from, to int) bool {
	for i := from; i < to; i++ {
		w := m.word(i)
		if !marks1.is(w, "part") && !marks1.is(w, "mark") && !slices.Contains([]string{"the", "a", "an", "is", "was", "are", "has", "got", "bit", "little", "slightly", "small", "on", "of", "at", "in", "near", "looks", "some", "very", "quite", "or", "too"}, w) {
			return false
		}
	}
	return true
}

// onlyMarks reports whether a span names marks and nothing else.
func (m *message) onlyMarks(s markSpan) bool {
	for i := s.from; i < s.to; i++ {
		if w := m.word(i); !marks1.is(w, "mark") && w != "or" && w != "any" {
			return false
		}
	}
	return true
}
