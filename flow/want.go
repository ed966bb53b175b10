package flow

import (
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/wording"
)

// A want is what is asked in one chat. Where several chats take part in a job
// each has its own; a chat is asked again only when what is wanted there has
// become another thing, so that nobody is rung up for what others do.
type want struct {
	id  string // what is wanted, so that the same is not asked twice; empty for nothing
	say func() // into the mail of the chat

	again func() // the same, shorter, for who was told it before; nil where say is short
}

// want returns what stands to be answered in a chat: the first of what a stop,
// the pull, the parts and the list want there, and else the question of the job.
func (t *turn) want(chat string) want {
	asks := []func(string) want{t.wantNamedLead, t.wantLead, t.wantStill, t.wantDiffer, t.wantUnread, t.wantMark, t.wantWord, t.wantPull, t.wantSeat, t.wantItem}
	if strings.HasPrefix(t.s.Wants[chat], "item-") { // it stands there: a signature that is asked for since waits
		asks = []func(string) want{t.wantNamedLead, t.wantLead, t.wantStill, t.wantDiffer, t.wantUnread, t.wantMark, t.standingItem, t.wantWord, t.wantPull, t.wantSeat, t.wantItem}
	}
	for _, ask := range asks {
		if w := ask(chat); w.id != "" {
			return w
		}
	}
	if chat != t.s.leadChat() {
		return want{say: t.idle}
	}
	id := string(t.s.State) + "/" + t.s.Topic
	if path, _ := t.betterOpen(); path != "" {
		id += "/" + path
	}
	return want{id: id, say: t.askMain}
}

// standingItem is the item that is asked in a chat already, while it is open.
func (t *turn) standingItem(chat string) want {
	if w := t.wantItem(chat); w.id == t.s.Wants[chat] {
		return w
	}
	return want{}
}

// wantNamedLead asks whoever was named to lead a job that its lead has let go of whether
// they take that on: nobody else is asked anything there.
func (t *turn) wantNamedLead(chat string) want {
	if t.s.State != Away {
		return want{}
	}
	for _, m := range t.s.present(AsLead, AsCrew) {
		if s := t.s.doer("leader"); m.Chat == chat && t.namedLead(m) {
			seat := *s
			return want{id: "seat-" + itoa(seat.Number), say: func() { t.offerSeat(seat) }, again: func() { t.askSeat(seat) }}
		}
	}
	return want{}
}

// idle tells a phone that has nothing to answer; where who led has let go of the job,
// that it waits for somebody to lead.
func (t *turn) idle() {
	if m := t.me(); t.s.State == Away && m != nil && (m.As == AsLead || m.As == AsCrew) {
		k := wording.JoinLeadLets
		if t.s.tight() {
			k = wording.JoinLeadLetsTight
		}
		t.say(k, wording.Args{"Name": t.s.Lead.Name})
		return
	}
	t.say(wording.JoinIdle, wording.Args{"Name": t.s.Lead.Name})
	t.sayStopLeft()
}

// ask puts what stands to be answered in the chat that spoke at the end of what
// is said there, with its buttons.
func (t *turn) ask() {
	if t.err != nil || t.hasLeft(t.s) {
		return
	}
	if t.s.alone() {
		t.askMain()
		return
	}
	t.mail = t.mails[0]
	t.handCards() // before what is asked
	// What was asked before in this turn is asked anew: the turn has gone on.
	t.replies = slices.DeleteFunc(t.replies, func(r reply) bool { return r.asks })
	t.offers = nil
	from := len(t.replies)
	w := t.want(t.in.Chat)
	if w.again != nil && t.stoodBefore(t.in.Chat, w.id) {
		w.again()
	} else {
		w.say()
	}
	for i := from; i < len(t.replies); i++ {
		t.replies[i].asks = true
	}
	if w.id != t.s.Wants[t.in.Chat] {
		t.act(Act{Do: DoWant, Path: t.in.Chat, Value: w.id})
	}
}

// stoodBefore reports whether a chat was asked that before this turn, by somebody
// who has been there since: it is not told whole again.
func (t *turn) stoodBefore(chat, id string) bool {
	return t.s.Wants[chat] == id && !t.comesBack() && !slices.ContainsFunc(t.entry.Acts, func(a Act) bool { return a.Do == DoWant && a.Path == chat })
}

// askMain puts the question of the job.
func (t *turn) askMain() {
	if w := t.wantUnread(t.s.leadChat()); w.id != "" {
		w.say()
		return
	}
	if w := t.wantMark(t.s.leadChat()); w.id != "" {
		w.say()
		return
	}
	if w := t.wantPull(t.s.leadChat()); w.id != "" {
		w.say()
		return
	}
	if stop := t.s.stop(); t.s.State == Halted && stop != nil && stop.Drill {
		t.askDrilled(stop)
		return
	}
	if t.s.Topic == "second_look" && t.s.State == Checks {
		t.say(wording.EyesPoints, nil)
		t.list(t.lookPoints())
	}
	if t.s.State == Verdict && !t.closing() && t.s.Stage == NotBegun && t.s.Figured && !t.s.alone() {
		// What keeps the pull from beginning, and what takes it on.
		if p := t.plan(); p != nil && p.Decision == calc.Go {
			if k, args, barred := t.barred(); barred {
				t.say(k, args)
			}
		}
	}
	k, args := t.question()
	t.say(k, args)
	t.offers = t.choices()
}

// spread asks in the other chats what a turn has made to be wanted there, and
// brings up to date what is shown of the job.
func (t *turn) spread() {
	if t.err != nil || t.s == nil || t.s.alone() {
		return
	}
	t.mirror()
	t.handCards()
	for _, chat := range t.s.chats() {
		if chat == t.in.Chat && t.in.Tick == "" {
			continue
		}
		w := t.want(chat)
		if w.id == t.s.Wants[chat] {
			if w.id != "" && t.carded(chat) { // a card must not bury it
				t.inChat(chat, w.say)
			}
			continue
		}
		was := t.s.Wants[chat]
		t.act(Act{Do: DoWant, Path: chat, Value: w.id})
		if w.id != "" {
			t.inChat(chat, func() {
				t.sayLapsed(was)
				w.say()
			})
		}
	}
	t.board()
}

// mirror shows the lead what a coordinator has changed.
func (t *turn) mirror() {
	if t.main() || t.in.Tick != "" || !t.changedJob() || t.s.State == Halted {
		return
	}
	m := t.me()
	if m == nil || m.As != AsCoordinator || slices.ContainsFunc(t.entry.Acts, func(a Act) bool { return a.Do == DoDiffer }) {
		return
	}
	said := slices.DeleteFunc(slices.Clone(t.mails[0].replies), func(r reply) bool { return r.asks })
	t.inChat(t.s.leadChat(), func() {
		if !slices.ContainsFunc(t.entry.Acts, func(a Act) bool { return a.Do == DoWord }) { // a signature amends nothing
			t.say(wording.JoinAmended, wording.Args{"Name": m.Name, "Text": wording.Plain(t.in.Text)})
		}
		t.replies = append(t.replies, said...)
	})
}

// changedJob reports whether the turn has done more than keep words.
func (t *turn) changedJob() bool {
	for _, a := range t.entry.Acts {
		switch a.Do {
		case DoSet, DoMove, DoTold, DoReopen, DoSettle:
			return true
		}
	}
	return false
}
