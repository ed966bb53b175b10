package flow

import (
	"slices"
	"strings"

	"linetender/calc"
	"linetender/calc/handbook"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// people is how many are there.
func (t *turn) people() int {
	if t.s.Sheet.Crew == nil {
		return 0
	}
	return *t.s.Sheet.Crew
}

// names takes what people are called and says who does what.
func (t *turn) names(text string) {
	if sameCrew.MatchString(text) && len(t.crewAgain()) > 0 {
		t.takesAgain("same_crew")
		return
	}
	text, young, drunk := splitApart(text)
	people := hear.People(text)
	fewer := t.fewer(young) + t.fewer(drunk)
	t.saysApart(young, drunk)
	if hear.AnimalIn(text) {
		fewer++ // it may have been counted
		t.say(wording.SeatAnimal, nil)
	}
	if f := strings.Fields(wording.Plain(text)); len(people) == 1 && len(f) > 1 && (len(f) == t.people() || len(f) > 3 && t.people() > 2) && allNames(f) {
		people = people[:0] // first names with nothing between them
		for _, n := range f {
			people = append(people, hear.People(n)...)
		}
	}
	if known := len(people); known > 0 {
		people = slices.DeleteFunc(people, func(p hear.Person) bool {
			words := strings.Fields(p.Name) // "lass Sal" is Sal
			return p.Name == "" && t.unfit(t.whoName()) || p.Name != "" && (t.unfit(p.Name) || t.unfit(words[len(words)-1]))
		})
		if n := known - len(people); n > 0 && len(young)+len(drunk) == 0 {
			young = make([]string, n)
			t.sayYoung(young)
		}
	}
	told := t.nameThem(t.withKept(people))
	names := t.withoutAfar(slices.Clone(told))
	if len(names) == 0 {
		if len(told) == 0 {
			t.miss("")
		} else {
			t.ask()
		}
		return
	}
	if fewer > 0 && t.people() > len(names) {
		t.size(max(len(names), t.people()-fewer)) // who was not named is there all the same
	}
	t.act(Act{Do: DoCrew, Names: names})
	t.settle("names", Told)
	t.propose(t.everyone(names))
	t.placeNamed(text)
	t.forgetStood()
	t.roles()
	t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
	t.say(wording.ChecksBegin, nil)
	t.next()
}

// fewer is how many of those who are told apart were counted until now.
func (t *turn) fewer(apart []string) int {
	return len(slices.DeleteFunc(slices.Clone(apart), t.unfit))
}

// allNames reports whether words can each be somebody's name: one of them that belongs to
// the name behind it, or that is no name at all, makes a name or a sentence of them.
func allNames(words []string) bool {
	return !slices.ContainsFunc(words, func(w string) bool {
		return slices.Contains([]string{"van", "von", "der", "den", "de", "di", "da", "la", "le", "bin", "al", "el", "st", "mc", "o"}, strings.ToLower(strings.Trim(w, ".,"))) ||
			len(hear.People(w)) != 1
	})
}

// nameThem lists the names and takes down which of them holds the lead's phone:
// who said so, else whom the channel calls by one of them, else the first, as
// the question has it. Whoever walks the list must be known by name, since
// somebody else looks at it as well.
func (t *turn) nameThem(people []hear.Person) []string {
	holder := slices.IndexFunc(people, func(p hear.Person) bool { return p.Me })
	var names []string
	for i, p := range people {
		if p.Name = wording.Plain(p.Name); p.Name == "" {
			p.Name = t.s.Lead.Name
		}
		if holder < 0 && sameName(p.Name, t.s.Lead.Name) {
			holder = i
		}
		names = append(names, p.Name)
	}
	if t.isLead() && (!t.in.Group || t.s.alone()) && len(names) > 0 && t.me() != nil {
		first := names[max(holder, 0)]
		others := slices.ContainsFunc(t.s.present(), func(m Member) bool { return m.ID != t.in.Person.ID && sameName(m.Name, first) })
		if !others { // else it is somebody with a phone of their own
			t.calls(t.in.Person.ID, first)
		}
	}
	return names
}

// calls gives somebody with a phone the name that the crew has for them, where
// the channel's is not as good.
func (t *turn) calls(member, name string) {
	if m := t.s.member(member); m != nil && !sameName(m.Name, name) {
		t.act(Act{Do: DoName, Path: member, Value: name})
	}
}

// posts are the parts that there are, by how many are there and by whether the
// plan has a holding line.
func (t *turn) posts() []Post { return handbook.Posts(t.people(), t.holdNeeded()) }

// noPart says who has none, because there are more than a rig has a use for.
func (t *turn) noPart() {
	most := handbook.MostPosts(t.holdNeeded())
	if t.people() <= most {
		return
	}
	var names wording.Names
	for _, n := range t.s.Crew {
		if t.seatNamed(n) == nil {
			names = append(names, n)
		}
	}
	if len(names) == 0 {
		t.say(wording.CrewCrowd, wording.Args{"Number": most})
		return
	}
	t.say(wording.CrewCrowdNamed, wording.Args{"Names": names, "Number": most})
}

// fitPosts gives the parts out anew where a plan has come to need a holding line,
// or needs none any more. Nobody is moved from a post of a tight line: there the
// holder's is one more, for the lead to fill.
func (t *turn) fitPosts() {
	p := t.plan()
	if p == nil || p.Holding == nil || p.Decision == calc.Refer || len(t.s.Seats) == 0 || t.s.Settled["names"] == "" {
		return
	}
	list := t.posts()
	has := func(does string) bool {
		return slices.ContainsFunc(t.s.Seats, func(s Seat) bool { return s.Post.Does == does })
	}
	missing := slices.IndexFunc(list, func(p Post) bool { return p.Does == "holder" && !has("holder") })
	switch {
	case t.s.tight():
		if missing >= 0 {
			t.give(Seat{Post: list[missing]})
		}
		return
	case missing < 0 && (p.Holding.Needed || !has("holder")):
		return
	}
	crew := slices.DeleteFunc(t.bodies(), func(b body) bool { return b.name == "" })
	for _, n := range t.s.Crew {
		if len(crew) < t.people() && !slices.ContainsFunc(crew, func(b body) bool { return sameName(b.name, n) }) && !t.unfit(n) {
			crew = append(crew, body{name: n})
		}
	}
	for len(crew) < t.people() {
		crew = append(crew, body{})
	}
	t.propose(crew)
	k := wording.CrewNoHolder
	if p.Holding.Needed {
		k = wording.CrewHolder
	}
	t.inChat(t.s.leadChat(), func() {
		t.say(k, nil)
		t.roles()
	})
}

// roles says everyone's part, place and duty.
func (t *turn) roles() {
	n := t.people()
	switch {
	case n == 0:
		return
	case n == 1:
		t.say(wording.CrewAlone, nil)
		return
	}
	t.noPart()
	t.sayApart(wording.CrewHead, nil)
	if n == 2 {
		t.say(wording.CrewPair, nil)
	}
	if t.tooFew([]string{"holder"}) && t.holdNeeded() {
		t.say(wording.PullTooFew, wording.Args{"Number": n})
	}
	for i, p := range t.posts() {
		name := itoa(i + 1)
		for _, seat := range t.s.Seats {
			if seat.Post.Does == p.Does && seat.Name != "" {
				name = seat.Name
			}
		}
		t.say(wording.CrewLine, wording.Args{"Name": name, "Role": t.saying(wording.Key("role." + p.Role)),
			"Place": t.saying(t.forPuller(wording.Key("place." + p.Does))), "Duty": t.saying(t.fitted(wording.Key("duty." + p.Does)))})
	}
	t.say(wording.CrewRule, nil)
}
