package hear

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"linetender/calc/bound"
)

// dim is a set of what a quantity may be.
type dim uint8

const (
	mass  dim = 1 << iota
	force     // a mass word may be a force too
	length
	slope
	angle
)

// A quantity is a figure with its unit, as it stood; or a bare number.
type quantity struct {
	text     string
	dims     dim // none: a bare number
	number   float64
	unit     string // short name
	si       float64
	vague    bool
	rough    bool
	measured bool // a slope by level or board
	ranged   bool
	total    bool      // a sum of several
	other    *quantity // what may be meant in its place
}

func (q *quantity) bare() bool    { return q.dims == 0 }
func (q *quantity) is(d dim) bool { return q.dims&d != 0 }

// small reports whether q came in a unit that thicknesses are told in.
func (q *quantity) small() bool { return slices.Contains([]string{"mm", "cm", "in"}, q.unit) }

// mostTokens is how many words a figure with its unit may have: "between two
// and a half and three and a half metric tonnes".
const mostTokens = 12

// quantityAt returns the longest quantity with a unit at tokens[i] and how
// many tokens it takes, or nil.
func (m *message) quantityAt(i int) (*quantity, int) {
	shown := shows[m.tokens[i].text]
	if !shown && !m.tokens[i].figure() && !talk.is(m.tokens[i].text, "number") && !talk.is(m.tokens[i].text, "figure") {
		return nil, 0
	}
	end := i
	for end < len(m.tokens) && end < i+mostTokens {
		end++
		shown = shown || shows[m.tokens[end-1].text]
		if k := m.tokens[end-1].mark; k >= full || k == comma && !shown && !m.shownAfter(end) {
			break
		}
	}
	for j := end; j > i; j-- {
		if q := m.span(i, j); q != nil {
			return q, j - i
		}
	}
	return nil, 0
}

// shows are the words that make two lengths a slope.
var shows = map[string]bool{"level": true, "board": true, "gap": true, "rise": true, "run": true}

// shownAfter reports whether a rise or a gap may still come behind a comma.
func (m *message) shownAfter(i int) bool {
	for ; i < len(m.tokens) && m.tokens[i-1].mark < full; i++ {
		if t := m.tokens[i].text; t == "gap" || t == "rise" {
			return true
		}
	}
	return false
}

// longFeet is from how many feet on nobody tells a length to the inch, and an inch behind
// it is how thick a rope is: judgment.
const longFeet = 30

// span reads tokens[i:j] as one quantity with its unit.
func (m *message) span(i, j int) *quantity {
	tokens := m.tokens[i:j]
	first, last := tokens[0].text, tokens[j-i-1].text
	measure, named := talk.value(last, "measure")
	ratio := j-i >= 3 && (tokens[j-i-2].text == "in" || tokens[j-i-2].text == ":")
	if !named && !ratio && !tokens[j-i-1].figure() && !shows[last] && last != "half" && last != "quarter" {
		return nil
	}
	if (first == "ton" || first == "tonne" || first == "inch") && !m.unitAlone(i, j) {
		return nil
	}
	if j < len(m.tokens) && j-i > 1 && last == "and" && m.tokens[j].figure() {
		return nil // "50 n 60 cm" are no newtons
	}
	if last == "in" && m.inIsWord(j) || j < len(m.tokens) && m.tokens[j].text == "/" && m.tokens[j-1].figure() {
		return nil // "300 ft 1/2 inch" holds no 300 ft 1
	}
	if j-i > 2 && slices.Contains([]string{"ft", "foot", "feet"}, tokens[1].text) && tokens[2].figure() {
		if n, err := strconv.ParseFloat(first, 64); err == nil && n >= longFeet {
			return nil // "200 ft 1 inch polyester" is a rope of 200 ft, an inch thick
		}
	}
	for k := i + 1; k < j; k++ {
		if t := m.tokens[k]; t.text == "plus" && m.word(k+1) != "or" && m.word(k+1) != "minus" || m.text[t.from:t.to] == "+" {
			return nil // a weight in parts is added up where it is known whose they are
		}
	}
	if (first == "a" || first == "an") && j-i == 2 && len(last) <= 3 && last != "ton" {
		return nil // "a t junction"
	}
	text := strings.Join(strings.Fields(m.text[tokens[0].from:tokens[j-i-1].to]), " ")
	if slices.ContainsFunc(tokens, func(t token) bool { return t.text == "and" && m.text[t.from:t.to] != "and" }) {
		text = joiners.ReplaceAllString(text, " and ")
	}
	q := &quantity{text: text}
	if text == "inch" {
		text = "1 inch"
		q.text = text
	}
	switch {
	case ratio || measure == "slope" || slices.ContainsFunc(tokens, func(t token) bool { return shows[t.text] }):
		m.readSlope(q, i, j)
	case measure == "length" || measure == "":
		if r, err := bound.ReadLength(text); err == nil && !runOn(tokens, r.Ranged) {
			q.dims, q.unit, q.si, q.ranged = length, r.Unit, r.Value.Best.Metres(), r.Ranged
			q.rough = r.Rough
		}
	}
	if q.dims == 0 && measure != "length" && !ratio {
		if r, err := bound.ReadMass(text); err == nil {
			q.dims, q.unit, q.si, q.ranged = mass|force, r.Unit, r.Value.Best.Kilograms(), r.Ranged
			q.vague, q.rough = r.Vague, r.Rough
		} else if r, err := bound.ReadForce(text); err == nil {
			q.dims, q.unit, q.si, q.ranged = force, r.Unit, r.Value.Best.KilogramsForce(), r.Ranged
			q.vague, q.rough = r.Vague, r.Rough
		}
	}
	if q.dims == 0 {
		return nil
	}
	q.number, _ = strconv.ParseFloat(first, 64)
	return q
}

