package bound

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

// spelled consumes a number in words below a million.
func (s *scan) spelled() (figure, bool) {
	if s.take("zero", "nought") {
		v, _ := s.decimals()
		return figure{value: v}, true
	}
	v, many, ok := s.hundreds()
	if !ok {
		return figure{}, false
	}
	if s.try(func() bool { s.take("-"); return s.take("thousand") }) {
		v, many = v*1000, 1000
		s.try(func() bool {
			s.take("and")
			rest, _, ok := s.hundreds()
			if !ok || rest >= 1000 || s.peek(0).is("thousand") {
				return false
			}
			v, many = v+rest, 0
			return true
		})
	}
	if d, ok := s.decimals(); ok {
		v, many = v+d, 0
	}
	return figure{value: v, many: many}, true
}

// hundreds consumes up to "ninety-nine hundred and ninety-nine"; twelve hundred
// is how the trade says it. A thousand that comes next is left to the caller,
// and counts as one of them. many is 100 if the number ended in hundred.
func (s *scan) hundreds() (value, many float64, ok bool) {
	if value, ok = s.small(); !ok {
		if !s.try(func() bool { s.take("a"); return s.peek(0).is("hundred") || s.peek(0).is("thousand") }) {
			return 0, 0, false
		}
		value = 1
	}
	if !s.try(func() bool { s.take("-"); return s.take("hundred") }) {
		return value, 0, true
	}
	value, many = value*100, 100
	s.try(func() bool {
		s.take("and")
		rest, ok := s.small()
		if !ok || s.peek(0).is("hundred") || parts[s.peek(0).text] != 0 {
			return false
		}
		value, many = value+rest, 0
		return true
	})
	return value, many, true
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
