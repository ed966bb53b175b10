package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Who is told to be hurt holds no post any more: it is empty until somebody takes
// it on, and who was hurt has it again only by being placed anew. Where nobody says
// who it is, everybody says again that they are at their post.
//
// Source: common practice.

// heldHurt says of a name that they were hurt, and have not been placed since.
const heldHurt = "hurt-"

// wasHurt reports whether somebody was hurt, and nobody has placed them since.
func (t *turn) wasHurt(name string) bool { return t.s.Held[heldHurt+strings.ToLower(name)] != "" }

// vague are words for somebody hurt that name nobody.
var vague = regexp.MustCompile(`^(?:|somebody|someone|some ?one|anyone|one|he|she|they|him|her|them|us|we|man|woman|guy|mate|lad|person|people|everybody|hand|finger|foot|leg|arm|head)$`)

// onlyTells are words behind the name of somebody who tells of another.
var onlyTells = regexp.MustCompile(`^(?:says?|said|saw|sees|tells|told|heard|hears|thinks|reports?|noticed|found|helps|helped|called|is with|looks after)\b`)

// hurtSaid is one message that told of somebody hurt.
type hurtSaid struct {
	by    Person
	words string
}

// hurtTold are those of a stop.
func (t *turn) hurtTold(stop Stop) []hurtSaid {
	said := []hurtSaid{{stop.By, stop.Words}, {Person{ID: t.s.Lead.ID, Name: t.s.Lead.Name}, stop.Reason}}
	for _, r := range t.s.Reports {
		if r.Kind == "hurt" && r.At >= stop.At {
			said = append(said, hurtSaid{r.By, r.Words})
		}
	}
	return said
}

// hurtCrew are those of the crew who are told to be hurt, and whether somebody is of
// whom it was not said who.
func (t *turn) hurtCrew(stop Stop) (names []string, unknown bool) {
	add := func(name string) {
		if name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if stop.NoneHurt {
		return nil, false
	}
	pressed := true
	for _, said := range t.hurtTold(stop) {
		for _, d := range hear.Dangers(said.words, t.crewNames()) {
			if d.Kind != hear.Hurt || d.Stands != hear.Now && d.Stands != hear.Past {
				continue
			}
			pressed = false
			n := len(names)
			for _, s := range t.s.Seats {
				if s.Name != "" && saidHurt(d, s.Name) {
					add(s.Name)
				}
			}
			if d.What == "me" {
				if s := t.s.seatOf(said.by.ID); s != nil {
					add(s.Name)
				}
			}
			unknown = unknown || len(names) == n && vague.MatchString(strings.ToLower(d.What))
		}
	}
	return names, len(names) == 0 && (unknown || pressed)
}

// saidHurt reports whether somebody's name stands in what tells of a person hurt, as
// other than who tells it.
func saidHurt(d hear.Danger, name string) bool {
	first, _, _ := strings.Cut(strings.ToLower(name), " ")
	if sameName(d.What, name) {
		return !onlyTells.MatchString(strings.TrimPrefix(strings.TrimSpace(d.Said), first+" "))
	}
	at := regexp.MustCompile(`\b` + regexp.QuoteMeta(first) + `(?:'?s)?\b ?`).FindStringIndex(d.Said)
	return at != nil && !onlyTells.MatchString(d.Said[at[1]:])
}

// hurtPosts takes their posts from those who were hurt, once the stop for it is over,
// and returns what says so.
func (t *turn) hurtPosts(stop Stop) (say func()) {
	if len(t.s.Seats) == 0 {
		return func() {}
	}
	var lines []func()
	names, unknown := t.hurtCrew(stop)
	for _, name := range names {
		rest := slices.DeleteFunc(t.bodies(), func(b body) bool { return b.name == name })
		var posts wording.Names
		for _, s := range t.s.Seats {
			if s.Name == name {
				posts = append(posts, t.role(s))
			}
		}
		t.act(Act{Do: DoHold, Path: heldHurt + strings.ToLower(name), Value: "yes"})
		t.shareOut(name, rest)
		lines = append(lines, func() { t.say(wording.SeatHurt, wording.Args{"Name": name, "Names": posts}) })
	}
	if unknown && !t.s.alone() {
		t.retakeAll() // what says so is said first, at a tight line with what holds
		if !t.s.tight() {
			lines = append(lines, func() { t.say(wording.SeatHurtWho, nil) })
		}
	}
	return func() {
		for _, line := range lines {
			line()
		}
	}
}

// retakeAll has everybody asked anew for the post that they have.
func (t *turn) retakeAll() {
	t.retaken = true
	for _, s := range slices.Clone(t.s.Seats) {
		if s.Name != "" {
			t.act(Act{Do: DoSeat, Topic: s.Post.Does, Path: s.Post.Role, Value: s.Name, Second: s.Member})
		}
	}
}
