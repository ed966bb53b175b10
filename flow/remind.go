package flow

import (
	"errors"
	"slices"
	"strings"
	"time"

	"linetender/flow/wording"
)

// Reminders don't nag: what nobody answers is said once more to whoever is
// asked, later once to the lead, and then no more. Nothing goes on by silence.

const (
	remindAfter = 3 * time.Minute
	tellAfter   = 10 * time.Minute
)

// reminded reports whether what is wanted is a part or an item of the list.
func reminded(id string) bool {
	return strings.HasPrefix(id, "seat-") || strings.HasPrefix(id, "item-")
}

// dueIn is when a chat is due for the next reminder; false for none.
func (t *turn) dueIn(chat string) (time.Time, bool) {
	since := t.s.Since[chat]
	if !reminded(t.s.Wants[chat]) {
		return time.Time{}, false
	}
	at, err := time.Parse(time.RFC3339, since.At)
	if err != nil {
		return time.Time{}, false
	}
	switch {
	case since.Said == 0:
		return at.Add(remindAfter), true
	case since.Said == 1 && (chat != t.s.leadChat() || t.shared(chat) && !t.leadAsked(chat)):
		return at.Add(tellAfter), true
	}
	return time.Time{}, false
}

// remindable reports whether anybody is to be reminded at all now.
func (t *turn) remindable() bool {
	switch t.s.State {
	case Halted, Away, Closed, Referred, Debrief:
		return false
	}
	return !t.s.alone()
}

// seatTick does what is due of reminders before the pull.
func (t *turn) seatTick() {
	if !t.remindable() {
		return
	}
	for _, chat := range t.s.chats() {
		at, ok := t.dueIn(chat)
		if !ok || t.in.At.Before(at) {
			continue
		}
		w := t.want(chat)
		if w.id != t.s.Wants[chat] {
			continue // it is asked anew at the end of the turn
		}
		first := t.s.Since[chat].Said == 0
		t.act(Act{Do: DoRemind, Path: chat})
		switch m := t.askedMember(chat); {
		case first && m != nil && t.ownChat(m.ID, chat):
			// What waits for one of a group is no news to the others.
			t.inChat(m.ID, func() { t.say(wording.RemindThere, wording.Args{"Name": m.Name, "Code": t.s.Code}) })
		case first:
			t.inChat(chat, func() {
				if m != nil {
					t.say(wording.RemindName, wording.Args{"Name": m.Name})
				} else {
					t.say(wording.RemindAgain, nil)
				}
				if w.again != nil {
					w.again()
					return
				}
				w.say()
			})
		default:
			to := t.s.leadChat()
			if t.shared(to) && t.ownChat(t.s.Lead.ID, to) {
				to = t.s.Lead.ID
			}
			names := t.askedIn(chat)
			t.inChat(to, func() {
				t.say(wording.RemindLead, wording.Args{"Names": names})
				t.sayWays(names)
			})
		}
	}
}

// sayWays says how the lead gives to others what somebody never answers.
func (t *turn) sayWays(names wording.Names) {
	for _, name := range names {
		seat := t.seatNamed(name)
		if seat == nil || t.s.phone(*seat) == nil || sameName(name, t.s.Lead.Name) {
			continue // the lead answers for them already
		}
		i := slices.IndexFunc(t.s.Seats, func(s Seat) bool {
			return s.Name != "" && s.Post.Does != seat.Post.Does && s.Post.Does != "leader" && s.Post.Does != "driver"
		})
		if i < 0 {
			i = slices.IndexFunc(t.s.Seats, func(s Seat) bool { return s.Post.Does == "leader" })
		}
		if i < 0 {
			continue
		}
		t.say(wording.RemindWays, wording.Args{"Name": name, "Text": t.sayingWith(wording.RemindTakes, wording.Args{"Name": t.s.Seats[i].Name, "Role": t.postNames([]string{seat.Post.Does})[0]})})
		return // of several it goes by the same words
	}
}

// tellsQuiet tells of those who don't answer: the lead with what can be done, who follows from
// afar, and, where it is the lead, those on the spot, with how another leads.
func (t *turn) tellsQuiet(names wording.Names) {
	total := int(quietFor.Minutes())
	say := func() {
		t.say(wording.PullQuiet, wording.Args{"Number": t.s.Hold, "Names": names, "Total": total})
	}
	for _, chat := range t.s.chats(AsLead, AsCoordinator) {
		t.inChat(chat, say)
	}
	if lead := t.s.Lead.Name; slices.Contains(names, lead) {
		for _, chat := range t.s.chats(AsCrew) {
			if chat != t.s.leadChat() {
				t.inChat(chat, func() { t.say(wording.PullQuietLead, wording.Args{"Name": lead, "Total": total}) })
			}
		}
	}
	t.inChat(t.s.leadChat(), func() { t.sayWays(names) })
}

// seatWake is when the job wants a turn for that; empty for never.
func (t *turn) seatWake() string {
	if !t.remindable() {
		return ""
	}
	var first time.Time
	for _, chat := range t.s.chats() {
		if at, ok := t.dueIn(chat); ok && (first.IsZero() || at.Before(first)) {
			first = at
		}
	}
	if first.IsZero() {
		return ""
	}
	return first.UTC().Format(time.RFC3339)
}

// askedIn are the names of those who are asked in a chat.
func (t *turn) askedIn(chat string) wording.Names {
	id := t.s.Wants[chat]
	for _, s := range t.s.Seats {
		if id == "seat-"+itoa(s.Number) {
			return wording.Names{s.Name}
		}
	}
	if i := strings.LastIndex(id, "-"); strings.HasPrefix(id, "item-") && i > 0 {
		return wording.Names{id[i+1:]}
	}
	var out wording.Names
	for _, m := range t.s.present(AsLead, AsCrew) {
		if m.Chat == chat {
			out = append(out, m.Name)
		}
	}
	return out
}

// askedMember is who of a chat that several read is asked there; nil in a chat
// of one's own, and for somebody who is asked through the lead.
func (t *turn) askedMember(chat string) *Member {
	if !t.shared(chat) {
		return nil
	}
	for _, name := range t.askedIn(chat) {
		if seat := t.seatNamed(name); seat != nil {
			if m := t.s.phone(*seat); m != nil && m.Chat == chat {
				return m
			}
		}
	}
	return nil
}

func (t *turn) leadAsked(chat string) bool {
	m := t.askedMember(chat)
	return m == nil || m.ID == t.s.Lead.ID
}

var errHeard = errors.New("somebody was heard there")

// ownChat reports whether somebody of a group has a chat with the program that
// nobody else reads: it is called as they are, and something was said there.
func (t *turn) ownChat(id, group string) bool {
	if t.log == nil || id == "" || id == group {
		return false
	}
	err := t.log.Replay(chatStream(id), 0, func(uint64, []byte) error { return errHeard })
	return errors.Is(err, errHeard)
}
