package flow

import (
	"maps"
	"regexp"
	"slices"
	"strings"

	"linetender/flow/wording"
)

// Who leaves a post of a tight line has left the job and is told to stay at the post until
// somebody else has it. As long as they are needed there they read what the whole crew is
// told, how the line stands and where they stand by it; and they read when they are
// relieved, by whom, or that the line carries nothing any more.

// heldRelief stands before the ID of somebody who wants to leave and keeps the posts at
// which they are to stay until then.
const heldRelief = "relief-"

// stays are the posts of a job at which somebody who wants to leave it is still to stay.
func (s *Session) stays(id string) []string {
	posts := strings.Fields(s.Held[heldRelief+id])
	return slices.DeleteFunc(posts, func(duty string) bool {
		d := s.doer(duty)
		return !s.tight() || d != nil && d.Name != "" && d.Taken
	})
}

// leaves reports whether somebody wants to leave and stays until they are relieved.
func (s *Session) leaves(id string) bool { return id != "" && s.Held[heldRelief+id] != "" }

// asksRelief reports whether the posts are lost by nothing but the word of the one who had
// them that they leave, or hand them on: they are told to stay until they are relieved, and
// are there.
func (t *turn) asksRelief(who wording.Names) bool {
	m := t.s.member(t.in.Person.ID)
	return len(who) == 1 && m != nil && sameName(m.Name, who[0]) && !t.hurt0 && !t.in.Away &&
		(t.givenUp || slices.ContainsFunc(t.mails[0].replies, func(r reply) bool { return r.key == wording.JoinLeft }))
}

// relieves ends a turn for those who have left and stay at a post until they are relieved.
func (t *turn) relieves() {
	if t.err != nil || t.s == nil {
		return
	}
	for _, path := range slices.Sorted(maps.Keys(t.s.Held)) {
		id, is := strings.CutPrefix(path, heldRelief)
		m := t.s.member(id)
		if !is || m == nil || id == t.in.Person.ID && t.in.Tick == "" && m.Gone {
			continue
		}
		posts := t.s.stays(id)
		if len(posts) == 0 {
			t.relieved(*m, strings.Fields(t.s.Held[path]))
			t.act(Act{Do: DoHold, Path: path})
			continue
		}
		if !slices.Contains(t.s.chats(), m.Chat) {
			t.toldAtPost(*m, posts)
		}
	}
}

// relieved tells somebody that they may go from their posts, and why. Who never left the
// job reads of whoever has taken them on, and of nothing that they keep themselves.
func (t *turn) relieved(m Member, posts []string) {
	k, args := wording.JoinNotNeeded, wording.Args{"Name": m.Name, "Names": t.postNames(posts), "Code": t.s.Code}
	if t.s.tight() {
		var by wording.Names
		for _, duty := range posts {
			if d := t.s.doer(duty); d != nil && d.Name != "" && d.Member != m.ID && !slices.Contains(by, d.Name) {
				by = append(by, d.Name)
			}
		}
		k, args["People"] = wording.JoinRelieved, by
		if !m.Gone {
			k = wording.JoinRelievedHere
		}
		if len(by) == 0 {
			return
		}
	} else if !m.Gone {
		return
	}
	t.inChat(m.Chat, func() { t.say(k, args) })
}

// toldAtPost tells somebody who stays at a post what everybody else is told in this turn,
// and how the line stands where that has changed.
func (t *turn) toldAtPost(m Member, posts []string) {
	told, urgent := t.toldToAll()
	if h := t.s.hold(); h != nil && t.s.State == Pulling && t.s.standsAt() != t.stood0.at {
		told = slices.DeleteFunc(told, func(r reply) bool { return r.key == t.holdKey(h) })
		told = append(told, reply{key: t.holdKey(h), args: wording.Args{"Number": h.Number}})
	}
	if len(told) == 0 {
		return
	}
	t.inChat(m.Chat, func() {
		t.urgent = t.urgent || urgent
		t.mail.replies = append(t.mail.replies, told...)
		t.say(wording.JoinStillAtPost, wording.Args{"Names": t.postNames(posts), "Name": t.s.Lead.Name})
	})
}

// standsAt says where the pull stands, so that a change of it is seen.
func (s *Session) standsAt() string {
	at := string(s.Stage) + " " + itoa(s.Hold)
	if s.taut() {
		at += " taut"
	}
	return at
}

// toldToAll returns what every chat of the job is told in this turn, but the one where it
// came from, and whether that goes ahead of all else. Questions and boards are not of it.
func (t *turn) toldToAll() (all []reply, urgent bool) {
	first := true
	for _, chat := range t.s.chats() {
		if chat == t.in.Chat && t.in.Tick == "" {
			continue
		}
		i := slices.IndexFunc(t.mails, func(m *mail) bool { return m.chat == chat && m.live == "" })
		if i < 0 {
			return nil, false
		}
		m := t.mails[i]
		if first {
			first, urgent = false, m.urgent
			all = slices.DeleteFunc(slices.Clone(m.replies), func(r reply) bool {
				return r.secret || r.asks || strings.HasPrefix(string(r.key), "ask.") || r.key == wording.StopWaits || r.key == wording.StopStill
			})
			continue
		}
		all = slices.DeleteFunc(all, func(r reply) bool {
			text := t.sayingWith(r.key, r.args)
			return !slices.ContainsFunc(m.replies, func(o reply) bool { return o.key == r.key && t.sayingWith(o.key, o.args) == text })
		})
	}
	return all, urgent
}

// mayGo are words of somebody who has left and asks whether they may go.
var mayGo = regexp.MustCompile(`\b(?:can|could|may|shall|should|am|do|is it|are we) (?:i|we|it|ok|okay|you)?\b.*\b(?:go|leave|off|away|relieved|free|stay|walk|needed|still)\b`)
