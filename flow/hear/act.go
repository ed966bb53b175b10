package hear

import (
	"slices"
	"strings"
)

// byName finds the act of a row.
var byName = func() map[string]Act {
	m := map[string]Act{}
	for i, name := range actNames {
		m[name] = Act(i)
	}
	return m
}()

// The classes of acts in the order in which they are tried.
var actClasses = []string{"so far", "back", "new", "same", "kit", "skip", "help", "why", "words", "leave", "greet",
	"note", "sum", "change", "yes", "no"}

// whole reads a message that is nothing but an act.
func (k Known) whole(text string, tokens []token, topic Topic) (Heard, bool) {
	tokens = bare(tokens)
	if len(tokens) == 0 {
		if strings.TrimSpace(text) == "?" {
			return Heard{Act: Help}, true
		}
		return Heard{}, false
	}
	if len(tokens) == 1 && text[tokens[0].from:tokens[0].to] == "n" {
		if topic == TopicPeople {
			return Heard{Facts: []Fact{{Field: "hazards", Value: "none", Said: "n"}}}, true
		}
		return Heard{Act: No}, true
	}
	p := acts.longest(tokens, 0)
	if p == nil {
		return Heard{}, false
	}
	rest := tokens[len(p.words):]
	classes := actClasses
	switch {
	case topic == TopicResume:
		classes = append([]string{"resume"}, actClasses...)
	case topic == TopicCheck:
		classes = append([]string{"check"}, actClasses...)
	case topic.ton():
		if unit, ok := p.means["unit"]; ok && len(rest) == 0 {
			return Heard{Act: Unit, Object: unit}, true
		} else if ok && tokens[len(p.words)-1].mark != unbroken {
			// "Metric. The slope is 10 degrees."
			said := k.listen(words(text, rest), TopicMass)
			if slices.ContainsFunc(said.Facts, func(f Fact) bool { return strings.HasSuffix(f.Field, "mass") }) {
				return said, true // told anew
			}
			if said.Act != Stop {
				return Heard{Act: Unit, Object: unit, Facts: said.Facts, Cleared: said.Cleared, Rest: said.Rest}, true
			}
		}
	}
	for _, class := range classes {
		name, open := strings.CutSuffix(p.means[class], " ...")
		switch {
		case name == "" || !open && len(rest) > 0:
			continue
		case name == "no" && topic == TopicPeople, p.words[0] == "none" && topic.countable():
			return Heard{}, false // that is a fact
		case name == "object":
			continue
		case name == "change":
			return k.change(text, rest), true
		case name == "kit" && len(rest) > 0 && (len(rest) > 3 || slices.ContainsFunc(rest, token.figure)):
			continue
		}
		h := Heard{Act: byName[name]}
		if open && len(rest) > 0 && (h.Act == Note || h.Act == Sum || h.Act == Kit) {
			h.Object = strings.TrimSpace(text[rest[0].from:rest[len(rest)-1].to])
		}
		return h, true
	}
	return Heard{}, false
}

// bare returns tokens without the courtesies around them.
func bare(tokens []token) []token {
	polite := func(t token) bool {
		for _, p := range acts[t.text] {
			if _, ok := p.means["polite"]; ok && len(p.words) == 1 {
				return true
			}
		}
		return false
	}
	for len(tokens) > 0 && polite(tokens[0]) {
		tokens = tokens[1:]
	}
	for len(tokens) > 0 && polite(tokens[len(tokens)-1]) {
		tokens = tokens[:len(tokens)-1]
	}
	return tokens
}

// change reads what is to be changed, and to what if the message says.
func (k Known) change(text string, rest []token) Heard {
	topic, _, to := object(named(rest))
	if topic == "" {
		topic, _, to = object(rest)
	}
	h := Heard{Act: Change, Object: string(topic)}
	if topic == "" {
		h.Rest = words(text, rest)
		return h
	}
	after := become(rest[to:])
	if len(after) == 0 {
		return h
	}
	h.Value, h.Old = Instead(words(text, after))
	said := k.Listen(h.Value, topic)
	h.Facts, h.Cleared, h.Rest = said.Facts, said.Cleared, said.Rest
	return h
}

