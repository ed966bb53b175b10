package flow

import (
	"slices"
	"strings"

	"linetender/flow/wording"
)

// A tight line is kept by people at their posts. Where one of those is lost,
// whoever it was and however it came about (somebody left, was taken off, lost
// the part, or their terminal closed), everything holds at once, everybody is
// told, the driver first, and who must take the post before anything goes on.
// Nobody else is moved from a post while the line is tight: who fills the gap
// would leave another.

// tight reports whether the line, or the holding line, carries something.
func (s *Session) tight() bool {
	switch s.Stage {
	case AllPlaced:
		return s.taut() || len(s.Bites) > 0 // what holds the load stays on while the rope is laid out anew
	case GearCheck:
		return false
	}
	return s.Stage.Lies()
}

// holdsPost returns who has taken a duty on and is there; empty for nobody.
func (t *turn) holdsPost(duty string) string {
	s := t.s.doer(duty)
	if s == nil || !s.Taken || duty == "holder" && s.Post.Does != "holder" {
		return ""
	}
	if m := t.s.member(s.Member); s.Member != "" && m != nil && (m.Gone || m.Away) {
		return ""
	}
	return s.Name
}

// manning is who holds the posts that a tight line needs; nil where it is not
// tight, or nobody was given a part.
func (t *turn) manning() map[string]string {
	if t.s == nil || !t.s.tight() || len(t.s.Seats) == 0 {
		return nil
	}
	out := map[string]string{}
	for _, duty := range t.mannedPosts() {
		if name := t.holdsPost(duty); name != "" {
			out[duty] = name
		}
	}
	return out
}

// mannedPosts are those that a pull needs, and the holder's wherever somebody
// was given it: whether a line must hold is not asked while it may.
func (t *turn) mannedPosts() []string {
	out := t.neededPosts()
	if !slices.Contains(out, "holder") {
		out = append(out, "holder")
	}
	return out
}

// manned ends a turn in which a tight line has lost somebody.
func (t *turn) manned() {
	if t.err != nil || t.s == nil || len(t.manning0) == 0 || !t.s.tight() || t.s.Code != t.manned0 {
		return
	}
	var lost, passed []string
	var who, what, from wording.Names
	for _, duty := range t.mannedPosts() {
		name := t.manning0[duty]
		if name == "" || t.holdsPost(duty) != "" {
			continue
		}
		if s := t.s.doer(duty); t.retaken && s != nil && s.Name == name {
			continue // they are asked for it anew, and everything stands
		}
		if t.passes(duty, name) {
			passed = append(passed, duty)
			if !slices.Contains(from, name) {
				from = append(from, name)
			}
			continue
		}
		lost = append(lost, duty)
		if !slices.Contains(who, name) {
			who = append(who, name)
		}
	}
	if t.retaken {
		for _, chat := range t.s.chats() {
			t.inChat(chat, func() {
				t.urgent = true
				t.first(wording.SeatHurtWho, nil)
				if t.moved0 {
					t.mail.dropHold()
					t.first(t.forPuller(wording.PullHoldNow), nil)
				}
			})
		}
		t.mail = t.mails[0]
	}
	if len(lost)+len(passed) == 0 {
		return
	}
	what = t.postNames(lost)
	t.mail = t.mails[0]
	if !t.givenUp && !t.holdNow() && t.s.State == Pulling && t.s.hold() != nil {
		t.act(Act{Do: DoAnew}) // what was confirmed with them there counts no more
	}
	relief := t.asksRelief(who)
	gives := relief && t.givenUp
	if gives {
		t.act(Act{Do: DoHold, Path: heldRelief + t.in.Person.ID, Value: strings.Join(lost, " ")})
	}
	for _, chat := range t.s.chats() {
		t.inChat(chat, func() {
			if len(passed) > 0 {
				t.passedPosts(passed, from)
			}
			switch {
			case len(lost) > 0 && gives && chat == t.in.Chat:
				t.toldToStay(lost)
			case len(lost) > 0:
				t.lostPosts(lost, who, what, relief)
			}
		})
	}
	t.mail = t.mails[0]
	if left := t.mail.drop(wording.JoinLeft); left && len(lost) > 0 || !slices.Contains(t.s.chats(), t.in.Chat) && t.in.Tick == "" && !t.in.Away {
		t.urgent = true
		t.mail.dropHold()
		k := wording.PullLostYou
		if t.hurt0 {
			k = wording.PullLostHurt
		}
		if relief {
			t.act(Act{Do: DoHold, Path: heldRelief + t.in.Person.ID, Value: strings.Join(lost, " ")})
		}
		t.stayFirst(reply{key: k, args: wording.Args{"Names": what, "Name": t.s.Lead.Name, "Code": t.s.Code}}, left)
	}
}

// stayFirst tells who is lost from a post what is to be done at it: behind what they read
// already where they have left by their own word, ahead of it else. Where it moved, that
// the puller stops comes before all: they may be the one who drives it.
func (t *turn) stayFirst(stay reply, left bool) {
	if left { // they hear one thing: to stay, and not that they are out as well
		t.mail.replies = append(t.mail.replies, stay)
	} else {
		t.mail.replies = append([]reply{stay}, t.mail.replies...)
	}
	if t.moved0 {
		t.first(t.forPuller(wording.PullHoldNow), nil)
	}
}

