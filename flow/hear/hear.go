package hear

import (
	"slices"
	"strings"
)

// A Fact is one thing that a message says, ready for the sheet.
type Fact struct {
	// Field is a path of job.Sheet, such as "load.mass". In a list the piece
	// stands in brackets: "gear[+1].kind" and "gear[+1].rating" belong to the
	// first new piece that the message names, "gear[+2].kind" to the next. The
	// piece that the question was about keeps its own number: "gear[3].rating".
	// Anchors are numbered apart from gear.
	Field string
	Value string // as the sheet takes it: "2.4 t", "wet grass", "0.5", "true"; "none" for an empty list or no step
	Said  string // the words it came from
	Vague bool   // a ton or hundredweight that does not say which: ask
	Taken bool   // Value is the careful reading of a figure: say what was assumed
	Guess bool   // the person hedged: about, roughly, I think
	New   bool   // of the kind of a piece: the words say that it is one more
	Same  bool   // likewise: that it is one that was told already
	Other bool   // likewise: that it is another than the one spoken of, in its place
	Count bool   // likewise: they say how many
	Had   bool   // likewise: that it is there to be used
	All   bool   // likewise: that it is every one of its kind
	Part  string // likewise: the place of those on the list that it is one of
	Only  bool   // of a count: so many and no more; of the kind of an anchor: that it is the only one
	Tie   Tie    // of a vehicle's figure: how plainly it is said of that vehicle
}

// Heard is what one message says.
type Heard struct {
	Facts  []Fact // in the order of the sheet, at most one for a field
	Act    Act    // what the person wants of the conversation
	Object string // what Act is about: a Topic for Change, a unit for Unit, the words after the act for Note and Sum

	// Value is what Object of a Change becomes, in the person's words, and Old
	// what it takes the place of, where that is said.
	Value, Old string

	// Cleared lists the hazards that the message denies one by one, in the
	// sheet's words. Only a plain no to all of them is the fact "hazards" =
	// "none": whoever says that there are no wires has not spoken of water.
	Cleared []string
	// Unhurt reports whether nobody is told to be hurt, which says of nobody that they
	// are out of the vehicle.
	Unhurt bool

	WaterNear bool // water is told to be near, and not whether it is over anything: ask

	OverRoad bool // an anchor is told to stand across a road, which the line would lie over: ask

	GasBottle bool // a gas bottle to cook with is told to be aboard, or one to be out of it: ask how it is kept

	BreaksAt []string // breaking strengths that are told beside a working limit and not kept

	DugPart bool // a part of it was dug out, told beside other facts: ask how deep it sits now

	Lives bool // a tree is said to be alive, and not that it is sound: ask

	Apart []Apart // who has no part and is taken out of the number of the crew

	Rest  string // the clauses that were not wholly read; Unread is what of them to tell
	Named bool   // Rest names a thing or a figure, or turns against what was read: tell it, however short

	parts map[string]string // what was not read of each clause of Rest
}

// Act is what a person wants of the conversation, apart from any fact.
type Act int

// The acts. A message may carry facts beside Change, Yes, No, Unit, Help and
// Why, and beside no others.
const (
	None   Act = iota
	Stop       // halt everything; nothing else in the message counts
	Help       // how do I measure this
	Why        // what does the answer change
	Skip       // I don't know
	Back       // to the question before
	Change     // an earlier answer; Object is its Topic, empty when not told
	SoFar      // what is known
	Leave      // go on later
	New        // a new job
	Yes        // and whatever the person calls it
	No         // likewise
	Same       // as it was before
	Kit        // the crew's saved gear
	Note       // write Object down
	Words      // what can I say
	Greet      // hello
	Unit       // which ton: Object is "t", "short ton", "long ton", "short cwt" or "long cwt"
	Sum        // a quick sum; Object is what it is about
)

var actNames = [...]string{"none", "stop", "help", "why", "skip", "back", "change", "so far", "leave", "new",
	"yes", "no", "same", "kit", "note", "words", "greet", "unit", "sum"}

func (a Act) String() string {
	if a < 0 || int(a) >= len(actNames) {
		return "unknown act"
	}
	return actNames[a]
}

// Listen reads one message of a job of which nothing is known.
func Listen(text string, topic Topic) Heard { return Known{}.Listen(text, topic) }

