package flow

import (
	"slices"
	"strings"
	"time"

	"linetender/calc"
	"linetender/calc/handbook"
	"linetender/calc/unit"
	"linetender/flow/wording"
)

// wantPull asks a chat for what the pull waits for there.
func (t *turn) wantPull(chat string) want {
	if w := t.wantDebrief(chat); w.id != "" {
		return w
	}
	if t.s.State != Pulling {
		return want{}
	}
	n := itoa(t.s.Hold)
	stage := word(string(t.s.Stage))
	switch {
	case t.s.Stage == StopDrill:
		return t.wantDrill(chat)
	case t.s.hold() != nil:
		return t.wantHold(chat)
	case t.s.Stage.Hands():
		return want{id: "hands-" + stage + "-" + n, say: func() {
			t.say(t.fitted(wording.Key("going."+stage)), nil)
			if t.s.Stage == Rerig {
				t.sayHoldingMoves()
			}
			t.offers = nil
			if chat == t.s.leadChat() {
				done := t.button("done_"+stage, "."+n)
				t.say(wording.PullThen, wording.Args{"Text": done.label})
				t.offers = append(t.offers, done)
			}
			t.offers = append(t.offers, offer{choice: choiceStop})
		}}
	}
	return want{id: "going-" + stage + "-" + n, say: func() {
		t.say(t.fitted(wording.Key("going."+stage)), nil)
		t.goesFar()
		t.offers = nil
		if t.s.Stage == Proving && t.onSpot(chat) {
			t.offers = append(t.offers, t.button("slid", "."+n))
		}
		if chat == t.s.leadChat() {
			stands := t.button("stands_"+stage, "."+n)
			t.say(wording.PullThen, wording.Args{"Text": stands.label})
			t.offers = append(t.offers, stands)
		}
		t.offers = append(t.offers, t.reportButton(chat)...)
		t.offers = append(t.offers, offer{choice: choiceStop})
	}}
}

// button is an offer of which the choice goes on after what its label is called by.
func (t *turn) button(name, rest string) offer {
	return offer{choice: name + rest, label: t.sayingWith(wording.Key("choice."+name), wording.Args{"Number": t.s.Hold})}
}

// toCome are the steps before a job under way is closed, in their order.
func (s Stage) toCome() []string {
	steps := []string{"securing", "slack_off", "unrig", "gear_check", "debrief"}
	from := map[Stage]int{SlackOff: 1, SlackIsOff: 2, Unrig: 2, UnrigHeld: 2, GearCheck: 3}
	return steps[from[s]:]
}

// closeWords answers whoever wants to close a job whose gear is still on the load.
func (t *turn) closeWords(low string) bool {
	if t.s.State != Pulling || !t.s.Stage.Lies() || t.me() == nil || !slices.Contains([]string{"close", "close it", "close job", "close the job", "end the job", "job done", "all done"}, low) {
		return false
	}
	var names wording.Names
	for _, step := range t.s.Stage.toCome() {
		names = append(names, t.saying(wording.Key("tocome."+step)))
	}
	t.remark(wording.PullToCome, wording.Args{"Names": names})
	return true
}

// onSpot reports whether a chat is that of somebody on the spot.
func (t *turn) onSpot(chat string) bool {
	return slices.ContainsFunc(t.s.present(AsLead, AsCrew), func(m Member) bool { return m.Chat == chat })
}

func (t *turn) reportButton(chat string) []offer {
	if !t.onSpot(chat) {
		return nil
	}
	return []offer{{choice: "report"}}
}

