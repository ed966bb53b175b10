package hear

import (
	"slices"
	"strings"
)

// Whose a figure is. A vehicle's weight, ground, slope or depth is taken in the
// place of one that was told only where the words are said of that vehicle: a
// sling of 2 t, or a loader of 14 t as an anchor, makes no lorry lighter or
// heavier. The reading knows what a figure stands beside; whoever judges by it
// needs no words.

// A Tie is how plainly a message says whose a figure of a vehicle is.
type Tie int

// The ties.
const (
	Tied   Tie = iota // it stands with that vehicle, or with what it is a figure of
	Loose             // nothing near it says whose it is: it goes with what is asked
	Beside            // it stands with something else
)

// speaksOf is, by field, how people say what they speak of.
var speaksOf = map[string]*Pattern{
	"mass":       Expression(`(?i)\b(weigh\w*|weights?|mass|heav\w+|light\w*|all up|gross|laden|unladen|loaded|unloaded)\b`),
	"ground":     Expression(`(?i)\b(ground|surface|soil|stands?|standing|stood|parked|sits?|sitting|moved|drove|driven|rolled|back|now on|is on|are on|it'?s on|wheels?)\b`),
	"slope":      ofSlope,
	"side_slope": Expression(ofSlope.String() + `|(?i)\b(side\w*|across|lean\w*|tilt\w*)\b`),
	"sunk":       Expression(`(?i)\b(deep\w*|depth|sunk\w*|sink\w*|sank|hubs?|axles?|bogged|mired|buried|dug|dig|digging|daylight|wheels?|belly)\b`),
	"locked":     Expression(`(?i)\b(wheels?|brakes?|handbrake|turn\w*|roll\w*|lock\w*|jammed|seized|axles?)\b`),
}

var (
	ofSlope  = Expression(`(?i)\b(slopes?|grade|gradient|steep\w*|hill|incline|bank|ramp|uphill|downhill|flat|level|climbs?|falls|board|gap|rise)\b`)
	ofPuller = Expression(`(?i)\bpuller\b`)
	// ofWorks are machines that come to help as often as they are stuck.
	ofWorks = Expression(`\b(digger|excavator|skid steer|loader|shovel|backhoe|telehandler|dozer|bulldozer|crane|forklift|roller|dumper)\b`)
)

// tie returns how plainly a field of a vehicle was said of it.
func (m *message) tie(h *head, field string) Tie {
	speaks, it := speaksOf[field], h.stood[field]
	if speaks == nil || it == nil {
		return Tied
	}
	from, to := m.breath(it)
	mine, other := m.namedIn(h, from, to)
	switch {
	case mine:
		return Tied
	case other:
		return Beside
	}
	all, others := m.namedIn(h, 0, len(m.tokens))
	said := words(m.text, m.tokens[from:to])
	switch figure := field == "mass" || field == "slope" || field == "side_slope"; {
	case all, figure && speaks.MatchString(said):
		return Tied
	case !figure && others:
		return Beside
	case !figure && speaks.MatchString(m.text):
		return Tied
	}
	return Loose
}

// breath returns the tokens around an item that are said in one go with it.
func (m *message) breath(it *item) (from, to int) {
	joins := func(i int) bool { return slices.Contains([]string{"and", "but", "then", "with"}, m.word(i)) }
	from, to = it.from, it.to
	for from > it.clause.from && !joins(from-1) {
		from--
	}
	for to < it.clause.to && !joins(to) {
		to++
	}
	return from, to
}

// namedIn reports whether tokens name the vehicle that h is, and whether they
// name something else. What was told of it goes before what its name says.
func (m *message) namedIn(h *head, from, to int) (mine, other bool) {
	of := strings.TrimSuffix(h.path, ".")
	if ofPuller.MatchString(words(m.text, m.tokens[from:to])) {
		return of == "puller", of != "puller"
	}
	likely, others := false, false
	for _, it := range m.items {
		if it.from < from || it.to > to {
			continue
		}
		owner := ""
		for i := it.from; i < it.to && owner == ""; i++ {
			if it.has("vehicle") || it.means == nil && it.q == nil && m.subject(it) || strings.EqualFold(m.word(i), m.known.Puller) {
				owner = m.known.calls(m.word(i))
			}
		}
		switch lean := it.means["vehicle"]; {
		case owner != "":
			return owner == of, owner != of
		case it.has("gear"), it.has("anchor"), it.has("end"), it.has("winch"), it.has("wire"):
			others = true
		case lean == "":
		case m.furtherOne(it), ofWorks.MatchString(it.name):
			others = true
		case strings.HasPrefix(lean, "puller"), it.name == "machine":
			likely, others = likely || of == "puller", others || of == "load"
		default:
			likely, others = likely || of == "load", others || of == "puller"
		}
	}
	return likely, others
}

// subject reports whether a word in no list is one that something is said of.
func (m *message) subject(it *item) bool {
	return slices.Contains([]string{"the", "my", "our", "his", "her", "their", "this", "that"}, m.word(it.from-1))
}

// furtherOne reports whether a vehicle is said to be one more.
func (m *message) furtherOne(it *item) bool {
	return slices.Contains([]string{"another", "other", "second", "2nd", "both", "parked", "anchor"}, m.word(it.from-1))
}
