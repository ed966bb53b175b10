package flow

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// People say who they are before anybody asks. It is kept for when the parts are
// given out; how many there are is asked all the same, and names of another number
// are asked anew.

// namesHeld is what was said of who is there before it was asked.
const namesHeld = "names_early"

// weAre is how people name themselves, as a list of more than one.
var weAre = regexp.MustCompile(`(?i)^(?:hi|hello|ok|so|and|,| )*(?:we are|we're|we’re|the crew is|the crew are|crew is|crew:|our names are|the names are|names:)[ :]+(.+(?:,|&|\band\b).+)$`)

// namesEarly takes names that are told where they are not asked. Only words with
// a capital are read as names: we are wet, cold and stuck tells of nobody.
func (t *turn) namesEarly(text string) bool {
	m := weAre.FindStringSubmatch(strings.Trim(text, " .!"))
	if m == nil || !t.main() || t.s.Settled["names"] != "" || t.s.Topic == "names" || t.s.Stage.Rigged() {
		return false
	}
	switch t.s.State {
	case Halted, Away, Closed, Debrief, Referred, Signing:
		return false
	}
	people := hear.People(m[1])
	if len(people) < 2 || slices.ContainsFunc(people, func(p hear.Person) bool {
		return !p.Me && (p.Name == "" || !unicode.IsUpper([]rune(p.Name)[0])) || strings.ContainsAny(p.Name, "0123456789")
	}) || t.tells(text) {
		return false
	}
	t.act(Act{Do: DoHold, Path: namesHeld, Value: wording.Plain(m[1])})
	t.remark(wording.CrewNamesEarly, wording.Args{"Names": t.namesIn(people)})
	return true
}

func (t *turn) namesIn(people []hear.Person) wording.Names {
	var out wording.Names
	for _, p := range people {
		name := wording.Plain(p.Name)
		if name == "" {
			name = t.s.Lead.Name
		}
		out = append(out, name)
	}
	return out
}

// countNames is how many there are, and then who.
var countNames = regexp.MustCompile(`(?i)^\W*(?:we are |we're |we’re |there are |there's |theres )?(` + howMany + `)(?: of us)?\s*[,:;(–-]\s*(.+)$`)

// crewByName returns how many are there where a message names them all, and their names
// as a list: "4, me Jo Bea and Sam". Only words with a capital are names; a number that
// is not that of the names is no such message.
func crewByName(text string) (n int, names string) {
	listed := text
	if m := countNames.FindStringSubmatch(text); m != nil {
		n, listed = numberOf(strings.ToLower(m[1])), m[2]
	}
	listed = strings.Trim(listed, " .!)")
	capital := func(p hear.Person) bool {
		return p.Name == "" && p.Me || p.Name != "" && unicode.IsUpper([]rune(p.Name)[0])
	}
	if people := hear.People(listed); len(people) > 1 && (len(people) == n || n == 0 && len(people) == len(nameSplit.Split(listed, -1))) &&
		!slices.ContainsFunc(people, func(p hear.Person) bool { return !capital(p) || p.Me && p.Name != "" || strings.Contains(p.Name, " ") }) {
		return len(people), listed
	}
	words := nameWords.FindAllString(listed, -1)
	words = slices.DeleteFunc(words, func(w string) bool { return w == "and" || w == "n" })
	if len(words) != n || n < 2 || strings.ContainsAny(listed, "0123456789") || slices.ContainsFunc(words, func(w string) bool { return !strings.EqualFold(w, "me") && !unicode.IsUpper([]rune(w)[0]) }) {
		return 0, ""
	}
	return n, strings.Join(words, ", ")
}

var (
	nameSplit = regexp.MustCompile(`\s*(?:,|;|&|\band\b)\s*(?:and\b\s*)?`)
	nameWords = regexp.MustCompile(`[\pL][\pL'’-]*`)
)

// toNames asks what people are called, or takes what was told before, where that
// is as many as there are.
func (t *turn) toNames() {
	early := t.s.Held[namesHeld]
	if early == "" {
		t.to("names", Crew)
		return
	}
	t.act(Act{Do: DoHold, Path: namesHeld})
	if rest, young := splitYoung(early); len(young) > 0 || len(hear.People(rest)) != t.people() {
		t.to("names", Crew)
		return
	}
	t.names(early)
}
