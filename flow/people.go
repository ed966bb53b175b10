package flow

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// People come and go while a job is under way. What the crew was asked as a
// crew is asked again then, and who is left is given the parts of a crew of
// that size.

// newcomer finds a part for somebody who came with a phone: that of the same
// name, or one more in the crew when everyone else has a phone already.
func (t *turn) newcomer(m Member) {
	if m.As != AsCrew && m.As != AsLead || len(t.s.Seats) == 0 || t.s.seatOf(m.ID) != nil || t.unfit(m.Name) {
		return
	}
	for _, s := range t.phoneless() {
		if sameName(s.Name, m.Name) {
			t.link(s.Name, m)
			return
		}
	}
	if t.regains(m) {
		return
	}
	if m.As == AsCrew && len(t.phoneless()) == 0 {
		t.add(m)
	}
}

// fromAfar returns who follows from afar and goes by a name that nobody with a
// phone on the spot has; nil for none. A name with more to it is somebody else's.
func (s *Session) fromAfar(name string) *Member {
	if slices.ContainsFunc(s.present(AsLead, AsCrew), func(m Member) bool { return sameName(m.Name, name) }) {
		return nil
	}
	for _, m := range s.present(AsCoordinator, AsObserver) {
		first, _, _ := strings.Cut(m.Name, " ")
		if strings.EqualFold(m.Name, name) || strings.EqualFold(first, name) {
			return s.member(m.ID)
		}
	}
	return nil
}

// withoutAfar drops from the names of a crew those who follow from afar, and says
// so: nobody does a part that they can't see.
func (t *turn) withoutAfar(names []string) []string {
	return slices.DeleteFunc(names, func(name string) bool {
		m := t.s.fromAfar(name)
		if m != nil {
			t.say(wording.SeatAfarNamed, wording.Args{"Name": m.Name})
		}
		return m != nil
	})
}

// vacates empties the parts of somebody who follows from afar from now on,
// and those given to their name; the lead is asked who has them.
func (t *turn) vacates(m Member) {
	if !m.afar() {
		return
	}
	told := false
	for _, s := range slices.Clone(t.s.Seats) {
		if s.Name == "" || s.Member != m.ID && (s.Member != "" || t.s.fromAfar(s.Name) == nil || t.s.fromAfar(s.Name).ID != m.ID) {
			continue
		}
		s.Name, s.Member = "", ""
		t.give(s)
		if !told {
			t.toLead(func() { t.say(wording.SeatAfarNamed, wording.Args{"Name": m.Name}) })
		}
		told = true
	}
	if told {
		t.personChanged()
	}
}

// oneMore takes in somebody who is none of those that were named.
func (t *turn) oneMore() {
	m := t.me()
	if m == nil || m.As != AsCrew || t.s.seatOf(m.ID) != nil || len(t.s.Seats) == 0 {
		t.aside1(wording.RefuseStaleShort, nil)
		return
	}
	t.add(*m)
	t.goOn()
}

// leaderIs gives the leader's part to whoever leads from now on, and theirs to
// who led before. Somebody who leads from afar has no part on the spot.
func (t *turn) leaderIs(m Member) {
	mine, leads := t.s.seatOf(m.ID), t.s.doer("leader")
	if mine == nil || leads == nil || mine.Post == leads.Post {
		return
	}
	a, b := *leads, *mine
	a.Name, a.Member, b.Name, b.Member = b.Name, b.Member, a.Name, a.Member
	if was := t.s.member(b.Member); was != nil && was.Gone {
		b.Name, b.Member = "", ""
	}
	t.give(a)
	t.give(b)
}

// ownName is what somebody is called among the crew: no two alike.
func (t *turn) ownName(name, member string) string {
	for n, try := 2, name; ; n++ {
		taken := slices.ContainsFunc(t.s.Seats, func(s Seat) bool { return s.Member != member && strings.EqualFold(s.Name, try) })
		if !taken {
			return try
		}
		try = name + " " + itoa(n)
	}
}

// add makes the crew one larger, or fills a part that nobody was named for.
func (t *turn) add(m Member) {
	m.Name = t.ownName(m.Name, m.ID)
	t.act(Act{Do: DoCrew, Names: append(slices.Clone(t.s.Crew), m.Name)})
	for _, s := range t.s.Seats {
		if s.Name == "" {
			s.Name, s.Member = m.Name, m.ID
			t.give(s)
			if n := t.headcount(); n > t.people() { // the part of somebody who has gone
				t.size(n)
				t.tellCrew(wording.SeatOneMore, m.Name)
				t.toLead(func() { t.say(wording.SeatMoved, wording.Args{"Name": m.Name, "Role": t.role(s)}) })
				return
			}
			t.personChanged()
			return
		}
	}
	t.size(t.people() + 1)
	t.propose(append(t.bodies(), body{m.Name, m.ID}))
	t.tellCrew(wording.SeatOneMore, m.Name)
}