// named returns the words up to the first figure or break: what is to be changed is named
// there, and in "rope 40 m, made for it" nothing behind it.
func named(tokens []token) []token {
	for i, t := range tokens {
		if i > 0 && (t.figure() || tokens[i-1].mark != unbroken) {
			return tokens[:i]
		}
	}
	return tokens
}

// becoming are the words that may stand between a name and what it becomes.
var becoming = []string{"to", "into", "is", "was", "are", "as", "=", "should", "be", "now", "have", "been", "read", "wrong", "it", "its", "really", "actually", "make", "rather"}

// become drops the words that lead to the new value: "to", "is", "from 1 in 6
// to".
func become(tokens []token) []token {
	if len(tokens) > 0 && tokens[0].text == "from" {
		for i := len(tokens) - 2; i > 0; i-- {
			if tokens[i].text == "to" {
				return tokens[i+1:]
			}
		}
	}
	for len(tokens) > 0 && slices.Contains(becoming, tokens[0].text) {
		tokens = tokens[1:]
	}
	return tokens
}

// object finds the thing that an act is about: the longest name in tokens,
// the first of equals.
func object(tokens []token) (topic Topic, from, to int) {
	for i := range tokens {
		for _, p := range acts[tokens[i].text] {
			if name, ok := p.means["object"]; ok && i+len(p.words) <= len(tokens) && p.fits(tokens[i:]) && len(p.words) > to-from {
				topic, from, to = Topic(name), i, i+len(p.words)
			}
		}
	}
	return topic, from, to
}

// Blamed returns the answer that a message says is wrong, and nothing more: "the tow
// point rating is wrong".
func Blamed(text string) (Topic, bool) {
	tokens := tokenize(text)
	if n := len(tokens); n < 2 || n > mostBlaming || tokens[n-1].text != "wrong" {
		return "", false
	}
	return blamed(tokens)
}

// mostBlaming is how many words such a message has at most.
const mostBlaming = 7

// blamed reads "the weight is wrong" and "back to the slope".
func blamed(tokens []token) (Topic, bool) {
	for i, t := range tokens {
		p := acts.longest(tokens, i)
		if p == nil || !strings.HasPrefix(p.means["change"], "object") {
			continue
		}
		if t.text != "wrong" && i > 0 {
			continue
		}
		if topic, _, to := object(tokens); topic != "" && (t.text == "wrong" || to == len(tokens)) {
			return topic, true
		}
	}
	return "", false
}

// opening reads a yes or a no that an answer starts with.
func opening(tokens []token) Act {
	tokens = bare(tokens)
	if len(tokens) == 0 {
		return None
	}
	first := tokens[0]
	switch {
	case slices.Contains([]string{"yes", "yep", "yeah", "yup", "aye"}, first.text):
		return Yes
	case slices.Contains([]string{"no", "nope", "nah"}, first.text) && (first.mark != unbroken || first.text != "no" ||
		len(tokens) > 1 && slices.Contains([]string{"it", "its", "they", "theyre", "the", "we", "i", "im", "he"}, tokens[1].text)):
		return No
	}
	return None
}

// asksBack takes a question that stands beside an answer: "no wires. why do
// you ask?"
func (m *message) asksBack(h *Heard) {
	for _, c := range m.clauses {
		if act := m.asks(c); act != None {
			h.Act = act
			h.Rest = without(h.Rest, words(m.text, m.tokens[c.from:c.to]))
			return
		}
	}
}

// asks returns the help or the reason that a clause asks for, if it is nothing
// else.
func (m *message) asks(c *clause) Act {
	tokens := bare(m.tokens[c.from:c.to])
	if len(tokens) == 0 || slices.ContainsFunc(c.items, func(it *item) bool { return it.q != nil }) {
		return None
	}
	p := acts.longest(tokens, 0)
	if p == nil {
		return None
	}
	for _, class := range []string{"help", "why"} {
		name, open := strings.CutSuffix(p.means[class], " ...")
		if name != "" && (open || len(p.words) == len(tokens)) && (len(p.words) > 1 || c.to == len(m.tokens)) {
			return byName[name]
		}
	}
	return None
}

// words returns the stretch of the message that tokens cover.
func words(text string, tokens []token) string {
	if len(tokens) == 0 {
		return ""
	}
	return strings.TrimSpace(text[tokens[0].from:tokens[len(tokens)-1].to])
}