// wantHold asks in a chat for what an open hold point waits for there: first
// what its people have to confirm, then the release, or leave to withhold it.
func (t *turn) wantHold(chat string) want {
	h := t.s.hold()
	if w := t.wantPost(chat, h); w.id != "" {
		return w
	}
	id := t.holdID(h)
	if d, list := t.askedFor(chat); len(list) > 0 {
		duties := ""
		for _, c := range list {
			duties += "-" + c.name
		}
		return want{id: id + "-sure" + duties, say: func() { t.askSure(h, d, list) }, again: func() { t.askSureAgain(h, d, list) }}
	}
	if chat == t.s.leadChat() {
		return t.wantRelease(h)
	}
	if slices.ContainsFunc(t.s.present(AsCoordinator), func(m Member) bool { return m.Chat == chat }) {
		withheld := t.withheldIn(h, chat)
		if withheld {
			id += "-withheld"
		}
		return want{id: id + "-watch", say: func() {
			t.say(t.holdKey(h), wording.Args{"Number": h.Number})
			if withheld {
				t.say(wording.PullYouWithhold, wording.Args{"Number": h.Number})
				t.offers = []offer{t.button("lift", "."+itoa(h.Number)), {choice: choiceStop}}
				return
			}
			t.say(wording.PullMayWithhold, wording.Args{"Name": t.s.Lead.Name})
			t.sayStopLeft()
			t.offers = []offer{t.button("withhold", "."+itoa(h.Number)), {choice: choiceStop}}
		}}
	}
	if t.withheldIn(h, chat) {
		id += "-withheld"
	}
	return want{id: id, say: func() {
		t.say(t.holdKey(h), wording.Args{"Number": h.Number})
		t.say(wording.PullStandBy, wording.Args{"Name": t.s.Lead.Name})
		t.sayStopLeft()
		t.offers = slices.Concat(t.liftButton(h, chat), t.reportButton(chat), []offer{{choice: choiceStop}})
	}}
}

// liftButton is there for who withholds the hold point.
func (t *turn) liftButton(h *Hold, chat string) []offer {
	if !t.withheldIn(h, chat) {
		return nil
	}
	return []offer{t.button("lift", "."+itoa(h.Number))}
}

// holdID names what is wanted at a hold point; eased, its line is another thing.
func (t *turn) holdID(h *Hold) string {
	id := "hold-" + itoa(h.Number)
	if t.s.taut() {
		id += "-taut"
	}
	return id
}

func (t *turn) holdKey(h *Hold) wording.Key {
	if t.s.taut() {
		return wording.HoldTaut
	}
	return t.fitted(wording.Key("hold." + word(string(h.Stage))))
}

func (t *turn) withheldIn(h *Hold, chat string) bool {
	return slices.ContainsFunc(h.Withheld, func(p Person) bool {
		m := t.s.member(p.ID)
		return m != nil && m.Chat == chat
	})
}

// askedFor returns the next person who is asked in a chat and all that they
// have to confirm there.
func (t *turn) askedFor(chat string) (doing, []claim) {
	var who doing
	var list []claim
	for _, c := range t.waits() {
		d, ok := t.doing(c.duty)
		if !ok || d.empty || t.chatOf(d) != chat || len(list) > 0 && d.name != who.name {
			continue
		}
		who, list = d, append(list, c)
	}
	return who, list
}

func (t *turn) askSure(h *Hold, d doing, list []claim) {
	t.say(t.holdKey(h), wording.Args{"Number": h.Number})
	if d.member == nil || t.s.single() && d.name != t.s.Lead.Name || t.shared(d.member.Chat) {
		t.say(wording.PullSaysAloud, wording.Args{"Name": d.name})
	} else {
		t.say(wording.PullYouConfirm, nil)
	}
	var lines wording.Lines
	for _, c := range list {
		lines = append(lines, t.fits(wording.Key("sure."+c.name)))
	}
	t.say(wording.PullClaims, wording.Args{"List": lines})
	t.offerSure(h, list)
}

// askSureAgain asks for the same once more: all of it stands above.
func (t *turn) askSureAgain(h *Hold, d doing, list []claim) {
	t.say(wording.PullSureAgain, wording.Args{"Number": h.Number, "Name": d.name, "Count": len(list)})
	t.offerSure(h, list)
}

func (t *turn) offerSure(h *Hold, list []claim) {
	n := itoa(h.Number)
	t.offers = []offer{t.button("sure", "."+n+"."+list[0].duty), t.button("unsure", "."+n+"."+list[0].duty)}
	if t.mail.chat == t.s.leadChat() {
		t.offers = append(t.offers, t.waysOn(h, false)...)
		return
	}
	t.offers = append(append(t.offers, t.liftButton(h, t.mail.chat)...), offer{choice: "report"}, offer{choice: choiceStop})
}

// shared reports whether several of the job read one chat.
func (t *turn) shared(chat string) bool {
	n := 0
	for _, m := range t.s.present() {
		if m.Chat == chat {
			n++
		}
	}
	return n > 1
}

