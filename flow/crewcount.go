package flow

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"linetender/flow/hear"
)

// How many people are there is counted by whoever leads on the spot: somebody afar
// counts themself in, and two who count at once count each other twice. Another count
// stands beside it until the lead has settled it, nothing pulls meanwhile, and nobody
// loses a part by it.

// ofAllHere are words of how many are there in all, and nothing else.
var ofAllHere = regexp.MustCompile(`(?i)^\W*(?:(?:ok|okay|no|now|so|but|hey|actually|sorry|i think|only|just|change|we|we'?re|we are|there|there'?s|there are|there is|it'?s|the|crew|team|people|is|are|be|of|to|have)\b[\s:=,]*)*` +
	`(?:\d+|one|two|three|four|five|six|seven|eight|nine|ten)(?:[\s,]*\b(?:of us|of them|people|persons?|men|women|hands|folks|crew|in|the|all|total|told|altogether|here|now|on site|on the spot|instead)\b)*\W*$`)

// countsAll reports whether a message says how many are there, all told.
func countsAll(text string) bool { return ofAllHere.MatchString(text) }

// crewCounted has the crew told by name again once it has another size than was. One
// that has grown keeps the names that were told, with their parts: only who came is
// asked for, unless who came has a part and a phone of their own, and so a name. Of one that has shrunk nobody knows who has gone, so nobody keeps a part
// by a name that may be theirs; at a tight line it is kept who stood where.
func (t *turn) crewCounted(was string) {
	t.act(Act{Do: DoReopen, Topic: "names"})
	n, err := strconv.Atoi(was)
	if kept := t.s.Crew; err == nil && n < t.people() && len(kept) > 0 {
		if named := t.withSeated(kept); len(named) == t.people() {
			t.act(Act{Do: DoCrew, Names: named})
			t.act(Act{Do: DoSettle, Topic: "names", How: Told})
		}
		t.propose(t.everyone(t.s.Crew))
		t.pullPeople()
		return
	}
	t.keepsStood()
	t.act(Act{Do: DoCrew})
	t.propose(t.everyone(nil))
	t.pullPeople()
}

// withSeated adds to the names of a crew those on the spot who have a part by a phone of
// their own and were never told by name: they came into it when the others had theirs.
func (t *turn) withSeated(names []string) []string {
	out := slices.Clone(names)
	for _, m := range t.s.present(AsLead, AsCrew) {
		if t.s.seatOf(m.ID) != nil && !slices.ContainsFunc(out, func(n string) bool { return sameName(n, m.Name) }) {
			out = append(out, m.Name)
		}
	}
	return out
}

// withKept adds to the people who are told those whose names are known and who are still
// there, as far as a crew of that size has room for both; a list that has too many for
// that, or has them all, is the whole crew told anew.
func (t *turn) withKept(told []hear.Person) []hear.Person {
	if len(told) == 0 || t.s.Settled["names"] != "" {
		return told
	}
	var all []hear.Person
	for _, name := range t.s.Crew {
		i := slices.IndexFunc(told, func(p hear.Person) bool { return sameName(p.Name, name) || p.Me && sameName(t.s.Lead.Name, name) })
		if i < 0 {
			all = append(all, hear.Person{Name: name})
			continue
		}
		all = append(all, told[i])
	}
	for _, p := range told {
		if !slices.ContainsFunc(all, func(o hear.Person) bool { return o == p }) {
			all = append(all, p)
		}
	}
	if len(all) > t.people() {
		return told
	}
	return all
}

// heldStood says of a post of a tight line who had it, by name and with no phone here,
// until the crew was counted anew.
const heldStood = "stood:"

// keepsStood keeps who has which post of a tight line.
func (t *turn) keepsStood() {
	if !t.s.tight() {
		return
	}
	for _, s := range t.s.Seats {
		if s.Name != "" && t.s.phone(s) == nil {
			t.act(Act{Do: DoHold, Path: heldStood + s.Post.Does, Value: s.Name})
		}
	}
}

// stoodAt returns the duties of the posts that somebody had at the line that is tight.
func (t *turn) stoodAt(name string) []string {
	var out []string
	for _, s := range t.s.Seats {
		if had := t.s.Held[heldStood+s.Post.Does]; had != "" && (had == name || strings.EqualFold(had, name)) {
			out = append(out, s.Post.Does)
		}
	}
	return out
}

// forgetStood ends that, once the crew is known by name.
func (t *turn) forgetStood() {
	for _, s := range t.s.Seats {
		if t.s.Held[heldStood+s.Post.Does] != "" {
			t.act(Act{Do: DoHold, Path: heldStood + s.Post.Does})
		}
	}
}