// passes reports whether a post goes from somebody who is still there to
// somebody else who is: it is not lost, and nobody holds two.
func (t *turn) passes(duty, from string) bool {
	s := t.s.doer(duty)
	if s == nil || s.Name == "" || strings.EqualFold(s.Name, from) {
		return false
	}
	if to := t.s.phone(*s); s.Member != "" && (to == nil || to.Away) {
		return false
	}
	if seat := t.seatNamed(from); seat != nil {
		m := t.s.phone(*seat)
		return seat.Member == "" || m != nil && !m.Away
	}
	if m := t.s.called(from); m != nil {
		return !m.Away
	}
	return slices.ContainsFunc(t.s.Crew, func(n string) bool { return sameName(n, from) })
}

// passedPosts says in a chat that posts change hands, ahead of all else.
func (t *turn) passedPosts(posts []string, from wording.Names) {
	t.urgent = true
	t.mail.dropHold()
	rest := t.mail.replies
	t.mail.replies = nil
	t.say(t.haltsMotion(wording.PullPassed, wording.PullPassedMoving), wording.Args{"Names": t.askedPosts(posts), "People": from})
	t.mail.replies = append(t.mail.replies, rest...)
}

// lets reports whether a hold's release eases a line or takes it off: from a proved hold
// on, and where the gear comes off, the holding line among it.
func (s Stage) lets(to Stage) bool {
	return to == SlackOff || to == Unrig || s == HoldProved && !to.Pulls() || s == LineSlack && !to.Pulls()
}

// vacant lists the posts that must be filled before a line is loaded, eased or let off by
// the release of a hold: all of those that a pull needs, and to ease it whoever drives,
// leads and holds.
func (t *turn) vacant(to Stage) []string {
	empty := t.emptyPosts()
	if to.Pulls() || len(t.s.Seats) == 0 {
		return empty
	}
	return slices.DeleteFunc(empty, func(duty string) bool { return !slices.Contains([]string{"driver", "leader", "holder"}, duty) })
}

// vacantAt lists those that keep the pull at a hold point.
func (t *turn) vacantAt(h *Hold) []string {
	to, err := stageAfter(h.Stage, t.onward1(h))
	if err != nil || !to.Moves() && !h.Stage.lets(to) || t.s.alone() {
		return nil
	}
	return t.vacant(to)
}

// wantPost asks whoever was placed at a post that is waited for whether they
// take it on, and whoever wrote that they go from one, whether or not it is.
func (t *turn) wantPost(chat string, h *Hold) want {
	vacant := t.vacantAt(h)
	for i := range t.s.Seats {
		seat := t.s.Seats[i]
		goes := seat.Member != "" && (t.givenUp && seat.Member == t.in.Person.ID || t.s.Held[heldRelief+seat.Member] != "")
		if seat.Name == "" || seat.Taken || t.seatChat(seat) != chat || !goes && !slices.ContainsFunc(vacant, func(duty string) bool { return t.s.doer(duty) == &t.s.Seats[i] }) {
			continue
		}
		offer := t.offerSeat
		if goes { // they stand there and know what it is
			offer = t.askSeat
		}
		return want{id: "seat-" + itoa(seat.Number), say: func() { offer(seat) }}
	}
	return want{}
}

// lostPosts says in a chat that posts are lost, ahead of all else. Of whoever only wants to
// be relieved nobody is told that they are gone.
func (t *turn) lostPosts(lost []string, who, what wording.Names, relief bool) {
	t.urgent = true
	t.mail.dropHold()
	if relief {
		t.mail.drop(wording.JoinGone)
	}
	behind := t.mail.stopFirst()
	defer behind()
	rest := t.mail.replies
	t.mail.replies = nil
	if relief {
		t.say(t.haltsMotion(wording.PullLostRelief, wording.PullLostReliefMoving), wording.Args{"Name": who[0], "Names": what})
	} else {
		t.say(t.haltsMotion(wording.PullLost, wording.PullLostMoving), wording.Args{"People": who, "Names": what})
		if slices.Contains(lost, "driver") {
			t.say(t.forPuller(wording.PullLostDriver), wording.Args{"Name": t.s.Lead.Name})
		}
		if slices.Contains(lost, "holder") {
			t.say(wording.PullLostHolder, nil)
		}
	}
	if t.tooFew(lost) {
		t.say(wording.PullLostFew, wording.Args{"Names": what, "Number": t.people(), "Name": t.s.Lead.Name})
	} else {
		t.say(wording.PullLostNext, wording.Args{"Names": t.askedPosts(lost), "Name": t.s.Lead.Name})
	}
	t.mail.replies = append(t.mail.replies, rest...)
}

