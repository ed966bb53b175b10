package hear

import (
	"slices"
	"strconv"
	"strings"
)

// Whether wheels turn is said in countless ways that are built alike: how many
// of how many, on which axle or side, the wheels, and a verb for turning or for
// not. "Two of the rear ones won't turn", "all four spin", "none are locked".

var (
	wheelNames = wordSet("wheel wheels tyre tyres tire tires one ones they them theyre backs rears fronts axle axles")
	onAxle     = wordSet("back backs rear rears hind front fronts")
	onSide     = wordSet("left right near off nearside offside drivers passengers")
	between    = wordSet("the its her his my our these those of from side")
	auxiliary  = wordSet("is are do does can still all both now just seem seems look looks will")
	denying    = wordSet("not isnt arent wont dont doesnt cant cannot")
	rolling    = wordSet("turn turns turning spin spins spinning roll rolls rolling rotate rotates rotating free")
	locked     = wordSet("locked jammed seized stuck blocked frozen")
	flatAs     = wordSet("flat blown burst punctured popped shredded")
	asIt       = wordSet("up solid fine freely ok okay fast tight on")
)

// wheelsTold is which wheels a phrase speaks of.
type wheelsTold struct {
	counts     []int // so many, of so many
	all, none  bool
	both       bool // all of two
	named      bool // the wheels, or what stands for them
	single     bool // a wheel, not wheels
	axle, side bool // of one end, of one side
	axles      bool // axles, and not wheels
	tyres      bool // tyres, of which more is said than of wheels
}

// turningAt reads at token i which wheels turn or are locked. Where some turn
// and nothing is said of the others, the share is "some".
func (m *message) turningAt(c *clause, i int) *phrase {
	w, at := m.wheelsAt(c, i)
	if at == i || !w.named && !w.all && !w.none && !w.axle && !w.side && len(w.counts) == 0 {
		return nil
	}
	deny, helped := false, false
	for ; at < c.to && (auxiliary[m.word(at)] || denying[m.word(at)]); at++ {
		helped = true
		deny = deny != denying[m.word(at)]
	}
	if at >= c.to {
		return nil
	}
	verb := m.word(at)
	switch at++; {
	case locked[verb]:
		if verb == "stuck" && slices.Contains([]string{"in", "at", "behind", "under"}, m.word(at)) {
			return nil // the wheels are stuck in the mud
		}
		if verb == "stuck" && slices.Contains([]string{"the", "our", "his", "her", "their", "that", "this", "my"}, m.word(at-2)) {
			return nil // the back of the stuck one: that is which vehicle, not what its wheels do
		}
	case flatAs[verb] && (w.single || w.tyres || w.axle && w.side) && !w.none: // a wheel on its rim drags like one that will not turn
		if deny {
			return nil
		}
		p := &phrase{means: map[string]string{"locked": w.lockedShare()}}
		for _, t := range m.tokens[i:at] {
			p.words = append(p.words, t.text)
		}
		return p
	case !rolling[verb], !helped && !w.named && !w.all && !w.none:
		return nil // one turn of rope
	}
	for at < c.to && asIt[m.word(at)] && verb != "free" && !talk.is(m.word(at+1), "ground") {
		at++
	}
	p := &phrase{means: map[string]string{"locked": w.share(locked[verb] != deny, deny)}}
	for _, t := range m.tokens[i:at] {
		p.words = append(p.words, t.text)
	}
	return p
}

// wheelsAt reads which wheels are spoken of, and where that ends.
func (m *message) wheelsAt(c *clause, i int) (w wheelsTold, at int) {
	for at = i; at < c.to; at++ {
		word := m.word(at)
		n := m.countIn(at)
		switch {
		case word == "one" && (w.axle || w.side):
			w.named, w.single = true, true // the left rear one
		case n > 0 && (!w.named || m.word(at-1) == "of"):
			w.counts = append(w.counts, n)
		case slices.Contains([]string{"all", "both", "every", "each"}, word) && !w.named:
			w.all, w.both = true, w.both || word == "both"
		case at == i && (word == "none" || word == "no" || word == "neither"):
			w.none = true
		case (word == "half" || word == "couple") && !w.named:
			w.counts = append(w.counts, 2)
		case (word == "most" || word == "some") && !w.named:
			w.counts = append(w.counts, 3)
		case (word == "a" || word == "another") && at == i:
			w.counts = append(w.counts, 1)
		case wheelNames[word] || onAxle[word] || onSide[word]:
			w.named = w.named || wheelNames[word]
			w.axle, w.side = w.axle || onAxle[word], w.side || onSide[word]
			w.axles = w.axles || word == "axle" || word == "axles"
			w.tyres = w.tyres || strings.HasPrefix(word, "tyre") || strings.HasPrefix(word, "tire")
			w.single = w.single || word == "wheel" || word == "tyre" || word == "tire"
		case between[word] && at > i, between[word] && word != "of" && word != "from" && word != "side":
		default:
			return w, at
		}
		if m.tokens[at].mark != unbroken {
			return w, i // a mark within it: two things
		}
	}
	return w, at
}

// countIn returns the whole number that a word is, or nothing.
func (m *message) countIn(i int) int {
	word := m.word(i)
	if v, spelled := talk.value(word, "number"); spelled {
		word = v
	}
	n, err := strconv.Atoi(word)
	if err != nil || n < 1 || n > 20 {
		return 0
	}
	return n
}

// share is the share of the weight on wheels that are locked; deny says that it
// was told by what they do not do. Judgment, the high end of what such a wheel
// or axle carries: one wheel of four at most half on a side slope, one of six or more
// at most a third, two of them
// or one axle at most three quarters, more than half of them all of it.
func (w wheelsTold) share(areLocked, deny bool) string {
	switch {
	case w.none && (w.axle || w.side || deny):
		return "some" // none of the front ones: and the others?
	case w.none && areLocked:
		return "0"
	case w.none:
		return "1"
	case areLocked && w.all && !w.both && deny:
		return "some" // "all of them don't turn" may be one of them
	case areLocked:
		return w.lockedShare()
	case len(w.counts) > 1 && w.counts[0] < w.counts[1]:
		return wheelsTold{counts: []int{w.counts[1] - w.counts[0], w.counts[1]}}.lockedShare()
	case w.axle, w.side, w.single && !w.all, w.axles && !w.all, len(w.counts) > 0 && w.counts[0] < 4:
		return "some"
	}
	return "0"
}

func (w wheelsTold) lockedShare() string {
	n := 0
	if len(w.counts) > 0 {
		n = w.counts[0]
	}
	switch {
	case w.axles && (n == 1 || w.axle || w.single):
		return "0.75"
	case w.axles, w.all && !w.axle:
		return "1"
	case n == 1 && len(w.counts) > 1 && w.counts[1] >= 6 && !w.axle:
		return "0.34"
	case n == 0 && w.axle && w.side, n == 0 && w.single && (w.axle || w.side), n == 1 && (w.single || !w.axle || len(w.counts) == 1 && !w.all):
		return "0.5"
	case n == 2, n <= 2 && w.axle, len(w.counts) > 1 && 2*n <= w.counts[1]:
		return "0.75"
	}
	return "1"
}
