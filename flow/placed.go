package flow

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Who does what is told as people talk: who drives the tractor, who is on the rope, these
// two swap; beside the names or at any time later, of one or of several at once.

// partWords are the words by which a part is meant.
var partWords = map[string]string{
	"driver": "driver", "drive": "driver", "drives": "driver", "driving": "driver", "winch": "driver", "winch hand": "driver", "wheel": "driver", "steering wheel": "driver",
	"leader": "leader", "signal": "signal", "signals": "signal", "signaller": "signal", "signal person": "signal", "signalling": "signal",
	"rigger": "rigger", "rigging": "rigger", "rigs": "rigger", "anchor watch": "rigger", "anchor": "rigger", "line watch": "rigger",
	"holder": "holder", "holding line": "holder", "holding": "holder", "holds": "holder", "holding-line tender": "holder", "rope": "holder", "holding rope": "holder", "tail": "holder", "tail rope": "holder",
	"chocks": "chocks", "chock": "chocks", "chock hand": "chocks", "wedges": "chocks", "chocking": "chocks",
	"lookout": "lookout", "look out": "lookout", "traffic": "lookout", "road": "lookout", "first aid": "lookout",
	"recorder": "recorder", "notes": "recorder", "phone": "recorder",
}

// watching is a watch of which it isn't said what for: the lookout's where there is one,
// else of whoever looks after anchor and line.
const watching = "watching"

// partForms are what people say somebody does who has a part.
var partForms = []struct {
	does string
	said *regexp.Regexp
}{
	{"driver", regexp.MustCompile(`^(?:drives?|driving|operates|operating|works|working|runs|running|sits in|winches|winching|steers) ?(?:the |with the |our |my |his |her )?(?:tractor|truck|lorry|pickup|pick-up|jeep|4x4|car|van|digger|excavator|puller|machine|winch|quad|land ?rover|unimog|tele ?handler|loader|vehicle)?$`)},
	{"rigger", regexp.MustCompile(`^(?:watch|watches|watching|looks? after|minds?|minding|keeps an eye on) (?:the )?(?:anchors?|trees?|stakes?|lines?|ropes?|haul line|rig|gear|strops?|mark|blocks?)$`)},
	{"lookout", regexp.MustCompile(`^(?:watch|watches|watching|minds?|minding|keeps an eye on) (?:the |for )?(?:road|traffic|public|people|cars|gate|path|walkers)$`)},
	{watching, regexp.MustCompile(`^(?:watch|watches|watching|keeps watch)$`)},
	{"holder", regexp.MustCompile(`^(?:holds?|holding|tends?|tending|minds?|minding|hangs on to) (?:the )?(?:holding |tail )?(?:ropes?|lines?|tail)$`)},
	{"signal", regexp.MustCompile(`^(?:gives?|giving|does|calls?|calling|makes?) (?:the )?(?:hand )?signals?$`)},
	{"chocks", regexp.MustCompile(`^(?:sets?|setting|does|carries|places?|minds?|handles?) (?:the )?(?:chocks?|wedges?)$`)},
}

var (
	placing  = regexp.MustCompile(`^((?:is|are|will|should|can|shall|does|do|takes|take|taking|over|as|on|has|gets|at|be|being|goes|go|to|in|the|a|our|also|instead|too)\s+)*`)
	fillsIn  = regexp.MustCompile(`(?:\s+(?:now|then|please|instead|too|also|as well|from now on|from here on|from here|this time|again|for now|for (?:him|her|them|me|us|\w+)))+$`)
	meeting  = regexp.MustCompile(`^(?:i am|i'm|im|this is) (.+)$`)
	unphoned = regexp.MustCompile(`^(.+?) (?:has no phone|has no signal|lost (?:the|his|her|their) phone|is without (?:a )?phone)$`)

	// swapping is somebody who swaps, the first of two names left out where it is who
	// writes; swapsTwo is the same told of two.
	swapping = regexp.MustCompile(`^(?:(?:please|can|could|may|let|let's|lets|we|i|i'd like to|want to|should|must) )*(?:swap|swop|switch|exchange|change) (?:(?:over|round|places|parts|posts|seats|jobs) )?(?:with |for )?(?:(.+?) (?:and|with|for|&) )?(.+?)(?: (?:over|round|around|places|parts|posts|seats|jobs|please|now))*$`)
	swapsTwo = regexp.MustCompile(`^(.+?) (?:(?:and|&) (.+?) )?(?:(?:should|must|will|can|to) )?(?:swaps?|swops?|switch(?:es)?|exchanges?|changes?)(?: (?:over|round|places|parts|posts|seats|jobs))*(?: (?:with|for) (.+?))?(?: (?:please|now))*$`)

	betweenPlaced = regexp.MustCompile(`\s*(?:[,;.\n&]|\band\b|\bthen\b)\s*`)
)

// A placement is somebody named for a part.
type placement struct {
	name, does string
	also       bool // beside the part that they have
}

// partMeant returns what somebody does of whom words say so, and whether that is beside
// what they have.
func partMeant(words string) (does string, also, ok bool) {
	words = strings.TrimSpace(fillsIn.ReplaceAllString(" "+words, ""))
	for _, said := range []string{words, words[len(placing.FindString(words)):]} {
		if does, ok = partWords[said]; ok {
			break
		}
		if i := slices.IndexFunc(partForms, func(f struct {
			does string
			said *regexp.Regexp
		}) bool {
			return f.said.MatchString(said)
		}); i >= 0 {
			does, ok = partForms[i].does, true
			break
		}
	}
	return does, slices.Contains(strings.Fields(placing.FindString(words)), "also"), ok
}

