package flow

import (
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// posts lists who does what, by the number of people: place and duty are
// those of does. Driver is never combined with anything, nor the leader with
// holder or chocks. More than eight are sent away.
//
// Source: common practice; one signaller at a time and a stop from anyone
// after 29 CFR 1926.1417(y) and .1419.
var posts = map[int][]Post{
	2: {{"leader_all", "leader"}, {"driver", "driver"}},
	3: {{"leader_signal", "leader"}, {"driver", "driver"}, {"rigger_watch", "rigger"}},
	4: {{"leader_signal", "leader"}, {"driver", "driver"}, {"rigger_watch", "rigger"}, {"holder", "holder"}},
	5: {{"leader_signal", "leader"}, {"driver", "driver"}, {"rigger", "rigger"}, {"holder", "holder"}, {"chocks", "chocks"}},
	6: {{"leader_signal", "leader"}, {"driver", "driver"}, {"rigger", "rigger"}, {"holder", "holder"}, {"chocks", "chocks"}, {"lookout", "lookout"}},
	7: {{"leader", "leader"}, {"driver", "driver"}, {"signal", "signal"}, {"rigger", "rigger"}, {"holder", "holder"}, {"chocks", "chocks"}, {"lookout", "lookout"}},
	8: {{"leader", "leader"}, {"driver", "driver"}, {"signal", "signal"}, {"rigger", "rigger"}, {"holder", "holder"}, {"chocks", "chocks"},
		{"lookout", "lookout"}, {"recorder", "recorder"}},
}

// mostPosts is the largest crew that has a place for everyone.
const mostPosts = 8

// people is how many are there.
func (t *turn) people() int {
	if t.s.Sheet.Crew == nil {
		return 0
	}
	return *t.s.Sheet.Crew
}

// names takes what people are called and says who does what.
func (t *turn) names(text string) {
	text, young := splitYoung(text)
	people := hear.People(text)
	if f := strings.Fields(wording.Plain(text)); len(people) == 1 && len(f) == t.people() && len(f) > 1 {
		people = people[:0] // first names with nothing between them
		for _, n := range f {
			people = append(people, hear.People(n)...)
		}
	}
	if known := len(people); known > 0 {
		people = slices.DeleteFunc(people, func(p hear.Person) bool { return p.Name != "" && t.unfit(p.Name) })
		for n := known - len(people); n > 0; n-- {
			young = append(young, "")
		}
	}
	t.keepUnfit(young...)
	told := t.nameThem(people)
	names := t.withoutAfar(slices.Clone(told))
	if len(young) > 0 {
		t.sayYoung(young)
	}
	if len(names) == 0 {
		if len(told) == 0 {
			t.miss("")
		} else {
			t.ask()
		}
		return
	}
	if len(young) > 0 && t.people() > len(names) {
		t.size(len(names))
	}
	t.act(Act{Do: DoCrew, Names: names})
	t.settle("names", Told)
	t.propose(t.everyone(names))
	t.roles()
	t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
	t.say(wording.ChecksBegin, nil)
	t.next()
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

// roles says everyone's part, place and duty.
func (t *turn) roles() {
	n := t.people()
	switch {
	case n == 0:
		return
	case n == 1:
		t.say(wording.CrewAlone, nil)
		return
	case n > mostPosts:
		t.say(wording.CrewCrowd, nil)
		n = mostPosts
	}
	t.sayApart(wording.CrewHead, nil)
	if n == 2 {
		t.say(wording.CrewPair, nil)
	}
	if t.tooFew([]string{"holder"}) && t.holdNeeded() {
		t.say(wording.PullTooFew, wording.Args{"Number": n})
	}
	for i, p := range posts[n] {
		name := itoa(i + 1)
		for _, seat := range t.s.Seats {
			if seat.Post.Does == p.Does && seat.Name != "" {
				name = seat.Name
			}
		}
		t.say(wording.CrewLine, wording.Args{"Name": name, "Role": t.saying(wording.Key("role." + p.Role)),
			"Place": t.saying(t.forPuller(wording.Key("place." + p.Does))), "Duty": t.saying(t.forPuller(wording.Key("duty." + p.Does)))})
	}
	t.say(wording.CrewRule, nil)
}
