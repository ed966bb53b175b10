package flow

import (
	"slices"
	"strconv"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Parts change hands in words as much as by buttons: who has one may swap it,
// the lead may place anybody, and whoever came without being named says who
// they are. Whatever changes is accepted anew by those whose part it is.

// seatWords does what words about parts and items of the list say.
func (t *turn) seatWords(text string) bool {
	low := hear.Lowered(strings.Trim(text, " .!?"))
	if low == "card" && t.s.State != Referred {
		t.showCard()
		return true
	}
	if t.wordSaid(text) {
		return true
	}
	if len(t.s.Seats) > 0 {
		switch low {
		case "who", "who is open", "whos open", "who's open":
			t.who()
			return true
		case "swap":
			if s := t.s.seatOf(t.in.Person.ID); s != nil {
				t.offerSwap(*s)
				return true
			}
		}
		if t.answersQuery(text, false) || t.tookPart(low) {
			return true
		}
		if t.placeWords(low) {
			return true
		}
	}
	return t.itemWords(text)
}

func (t *turn) placeWords(low string) bool {
	if t.someoneLeaves(low) || t.crewNow(low) {
		return true
	}
	if t.swapSaid(low) {
		return true
	}
	if m := meeting.FindStringSubmatch(low); m != nil && t.me() != nil {
		if s := t.seatNamed(m[1]); s != nil && !t.s.alone() {
			t.isMe(*s)
			return true
		}
	}
	if m := unphoned.FindStringSubmatch(low); m != nil {
		if s := t.seatNamed(m[1]); s != nil {
			t.unphone(*s)
			return true
		}
	}
	return t.placed(low)
}

func (t *turn) hasEmpty(does string) bool {
	return slices.ContainsFunc(t.s.Seats, func(s Seat) bool { return s.Post.Does == does && s.Name == "" })
}

// seatNamed returns the first seat of somebody by name.
func (t *turn) seatNamed(name string) *Seat {
	name = strings.TrimSpace(name)
	for _, whole := range []bool{true, false} {
		for i := range t.s.Seats {
			s := &t.s.Seats[i]
			if s.Name != "" && (strings.EqualFold(s.Name, name) || !whole && sameName(s.Name, name)) {
				return s
			}
		}
	}
	return nil
}

// offered1 returns the seat that is offered in the chat that speaks, to who
// speaks.
func (t *turn) offered1() *Seat {
	for i := range t.s.Seats {
		s := &t.s.Seats[i]
		if !s.Taken && s.Name != "" && t.seatChat(*s) == t.in.Chat && t.speaksFor(*s) {
			return s
		}
	}
	return nil
}

// speaksFor reports whether it is for who speaks to answer for a seat: on
// their own phone, or as the lead for somebody without one.
func (t *turn) speaksFor(s Seat) bool {
	if m := t.s.phone(s); m != nil {
		return t.in.Person.ID == m.ID
	}
	return t.isLead()
}

// notYours tells whose a button is, in place of the press.
func (t *turn) notYours(s Seat) {
	name := s.Name
	if t.s.phone(s) == nil {
		name = t.s.Lead.Name
	}
	t.aside1(wording.SeatNotYours, wording.Args{"Name": name})
}

// aside1 answers a press or a word in place, and asks nothing.
func (t *turn) aside1(k wording.Key, args wording.Args) {
	t.notice = t.in.Press != nil
	t.say(k, args)
	if !t.notice {
		t.ask()
	}
}

// seatPress does what a button about parts and items of the list says.
func (t *turn) seatPress(choice string) bool {
	parts := strings.Split(choice, ".")
	switch parts[0] {
	case "take", "swap", "swapto", "me":
	case "more":
		t.said = t.saying(wording.SeatMore)
		t.oneMore()
		return true
	case "who":
		t.said = t.saying(wording.ItemWho)
		t.who()
		return true
	case "word":
		return t.wordPress(parts)
	default:
		return t.itemPress(parts)
	}
	if len(parts) < 2 {
		return false
	}
	s := t.seatNumbered(parts[1])
	if s == nil {
		t.aside1(wording.RefuseStaleShort, nil)
		return true
	}
	switch {
	case parts[0] == "me":
		t.said = s.Name
		t.isMe(*s)
	case !t.speaksFor(*s):
		t.notYours(*s)
	case parts[0] == "take":
		t.said = t.saying(wording.SeatTake)
		t.takes(*s)
	case parts[0] == "swap":
		t.said = t.saying(wording.SeatSwap)
		t.offerSwap(*s)
	case len(parts) == 3:
		with := t.seatNumbered(parts[2])
		if with == nil {
			t.aside1(wording.RefuseStaleShort, nil)
			return true
		}
		t.said = with.Name
		t.swap(*s, *with)
	default:
		return false
	}
	return true
}

func (t *turn) seatNumbered(number string) *Seat {
	n, err := strconv.Atoi(number)
	for i := range t.s.Seats {
		if err == nil && t.s.Seats[i].Number == n && t.s.Seats[i].Name != "" {
			return &t.s.Seats[i]
		}
	}
	return nil
}

// takes keeps that somebody takes a part on.
func (t *turn) takes(s Seat) {
	if s.Taken {
		t.aside1(wording.SeatTakenTwice, wording.Args{"Name": s.Name})
		return
	}
	t.act(Act{Do: DoTake, Topic: s.Post.Does})
	t.say(wording.SeatTaken, wording.Args{"Name": s.Name, "Role": t.role(s)})
	t.tookLead(s)
	t.ask()
}

// heldSwap says of a seat that its person is asked with whom they swap.
const heldSwap = "swap-"

// swapsWith takes the name, or what a button says, at the question with whom to swap.
// It stands for one answer.
func (t *turn) swapsWith(text string) bool {
	s := t.s.seatOf(t.in.Person.ID)
	if s == nil || t.s.Held[heldSwap+itoa(s.Number)] == "" {
		return false
	}
	mine := *s
	t.act(Act{Do: DoHold, Path: heldSwap + itoa(mine.Number)})
	said := strings.TrimPrefix(bareLabel(text), "with ")
	for _, o := range t.s.Seats {
		if o.Name != "" && o.Name != mine.Name && (said == bareLabel(o.Name) || said == bareLabel(o.Name+", "+t.role(o))) {
			t.said = o.Name
			t.swap(mine, o)
			return true
		}
	}
	return false
}

// offerSwap lists with whom a part can be swapped.
func (t *turn) offerSwap(s Seat) {
	t.act(Act{Do: DoHold, Path: heldSwap + itoa(s.Number), Value: "1"})
	t.say(wording.SeatSwapWith, nil)
	t.offers = nil
	for _, o := range t.s.Seats {
		if o.Name != "" && o.Name != s.Name {
			t.offers = append(t.offers, offer{choice: "swapto." + itoa(s.Number) + "." + itoa(o.Number), label: o.Name + ", " + t.role(o)})
		}
	}
}

// swap lets two people change places. Who is leaving gets no new one: the other's place is
// open then, for the lead to fill.
func (t *turn) swap(a, b Seat) {
	if a.Name == b.Name {
		t.remark(wording.RefuseNotHere, nil)
		return
	}
	x, y := a, b
	x.Name, x.Member, y.Name, y.Member = b.Name, b.Member, a.Name, a.Member
	for _, s := range []*Seat{&x, &y} {
		if t.s.leaves(s.Member) {
			s.Name, s.Member = "", ""
		}
	}
	t.rearrange(x, y)
}

// rearrange fills seats anew, unless somebody would have what can't be had at
// once.
func (t *turn) rearrange(news ...Seat) {
	if who, is := t.leavesWheel(news); is {
		t.holdNow()
		t.remark(wording.SeatWheel, wording.Args{"Name": who})
		return
	}
	if s, is := t.leavesLine(news); is {
		t.holdNow()
		t.remark(wording.SeatStays, wording.Args{"Name": s.Name, "Role": t.role(s)})
		return
	}
	after := slices.Clone(t.s.Seats)
	for _, n := range news {
		for i := range after {
			if after[i].Post.Does == n.Post.Does {
				after[i] = n
			}
		}
	}
	if a, b, is := clash(after); is {
		t.remark(wording.SeatClash, wording.Args{"Name": a.Name, "Role": t.role(a), "What": t.role(b)})
		return
	}
	for _, n := range news {
		t.give(n)
	}
	tell := func() {
		for _, n := range news {
			if n.Name != "" { // else the lead is asked who
				t.say(wording.SeatMoved, wording.Args{"Name": n.Name, "Role": t.role(n)})
			}
		}
	}
	tell()
	t.toLead(tell)
	t.personChanged()
	t.goOn()
}

// andWatch says something where it is said now, and to who leads and who watches
// from afar: what a report leads to is theirs to know, whoever told it.
func (t *turn) andWatch(say func()) {
	here := t.mail.chat
	say()
	for _, chat := range t.s.chats(AsLead, AsCoordinator) {
		if chat != here {
			t.inChat(chat, say)
		}
	}
}

// toLead says something in the lead's chat when the turn is in another.
func (t *turn) toLead(say func()) {
	if lead := t.s.leadChat(); lead != t.in.Chat {
		t.inChat(lead, say)
	}
}

// puts puts somebody into a part. Who had it gets theirs; with also they keep
// what they have, as far as one person may do both.
func (t *turn) puts(name, does string, also bool) {
	if !t.isLead() {
		t.remark(wording.JoinNotLead, wording.Args{"Name": t.s.Lead.Name})
		return
	}
	if t.refusesUnfit(name) {
		return
	}
	if m := t.notHere(name); m != nil {
		t.remark(wording.SeatNotHere, wording.Args{"Name": m.Name})
		return
	}
	if t.isGone(name) {
		t.remark(wording.SeatHasGone, wording.Args{"Name": name, "Number": t.people() + 1})
		return
	}
	if m := t.s.called(name); does == "leader" && m != nil && m.ID != t.s.Lead.ID {
		t.handOver(name)
		return
	}
	t.fitPosts()
	i := slices.IndexFunc(t.s.Seats, func(s Seat) bool { return s.Post.Does == does })
	if i < 0 {
		t.remark(wording.SeatNone, wording.Args{"Names": t.roles1()})
		return
	}
	to, from := t.s.Seats[i], t.seatNamed(name)
	if m := t.s.called(name); m != nil && t.wasHurt(m.Name) {
		name = m.Name
	}
	if t.wasHurt(name) {
		t.act(Act{Do: DoHold, Path: heldHurt + strings.ToLower(name)})
	}
	switch {
	case from == nil && t.s.fromAfar(name) != nil:
		t.remark(wording.SeatAfarNamed, wording.Args{"Name": t.s.fromAfar(name).Name})
	case from == nil:
		to.Name, to.Member = named(t.in.Text, name), ""
		if m := t.s.called(name); m != nil && (m.As == AsCrew || m.As == AsLead) {
			to.Name, to.Member = m.Name, m.ID
		}
		t.rearrange(to)
	case from.Name == to.Name:
		t.remark(wording.SeatTakenTwice, wording.Args{"Name": to.Name})
	case t.s.leaves(from.Member):
		t.remark(wording.SeatLeaves, wording.Args{"Name": from.Name, "Role": t.role(*from)})
	case also || to.Name == "" && t.twoSeats(from.Name):
		to.Name, to.Member = from.Name, from.Member
		t.rearrange(to)
	default:
		t.swap(to, *from)
	}
}

// notHere returns who goes by a name and can take no part on: their phone reaches nobody,
// or they have left and nobody else goes by it; nil for none.
func (t *turn) notHere(name string) *Member {
	m := t.s.called(name)
	if seat := t.seatNamed(name); seat != nil {
		if seat.Member == "" {
			return nil // somebody without a phone is answered for
		}
		m = t.s.member(seat.Member)
	}
	if m != nil {
		if m.Gone || m.Away {
			return m
		}
		return nil
	}
	for i := range t.s.Party {
		if o := &t.s.Party[i]; o.Gone && sameName(o.Name, name) {
			return o
		}
	}
	return nil
}

func (t *turn) twoSeats(name string) bool {
	n := 0
	for _, s := range t.s.Seats {
		if s.Name == name {
			n++
		}
	}
	return n > 1
}

// named is a name as it was written, of its small letters.
func named(text, low string) string {
	text = hear.Straight(text)
	if i := strings.Index(strings.ToLower(text), low); i >= 0 && i+len(low) <= len(text) {
		return wording.Plain(text[i : i+len(low)])
	}
	return wording.Plain(low)
}

func (t *turn) roles1() wording.Names {
	var out wording.Names
	for _, s := range t.s.Seats {
		out = append(out, t.role(s))
	}
	return out
}

// isMe ties the phone that speaks to somebody who was named without one.
func (t *turn) isMe(s Seat) {
	m := t.me()
	switch {
	case m == nil || m.afar():
		t.aside1(wording.SeatAfar, nil)
	case t.s.phone(s) != nil && s.Member != m.ID:
		t.aside1(wording.SeatHasPhone, wording.Args{"Name": s.Name})
	case t.s.seatOf(m.ID) != nil:
		t.aside1(wording.SeatTakenTwice, wording.Args{"Name": t.s.seatOf(m.ID).Name})
	default:
		t.act(Act{Do: DoName, Path: m.ID, Value: t.s.freeName(s.Name, m.ID)})
		t.link(s.Name, *t.s.member(m.ID))
		t.ask()
	}
}

// link gives the seats of somebody their phone; they take them on from there.
func (t *turn) link(name string, m Member) {
	for _, s := range slices.Clone(t.s.Seats) {
		if s.Name == name {
			s.Name, s.Member = m.Name, m.ID
			t.give(s)
		}
	}
}

// unphone has the lead speak for somebody whose phone is of no use any more.
func (t *turn) unphone(s Seat) {
	if !t.isLead() {
		t.remark(wording.JoinNotLead, wording.Args{"Name": t.s.Lead.Name})
		return
	}
	for _, x := range slices.Clone(t.s.Seats) {
		if x.Name == s.Name && x.Member != t.s.Lead.ID {
			x.Member = ""
			t.give(x)
		}
	}
	t.say(wording.SeatNoPhone, wording.Args{"Name": s.Name})
	t.goOn()
}
