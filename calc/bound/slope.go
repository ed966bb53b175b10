package bound

import (
	"math"
	"slices"

	"linetender/calc/unit"
)

// ReadSlope reads a slope from level, below 90°: in degrees, in per cent, as a
// rise in a level run (1 in 4), or as what a level or a board shows.
//
//	level 48 in, gap 9 in    level held horizontal, gap under its low end: the tangent
//	board 48 in, rise 9 in   board lying on the slope, height between its ends: the sine
//
// "Rise 9 in, run 48 in" is the first of the two under other names. All three
// count as measured.
//
// Errors: *ReadError, also where the rise exceeds the board.
func ReadSlope(text string) (Reading[unit.Angle], error) {
	d := slopeText
	refuse := func(f *fault) (Reading[unit.Angle], error) { return Reading[unit.Angle]{}, d.refuse(text, f) }
	tokens, f := tokenize(text)
	if f != nil {
		return refuse(f)
	}
	var r Reading[unit.Angle]
	if a, ok := oneInOn(tokens); ok {
		r = a
	} else if slices.ContainsFunc(tokens, func(t token) bool { return shows[t.text] != "" && t.kind == word }) {
		if r, f = measured(tokens); f != nil {
			return refuse(f)
		}
	} else {
		if n := len(tokens); n > 1 && slices.ContainsFunc([]string{"grade", "gradient", "slope", "incline"}, tokens[n-1].is) {
			tokens = tokens[:n-1]
		}
		p, f := d.read(tokens)
		if f != nil {
			return refuse(f)
		}
		r = reading[unit.Angle](p)
	}
	if !(r.Value.High.Degrees() < 90) {
		return refuse(&fault{problem: "is upright or steeper", wants: "a slope below 90 degrees"})
	}
	return r, nil
}

// oneInOn reads "3 in 10 on the level" and "3 in 10 on the board". The first says
// only which way the 10 lies and may still be by eye; a board was laid down.
func oneInOn(tokens []token) (r Reading[unit.Angle], ok bool) {
	s := &scan{tokens: tokens}
	a, ok := oneIn(s)
	if !ok || !s.take("on", "along") {
		return r, false
	}
	s.take("the", "a")
	r.Unit = a.scale.name
	slope := math.Atan
	switch board := s.take("board"); {
	case board && a.low <= 1:
		r.Unit, r.Measured, slope = "board", true, math.Asin
	case board || !s.take("level"):
		return Reading[unit.Angle]{}, false
	}
	r.Value = Exactly(unit.Radians(slope(a.low)))
	r.Bare = r.Value
	return r, s.done()
}

// shows names what each word of a measured slope stands for.
var shows = map[string]string{"level": "along", "board": "along", "run": "along", "gap": "up", "rise": "up"}

// Words that only join the two lengths.
var joining = []string{",", ";", ":", "=", "and", "with", "of", "is", "a", "an", "the", "on", "under", "over", "at"}

// measured reads two lengths and the word that belongs to each, before or behind it.
func measured(tokens []token) (Reading[unit.Angle], *fault) {
	var words []string
	var pieces [][]token
	piece := []token{}
	for _, t := range tokens {
		if t.kind == word && shows[t.text] != "" {
			words = append(words, t.text)
			pieces = append(pieces, piece)
			piece = nil
			continue
		}
		piece = append(piece, t)
	}
	pieces = append(pieces, piece)
	for i := range pieces {
		pieces[i] = trim(pieces[i])
	}
	wrong := &fault{problem: "is no level with its gap and no board with its rise", wants: "both lengths with their unit",
		example: "level 48 in, gap 9 in or board 48 in, rise 9 in"}
	if len(words) != 2 {
		return Reading[unit.Angle]{}, wrong
	}
	switch {
	case len(pieces[0]) == 0 && len(pieces[2]) == 0:
		// rise 9 in on a 48 in board
		i := slices.IndexFunc(pieces[1], func(t token) bool { return slices.ContainsFunc(joining, t.is) && !t.is("and") && !t.is("a") })
		if i < 0 {
			return Reading[unit.Angle]{}, wrong
		}
		pieces = [][]token{trim(pieces[1][:i]), trim(pieces[1][i:])}
	case len(pieces[0]) == 0 && len(pieces[1]) > 0 && len(pieces[2]) > 0:
		pieces = pieces[1:]
	case len(pieces[2]) == 0 && len(pieces[0]) > 0 && len(pieces[1]) > 0:
		pieces = pieces[:2]
	default:
		return Reading[unit.Angle]{}, wrong
	}
	if shows[words[0]] == "up" {
		slices.Reverse(words)
		slices.Reverse(pieces)
	}
	pair := words[0] + " " + words[1]
	if pair != "level gap" && pair != "board rise" && pair != "run rise" {
		return Reading[unit.Angle]{}, wrong
	}
	along, f := lengthText.read(pieces[0])
	up, g := lengthText.read(pieces[1])
	if f == nil {
		f = g
	}
	if f != nil {
		name := words[0]
		if along.name != "" {
			name = words[1]
		}
		return Reading[unit.Angle]{}, &fault{problem: "has a " + name + " that " + f.problem, wants: wrong.wants, example: wrong.example}
	}
	if !(along.low > 0) {
		return Reading[unit.Angle]{}, &fault{problem: "has a " + words[0] + " of no length", wants: wrong.wants, example: wrong.example}
	}
	name, slope := "level", math.Atan
	if words[0] == "board" {
		if !(up.high <= along.low) {
			return Reading[unit.Angle]{}, &fault{problem: "has a rise above the length of the board",
				wants: "a rise that is less than the board", example: "board 48 in, rise 9 in"}
		}
		name, slope = "board", math.Asin
	}
	// The slope rises with the rise and falls with the length, so the ends pair crosswise.
	best := unit.Radians(slope(up.best / along.best))
	return Reading[unit.Angle]{
		Value: Of[unit.Angle]{
			Low:  unit.Radians(slope(up.low / along.high)),
			Best: best,
			High: unit.Radians(slope(up.high / along.low)),
		},
		Bare: Exactly(best),
		Unit: name, System: max(along.system, up.system), Ranged: along.ranged || up.ranged, Ends: along.ends || up.ends,
		Rough: along.rough || up.rough, Measured: true,
	}, nil
}

// trim drops the words that join from both ends.
func trim(piece []token) []token {
	joins := func(t token) bool { return slices.ContainsFunc(joining, t.is) }
	for len(piece) > 0 && joins(piece[0]) {
		piece = piece[1:]
	}
	for len(piece) > 0 && joins(piece[len(piece)-1]) {
		piece = piece[:len(piece)-1]
	}
	return piece
}