// joiners are what people write for and.
var joiners = regexp.MustCompile(`(?i) (?:n|nd|an|&) `)

func (m *message) readSlope(q *quantity, i, j int) {
	r, err := bound.ReadSlope(q.text)
	if err != nil {
		return
	}
	// 3 in 10 m may be 3 inches in 10 metres, or 3 inches and then 10 metres;
	// a rise above its run is more likely something else.
	if r.Unit == "1 in n" && (r.Value.High.Degrees() > 45 || j < len(m.tokens) && m.tokens[j-1].mark == unbroken && talk.is(m.tokens[j].text, "measure")) {
		return
	}
	q.dims, q.unit, q.si, q.ranged = slope, r.Unit, r.Value.Best.Degrees(), r.Ranged
	q.measured, q.rough = r.Measured, r.Rough
	if r.Unit == "deg" { // in which angles are told
		if _, err := bound.ReadAngle(q.text); err == nil {
			q.dims |= angle
		}
	}
}

// unitAlone reports whether a unit without a figure stands for one: "ton and
// a half", "inch nylon".
func (m *message) unitAlone(i, j int) bool {
	if i > 0 && (m.tokens[i-1].figure() || talk.is(m.tokens[i-1].text, "number")) {
		return false
	}
	if m.tokens[i].text == "inch" {
		return j == i+1 && j < len(m.tokens) && (talk.is(m.tokens[j].text, "material") || talk.is(m.tokens[j].text, "gear"))
	}
	return j > i+2
}

// inIsWord reports whether the word that ends before tokens[j] is no inch but
// begins "in the crew", "in mud".
func (m *message) inIsWord(j int) bool {
	if j >= len(m.tokens) || m.tokens[j-1].mark != unbroken {
		return false
	}
	next := m.tokens[j].text
	return talk.is(next, "filler") || talk.is(next, "ground") || talk.is(next, "figure") || talk.is(next, "neg") || talk.is(next, "person") ||
		slices.Contains([]string{"my", "our", "neutral", "gear", "case", "front", "all", "park", "low", "first"}, next)
}

// runOn reports whether a length in two units is two lengths that stand side
// by side: "60m 24mm rope" is no rope of 60.024 m.
func runOn(tokens []token, ranged bool) bool {
	if ranged {
		return false
	}
	var units []string
	for _, t := range tokens {
		if u, ok := talk.value(t.text, "measure"); ok && u == "length" {
			units = append(units, t.text)
		}
	}
	if len(units) < 2 && !slices.ContainsFunc(tokens, func(t token) bool { return t.text == "ft" || t.text == "foot" || t.text == "feet" }) {
		return false
	}
	figures := 0
	for i, t := range tokens {
		if part := t.text == "half" || t.text == "quarter"; t.figure() || part && i > 0 && tokens[i-1].text != "and" && tokens[i-1].text != "a" {
			figures++
		}
	}
	whole, err := strconv.ParseFloat(tokens[0].text, 64)
	return figures > 1 && len(units) > 1 && (err != nil || whole > 9 || strings.HasPrefix(units[len(units)-1], "mm"))
}

// bareAt returns the number without a unit at tokens[i].
func (m *message) bareAt(i int) *quantity {
	t := m.tokens[i].text
	if v, ok := talk.value(t, "number"); ok {
		n, _ := strconv.ParseFloat(v, 64)
		return &quantity{text: v, number: n}
	}
	if !m.tokens[i].figure() || addsOne[t] {
		return nil // "2nd" counts nothing
	}
	n, err := strconv.ParseFloat(strings.Replace(t, ",", ".", 1), 64)
	if err != nil {
		n = math.NaN()
	}
	return &quantity{text: t, number: n}
}

// count returns q as a whole number from 0 to 99 people or pieces.
func (q *quantity) count() (string, bool) {
	if !q.bare() || !(0 <= q.number && q.number < 100) || q.number != math.Trunc(q.number) {
		return "", false
	}
	return strconv.Itoa(int(q.number)), true
}

// same reports whether two quantities say the same: equal to 3 %, the slack
// that people allow themselves when they convert.
func same(a, b *quantity) bool {
	return a != nil && b != nil && a.dims&b.dims != 0 && math.Abs(a.si-b.si) <= 0.03*max(a.si, b.si)
}