// placements reads who is named for which part; rest are the parts of a message that say
// nothing of that.
func placements(low string) (out []placement, rest []string) {
	for _, said := range betweenPlaced.Split(low, -1) {
		words := strings.Fields(said)
		at := slices.IndexFunc([]int{1, 2, 3}, func(n int) bool {
			if n >= len(words) || placing.MatchString(strings.Join(words[:n], " ")+" ") && placing.FindString(strings.Join(words[:n], " ")+" ") != "" {
				return false
			}
			_, _, ok := partMeant(strings.Join(words[n:], " "))
			return ok
		})
		if at < 0 {
			if said != "" {
				rest = append(rest, said)
			}
			continue
		}
		does, also, _ := partMeant(strings.Join(words[at+1:], " "))
		out = append(out, placement{name: strings.Join(words[:at+1], " "), does: does, also: also})
	}
	return out, rest
}

// placed puts people into the parts that are named for them, and reports whether all of
// the message says that.
func (t *turn) placed(low string) bool {
	list, rest := placements(low)
	if len(list) == 0 || len(rest) > 0 {
		return false
	}
	for i, p := range list {
		if p.does == watching {
			list[i].does = t.watch()
		}
		known := t.seatNamed(p.name) != nil || t.notHere(p.name) != nil || t.s.called(p.name) != nil
		switch {
		case p.name == "lead":
			return false
		case !known && (!t.hasEmpty(list[i].does) || strings.Contains(p.name, " ")):
			return t.placesNobody(p.name)
		}
	}
	if len(list) > 1 && t.isLead() {
		if news := t.places(list); len(news) > 0 {
			t.rearrange(news...)
			return true
		}
	}
	for _, p := range list {
		t.puts(p.name, p.does, p.also)
	}
	return true
}

// placesNobody says of a name that nobody here goes by that it is none of them, and
// reports whether it is one: a rope that is on the winch is not.
func (t *turn) placesNobody(name string) bool {
	written := named(t.in.Text, name)
	if _, is := hear.OneName(written); !is || !t.isLead() || strings.Contains(name, " ") || !unicode.IsUpper([]rune(written)[0]) || notVehicle(name) || t.isGone(name) {
		return false
	}
	var names wording.Names
	for _, b := range t.bodies() {
		names = append(names, b.name)
	}
	t.remark(wording.SeatUnknown, wording.Args{"Name": written, "Names": names, "Number": t.people() + 1})
	return true
}

func (t *turn) watch() string {
	if slices.ContainsFunc(t.s.Seats, func(s Seat) bool { return s.Post.Does == "lookout" }) {
		return "lookout"
	}
	return "rigger"
}

// places returns the seats that are another's when several who have one are put into
// others: who has a part that is given away gets the one that is left. None where the
// same can't be said of all of them.
func (t *turn) places(list []placement) []Seat {
	after := slices.Clone(t.s.Seats)
	for _, p := range list {
		to := slices.IndexFunc(after, func(s Seat) bool { return s.Post.Does == p.does })
		from := slices.IndexFunc(after, func(s Seat) bool { return s.Name != "" && sameName(s.Name, p.name) })
		m := t.s.called(p.name)
		if to < 0 || from < 0 || p.also || p.does == "leader" || m != nil && m.ID == t.s.Lead.ID || t.wasHurt(after[from].Name) || t.s.leaves(after[from].Member) || t.s.leaves(after[to].Member) || t.unfit(after[from].Name) || t.notHere(p.name) != nil {
			return nil
		}
		after[to].Name, after[to].Member, after[from].Name, after[from].Member = after[from].Name, after[from].Member, after[to].Name, after[to].Member
	}
	var news []Seat
	for i, s := range after {
		if was := t.s.Seats[i]; was.Name != s.Name {
			news = append(news, s)
		}
	}
	return news
}

// placeNamed gives those who are named for the first time the parts that were told with
// their names.
func (t *turn) placeNamed(text string) {
	list, _ := placements(hear.Lowered(strings.Trim(text, " .!")))
	var known []placement
	for _, p := range list {
		if p.does == watching {
			p.does = t.watch()
		}
		if t.seatNamed(p.name) != nil {
			known = append(known, p)
		}
	}
	for _, s := range t.places(known) {
		t.give(s)
	}
}

// swapSaid swaps two people who are named for it, or who writes with one.
func (t *turn) swapSaid(low string) bool {
	one, other := "", ""
	if m := swapping.FindStringSubmatch(low); m != nil {
		one, other = m[1], m[2]
	} else if m := swapsTwo.FindStringSubmatch(low); m != nil {
		one, other = m[1], m[2]+m[3]
	}
	self := func(name string) bool { return name == "" || name == "i" || name == "me" || name == "we" }
	if self(other) {
		one, other = other, one
	}
	a, b := t.seatNamed(one), t.seatNamed(other)
	if self(one) {
		a = t.s.seatOf(t.in.Person.ID)
	}
	switch {
	case a == nil || b == nil:
		return false
	case a.Member != t.in.Person.ID && b.Member != t.in.Person.ID && !t.isLead():
		t.remark(wording.JoinNotLead, wording.Args{"Name": t.s.Lead.Name})
	default:
		t.swap(*a, *b)
	}
	return true
}
