package hear

import (
	"slices"
	"strconv"
	"strings"
)

// message is one text on its way to facts.
type message struct {
	text    string
	topic   Topic
	known   Known
	tokens  []token
	items   []*item
	clauses []*clause

	load, puller *head // the stuck vehicle and what pulls it
	job          *head // what stands on the sheet by itself
	heads        []*head
	mentions     []*mention
	asked        *head // the piece, or the end of the line, that the question was about

	facts      []Fact
	passedOver []*item  // another machine that is told beside a winch and is not taken
	underHubs  bool     // water over the hubs is denied in these words
	waterNear  bool     // water is told to be near, and not where
	breaksAt   []string // breaking strengths told beside a working limit, which counts
	overRoad   bool     // an anchor is told to stand across a road
	gasBottle  bool     // of those to cook with, one is told to be aboard
	lives      bool     // a tree is said to live, and not to be sound
	cleared    []string
	apart      []Apart
	open       bool // something was said of a hazard that is neither yes nor no
	unhurt     bool // nobody is said to be hurt
}

// item is a stretch of tokens that means something.
type item struct {
	from, to int // tokens
	name     string
	means    map[string]string
	q        *quantity
	clause   *clause
	sum      bool // a figure of a reckoning
	used     bool // read into a fact, or known to add nothing
}

// has reports whether an item is of a class; a word that means nothing is no item.
func (it *item) has(class string) bool {
	if it == nil {
		return false
	}
	_, ok := it.means[class]
	return ok
}

// clause is what stands between marks and turning words.
type clause struct {
	from, to int // tokens
	items    []*item
	sentence int
	passage  int  // sentences that speak of the same things
	ask      bool // a question
	iffy     int  // the token from which it is a wish or a condition
	infer    bool // a conclusion from what was told: "so ...", "= ..."
	undone   bool // takes back what came before it
	unsure   bool
	one      bool // about one of several
}

// silent reports whether an item stands in words that state nothing.
func (it *item) silent() bool { return it.clause.ask || it.from >= it.clause.iffy }

func newMessage(text string, tokens []token, topic Topic) *message {
	m := &message{text: text, topic: topic, tokens: tokens}
	m.divide()
	m.scan()
	m.weigh()
	m.proposed()
	m.rising()
	m.toCome()
	m.join()
	return m
}

// divide cuts the message into clauses.
func (m *message) divide() {
	from, sentence := 0, 0
	begin := true // of a sentence
	cut := func(to int) {
		if to > from {
			m.clauses = append(m.clauses, &clause{from: from, to: to, sentence: sentence})
			from = to
		}
	}
	for i, t := range m.tokens {
		if !begin && turns(m.tokens, i) {
			cut(i)
		}
		begin = false
		if t.mark != unbroken {
			cut(i + 1)
		}
		if t.mark >= full {
			sentence++
			begin = true
		}
	}
	cut(len(m.tokens))
}

// turns reports whether a new clause starts at tokens[i] without a mark.
func turns(tokens []token, i int) bool {
	switch t := tokens[i].text; t {
	case "but", "though", "although", "however", "except", "apart", "whereas", "thats":
		return true
	case "so":
		return tokens[i-1].text != "or" && !(i+1 < len(tokens) && slices.Contains([]string{"far", "much"}, tokens[i+1].text))
	}
	return false
}

// clauseBefore returns the clause ahead of one in its sentence; nil where it begins that.
func (m *message) clauseBefore(c *clause) *clause {
	if i := slices.Index(m.clauses, c); i > 0 && m.clauses[i-1].sentence == c.sentence {
		return m.clauses[i-1]
	}
	return nil
}

// anyIn reports whether a clause has a word of a list.
func (m *message) anyIn(c *clause, list string) bool {
	for i := c.from; i < c.to; i++ {
		if lists.has(m.word(i), list) {
			return true
		}
	}
	return false
}

