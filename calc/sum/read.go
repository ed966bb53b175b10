package sum

import (
	"maps"
	"slices"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/job"
)

// Rules of the sentence reader. A sentence is a sum's name and its values; a
// value may be named before it (force 838 N, force=838 N), behind it (2 legs,
// 3.5 m long), or not at all where no other key of the sum could be meant (at 7
// degrees). Every word must have a use: one that has none is refused by name.
// If two readings differ, neither is taken.

// longest is how much of a sentence is read, in bytes.
const longest = 400

// widest is how many words one value has at most: level 48 in, gap 9 in.
const widest = 8

// fillers join values and say nothing themselves.
var fillers = []string{"at", "of", "with", "and", "on", "in", "by", "for", "to", "from", "a", "an", "the", "is", "are", "per"}

// Read reads a sum as a person writes it, "sum side pull 838 N at 7 degrees" or
// "sling-leg mass=5t legs=2 length=3.5m height=2m", into what [Run] takes. What it
// leaves out, Run asks for.
//
// Errors: *job.FieldError, one line that names what was not understood and shows
// a call that works.
func Read(text string) (name string, args map[string]string, err error) {
	if len(text) > longest {
		return "", nil, refuse("", "that is too long for a sum; write its name and its values, such as side pull 838 N at 7 degrees")
	}
	words := split(text)
	if len(words) > 0 && words[0] == "sum" {
		words = words[1:]
	}
	e, rest, err := named(words)
	if err != nil {
		return "", nil, err
	}
	p := newParse(e, rest)
	for _, w := range rest {
		if key, isKey := strings.CutSuffix(w, "="); isKey {
			if _, ok := e.key(key); !ok {
				return "", nil, e.unknownKey(key)
			}
		}
	}
	args, err = p.best()
	if err != nil {
		return "", nil, err
	}
	return e.name, args, nil
}

// split cuts a sentence into words in small letters, without the marks behind
// them. A key with its equals sign is one word.
func split(text string) []string {
	text = strings.ReplaceAll(text, "=", "= ")
	var words []string
	for _, w := range strings.Fields(text) {
		if w == "=" && len(words) > 0 && !strings.HasSuffix(words[len(words)-1], "=") {
			words[len(words)-1] += "="
			continue
		}
		if strings.HasSuffix(w, "=") {
			words = append(words, strings.ToLower(w))
			continue
		}
		if w = strings.TrimRight(w, ",;:.?!"); w != "" {
			words = append(words, w)
		}
	}
	for i, w := range words {
		if strings.EqualFold(w, "sum") && i == 0 {
			words[i] = "sum"
		}
	}
	return words
}

// other names that a sum goes by.
var called = map[string]string{
	"sling": "sling-leg", "sling-legs": "sling-leg", "block": "block-load", "shackle": "shackle-rule", "rope": "rope-rule",
	"picket": "pickets", "dead-man": "deadman", "side-load": "side-pull", "step": "lip", "snub": "post",
}

// canonical is how a sum's key spells what stands for one of its words, so that
// "grade 70" and "70" are one reading.
func (e *entry) canonical(name, value string) string {
	if k, _ := e.key(name); k.kind == aWord {
		if w, ok := k.fits(value); ok {
			return w
		}
	}
	return value
}

// longestName is how many words a sum's name has at most.
const longestName = 2

// named finds the sum that words begin with, the longest name first. Where they
// begin with a figure, 5 steel pickets in loam, it is the one named further on.
func named(words []string) (*entry, []string, error) {
	if len(words) == 0 {
		return nil, nil, refuse("", "which sum; there are %s", strings.Join(Names(), ", "))
	}
	for at := range words {
		if at > 0 && !strings.ContainsAny(words[0][:1], "0123456789") {
			break
		}
		for n := min(longestName, len(words)-at); n > 0; n-- {
			if e := spelled(words[at : at+n]); e != nil {
				return e, slices.Concat(words[:at], words[at+n:]), nil
			}
		}
	}
	name := strings.ToLower(words[0])
	if two := strings.ToLower(strings.Join(words[:min(longestName, len(words))], "-")); job.Nearest(two, Names()) != "" && !strings.ContainsAny(two, "0123456789") {
		name = two
	}
	return nil, nil, unknownName(name)
}

// spelled returns the sum of that name, with or without its hyphen.
func spelled(words []string) *entry {
	name := strings.ToLower(strings.Join(words, "-"))
	if other, ok := called[name]; ok {
		name = other
	}
	for i := range entries {
		if strings.ReplaceAll(name, "-", "") == strings.ReplaceAll(entries[i].name, "-", "") {
			return &entries[i]
		}
	}
	return nil
}

// parse tries every way to divide a sentence among a sum's keys.
type parse struct {
	entry *entry
	words []string
	seen  map[state][]map[string]string
	runs  map[run][]int // what values found
	far   int           // the first word that no way got past
}

func newParse(e *entry, words []string) *parse {
	return &parse{entry: e, words: words, seen: map[state][]map[string]string{}, runs: map[run][]int{}}
}

// state is where a way is: the next word, and the keys that have a value.
type state struct{ at, used int }

// run is where a value of a key may begin.
type run struct {
	key string
	at  int
}

