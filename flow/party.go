package flow

import (
	"slices"
	"strings"
	"time"

	"linetender/flow/wording"
)

// A Member is one person in a job who has a phone in it, or who speaks in the
// group that the job is held in.
type Member struct {
	ID    string `json:"id"`   // as in Person
	Name  string `json:"name"` // what the crew call them; no two alike
	Chat  string `json:"chat"` // where they are spoken to
	As    As     `json:"as"`
	Gone  bool   `json:"gone,omitempty"`
	Away  bool   `json:"away,omitempty"`  // their terminal has closed, so that nothing reaches them
	Heard string `json:"heard,omitempty"` // when they last spoke or pressed
}

// As is what somebody is in a job.
type As string

// What people are in a job. Anyone of them may call a stop.
const (
	AsLead        As = "lead"        // decides, and alone lets the job go on
	AsCrew        As = "crew"        // on the spot, with a part in the pull
	AsCoordinator As = "coordinator" // afar: sees all, asks and amends, and lets nothing through that failed
	AsObserver    As = "observer"    // sees, and may call a stop
)

// A Room is what is known of a chat that takes part in a job.
type Room struct {
	Group   bool // several people read it
	Partial bool // only commands, replies and presses reach the program from there
}

// member returns who has the id; nil if nobody in the job has.
func (s *Session) member(id string) *Member {
	for i := range s.Party {
		if s.Party[i].ID == id {
			return &s.Party[i]
		}
	}
	return nil
}

// nameOf is what the crew call somebody; the channel's name of who is not in
// the job.
func (s *Session) nameOf(p Person) string {
	if m := s.member(p.ID); p.ID != "" && m != nil && m.Name != "" {
		return m.Name
	}
	return p.Name
}

// afar reports whether a member is not on the spot, so that nothing that takes
// eyes is theirs to confirm.
func (m Member) afar() bool { return m.As == AsCoordinator || m.As == AsObserver }

// called returns who goes by a name, whole or its first word.
func (s *Session) called(name string) *Member {
	name = strings.ToLower(strings.TrimSpace(name))
	for _, whole := range []bool{true, false} {
		for i := range s.Party {
			n := strings.ToLower(s.Party[i].Name)
			if first, _, _ := strings.Cut(n, " "); !s.Party[i].Gone && name != "" && (n == name || !whole && first == name) {
				return &s.Party[i]
			}
		}
	}
	return nil
}

// present returns those of the party who have not left.
func (s *Session) present(as ...As) []Member {
	var out []Member
	for _, m := range s.Party {
		if !m.Gone && (len(as) == 0 || slices.Contains(as, m.As)) {
			out = append(out, m)
		}
	}
	return out
}

// chats returns every chat of the job, the lead's first.
func (s *Session) chats(as ...As) []string {
	var out []string
	for _, m := range append(s.present(AsLead), s.present(as...)...) {
		if (len(as) == 0 || slices.Contains(as, m.As)) && !slices.Contains(out, m.Chat) {
			out = append(out, m.Chat)
		}
	}
	return out
}

// leadChat is where the questions of the job are asked.
func (s *Session) leadChat() string {
	if m := s.member(s.Lead.ID); m != nil {
		return m.Chat
	}
	return ""
}

func (s *Session) partialChat(chat string) bool { return s.Rooms[chat].Partial }

// alone reports whether one person holds the job. A group in which several
// speak is one chat and still several people, each asked by name.
func (s *Session) alone() bool {
	here := 0
	for i := range s.Party {
		if !s.Party[i].Gone {
			here++
		}
	}
	return here < 2
}

// join takes somebody in, or back in.
func (s *Session) join(m Member, at string) {
	m.Heard = at
	if was := s.member(m.ID); was != nil {
		if was.As == AsLead {
			m.As = AsLead
		}
		*was = m
		return
	}
	s.Party = append(s.Party, m)
}

// lead hands the lead to somebody of the party.
func (s *Session) lead(id string) {
	for i := range s.Party {
		switch m := &s.Party[i]; {
		case m.ID == id:
			m.As, m.Gone = AsLead, false
			s.Lead = Person{ID: m.ID, Name: m.Name}
		case m.As == AsLead:
			m.As = AsCrew
		}
	}
}

// seen keeps when a member was last heard and what its chat is like.
func (s *Session) seen(e Entry) {
	if m := s.member(e.Who.ID); m != nil && e.Who.ID != "" && e.Heard.Other != otherAway {
		m.Heard = e.At
	}
	if p := e.Heard.Place; p != nil {
		s.Pin = p.String()
	}
	if e.Group || e.Partial {
		s.Rooms[e.Chat] = Room{Group: e.Group, Partial: e.Partial}
	}
}

// deaf lists those with a part in the pull who speak only in a group from which
// the word stop may not reach the program: it shows it commands, replies and
// presses and nothing else.
func (t *turn) deaf() wording.Names {
	var out wording.Names
	for _, m := range t.s.present(AsLead, AsCrew) {
		if t.s.partialChat(m.Chat) {
			out = append(out, m.Name)
		}
	}
	return out
}

// place is where the job is, as far as anybody has said: in words, by a phone,
// or both.
func (s *Session) place() string {
	if words := s.Held["place"]; words != "" && s.Pin != "" {
		return words + " (" + s.Pin + ")"
	} else if words != "" {
		return words
	}
	return s.Pin
}

// me is who speaks; nil for somebody who is not in the job.
func (t *turn) me() *Member {
	if t.s == nil {
		return nil
	}
	return t.s.member(t.in.Person.ID)
}

// isLead reports whether the one who decides speaks.
func (t *turn) isLead() bool { return t.s != nil && t.in.Person.ID == t.s.Lead.ID }

// main reports whether the input came where the questions of the job are asked.
func (t *turn) main() bool {
	return t.s == nil || len(t.s.Party) == 0 || t.in.Chat == t.s.leadChat()
}

// freeName makes a name that nobody in the job has.
func (s *Session) freeName(name, id string) string {
	name = wording.Plain(name)
	if name == "" {
		name = "Phone " + itoa(len(s.Party)+1)
	}
	for n, try := 2, name; ; n++ {
		if m := s.called(try); m == nil || m.ID == id || !strings.EqualFold(m.Name, try) {
			return try
		}
		try = name + " " + itoa(n)
	}
}

// arrive takes in whoever speaks for the first time in the group that the job
// is held in: the group is the crew.
func (t *turn) arrive() {
	if t.s == nil || !t.in.Group || t.in.Person.ID == "" || t.in.Tick != "" || t.s.Rooms[t.in.Chat] == (Room{}) && !t.main() {
		return
	}
	if t.me() != nil {
		return // in it, or has left it and says so when they are back
	}
	t.act(Act{Do: DoJoin, Member: &Member{
		ID: t.in.Person.ID, Name: t.s.freeName(t.in.Person.Name, t.in.Person.ID), Chat: t.in.Chat, As: AsCrew,
	}})
	t.newcomer(*t.me())
}

// since is how long ago something was, of the moment of the turn.
func (t *turn) since(at string) time.Duration {
	when, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return 0
	}
	return t.in.At.Sub(when)
}