// stopFirst takes out that a stop is called, where a chat reads of one, until what is said
// ahead of the rest is said: a stop comes before all. Of that the puller stops it says more.
func (m *mail) stopFirst() (back func()) {
	if len(m.replies) == 0 || m.replies[0].key != wording.StopCalled {
		return func() {}
	}
	called := m.replies[0]
	m.replies = m.replies[1:]
	return func() { m.replies = append([]reply{called}, m.replies...) }
}

// haltsMotion says, where it moved when the turn began, that the puller stops, and returns
// the sentence that goes on from there; where all stood already it returns the other, which
// has everything stay as it is.
func (t *turn) haltsMotion(stood, moved wording.Key) wording.Key {
	if !t.moved0 {
		return stood
	}
	t.say(t.forPuller(wording.PullHoldNow), nil)
	return moved
}

// dropHold drops that everybody holds, where more than that is said.
func (m *mail) dropHold() {
	m.replies = slices.DeleteFunc(m.replies, func(r reply) bool { return holdsNow(r.key) })
}

// holdsNow reports whether a key says that everybody holds at once, for whatever puller.
func holdsNow(k wording.Key) bool {
	return strings.HasPrefix(string(k), string(wording.PullHoldNow))
}

// drop drops what is said by a key, and reports whether it was said.
func (m *mail) drop(k wording.Key) bool {
	n := len(m.replies)
	m.replies = slices.DeleteFunc(m.replies, func(r reply) bool { return r.key == k })
	return len(m.replies) < n
}

// driverFirst returns the mails in the order in which they go out: where
// everybody is told at once, the driver before all.
func (t *turn) driverFirst() []*mail {
	if t.s == nil || !slices.ContainsFunc(t.mails, func(m *mail) bool { return m.urgent }) {
		return t.mails
	}
	driver := t.s.doer("driver")
	if driver == nil || t.s.phone(*driver) == nil {
		return t.mails
	}
	chat := t.s.phone(*driver).Chat
	out := slices.Clone(t.mails)
	rank := func(m *mail) int {
		if m.urgent && m.chat == chat && m.live == "" {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(out, func(a, b *mail) int { return rank(a) - rank(b) })
	return out
}

// tightSeats fills the seats as they are: who is still there keeps theirs, the
// others are empty, and who has none is proposed for those. Who stood at a post of the
// line before the crew was counted anew gets that one or none: nobody is sent from one
// post to another past a tight line, whoever of the crew has gone.
func (t *turn) tightSeats(crew []body) {
	used := make([]bool, len(crew))
	seats := slices.Clone(t.s.Seats)
	for i, s := range seats {
		j := slices.IndexFunc(crew, func(b body) bool { return b.name != "" && b.name == s.Name })
		if s.Name == "" || j < 0 {
			seats[i].Name, seats[i].Member = "", ""
			continue
		}
		seats[i].Member, used[j] = crew[j].member, true
	}
	for _, back := range []bool{true, false} { // first those who were at the line, then who came
		for j, b := range crew {
			had := t.stoodAt(b.name)
			if used[j] || b.name == "" || back != (len(had) > 0) {
				continue
			}
			for i, s := range seats {
				if s.Name != "" || back && !slices.Contains(had, s.Post.Does) {
					continue
				}
				seats[i].Name, seats[i].Member = b.name, b.member
				if !back {
					break
				}
			}
		}
	}
	for _, s := range seats {
		t.give(s)
	}
}

// away takes that the terminal of somebody has closed: nothing reaches them any
// more. The lead is told where they have a part, and whoever follows the job.
func (t *turn) away() {
	t.silent = true
	m := t.me()
	if m == nil || m.Gone || m.Away || t.s.State == Closed {
		return
	}
	t.act(Act{Do: DoAway, Value: m.ID})
	var parts wording.Names
	for _, s := range t.s.Seats {
		if s.Member == m.ID {
			parts = append(parts, t.role(s))
		}
	}
	isLead := t.isLead()
	for _, chat := range t.s.chats() {
		to := slices.ContainsFunc(t.s.present(), func(o Member) bool { return o.Chat == chat && (o.As == AsLead || o.As == AsCoordinator) })
		if chat == t.in.Chat || len(parts) == 0 && !isLead || !to && !isLead {
			continue
		}
		t.inChat(chat, func() {
			k, args := wording.JoinAway, wording.Args{"Name": m.Name, "Names": parts}
			if isLead {
				k, args = wording.JoinAwayLead, wording.Args{"Name": m.Name}
			}
			t.say(k, args)
		})
	}
}

// heardAgain takes that somebody whose terminal had closed is heard again, and
// returns what tells those who were told that it had.
func (t *turn) heardAgain() (tell func()) {
	m := t.me()
	if m == nil || !m.Away || t.in.Away || t.in.Tick != "" {
		return func() {}
	}
	t.act(Act{Do: DoHere, Value: m.ID})
	name, known := m.Name, t.s.seatOf(m.ID) != nil || t.isLead()
	return func() {
		if !known || t.s == nil {
			return // nobody was told that they were away
		}
		for _, chat := range t.s.chats(AsLead, AsCoordinator) {
			if chat != t.in.Chat {
				t.inChat(chat, func() { t.say(wording.JoinHere, wording.Args{"Name": name}) })
			}
		}
	}
}
