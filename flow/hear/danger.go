package hear

import (
	"slices"
	"strings"
)

// A message is read for danger once, and whoever takes part only judges what it
// said: whether that is a stop, a no to the list or a person without a post hangs
// on the moment, and never on words.

// A Kind is what a danger is.
type Kind string

// The kinds beside those of [Seen].
const (
	Near     Kind = "near"     // a person or an animal where the rig can reach them
	Hurt     Kind = "hurt"     // a person hurt or caught
	Young    Kind = "young"    // a person under the age for any part
	Drink    Kind = "drink"    // a person who has been drinking
	Brake    Kind = "brake"    // a brake that does not do its work
	Keeper   Kind = "keeper"   // a pin's clip, a latch or a belt that does not
	Unbraked Kind = "unbraked" // brakes that are not on
	Inside   Kind = "inside"   // a person, a limb or a vehicle in the way of the pull
)

// Seen are the kinds of what is seen, heard and felt of a rig, in the order in
// which they are read: the first that a message tells of is meant.
var Seen = []Kind{Hurt, Inside, "lifts", "anchor", "sound", "jerked", "tips", "creeps", "wheel", "slips", "stuck", "runs", "signal", "unsure", "weather", "moves"}

// A Standing is how a danger stands by the words that tell of it.
type Standing int

// A danger is so now, or its words deny it, say that it is over, only ask for it
// or only suppose it.
const (
	Now Standing = iota
	Denied
	Past
	Asked
	Supposed
)

// A Danger is one thing that a message tells of.
type Danger struct {
	Kind   Kind
	What   string // who or what, as it was called; empty where the words name none
	Said   string // the part of the message, in lower case
	Stands Standing
	Teller string // whose words are handed on; empty for whoever writes
	Crew   bool   // of Near: it is one of the crew, by name
	Bare   bool   // of Near: somebody named and no more
	By     bool   // of Near: certainly a stranger, at what is rigged or on the way there
}

// Is reports whether it is so now and of one of the kinds.
func (d Danger) Is(kinds ...Kind) bool { return d.Stands == Now && slices.Contains(kinds, d.Kind) }

// Dangers returns all that a message tells of, in the order of its parts, what is
// seen of the rig behind that. names are the crew's: who is one of them is no
// stranger.
func Dangers(text string, names []string) []Danger {
	r := dangerReading{names: names}
	for _, part := range parted(Lowered(text)) {
		r.clause(part)
	}
	r.seen(Lowered(text))
	return r.found
}

// Lowered is a message in lower case with plain apostrophes.
func Lowered(text string) string { return strings.ToLower(Straight(text)) }

// Straight writes the apostrophes of a text as a keyboard has them.
func Straight(text string) string { return strings.ReplaceAll(text, "’", "'") }

// A dangerReading is the reading of one message.
type dangerReading struct {
	names []string
	parts []dangerPart
	found []Danger
}

// A dangerPart is one part of a message, up to a comma, a stop or a but.
type dangerPart struct {
	words string // without what says that nothing is wrong
	end   string // the sign behind it, or the but
	whole string
	from  int // the dangers found before it
	past  bool
}

// danger are the word lists.
var danger = loadForms("danger", "seen", "fault")

// parted divides a message. What says that nothing is wrong is taken out of each
// part by itself, so that it hides nothing of the next.
func parted(low string) []dangerPart {
	var out []dangerPart
	add := func(words, end string) {
		if strings.TrimSpace(words) == "" && end == "" {
			return
		}
		out = append(out, dangerPart{words: danger["calm"].ReplaceAllString(words, " "), whole: words, end: end})
	}
	at := 0
	for i := 0; i < len(low); i++ {
		end := ""
		switch {
		case strings.IndexByte(".,;!?\n", low[i]) >= 0 && !(low[i] == '.' && digitAt(low, i+1)):
			end = low[i : i+1]
		case strings.HasPrefix(low[i:], " but "):
			end = " but "
		default:
			continue
		}
		add(low[at:i], end)
		at = i + len(end)
		i = at - 1
	}
	add(low[at:], "")
	return out
}

// mark puts a sign for each of the crew where their first name stands.
func (r *dangerReading) mark(words string) string {
	out := strings.Fields(words)
	for i, w := range out {
		for n, name := range r.names {
			first, _, _ := strings.Cut(strings.ToLower(name), " ")
			if tail, ok := strings.CutPrefix(w, first); len(first) > 1 && ok && (strings.Trim(tail, "'s)") == "") {
				out[i] = "qn" + itoa(n) + "x" + tail
				break
			}
		}
	}
	return strings.Join(out, " ")
}

// named is the name that a sign stands for, the words themselves without one.
func (r *dangerReading) named(word string) string {
	for n, name := range r.names {
		if strings.HasPrefix(word, "qn"+itoa(n)+"x") {
			return name
		}
	}
	return word
}
