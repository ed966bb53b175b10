package bound

import "math"

var ones = map[string]float64{
	"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
}

var teens = map[string]float64{
	"ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16,
	"seventeen": 17, "eighteen": 18, "nineteen": 19,
}

var tens = map[string]float64{
	"twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
}

var parts = map[string]float64{
	"half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fourth": 4, "fourths": 4,
	"fifth": 5, "fifths": 5, "eighth": 8, "eighths": 8, "tenth": 10, "tenths": 10, "sixteenth": 16, "sixteenths": 16,
}

// figure is a number as it stood in the text.
type figure struct {
	value float64
	form  form
	part  bool // a part of one: "half", "3/4"; "of a" may follow
	pair  bool // "a couple"; "of" may follow
	many  bool // ended in hundred, thousand or k
}

// scan walks over tokens. Its methods either consume what they name and report
// true, or leave the position alone.
type scan struct {
	tokens []token
	at     int
}

func (s *scan) done() bool { return s.at >= len(s.tokens) }

func (s *scan) peek(ahead int) token {
	if i := s.at + ahead; i < len(s.tokens) {
		return s.tokens[i]
	}
	return token{kind: sign}
}

// take consumes one of the given words or signs.
func (s *scan) take(any ...string) bool {
	for _, w := range any {
		if s.peek(0).is(w) {
			s.at++
			return true
		}
	}
	return false
}

// try runs read and puts the position back if it reports false.
func (s *scan) try(read func() bool) bool {
	back := s.at
	if read() {
		return true
	}
	s.at = back
	return false
}

// number consumes a number in figures or words, with the multiplier and the
// fraction that belong to it:
//
//	2.4 · 1 1/2 · 2½ · 5k · two and a half · twenty-four hundred · three quarters · a couple of hundred
func (s *scan) number() (f figure, ok bool) {
	ok = s.try(func() bool {
		if f, ok = s.pair(); ok {
			f = s.multiplied(f)
			return true
		}
		if f, ok = s.part(); ok {
			return true
		}
		if f, ok = s.counted(); !ok {
			return false
		}
		// "A thousand and a half" may be 1500 or 1000.5: left unread.
		if f = s.multiplied(f); !f.many && f.value == math.Trunc(f.value) {
			if tail, ok := s.andPart(); ok {
				f = s.multiplied(figure{value: f.value + tail})
			}
		}
		return true
	})
	return f, ok
}

// pair consumes "a couple", "couple of".
func (s *scan) pair() (figure, bool) {
	ok := s.try(func() bool {
		s.take("a")
		if !s.take("couple") {
			return false
		}
		s.try(func() bool { return s.take("of") && multipliers[s.peek(0).text] != 0 })
		return true
	})
	return figure{value: 2, pair: true}, ok
}

var multipliers = map[string]float64{"hundred": 100, "thousand": 1000}

// multiplied consumes the multipliers after f.
func (s *scan) multiplied(f figure) figure {
	for range 2 {
		switch m := s.peek(0); {
		case m.is("k") && m.glued:
			f.value *= 1000
		case m.kind == word && multipliers[m.text] != 0:
			f.value *= multipliers[m.text]
		default:
			return f
		}
		s.at++
		f = figure{value: f.value, many: true}
	}
	return f
}

// part consumes a number below one: 3/4, ½, half, a quarter, five eighths, five-eighths.
func (s *scan) part() (figure, bool) {
	var value float64
	ok := s.try(func() bool {
		if t := s.peek(0); t.kind == fraction {
			s.at++
			value = t.value
			return true
		}
		if v, ok := s.slashed(); ok {
			value = v
			return true
		}
		above := 1.0
		s.take("a", "an")
		if n, ok := s.small(); ok {
			above = n
			s.take("-")
		} else if t := s.peek(0); t.kind == numeral && t.form == formWhole && parts[s.peek(1).text] != 0 {
			above = t.value
			s.at++
		}
		below := parts[s.peek(0).text]
		if s.peek(0).kind != word || below == 0 || !(above < below) {
			return false
		}
		s.at++
		value = above / below
		return true
	})
	return figure{value: value, part: true}, ok
}