// scan reads tokens into items, figures and phrases alike: the longer wins.
func (m *message) scan() {
	for _, c := range m.clauses {
		for i := c.from; i < c.to; {
			p := talk.longest(m.tokens, i)
			if p != nil && m.tiedTo(c, i, p) {
				p = nil
			}
			for _, made := range []*phrase{m.turningAt(c, i), m.miredAt(c, i)} {
				if made != nil && (p == nil || len(made.words) >= len(p.words)) {
					p = made
				}
			}
			q, n := m.quantityAt(i)
			switch {
			case q != nil && (p == nil || n >= len(p.words)):
				m.add(c, &item{from: i, to: i + n, q: q})
				i += n
			case p != nil && (len(p.words) > 1 || !onlyFigure(p)):
				n = len(p.words)
				it := &item{from: i, to: i + n, means: p.means, name: p.name()}
				if v, ok := p.means["number"]; ok { // a couple of
					count, _ := strconv.ParseFloat(v, 64)
					it.q = &quantity{text: v, number: count}
				}
				m.add(c, it)
				i += n
			default:
				it := &item{from: i, to: i + 1, q: m.bareAt(i)}
				if p != nil {
					it.means, it.name = p.means, p.name()
				} else if p := m.possessor(i); p != nil {
					it.means, it.name = p.means, p.name()
				} else if it.q == nil {
					if p := talk.nearly(m.tokens[i].text); p != nil {
						it.means, it.name = p.means, p.name()
					}
				}
				m.add(c, it)
				i++
			}
		}
	}
	m.sums()
	m.corrected()
}

// tiedTo reports whether what may be a depth is where a line is made fast: "to
// the axle", said where that is asked or of what is tied.
func (m *message) tiedTo(c *clause, i int, p *phrase) bool {
	if p.means["depth"] == "" || m.word(i) != "to" || !talk.is(m.word(i+len(p.words)-1), "end") {
		return false
	}
	if m.topic.towPoint() || m.topic == TopicHitch {
		return !slices.ContainsFunc(m.tokens[c.from:i], func(t token) bool { return sinking[t.text] && t.text != "in" })
	}
	return slices.ContainsFunc(m.tokens[c.from:i], func(t token) bool { return fastened[t.text] })
}

// fastened are words that a line is made fast with.
var fastened = wordSet("tied tie ties tying hooked hook hooks shackled shackle chained chain strapped strap roped rope line fast fastened attached clipped")

// onlyFigure reports whether a word is a number and nothing else.
func onlyFigure(p *phrase) bool {
	_, number := p.means["number"]
	_, pattern := p.means["pattern"]
	return number && !pattern
}

// add files an item under its clause. A figure that reaches over a comma may
// leave the next clause nothing.
func (m *message) add(c *clause, it *item) {
	if n := len(m.items); n > 0 && m.items[n-1].to > it.from {
		return
	}
	it.clause = c
	c.items = append(c.items, it)
	m.items = append(m.items, it)
}

// sums takes "1541/6 = 257" out: reckoning is no telling.
func (m *message) sums() {
	for i, it := range m.items {
		if m.tokens[it.from].text != "/" && m.tokens[it.from].text != "=" {
			continue
		}
		if m.tokens[it.from].text == "/" && i > 0 && i+1 < len(m.items) && m.items[i-1].q != nil && m.items[i+1].q != nil &&
			!m.items[i-1].q.bare() && !m.items[i+1].q.bare() {
			continue // the same in another unit
		}
		for _, j := range []int{i - 1, i + 1} {
			if j >= 0 && j < len(m.items) && m.items[j].q != nil {
				m.items[j].q, m.items[j].sum = nil, true
			}
		}
	}
}

// weighs reports whether a clause tells by the word for it what something weighs: what is
// only made of another figure so is said all the same.
func (c *clause) weighs() bool {
	has := func(is func(*item) bool) bool { return slices.ContainsFunc(c.items, is) }
	return has(func(it *item) bool { return it.means["attr"] == "weighs" }) && has(func(it *item) bool { return it.q != nil && it.q.is(mass) })
}