// wantRelease asks the lead for the release, or says what it waits for.
func (t *turn) wantRelease(h *Hold) want {
	id := t.holdID(h)
	switch names, empty := t.waitedFor(), t.emptyWaits(); {
	case len(empty) > 0:
		return want{id: id + "-empty-" + strings.Join(empty, "-"), say: func() {
			t.say(t.holdKey(h), wording.Args{"Number": h.Number})
			t.say(wording.PullVacant, wording.Args{"Names": t.askedPosts(empty)})
			t.offers = t.waysOn(h, false)
		}}
	case len(names) > 0:
		return want{id: id + "-wait", say: func() {
			t.say(t.holdKey(h), wording.Args{"Number": h.Number})
			t.say(wording.PullWaits, wording.Args{"Names": names})
			t.sayStopLeft()
			t.offers = t.waysOn(h, false)
		}}
	case len(h.Withheld) > 0:
		return want{id: id + "-withheld", say: func() {
			t.say(t.holdKey(h), wording.Args{"Number": h.Number})
			t.say(t.withheldBy(wording.PullWithheld, t.withholders(h)))
			t.offers = t.waysOn(h, false)
		}}
	case len(t.vacantAt(h)) > 0:
		empty := t.vacantAt(h)
		return want{id: id + "-vacant-" + strings.Join(empty, "-"), say: func() {
			t.say(t.holdKey(h), wording.Args{"Number": h.Number})
			t.say(wording.PullVacant, wording.Args{"Names": t.askedPosts(empty)})
			t.sayStopLeft()
			t.offers = t.waysOn(h, false)
		}}
	case t.lightLeft(h) > 0:
		return want{id: id + "-minute", say: func() {
			t.say(t.holdKey(h), wording.Args{"Number": h.Number})
			t.say(wording.PullMinute, wording.Args{"Total": int(t.lightLeft(h).Seconds())})
			t.offers = t.waysOn(h, false)
		}}
	}
	if t.rerigDue() {
		return t.wantRerig(h)
	}
	return want{id: id + "-release", say: func() {
		t.say(t.holdKey(h), wording.Args{"Number": h.Number})
		t.ahead(h)
		k := wording.PullRelease
		if to, err := stageAfter(h.Stage, t.onward1(h)); err == nil && !to.Moves() {
			k = wording.PullReleaseStill // hands go in, or nothing is left to move
		}
		if h.Stage == HoldProved {
			k = wording.PullProvedWays
		}
		if sure := h.sureBy(); len(sure) > 0 {
			t.say(wording.PullSureAll, wording.Args{"Names": sure})
		}
		t.say(k, wording.Args{"Number": h.Number})
		t.sayStopLeft()
		t.offers = t.waysOn(h, true)
	}}
}

// sureBy are those who have confirmed a hold point, each once: whom a release
// counts on is said by name.
func (h *Hold) sureBy() wording.Names {
	var out wording.Names
	for _, y := range h.Sure {
		if y.Name != "" && !slices.Contains(out, y.Name) {
			out = append(out, y.Name)
		}
	}
	return out
}

func (t *turn) withholders(h *Hold) wording.Names {
	var out wording.Names
	for _, p := range h.Withheld {
		name := p.Name
		if why := h.Reasons[p.ID]; why != "" {
			name = t.sayingWith(wording.PullWithheldFor, wording.Args{"Name": name, "Reason": why})
		}
		out = append(out, name)
	}
	return out
}

// waysOn are the lead's buttons at a hold point: its release where it may be
// released, and what needs none.
func (t *turn) waysOn(h *Hold, may bool) []offer {
	n := "." + itoa(h.Number)
	var out []offer
	ended := h.Stage == Held && (t.s.there() || t.noTravel())
	if ended { // what it came for is done: that is the way on
		out = append(out, t.button("secure", n))
	}
	due := t.rerigDue()
	if may && due {
		out = append(t.rerigWays(h), out...)
	}
	if may && !due {
		if h.Stage != Held || !t.noTravel() || t.easesNext() {
			out = append(out, t.button("release", n))
		}
		switch {
		case h.Stage == Held && !t.easesNext():
			if !t.noTravel() { // over the crest is a way as well, and there is none left
				out = append(out, t.button("crest", n))
			}
			out = append(out, t.button("rerig", n))
		case h.Stage == HoldProved || h.Stage == LineSlack:
			out = append(out, t.button("walk", n))
		}
	}
	if h.Stage == Held && !ended || h.Stage == AllPlaced || h.Stage == HoldProved || h.Stage == LineSlack || h.Stage == RerigHeld {
		out = append(out, t.button("secure", n))
	}
	if (h.Stage == SlackIsOut || h.Stage == LightTension) && !(may && due) {
		out = append(out, t.button("slacken", n))
	}
	return append(append(out, t.liftButton(h, t.s.leadChat())...), offer{choice: "report"}, offer{choice: choiceStop})
}