// regains gives somebody who comes back the posts of the tight line at which they were told
// to stay, as far as nobody was named for them since, and reports whether there were any:
// they are asked whether they take them on again.
func (t *turn) regains(m Member) bool {
	posts := t.s.stays(m.ID)
	mine := slices.DeleteFunc(slices.Clone(t.s.Seats), func(s Seat) bool {
		return s.Name != "" || !slices.ContainsFunc(posts, func(duty string) bool { return t.s.doer(duty) != nil && t.s.doer(duty).Post == s.Post })
	})
	for _, s := range mine {
		s.Name, s.Member = m.Name, m.ID
		t.give(s)
	}
	if len(mine) == 0 {
		return false
	}
	t.act(Act{Do: DoCrew, Names: append(slices.Clone(t.s.Crew), m.Name)})
	if n := t.headcount(); n > t.people() {
		t.size(n)
		t.tellCrew(wording.SeatOneMore, m.Name)
	}
	t.toLead(func() {
		for _, s := range mine {
			t.say(wording.SeatMoved, wording.Args{"Name": m.Name, "Role": t.role(s)})
		}
	})
	return true
}

// headcount is how many people have a part.
func (t *turn) headcount() int {
	return len(slices.DeleteFunc(t.bodies(), func(b body) bool { return b.name == "" }))
}

// leftSeat gives the parts out among those who are left.
func (t *turn) leftSeat(m Member) {
	if t.s.seatOf(m.ID) == nil {
		return
	}
	rest := slices.DeleteFunc(t.bodies(), func(b body) bool { return b.member == m.ID })
	t.shareOut(m.Name, rest)
}

// shareOut gives the parts out among the rest.
func (t *turn) shareOut(name string, rest []body) {
	t.act(Act{Do: DoCrew, Names: slices.DeleteFunc(slices.Clone(t.s.Crew), func(n string) bool { return sameName(n, name) })})
	t.size(max(1, t.people()-1))
	t.act(Act{Do: DoHold, Path: heldGone + strings.ToLower(name), Value: itoa(t.people())})
	t.propose(rest)
	t.tellCrew(wording.SeatOneLess, name)
}

// heldGone stands before the name of somebody who has gone, and keeps how many were left.
const heldGone = "gone-"

// isGone reports whether somebody of that name has gone, and nobody was told to have come
// since: whoever has no phone is there only by what is told of them.
func (t *turn) isGone(name string) bool {
	path := heldGone + strings.ToLower(name)
	left := t.s.Held[path]
	if left == "" {
		return false
	}
	if n, err := strconv.Atoi(left); err == nil && t.people() <= n && t.s.called(name) == nil && t.seatNamed(name) == nil {
		return true
	}
	t.act(Act{Do: DoHold, Path: path})
	return false
}

// leftOnes are words that somebody has gone, or must.
var leftOnes = regexp.MustCompile(`^(?:old |our )?([^,;.]+?)(?: just| now)? (?:leaves|leaving|left(?: the (?:site|job)| us| now| home| early| already)?|has left|is (?:gone|leaving|off home|off now)|has gone|gone home|went (?:home|away)|goes home|` +
	`(?:has|had|needs|must|got) (?:to )?(?:go|leave)(?: home| now)?|must go|quits?)(?:$|[ ]*[,;.]| and\b| to\b| for\b)`)

// someoneLeaves takes that somebody of the crew goes, told of them and not by
// them: their part is empty from then on, whoever is left.
func (t *turn) someoneLeaves(low string) bool {
	m := leftOnes.FindStringSubmatch(low)
	if m == nil || t.s.State == Halted || t.s.State == Away || t.s.State == Closed {
		return false
	}
	seat := t.seatNamed(m[1])
	if seat == nil {
		seat = t.seatWith(m[1])
	}
	switch {
	case seat == nil:
		return false
	case !t.isLead():
		t.holdFor(t.in.Text) // for the lead to see to
		t.ask()
		return true
	case seat.Member == t.s.Lead.ID && seat.Member != "" || seat.Post.Does == "leader":
		t.remark(wording.SeatLeadGoes, nil)
		return true
	}
	gone := *seat
	if phone := t.s.phone(gone); phone != nil {
		t.act(Act{Do: DoGone, Value: phone.ID, Path: staysWithheld})
		t.stillWithheld(*phone)
		t.takenOff(*phone)
	}
	rest := slices.DeleteFunc(t.bodies(), func(b body) bool { return b.name == gone.Name })
	if names, ok := t.inPlace(gone.Name); ok {
		t.shareOutTo(gone.Name, names, rest)
	} else {
		t.shareOut(gone.Name, rest)
	}
	t.onward()
	t.ask()
	return true
}

