package bound

import "math"

// figure is a number as it stood in the text.
type figure struct {
	value float64
	form  form
	part  bool    // a part of one: "half", "3/4"; "of a" may follow
	pair  bool    // "a couple"; "of" may follow
	many  float64 // the hundred, thousand or k it ended in, else zero
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
		if f = s.multiplied(f); f.many == 0 && f.value == math.Trunc(f.value) {
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
	for {
		m := s.peek(0)
		by := multipliers[m.text]
		if m.is("k") && m.glued {
			by = 1000
		}
		if m.kind != word || by == 0 || by <= f.many {
			return f
		}
		s.at++
		f = figure{value: f.value * by, pair: f.pair, many: by}
	}
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
		if s.take("a", "an") {
			s.take("-") // two-and-a-half
		}
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

// refusedFraction reports whether a fraction comes next that slashed does not take.
func (s *scan) refusedFraction() bool {
	return s.peek(0).kind == numeral && s.peek(1).is("/") && s.peek(2).kind == numeral
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
		if s.refusedFraction() {
			return figure{}, false
		}
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
		if f.form == formWhole {
			if v, ok := s.decimals(); ok {
				f = figure{value: t.value + v}
			}
		}
		return f, true
	}
	return s.spelled()
}
