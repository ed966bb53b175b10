package flow

import (
	"errors"
	"slices"
	"strings"
	"time"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Who has left a job, or was taken out of it, is still beside the rope as often
// as not. As long as the others work on, nothing that is written in that chat
// begins another job by itself: a stop goes to those who were left, the rest is
// answered with the way back, and with the word that begins a job of one's own.

// runsFor is how long after it was last heard of a job counts as worked on.
const runsFor = 24 * time.Hour

// runs reports whether others are at a job.
func (t *turn) runs(s *Session) bool {
	if s.State == Closed || s.Last == 0 {
		return false
	}
	return slices.ContainsFunc(s.present(), func(m Member) bool { return m.ID != t.in.Person.ID && t.since(m.Heard) < runsFor })
}

// hasLeft reports whether who speaks was in a job and is no more, nor anybody
// else in this chat.
func (t *turn) hasLeft(s *Session) bool {
	m := s.member(t.in.Person.ID)
	return m != nil && m.Gone && !slices.Contains(s.chats(), t.in.Chat)
}

// findLeft looks for the job that who speaks has left and that others work on:
// the one that the chat is in, or the last that it was in.
func (t *turn) findLeft(log Log) error {
	if t.in.Tick != "" || t.in.Group {
		return nil
	}
	if t.s != nil {
		if t.hasLeft(t.s) {
			if t.runs(t.s) {
				t.left = t.s
			}
			t.s = nil
		}
		return nil
	}
	for _, code := range slices.Backward(t.chat.jobs) {
		s, err := t.e.load(log, code)
		if errors.Is(err, errUnknownState) || errors.Is(err, errUnreadable) {
			continue
		}
		if err != nil {
			return &storageError{err}
		}
		if t.hasLeft(s) && t.runs(s) {
			t.left = s
			return nil
		}
	}
	return nil
}

// backWords are words of somebody who wants to be in the job again.
var backWords = []string{"back", "i am back", "i'm back", "im back", "come back", "rejoin", "join again"}

// takeOutside answers who has left a job that others work on, where it is no
// stop.
func (t *turn) takeOutside() {
	text := strings.ToLower(strings.Trim(strings.TrimSpace(t.in.Text), " .!/"))
	press := ""
	if p := t.in.Press; p != nil {
		text, press = "", p.Choice
	}
	h := hear.Listen(t.in.Text, hear.TopicNone)
	switch {
	case press == "come_back", slices.Contains(backWords, text):
		t.said = t.saying(wording.ChoiceComeBack)
		t.comeIn(t.left)
		return
	case (press == "new" || press == "" && h.Act == hear.New) && t.mayBegin():
		t.left = nil
		t.begin()
		t.next()
		return
	case press == "" && h.Act == hear.Words:
		t.say(wording.HelpWords, nil)
		t.say(wording.HelpCrew, nil)
	case press == "" && t.someoneNearTo(t.in.Text):
		t.say(wording.JoinOutsideNear, wording.Args{"Code": t.left.Code})
	}
	if stays := t.left.stays(t.in.Person.ID); len(stays) > 0 {
		t.say(wording.JoinOutsideStay, wording.Args{"Names": t.postNames(stays), "Name": t.left.Lead.Name, "Code": t.left.Code})
	} else if press == "" && mayGo.MatchString(text) {
		t.say(wording.JoinMayGo, wording.Args{"Code": t.left.Code})
	} else {
		t.say(wording.JoinOutside, wording.Args{"Code": t.left.Code, "Name": t.left.Lead.Name})
	}
	t.offers = []offer{{choice: "come_back"}}
	if t.mayBegin() {
		t.say(wording.JoinOutsideNew, nil)
		t.offers = append(t.offers, offer{choice: "new"})
	}
}

// outsideHere reports whether who speaks has left a job that is held in the group
// where they speak.
func (t *turn) outsideHere() bool {
	m := t.me()
	return t.in.Group && m != nil && m.Gone
}

// outsideHeld is kept for somebody who was told so: the others read the group too.
const outsideHeld = "outside."

// takeOutsideHere asks somebody who has left, and writes in the group, whether they
// are back: they count as there only once they say so. A danger that they see
// counts whoever sees it.
func (t *turn) takeOutsideHere() {
	m := *t.me()
	text := strings.ToLower(strings.Trim(strings.TrimSpace(t.in.Text), " .!/"))
	seen, danger := t.sight(text)
	switch {
	case t.in.Press != nil && t.in.Press.Choice == "come_back", t.in.Press == nil && slices.Contains(backWords, text):
		t.said = t.saying(wording.ChoiceComeBack)
		m.Gone, m.Chat = false, t.in.Chat
		t.act(Act{Do: DoHold, Path: outsideHeld + m.ID})
		t.act(Act{Do: DoJoin, Member: &m})
		t.stopOn()
		t.say(wording.JoinBack, wording.Args{"Code": t.s.Code, "Name": m.Name})
		t.newcomer(*t.me())
		t.ask()
	case t.in.Press == nil && danger && seen.kind != "moves" && (t.s.Stage.Lies() || seen.kind == "hurt"):
		t.haltSeen(seen.kind, t.in.Text)
	case t.in.Press == nil && t.someoneNear(t.in.Text) != "" && t.s.Stage.Rigged():
		t.haltSeen("inside", t.in.Text)
	case t.s.Held[outsideHeld+m.ID] != "" && t.in.Press == nil && !t.in.Direct:
		t.silent = true
	default:
		t.act(Act{Do: DoHold, Path: outsideHeld + m.ID, Value: "yes"})
		t.say(wording.JoinOutsideHere, wording.Args{"Name": m.Name})
		t.offers = []offer{{choice: "come_back"}}
	}
}

// mayBegin reports whether the chat may have a job of its own.
func (t *turn) mayBegin() bool { return t.chat.front.in || t.e.Anyone || t.in.Local }

// comeIn takes somebody back into a job that they were in, as what they were.
func (t *turn) comeIn(s *Session) {
	t.s, t.left = s, nil
	t.mail.partial = t.in.Partial
	t.enter(s.member(t.in.Person.ID).As)
}

// stopFromOutside passes the stop on of somebody who has left the job, and says
// whom it has reached.
func (t *turn) stopFromOutside() {
	t.s = t.left
	t.halt()
}

// sayReach says after a stop whom it does not reach: who is in no job, or in
// another one than those that they were with, must not think that it did.
func (t *turn) sayReach() {
	switch {
	case t.s == nil:
		t.say(wording.StopNobody, nil)
		return
	case t.left != nil:
		t.say(wording.StopOutside, wording.Args{"Code": t.s.Code, "Names": t.names1()})
		t.offers = []offer{{choice: "come_back"}, {choice: choiceStop}}
		return
	}
	if others := t.elsewhere(); len(others) > 0 {
		t.say(wording.StopElsewhere, wording.Args{"Code": t.s.Code, "Names": others, "Text": others[0]})
	}
}

// elsewhere lists the other jobs of the chat that others work on.
func (t *turn) elsewhere() wording.Names {
	var out wording.Names
	for _, h := range slices.Backward(t.openHeads(t.chat.jobs)) {
		if len(h.People) > 1 && t.since(h.Last) < runsFor {
			out = append(out, h.Code)
		}
	}
	return out
}

// bound returns the job in which who speaks has a part while its line is rigged,
// where that is another one than code: a stop from here must go on reaching it.
func (t *turn) bound(log Log, code string) (*Session, error) {
	if t.chat.job == "" || t.chat.job == code {
		return nil, nil
	}
	s, err := t.e.load(log, t.chat.job)
	switch {
	case errors.Is(err, errUnknownState) || errors.Is(err, errUnreadable):
		return nil, nil
	case err != nil:
		return nil, &storageError{err}
	}
	m := s.member(t.in.Person.ID)
	if s.State == Closed || !s.Stage.Lies() || m == nil || m.Gone || s.seatOf(m.ID) == nil && s.Lead.ID != m.ID {
		return nil, nil
	}
	return s, nil
}

// stays answers who would go to another job and has a part in this one.
func (t *turn) stays(s *Session) (*Turn, error) {
	t.s = s
	t.mail.partial = t.in.Partial
	t.remark(wording.JoinBound, wording.Args{"Code": s.Code})
	return t.done()
}

// takenOff tells somebody whom the lead has taken out of the job.
func (t *turn) takenOff(m Member) {
	args := wording.Args{"Code": t.s.Code, "Name": t.s.Lead.Name}
	t.inChat(m.Chat, func() { t.say(wording.JoinTakenOff, args) })
}

// someoneNearTo reports whether somebody outside of a job tells of anybody by the
// rig: of its stage nothing is known to them.
func (t *turn) someoneNearTo(text string) bool {
	_, is := t.tellsOf(text, hear.Near)
	return is
}