// lasts is a span of the trade's tables on the clock.
func lasts(d unit.Duration) time.Duration {
	return time.Duration(d.Seconds() * float64(time.Second))
}

// lightLeft is how long the light tension must still be held.
func (t *turn) lightLeft(h *Hold) time.Duration {
	if h.Stage != LightTension {
		return 0
	}
	held, _ := handbook.LightLoadHeld()
	return max(0, lasts(held)-t.since(h.At))
}

// ahead says what the release leads to, with its numbers.
func (t *turn) ahead(h *Hold) {
	p := t.plan()
	if p == nil {
		return
	}
	switch h.Stage {
	case SlackIsOut:
		if l, ok := calc.LightLoad(*p); ok {
			t.say(wording.PullLight, wording.Args{"Haul": l.Haul, "Total": int(l.Held.Seconds())})
		}
	case RerigHeld:
		t.say(wording.PullHalfRigged, nil)
	case LightTension:
		if t.s.Rerigs > 0 || len(t.s.Bites) > 0 {
			t.say(wording.PullHoldOff, nil)
		}
		t.say(wording.PullFirst, nil)
	case Held:
		if t.s.there() {
			t.say(wording.PullArrived, nil)
			return
		}
		if t.easesNext() {
			t.say(wording.PullEaseFirst, nil)
			return
		}
		t.nextBite(p)
	}
}

// nextBite says how far the next bite may go, what ends it and how many are
// left.
func (t *turn) nextBite(p *calc.Plan) {
	b, ok := t.bite(p)
	if !ok {
		return
	}
	if b.Load != nil && *b.Load <= 0 {
		t.say(t.noTravelKey(b), nil)
		return
	}
	if b.Load == nil {
		var names wording.Names
		for _, f := range b.Unknown {
			if name := t.nameOf(f); !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
		t.say(wording.PullBiteUnknown, wording.Args{"Names": names})
		return
	}
	args := wording.Args{"Length": atMost(*b.Load), "Rope": atMost(*b.Haul), "Why": t.saying(wording.Key("bite." + b.By))}
	if b.Count == nil {
		t.say(wording.PullBite, args)
	} else {
		args["Number"], args["Total"] = t.s.bitten(), *b.Count
		t.say(wording.PullBiteOf, args)
	}
}

// tellAll says something in every other chat of the job.
func (t *turn) tellAll(urgent bool, say func()) {
	for _, chat := range t.s.chats() {
		if chat == t.in.Chat && t.in.Tick == "" {
			continue
		}
		t.inChat(chat, func() {
			if urgent {
				t.urgent = true
			}
			say()
		})
	}
}

// tellAllAndHere says something in every other chat of the job, and then in this one.
func (t *turn) tellAllAndHere(urgent bool, say func()) {
	t.tellAll(urgent, say)
	say()
}

// single reports whether only one person speaks in the job.
func (s *Session) single() bool { return len(s.present()) < 2 }

// cut takes a choice with a number apart: release.3 is release and 3.
func cut(choice string) (name, number, rest string) {
	name, more, _ := strings.Cut(choice, ".")
	number, rest, _ = strings.Cut(more, ".")
	return name, number, rest
}

// boardPull says on the board where the pull stands, whom its hold point waits
// for and how old the plan is.
func (t *turn) boardPull() {
	if t.s.Stage == NotBegun || t.s.State == Closed {
		return
	}
	t.say(wording.PullBoard, wording.Args{"Text": t.stageWords(), "Number": t.s.Hold, "Total": t.s.bitten()})
	if h := t.s.hold(); h != nil {
		if names := t.waitedFor(); len(names) > 0 {
			t.say(wording.PullWaits, wording.Args{"Names": names})
		}
		if len(h.Withheld) > 0 {
			t.say(t.withheldBy(wording.PullWithheld, t.withholders(h)))
		}
	}
	t.age()
}