// slashed consumes a proper fraction in figures. 11/2 is more likely a lost space
// than five and a half.
func (s *scan) slashed() (value float64, ok bool) {
	a, stroke, b := s.peek(0), s.peek(1), s.peek(2)
	if a.kind != numeral || a.form != formWhole || !stroke.is("/") || b.kind != numeral || b.form != formWhole || !(a.value < b.value) {
		return 0, false
	}
	s.at += 3
	return a.value / b.value, true
}

// andPart consumes "and a half", "and three quarters", "and 1/2".
func (s *scan) andPart() (value float64, ok bool) {
	ok = s.try(func() bool {
		s.take("-")
		if !s.take("and") {
			return false
		}
		s.take("-")
		f, ok := s.part()
		value = f.value
		return ok
	})
	return value, ok
}

// counted consumes a whole or decimal number, with a fraction right behind it.
func (s *scan) counted() (figure, bool) {
	if t := s.peek(0); t.kind == numeral {
		s.at++
		f := figure{value: t.value, form: t.form}
		if t.form != formWhole || t.value < 1 {
			return f, true
		}
		if s.peek(0).kind == fraction {
			f = figure{value: t.value + s.peek(0).value}
			s.at++
			return f, true
		}
		s.try(func() bool { // 1 1/2 or 1-1/2
			s.take("-")
			v, ok := s.slashed()
			if !ok {
				return false
			}
			f = figure{value: t.value + v}
			return true
		})
		if v, ok := s.decimals(); ok && f.form == formWhole {
			f = figure{value: t.value + v}
		}
		return f, true
	}
	return s.spelled()
}

// spelled consumes a number in words below a million.
func (s *scan) spelled() (figure, bool) {
	if s.take("zero", "nought") {
		v, _ := s.decimals()
		return figure{value: v}, true
	}
	v, ok := s.hundreds()
	if !ok {
		return figure{}, false
	}
	many := s.tokens[s.at-1].is("hundred")
	if s.try(func() bool { s.take("-"); return s.take("thousand") }) {
		v, many = v*1000, true
		s.try(func() bool {
			s.take("and")
			rest, ok := s.hundreds()
			if !ok || rest >= 1000 || s.peek(0).is("thousand") {
				return false
			}
			v, many = v+rest, false
			return true
		})
	}
	if d, ok := s.decimals(); ok {
		v, many = v+d, false
	}
	return figure{value: v, many: many}, true
}

// hundreds consumes up to "ninety-nine hundred and ninety-nine"; twelve hundred
// is how the trade says it.
func (s *scan) hundreds() (value float64, ok bool) {
	if s.try(func() bool { s.take("a"); return multipliers[s.peek(0).text] != 0 && s.peek(0).kind == word }) {
		value = 1
		if s.peek(0).is("thousand") {
			return value, true
		}
	} else if value, ok = s.small(); !ok {
		return 0, false
	}
	if s.try(func() bool { s.take("-"); return s.take("hundred") }) {
		value *= 100
		s.try(func() bool {
			s.take("and")
			rest, ok := s.small()
			if !ok || s.peek(0).is("hundred") || parts[s.peek(0).text] != 0 {
				return false
			}
			value += rest
			return true
		})
	}
	return value, true
}

// small consumes one to ninety-nine.
func (s *scan) small() (value float64, ok bool) {
	w := s.peek(0)
	if w.kind != word {
		return 0, false
	}
	switch {
	case ones[w.text] != 0:
		s.at++
		return ones[w.text], true
	case teens[w.text] != 0:
		s.at++
		return teens[w.text], true
	case tens[w.text] != 0:
		s.at++
		value = tens[w.text]
		s.try(func() bool {
			s.take("-")
			v := ones[s.peek(0).text]
			s.at++
			if v == 0 {
				return false
			}
			value += v
			return true
		})
		return value, true
	}
	return 0, false
}

// decimals consumes "point four", "point seven five".
func (s *scan) decimals() (value float64, ok bool) {
	ok = s.try(func() bool {
		if !s.take("point") {
			return false
		}
		place := 1.0
		for n := 0; ; n++ {
			w := s.peek(0)
			d, digit := ones[w.text], w.is("zero") || w.is("nought") || w.is("oh")
			if !digit && d == 0 && w.kind == numeral && n == 0 && w.form == formWhole && len(w.text) == 1 {
				d, digit = w.value, true
			}
			if !digit && d == 0 {
				value /= place
				return n > 0
			}
			value = value*10 + d
			place *= 10
			s.at++
		}
	})
	return value, ok
}