// instead are words that somebody else has come in the place of who has gone, or two have.
var instead = regexp.MustCompile(`(?i)(?:[,;.]|\band\b)\s*(?:and |but )?(\pL[\pL'’-]+)(?: (?:and|&) (\pL[\pL'’-]+))?(?: is| are| has| have|'s|’s)?(?: now| here| come| came| comes)* (?:instead|for (?:him|her|them)|in (?:his|her|their) place)\W*$`)

// inPlace returns who is told to have come for somebody who has gone: one grown-up or two
// who are fit, and not of the crew yet.
func (t *turn) inPlace(gone string) ([]string, bool) {
	m := instead.FindStringSubmatch(t.in.Text)
	if m == nil {
		return nil, false
	}
	var names []string
	for _, word := range m[1:] {
		if word == "" {
			continue
		}
		name, ok := hear.OneName(word)
		young, _ := hear.YoungOf(t.in.Text, name)
		same := slices.ContainsFunc(names, func(n string) bool { return sameName(n, name) })
		if !ok || young || same || t.unfit(name) || sameName(name, gone) || t.seatNamed(name) != nil {
			return nil, false
		}
		names = append(names, name)
	}
	return names, true
}

// shareOutTo is shareOut where others come in: the parts are given out and taken anew.
func (t *turn) shareOutTo(gone string, names []string, rest []body) {
	crew := slices.DeleteFunc(slices.Clone(t.s.Crew), func(n string) bool { return sameName(n, gone) })
	t.act(Act{Do: DoCrew, Names: append(crew, names...)})
	for _, name := range names {
		rest = append(rest, body{name: name})
	}
	k := wording.SeatInPlace
	if len(names) > 1 {
		k = wording.SeatInPlaces
		t.size(t.people() - 1 + len(names))
	}
	t.propose(rest)
	t.tellCrew(k, names...)
}

// fewNow are words that the crew is of another size now.
var fewNow = regexp.MustCompile(`^(?:so |and |no,? |but )?(?:we are|we're|we were|theres|there are|there is) (?:only |just |down to )*(\d|one|two|three|four|five|six|seven|eight)(?: of us| people| left| now| here| grown ?-?ups?| adults?)+(?::.*)?$`)

// crewNow takes how many there are now, told in passing. Who it is that is left
// is asked by name.
func (t *turn) crewNow(low string) bool {
	m := fewNow.FindStringSubmatch(low)
	if m == nil || !t.isLead() || t.s.State == Halted || t.s.State == Away || t.s.State == Closed {
		return false
	}
	n, err := strconv.Atoi(m[1])
	if err != nil {
		n = slices.Index([]string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight"}, m[1])
	}
	if n < 1 {
		return false
	}
	if n == t.people() {
		t.put([]change{{set: set{"crew", itoa(n)}, how: Told}})
		t.ask()
		return true
	}
	t.fire(Reopens)
	t.act(Act{Do: DoAsk})
	t.put([]change{{set: set{"crew", itoa(n)}, how: Told}})
	t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
	t.next()
	return true
}

// seatWith returns the seat of the only one whose name has a word.
func (t *turn) seatWith(word string) *Seat {
	var found *Seat
	for i := range t.s.Seats {
		s := &t.s.Seats[i]
		if !slices.Contains(strings.Fields(strings.ToLower(s.Name)), word) {
			continue
		}
		if found != nil && found.Name != s.Name {
			return nil
		}
		found = s
	}
	return found
}

// size keeps how many there are.
func (t *turn) size(n int) {
	t.act(Act{Do: DoSet, Path: "crew", Value: itoa(n), Was: itoa(t.people()), How: Told})
}

func (t *turn) tellCrew(k wording.Key, names ...string) {
	t.personChanged()
	t.inChat(t.s.leadChat(), func() {
		if k == wording.SeatOneLess && t.s.tight() {
			k = wording.SeatOneLessTight
		}
		t.say(k, wording.Args{"Name": first0(names), "Names": wording.Names(names), "Number": t.people()})
		if !t.s.tight() { // nobody was moved, and what is lost is said first
			t.roles()
		}
	})
}

// goOn has the job go on from what the crew is now: the list where it is
// walked, else what stands to be answered.
func (t *turn) goOn() {
	t.onward()
	t.ask()
}

// onward has the job find what is next, in the lead's chat.
func (t *turn) onward() {
	switch t.s.State {
	case Checks, Verdict:
		t.inChat(t.s.leadChat(), t.next)
	case Pulling:
		if _, _, barred := t.barred(); !barred || !t.s.Stage.needsPlan() {
			return
		}
		t.inChat(t.s.leadChat(), t.next)
	}
}