// weigh finds out how each clause is meant.
func (m *message) weigh() {
	for i, c := range m.clauses {
		if i > 0 && m.clauses[i-1].undone && !slices.ContainsFunc(m.clauses[i-1].items, func(it *item) bool { return !it.has("undo") && !it.has("filler") }) {
			c.undone = true // "grass, no wait, mud"
		}
		c.iffy = len(m.tokens)
		question := m.tokens[c.to-1].mark == asked
		first := m.tokens[c.from].text
		if slices.Contains([]string{"is", "are", "does"}, first) && judges[m.word(c.to-1)] {
			c.ask = true // "is 10 degrees alot"
		}
		for i, it := range c.items {
			switch {
			case it.has("question") && (i == 0 || question):
				c.ask = true
			case it.has("wish") && m.topic == TopicPull && strings.HasPrefix(m.word(it.from), "want"):
				it.used = true // where they want it is what is asked
			case it.has("wish") && m.gearOut(it):
				it.used = true // as it was asked
			case it.has("wish"):
				c.iffy = min(c.iffy, m.wishFrom(it))
			case it.has("undo"):
				c.undone = true
			case it.means["hedge"] == "unsure":
				c.unsure = true
			case it.has("one") && i+1 < len(c.items) && slices.Contains([]string{"is", "has", "says", "was", "s"}, m.tokens[c.items[i+1].from].text):
				c.one = true
			}
		}
		if i > 0 && c.unsure && onlyHedge(c) {
			m.clauses[i-1].unsure = true // "alive, maybe"
		}
		if i == 1 && m.clauses[0].unsure && onlyHedge(m.clauses[0]) {
			c.unsure = true // "maybe, looks alive"
		}
		starts := c.from == 0 || m.tokens[c.from-1].mark >= full
		c.infer = !starts && (first == "so" || first == "thats") && !m.pacedOut(i) && !c.weighs()
		// A figure that answers stays an answer even with a question mark:
		// "2.4 t?" is a guess.
		if question && !c.ask {
			c.unsure = true
			c.ask = !m.answers(c) || i+1 < len(m.clauses) && m.plainNo(m.clauses[i+1])
		}
	}
}

// plainNo reports whether a clause is a no and nothing else, with which somebody answers
// what they asked themselves: "bit of ice? no."
func (m *message) plainNo(c *clause) bool {
	return slices.Contains([]string{"no", "nope", "nah", "none", "nothing"}, m.word(c.from)) && !slices.ContainsFunc(c.items, func(it *item) bool { return !it.has("neg") && !it.has("filler") && !it.has("nothing") })
}

// onlyHedge reports whether a clause says nothing but that who writes is not sure.
func onlyHedge(c *clause) bool {
	return !slices.ContainsFunc(c.items, func(it *item) bool { return !it.has("hedge") && !it.has("filler") })
}

// pacedOut reports whether what a clause concludes is the length that was asked for, from
// steps that were counted: "22 paces so 20 m".
func (m *message) pacedOut(i int) bool {
	return m.topic.spans() && slices.ContainsFunc(m.tokens[:m.clauses[i].from], func(t token) bool {
		return slices.Contains([]string{"paces", "steps", "strides", "pace"}, t.text)
	})
}

// judges are words that a question about a figure ends in.
var judges = wordSet("alot lot much many enough ok okay alright fine safe bad steep heavy normal possible")

// wishFrom returns the token from which a wish reaches: what "and" joins to it
// before, as in "rope 80 m and 20 m we could knot on", stays out.
func (m *message) wishFrom(it *item) int {
	for i := it.from - 1; i > it.clause.from; i-- {
		if m.word(i) == "and" {
			return i
		}
	}
	return it.clause.from
}

// answers reports whether a clause says nothing but one figure or word.
func (m *message) answers(c *clause) bool {
	n := 0
	for _, it := range c.items {
		switch {
		case it.q != nil && !it.q.bare(), it.has("ground"), it.has("depth"):
			n++
		case it.q != nil, it.means == nil, it.has("gear"), it.has("anchor"), it.has("end"):
			return false
		}
	}
	return n == 1
}

// join puts sentences that speak on of the same things into one passage.
func (m *message) join() {
	passage, last := -1, -1
	for i, c := range m.clauses {
		if c.sentence != last {
			last = c.sentence
			if passage < 0 || !m.speaksOn(i) {
				passage++
			}
		}
		c.passage = passage
	}
}

