package flow

import (
	"slices"
	"strings"
	"unicode/utf8"

	"linetender/calc"
	"linetender/calc/handbook"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A Seat is one person's part in the pull: which post, who has it and whether
// they took it on.
type Seat struct {
	Post   Post   `json:"post"`
	Name   string `json:"name"`             // who; empty while nobody is named
	Member string `json:"member,omitempty"` // their phone in the job; empty for somebody without one
	Taken  bool   `json:"taken,omitempty"`  // they said that they take it on
	Number int    `json:"number,omitempty"` // of its asking, so that a button of an earlier one does nothing
}

// A Post is one person's part by what it is called and by what it does: the
// last parts of the keys of its role, and of those of its place and duty.
type Post = handbook.Post

// doers lists, for a duty, who does it where no post of a small crew is for it
// alone: the first that the crew has.
var doers = map[string][]string{
	"driver":   {"driver"},
	easing:     {"driver"},
	"leader":   {"leader"},
	"signal":   {"signal", "leader"},
	"rigger":   {"rigger", "leader"},
	"anchor":   {"anchor", "rigger", "leader"},
	"holder":   {"holder", "rigger", "leader"},
	"chocks":   {"chocks", "rigger", "leader"},
	"lookout":  {"lookout", "leader"},
	"recorder": {"recorder", "leader"},
}

// doer returns who does a duty; nil when no seat is set up yet.
func (s *Session) doer(duty string) *Seat {
	for _, does := range doers[duty] {
		for i := range s.Seats {
			if s.Seats[i].Post.Does == does {
				return &s.Seats[i]
			}
		}
	}
	return nil
}

// together lists the posts that one person may have at once, should the crew
// be short: never the driver with anything, never the leader with holder or
// chocks, and who watches an anchor never with what turns the head away.
//
// Source: common practice.
var together = [][2]string{
	{"leader", "signal"}, {"leader", "lookout"}, {"leader", "recorder"}, {"lookout", "recorder"}, {"rigger", "chocks"},
}

func mayDouble(a, b string) bool {
	return slices.Contains(together, [2]string{a, b}) || slices.Contains(together, [2]string{b, a})
}

// clash returns two posts that one person has and may not have at once.
func clash(seats []Seat) (a, b Seat, is bool) {
	for i, x := range seats {
		for _, y := range seats[i+1:] {
			if x.Name != "" && strings.EqualFold(x.Name, y.Name) && !mayDouble(x.Post.Does, y.Post.Does) {
				return x, y, true
			}
		}
	}
	return Seat{}, Seat{}, false
}

// emptyPosts lists the duties that a pull needs and that nobody has taken on:
// each post that a crew of that size has, signals and chocks always, the watch
// where there is an anchor, the holder where a holding line is needed. Who
// holds does nothing else: with two or three people nobody can, because who
// leads or watches the anchor never does.
//
// Source: common practice.
func (t *turn) emptyPosts() []string {
	if t.people() == 1 {
		return nil // one alone with a hand winch has no posts; the plan judges that
	}
	return slices.DeleteFunc(t.neededPosts(), func(duty string) bool { return t.holdsPost(duty) != "" })
}

// neededPosts lists the duties that a pull by a crew needs.
func (t *turn) neededPosts() []string {
	holds := t.holdNeeded()
	needed := []string{"driver", "leader", "signal"}
	if anchored(t) {
		needed = append(needed, "anchor")
	}
	if holds {
		needed = append(needed, "holder")
	}
	needed = append(needed, "chocks")
	for _, p := range t.posts() {
		if !slices.Contains(needed, p.Does) {
			needed = append(needed, p.Does)
		}
	}
	return needed
}

// tooFew reports whether a duty is empty because a crew of that size has
// nobody for it.
func (t *turn) tooFew(duties []string) bool {
	return slices.Contains(duties, "holder") && t.people() > 1 && !slices.ContainsFunc(handbook.Posts(t.people(), true), func(p Post) bool { return p.Does == "holder" })
}

// holdNeeded reports whether a line must hold the load. Once somebody has held it in this
// pull no plan that comes later takes it off: what a load did on its slope is not undone
// by an answer that was changed.
func (t *turn) holdNeeded() bool {
	if t.s.Stage.Lies() && t.s.lineHeld() {
		return true
	}
	p := t.plan()
	if p != nil && p.Holding == nil {
		return false
	}
	return p == nil || p.Holding.Needed
}

// lineHeld reports whether a holding line was confirmed at any hold point.
func (s *Session) lineHeld() bool {
	return slices.ContainsFunc(s.Holds, func(h Hold) bool { return h.sure("holder") })
}

// askedPosts are what duties are called, with who is asked whether they take
// them on.
func (t *turn) askedPosts(duties []string) wording.Names {
	var out wording.Names
	for _, d := range duties {
		name := t.postNames([]string{d})[0]
		if s := t.s.doer(d); s != nil && s.Name != "" && (d != "holder" || s.Post.Does == "holder") {
			switch m := t.s.phone(*s); {
			case m != nil && m.Away:
				name = t.sayingWith(wording.PullGoneDark, wording.Args{"Role": name, "Name": s.Name})
			case !s.Taken:
				name = t.sayingWith(wording.PullAsked, wording.Args{"Role": name, "Name": s.Name})
			}
		}
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// postNames are what duties are called.
func (t *turn) postNames(duties []string) wording.Names {
	var out wording.Names
	for _, d := range duties {
		if d == "anchor" {
			d = "anchor_watch"
		}
		if name := t.saying(wording.Key("role." + d)); !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// applySeat does one act of the seats.
func (s *Session) applySeat(a Act, e Entry) {
	at := slices.IndexFunc(s.Seats, func(st Seat) bool { return st.Post.Does == a.Topic })
	switch {
	case a.Do == DoSeat:
		s.Seated++
		st := Seat{Post: Post{Role: a.Path, Does: a.Topic}, Name: a.Value, Member: a.Second, Number: s.Seated}
		if at < 0 {
			s.Seats = append(s.Seats, st)
		} else {
			s.Seats[at] = st
		}
	case a.Do == DoUnseat && at >= 0:
		s.Seats = slices.Delete(s.Seats, at, at+1)
	case a.Do == DoTake && at >= 0:
		s.Seats[at].Taken = true
	}
}

// A body is one of the crew: a name, and their phone if they have one here.
type body struct{ name, member string }

// propose gives everyone a part. Who has one that the crew still has keeps it,
// taken on if it is the same part; the others get what is left, in order.
func (t *turn) propose(crew []body) {
	if t.s.tight() && len(t.s.Seats) > 0 {
		t.tightSeats(crew)
		return
	}
	list := handbook.Posts(len(crew), t.holdNeeded())
	seats := make([]Seat, len(list))
	placed := make([]bool, len(crew))
	for i, p := range list {
		seats[i].Post = p
		for _, was := range t.s.Seats {
			if was.Post.Does != p.Does || was.Name == "" {
				continue
			}
			for j, b := range crew {
				if !placed[j] && b.name == was.Name {
					seats[i].Name, seats[i].Member, placed[j] = b.name, b.member, true
					break
				}
			}
		}
	}
	next := 0
	for i := range seats {
		for seats[i].Name == "" && next < len(crew) {
			if !placed[next] {
				placed[next] = true
				if crew[next].name == "" {
					next++
					break // a post that nobody is named for
				}
				seats[i].Name, seats[i].Member = crew[next].name, crew[next].member
			}
			next++
		}
	}
	for _, was := range slices.Clone(t.s.Seats) {
		if !slices.ContainsFunc(seats, func(s Seat) bool { return s.Post.Does == was.Post.Does }) {
			t.act(Act{Do: DoUnseat, Topic: was.Post.Does})
		}
	}
	for _, s := range seats {
		t.give(s)
	}
}

// give puts somebody into a post. Where only one phone is in the job, its
// holder speaks for everyone: the list asks whether each said it back.
func (t *turn) give(s Seat) {
	for _, was := range t.s.Seats {
		if was.Post == s.Post && was.Name == s.Name && was.Member == s.Member {
			return
		}
	}
	t.act(Act{Do: DoSeat, Topic: s.Post.Does, Path: s.Post.Role, Value: s.Name, Second: s.Member})
	if t.s.alone() && s.Name != "" {
		t.act(Act{Do: DoTake, Topic: s.Post.Does})
	}
}

// bodies are the crew as they are seated, those with two posts once.
func (t *turn) bodies() []body {
	var out []body
	for _, s := range t.s.Seats {
		if s.Name == "" || !slices.ContainsFunc(out, func(b body) bool { return b.name == s.Name }) {
			out = append(out, body{s.Name, s.Member})
		}
	}
	return out
}

// everyone is the crew by name, filled up with those on the spot who have a
// phone and were not named, as far as people are left. Who leads here has the
// leader's part: that phone releases each hold.
func (t *turn) everyone(names []string) []body {
	onSpot := t.s.present(AsLead, AsCrew)
	used := map[string]bool{}
	var out []body
	for _, n := range names {
		b := body{name: n}
		for _, m := range onSpot {
			if !used[m.ID] && sameName(m.Name, n) {
				b.member, used[m.ID] = m.ID, true
				break
			}
		}
		out = append(out, b)
	}
	for _, m := range onSpot {
		if !used[m.ID] && len(out) < t.people() && m.Name != "" && !t.wasHurt(m.Name) {
			out = append(out, body{m.Name, m.ID})
		}
	}
	for len(out) < t.people() {
		out = append(out, body{})
	}
	if i := slices.IndexFunc(out, func(b body) bool { return b.member != "" && b.member == t.s.Lead.ID }); i > 0 {
		lead := out[i]
		out = slices.Insert(slices.Delete(out, i, i+1), 0, lead)
	}
	return out
}

// sameName reports whether two names are of one person: alike, or one the
// first name of the other.
func sameName(a, b string) bool {
	a, b = strings.TrimSpace(a), strings.TrimSpace(b)
	if a == "" || b == "" || a[0] < utf8.RuneSelf && b[0] < utf8.RuneSelf && a[0]|0x20 != b[0]|0x20 {
		return false // most are no one's: names that are one begin alike
	}
	a, b = hear.Lowered(a), hear.Lowered(b)
	a, b = joined(a, b), joined(b, a)
	firstA, restA, _ := strings.Cut(a, " ")
	firstB, restB, _ := strings.Cut(b, " ")
	return a != "" && (a == b || firstA == firstB && (restA == "" || restB == ""))
}

// joined is a name without the verb or the ending that is joined to it, where the
// other is that name: daves is dave.
func joined(name, other string) string {
	first, rest, more := strings.Cut(name, " ")
	to, _, _ := strings.Cut(other, " ")
	for _, end := range []string{"'s", "s"} {
		if bare, ok := strings.CutSuffix(first, end); ok && bare == to && bare != "" {
			if !more {
				return bare
			}
			return bare + " " + rest
		}
	}
	return name
}

// seatOf returns the first seat of somebody with a phone.
func (s *Session) seatOf(member string) *Seat {
	for i := range s.Seats {
		if member != "" && s.Seats[i].Member == member {
			return &s.Seats[i]
		}
	}
	return nil
}

// phone returns who is asked for a seat on a phone of their own; nil for
// somebody without one, who is asked through the lead.
func (s *Session) phone(seat Seat) *Member {
	if m := s.member(seat.Member); seat.Member != "" && m != nil && !m.Gone {
		return m
	}
	return nil
}

// seatChat is where a seat's person is asked.
func (t *turn) seatChat(seat Seat) string {
	if m := t.s.phone(seat); m != nil {
		return m.Chat
	}
	return t.s.leadChat()
}

// wantSeat asks whoever was proposed for a part whether they take it on, who
// of the crew somebody is that was not named, and the lead for a part that
// the pull needs and nobody has.
func (t *turn) wantSeat(chat string) want {
	if t.s.alone() || len(t.s.Seats) == 0 {
		return want{}
	}
	if !t.seating(chat) {
		return t.wantLead(chat)
	}
	for _, s := range t.s.Seats {
		if !s.Taken && s.Name != "" && t.seatChat(s) == chat {
			return want{id: "seat-" + itoa(s.Number), say: func() { t.offerSeat(s) }, again: func() { t.askSeat(s) }}
		}
	}
	for _, m := range t.s.present(AsCrew) {
		if m.Chat == chat && t.s.seatOf(m.ID) == nil {
			if ids := t.phoneless(); len(ids) > 0 {
				return want{id: "seat-who-" + m.ID, say: func() { t.askWho(m, ids) }}
			}
		}
	}
	if chat == t.s.leadChat() {
		for _, s := range t.s.Seats {
			if s.Name == "" {
				return want{id: "seat-" + itoa(s.Number), say: func() {
					t.say(wording.SeatEmpty, wording.Args{"Role": t.role(s)})
				}}
			}
		}
	}
	return want{}
}

// seating reports whether parts are asked about in a chat now: of the lead
// only between the questions of the job.
func (t *turn) seating(chat string) bool {
	switch t.s.State {
	case Checks, Verdict, Pulling:
		return true
	case Halted, Away, Closed, Referred, Debrief:
		return false
	}
	return t.checking() && t.s.State != Signing && t.s.State != Amend || chat != t.s.leadChat()
}

// seatAsked reports whether a part is what is asked in the chat that speaks.
func (t *turn) seatAsked() bool {
	if m := t.me(); m != nil && t.s.State == Away && t.namedLead(*m) {
		return true // whoever led has let go of the job meanwhile: it waits for nobody else
	}
	id := t.wantPull(t.in.Chat).id
	if id == "" {
		id = t.wantSeat(t.in.Chat).id
	}
	return strings.HasPrefix(id, "seat-")
}

// phoneless lists the seats whose person has no phone in the job.
func (t *turn) phoneless() []Seat {
	var out []Seat
	for _, s := range t.s.Seats {
		if s.Name != "" && t.s.phone(s) == nil {
			out = append(out, s)
		}
	}
	return out
}

func (t *turn) askWho(m Member, seats []Seat) {
	t.say(wording.SeatWho, wording.Args{"Name": m.Name})
	for _, s := range seats {
		t.offers = append(t.offers, offer{choice: "me." + itoa(s.Number), label: s.Name})
	}
	t.offers = append(t.offers, offer{choice: "more", label: t.saying(wording.SeatMore)})
}

// role is what a seat is called.
func (t *turn) role(s Seat) string { return t.saying(wording.Key("role." + s.Post.Role)) }

// personChanged reopens what a change of people makes doubtful, and only that.
func (t *turn) personChanged() {
	if t.s.Stage.Lies() || t.s.Stage == StopDrill {
		t.pullPeople()
		return
	}
	again := false
	for _, r := range calc.Stale(calc.Person) {
		if !strings.HasPrefix(r.Field, "site.") || t.s.Settled[r.Field] == "" && t.s.Marks[r.Field].Value == "" {
			continue
		}
		check, _, _ := strings.Cut(r.Check, "/")
		t.unsign(check)
		t.reopenItem(r.Field)
		again = true
	}
	if !again {
		return
	}
	if t.s.State == Verdict { // the list had come to its end: it is open again
		t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
	}
	t.inChat(t.s.leadChat(), func() { t.say(wording.SeatAgain, nil) })
}
