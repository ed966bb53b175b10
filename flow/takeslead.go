package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// At a tight line the lead changes hands as any other post does: everything holds,
// and it counts once whoever is to lead has taken it on. Until then whoever led
// leads. Who sits at the wheel is never who leads or gives signals, nor on the way
// from one to the other: first somebody else takes the wheel.
//
// Source: common practice.

// leading are words that somebody leads, with the name.
var leading = regexp.MustCompile(`^(?:ok(?:ay)?[ ,]+|now[ ,]+|from now(?: on)?[ ,]+)*([^,;.?]+?) (?:leads|is (?:the )?(?:new )?lead(?:er)?|takes (?:over )?the lead|takes over as (?:the )?lead(?:er)?)(?: now| from now on| from here)?$`)

// leadsSaid takes such words. Of the lead they hand over, of whoever names
// themselves they take it.
func (t *turn) leadsSaid(low string) bool {
	m := leading.FindStringSubmatch(low)
	me := t.me()
	if m == nil || me == nil || t.s.alone() || isQuestion(low) {
		return false
	}
	name := m[1]
	to, seat := t.s.called(name), t.s.doer("leader")
	_, isName := hear.OneName(name)
	switch {
	case to == nil && t.seatNamed(name) == nil && (!isName || strings.Contains(name, " ") || !t.s.Stage.Lies()):
		return false // the rope leads, a block does
	case to != nil && to.ID == me.ID && !t.isLead():
		t.takeLead()
	case to != nil && to.ID == t.s.Lead.ID && t.isLead() && seat != nil && seat.Member != to.ID:
		t.puts(name, "leader", false)
	case to != nil && to.ID == t.s.Lead.ID:
		t.remark(wording.SeatTakenTwice, wording.Args{"Name": to.Name})
	default:
		t.handOver(name)
	}
	return true
}

// leadAsked1 asks somebody whether they lead from now on, at a tight line.
func (t *turn) leadAsked1(m Member) {
	leads := *t.s.doer("leader")
	if leads.Member == m.ID {
		t.remark(wording.SeatMoved, wording.Args{"Name": m.Name, "Role": t.role(leads)})
		return
	}
	mine := t.s.seatOf(m.ID)
	if mine == nil {
		leads.Name, leads.Member = m.Name, m.ID
		t.rearrange(leads)
		return
	}
	t.swap(leads, *mine)
}

// tookLead has whoever takes the leader's part on lead from then on.
func (t *turn) tookLead(s Seat) {
	m := t.s.phone(s)
	if s.Post.Does != "leader" || m == nil || m.afar() || m.ID == t.s.Lead.ID {
		return
	}
	to, was := *m, t.s.Lead.Name
	t.act(Act{Do: DoLead, Value: to.ID})
	for _, chat := range t.s.chats() {
		t.inChat(chat, func() { t.say(wording.JoinNewLead, wording.Args{"Name": to.Name, "Was": was}) })
	}
	t.onward()
}

// leavesWheel reports whether some seats would have who drives lead or give signals
// at a tight line, or who does that drive; and who it is. While somebody is still
// asked for the wheel, whoever had it sits there.
func (t *turn) leavesWheel(news []Seat) (who string, is bool) {
	drives := t.s.doer("driver")
	if !t.s.tight() || drives == nil || drives.Name == "" {
		return "", false
	}
	for _, n := range news {
		switch n.Post.Does {
		case "leader", "signal":
			if n.Name != "" && (!drives.Taken || sameName(n.Name, drives.Name)) {
				return drives.Name, true
			}
		case "driver":
			lead := t.s.member(t.s.Lead.ID)
			if lead != nil && n.Member == lead.ID || slices.ContainsFunc(t.s.Seats, func(s Seat) bool {
				return (s.Post.Does == "leader" || s.Post.Does == "signal") && s.Name != "" && sameName(s.Name, n.Name)
			}) {
				return drives.Name, true
			}
		}
	}
	return "", false
}

// leavesLine returns the post of a tight line that would be empty by somebody being given
// another: the wheel and the holding line keep the load, and whoever fills a gap from
// there leaves a worse one. With three left of four it is as with three from the start:
// without a holder, or without who drives, nothing moves.
func (t *turn) leavesLine(news []Seat) (Seat, bool) {
	if !t.s.tight() {
		return Seat{}, false
	}
	for _, was := range t.s.Seats {
		if was.Name == "" || was.Post.Does != "driver" && was.Post.Does != "holder" {
			continue
		}
		if slices.ContainsFunc(news, func(n Seat) bool { return n.Post.Does == was.Post.Does && n.Name == "" }) &&
			slices.ContainsFunc(news, func(n Seat) bool { return n.Post.Does != was.Post.Does && n.Name == was.Name }) {
			return was, true
		}
	}
	return Seat{}, false
}
