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