// speaksOn reports whether the sentence that starts at clause i names nothing
// of its own and goes on about what the one before named.
func (m *message) speaksOn(i int) bool {
	s, names := m.clauses[i].sentence, false
	for j := i; j < len(m.clauses) && m.clauses[j].sentence == s; j++ {
		for _, it := range m.clauses[j].items {
			for _, class := range []string{"vehicle", "winch", "gear", "anchor", "end", "material"} {
				names = names || it.has(class)
				if it.has(class) && j == i {
					return false
				}
			}
			for _, class := range []string{"tree", "rkind", "unmarked", "knot", "cond", "laid", "unequal"} {
				if it.has(class) && !it.has("locked") && j == i {
					return true
				}
			}
		}
	}
	if m.topic.things() && !names {
		return true
	}
	p := m.tokens[m.clauses[i].from]
	for _, ph := range talk[p.text] {
		if _, ok := ph.means["glue"]; ok && m.clauses[i].from+len(ph.words) <= len(m.tokens) && ph.fits(m.tokens[m.clauses[i].from:]) {
			return true
		}
	}
	return false
}

// said returns the words of some items, in the order of the message.
func (m *message) said(items ...*item) string {
	from, to := len(m.tokens), 0
	for _, it := range items {
		if it != nil {
			from, to = min(from, it.from), max(to, it.to)
		}
	}
	if from >= to {
		return ""
	}
	return m.text[m.tokens[from].from:m.tokens[to-1].to]
}

// word returns the text of the token i, or nothing outside the message.
func (m *message) word(i int) string {
	if i < 0 || i >= len(m.tokens) {
		return ""
	}
	return m.tokens[i].text
}

// denied reports whether a no in the same clause reaches it.
func (m *message) denied(it *item) bool {
	for i := len(it.clause.items) - 1; i >= 0; i-- {
		other := it.clause.items[i]
		switch {
		case other.from >= it.from:
		case other.has("turn"), slices.Contains([]string{"and", "with", "its", "theyre", "thats"}, m.word(other.from)):
			return false
		case m.answersNo(other, it):
			return false
		case other.has("neg"):
			return true
		}
	}
	return false
}

// answersNo reports whether a no at the head of a message answers what was asked, and
// denies nothing behind it: "no stands straight".
func (m *message) answersNo(no, it *item) bool {
	return no.from == 0 && no.to == 1 && it.from == 1 && slices.Contains([]string{"no", "nope", "nah"}, m.word(0)) && slices.Contains([]string{"stands", "stood", "standing"}, m.word(1))
}

// tells reports whether what is left over of a clause names something that is
// spoken of, or turns against what was said before it.
func (m *message) tells(c *clause) bool {
	if !m.leftOver(c) || m.asks(c) != None {
		return false
	}
	for _, it := range c.items {
		if !it.used && (it.q != nil || slices.Contains(m.passedOver, it) || it.has("end") || it.has("gear") || it.has("anchor") || it.has("hazard") || it.has("depth") || it.has("cond") || it.has("locked") || it.has("winch")) {
			return true
		}
	}
	return turning(m.word(c.from))
}

// turning reports whether a word turns against what was said before it.
func turning(word string) bool {
	return slices.Contains([]string{"but", "except", "apart", "though", "although", "however", "cept", "bar", "only", "tho", "well"}, word)
}

// tellsOf are the classes of words that tell of a thing: where such a word was
// not taken, the rest of its clause does not make up for it.
var tellsOf = []string{"tree", "cond", "knot", "laid", "locked", "depth", "material", "rkind", "unmarked", "stand", "pattern", "belly"}

// leftOver reports whether something of a clause was not read.
func (m *message) leftOver(c *clause) bool {
	read, open := false, false
	for _, it := range c.items {
		switch {
		case it.used:
			read = true
		case m.carries(it):
			return !m.story(c)
		case m.strange(it), !it.has("filler") && !it.has("hedge"):
			open = true
		}
	}
	return open && !read || read && slices.ContainsFunc(c.items, func(it *item) bool { return m.strange(it) || m.whoever(it) })
}