// Listen reads one message. topic is what the last question asked about; it
// settles what a short answer means. A vehicle that goes by the puller's name
// is the puller.
//
// Listen never fails: what it can't read is in Rest.
func (k Known) Listen(text string, topic Topic) Heard {
	if topic == TopicText || len(text) > longest {
		return k.listen(text, topic)
	}
	if isStop(text) {
		return Heard{Act: Stop}
	}
	text, belted := frame(k.anchorAway(text, topic), topic)
	rest, depth, ask := k.dug(text, topic)
	h := Heard{}
	if rest != "" {
		h = owned(rest, topic, k.listen(plainer(rest, topic), topic))
	}
	if h = digging(h, depth, ask); belted != nil && h.Act == None {
		h.Facts = append(h.Facts, *belted)
	}
	return h
}

func (k Known) listen(text string, topic Topic) Heard {
	if isStop(text) {
		return Heard{Act: Stop}
	}
	over := ""
	if len(text) > longest {
		text, over = text[:longest], text[longest:]
	}
	tokens := tokenize(text)
	if len(tokens) > mostWords {
		over = text[tokens[mostWords].from:] + over
		tokens = tokens[:mostWords]
	}
	if h, ok := k.whole(text, tokens, topic); ok {
		return h
	}
	if topic == TopicText || len(tokens) == 0 {
		return Heard{Rest: strings.TrimSpace(text + over)}
	}
	m := newMessage(text, tokens, topic)
	m.known = k
	m.nicknames()
	m.pullerItself()
	m.name()
	m.standsBy()
	m.hazards()
	m.totals()
	m.levelled()
	if !m.heights() {
		m.figures()
	}
	m.heldLevel()
	m.states()
	m.even()
	m.doubted()
	m.doubtedSlope()
	m.namedAgain()
	m.idle()
	m.storms()
	m.either()
	m.crew()
	m.severalRatings()
	m.qualified()
	m.plainly()
	m.halfRead()
	h := Heard{Facts: m.gather(), Cleared: m.cleared, Unhurt: m.unhurt, WaterNear: m.waterNear, GasBottle: m.gasBottle, OverRoad: m.overRoad, BreaksAt: m.breaksAt, Apart: m.apart}
	h.Lives = m.lives && !slices.ContainsFunc(h.Facts, func(f Fact) bool { return strings.HasSuffix(f.Field, ".alive") })
	h.Rest, h.parts = m.rest()
	h.Named = slices.ContainsFunc(m.clauses, m.tells)
	if over != "" {
		h.Rest = strings.TrimSpace(h.Rest + " " + over)
	}
	m.wants(&h)
	return h
}

// A message is read up to these limits; what is beyond is left over.
const (
	longest   = 4000
	mostWords = 400
)

// wants finds the act of a message that is more than an act.
func (m *message) wants(h *Heard) {
	if m.topic != TopicPeople {
		h.Act = opening(m.tokens)
	} else if opening(m.tokens) == Yes {
		h.Act = Yes
	}
	if h.Act != None && m.tokens[0].mark != unbroken {
		h.Rest = strings.TrimLeft(strings.TrimPrefix(h.Rest, words(m.text, m.tokens[:1])), "; ")
	}
	if topic, ok := blamed(m.tokens); ok && !slices.ContainsFunc(h.Facts, func(f Fact) bool { return !strings.HasSuffix(f.Field, ".kind") }) { // what it is of is only named
		*h = Heard{Act: Change, Object: string(topic)}
		return
	}
	if h.Act == None && (len(h.Facts) > 0 || len(h.Cleared) > 0) {
		m.asksBack(h)
	}
	if len(h.Facts) > 0 || h.Act != None {
		return
	}
	switch first := m.tokens[0].text; {
	case first == "how" && m.clauses[0].ask:
		h.Act = Help
	case first == "why" && m.clauses[0].ask:
		h.Act = Why
	default:
		for i := range m.tokens {
			if p := acts.longest(m.tokens, i); p != nil && p.means["skip"] == "skip" && p.words[0] != "skip" && p.words[0] != "next" && p.words[0] != "pass" {
				h.Act = Skip
				return
			}
		}
		if h.Rest == "" && len(h.Cleared) == 0 {
			h.Rest = strings.TrimSpace(m.text)
		}
	}
}