// best returns the one reading that takes every word. A reading that has all its
// keys goes before one that lacks some.
func (p *parse) best() (map[string]string, error) {
	ways := p.ways(state{})
	if len(ways) == 0 {
		if p.far >= len(p.words) {
			p.far = max(0, len(p.words)-1)
		}
		return nil, refuse("", "%q does not fit in a %s sum; write %s, %s", clip(p.text(p.far, len(p.words))), p.entry.name, p.entry.usage(), p.entry.such())
	}
	whole := slices.DeleteFunc(slices.Clone(ways), func(args map[string]string) bool { return p.entry.choose(args) != nil })
	switch len(whole) {
	case 0:
		return ways[0], nil // Run asks for what it lacks
	case 1:
		return whole[0], nil
	}
	for _, k := range p.entry.keys {
		if whole[0][k.name] != whole[1][k.name] {
			return nil, refuse(k.name, "this can be read in two ways; name each value, %s", p.entry.such())
		}
	}
	panic("sum: two equal readings")
}

// mostWays is how many readings are told apart: more than two is not needed, but
// one that lacks a key must not hide one that does not.
const mostWays = 8

// ways returns the different readings of the words from here on.
func (p *parse) ways(from state) []map[string]string {
	if from.at > p.far {
		p.far = from.at
	}
	if from.at == len(p.words) {
		return []map[string]string{{}}
	}
	if ways, ok := p.seen[from]; ok {
		return ways
	}
	var ways []map[string]string
	add := func(rest []map[string]string, key, value string) {
		for _, r := range rest {
			way := maps.Clone(r)
			if key != "" {
				way[key] = p.entry.canonical(key, value)
			}
			if len(ways) < mostWays && !slices.ContainsFunc(ways, func(w map[string]string) bool { return maps.Equal(w, way) }) {
				ways = append(ways, way)
			}
		}
	}
	if p.says(from.at) {
		add(p.ways(state{from.at + 1, from.used}), "", "")
	}
	for i, k := range p.entry.keys {
		if from.used>>i&1 == 1 {
			continue
		}
		used := from.used | 1<<i
		for _, n := range p.before(k, from.at) { // force 838 N
			for at := from.at + n; ; at++ {
				for _, end := range p.values(k, at) {
					add(p.ways(state{end, used}), k.name, p.text(at, end))
				}
				if at >= len(p.words) || !slices.Contains(fillers, strings.ToLower(p.words[at])) {
					break
				}
			}
		}
		for _, end := range p.values(k, from.at) {
			value := p.text(from.at, end)
			for _, n := range p.after(k, end) { // 2 legs
				add(p.ways(state{end + n, used}), k.name, value)
			}
			if !k.named || k.kind == aNumber && slices.Contains(k.words, strings.ToLower(value)) {
				add(p.ways(state{end, used}), k.name, value)
			}
		}
	}
	p.seen[from] = ways
	return ways
}

func (p *parse) text(from, to int) string { return strings.Join(p.words[from:to], " ") }

// says reports whether a word may be passed over.
func (p *parse) says(at int) bool {
	w := strings.ToLower(p.words[at])
	return slices.Contains(fillers, w) || slices.Contains(p.entry.noise, w)
}

// phrase returns how many words of the sentence spell a phrase, 0 if they don't.
func (p *parse) phrase(phrase string, at int) int {
	words := strings.Fields(phrase)
	if at+len(words) > len(p.words) {
		return 0
	}
	for i, w := range words {
		if strings.ToLower(p.words[at+i]) != w {
			return 0
		}
	}
	return len(words)
}

// before returns how many words the names of a key take that begin here.
func (p *parse) before(k key, at int) []int {
	var took []int
	for _, name := range append([]string{k.name, k.name + "=", spoken(k.name)}, k.before...) {
		if n := p.phrase(name, at); n > 0 && !slices.Contains(took, n) {
			took = append(took, n)
		}
	}
	return took
}

// after is before for the names that come behind a value.
func (p *parse) after(k key, at int) []int {
	var took []int
	for _, name := range k.after {
		if n := p.phrase(name, at); n > 0 && !slices.Contains(took, n) {
			took = append(took, n)
		}
	}
	return took
}

// values returns the ends of every run of words from here that reads as a value
// of the key. A value begins and ends with a word of its own.
func (p *parse) values(k key, at int) []int {
	if ends, ok := p.runs[run{k.name, at}]; ok {
		return ends
	}
	var ends []int
	for end := at + 1; end <= min(at+widest, len(p.words)); end++ {
		if strings.HasSuffix(p.words[end-1], "=") {
			break
		}
		if k.reads(p.text(at, end)) {
			ends = append(ends, end)
		}
	}
	// 12 ft 6 in is no 12 ft 6 with an idle "in" behind it.
	ends = slices.DeleteFunc(ends, func(end int) bool {
		return slices.ContainsFunc(ends, func(later int) bool { return end < later && p.idle(end, later) })
	})
	p.runs[run{k.name, at}] = ends
	return ends
}

// idle reports whether words are nothing but fillers.
func (p *parse) idle(from, to int) bool {
	for _, w := range p.words[from:to] {
		if !slices.Contains(fillers, strings.ToLower(w)) {
			return false
		}
	}
	return true
}

// reads reports whether text is a value of the key.
func (k key) reads(text string) bool {
	var err error
	switch k.kind {
	case aMass:
		_, err = bound.ReadMass(text)
	case aForce:
		_, err = bound.ReadForce(text)
	case aLength:
		_, err = bound.ReadLength(text)
	case aSlope:
		_, err = bound.ReadSlope(text)
	case anAngle:
		if _, err = bound.ReadAngle(text); err != nil {
			_, err = bound.ReadSlope(text)
		}
	case aNumber:
		if _, err = bound.ReadRatio(text); err != nil {
			return slices.Contains(k.words, strings.ToLower(text))
		}
	case aCount:
		_, err = bound.ReadCount(text)
	case aList:
		_, err = wholes(text)
	case aWord:
		_, ok := k.fits(text)
		return ok
	}
	return err == nil
}
