package flow

import (
	"crypto/sha256"
	"encoding/hex"
	"math"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/wording"
)

// Where signals are lost, each must be able to go on by what they hold in
// their hand. Before anything is rigged everyone gets one card, in words and
// as a picture, and gets another when it would say something else. What it
// says of the loss itself is: held, not carry on.

// handCards gives everyone who took a part on their card, once the plan is a
// go and every part that it needs is taken on.
func (t *turn) handCards() {
	if t.s.alone() || t.s.State != Checks && t.s.State != Verdict || len(t.s.Seats) == 0 {
		return
	}
	p := t.plan()
	if p == nil || p.Decision != calc.Go {
		t.voidCards()
		return
	}
	if len(t.emptyPosts()) > 0 || len(t.s.Differs) > 0 { // which plan it is is asked, and nothing pulls before
		return
	}
	if t.handed == (handedTo{t.s, p, len(t.entry.Acts)}) {
		return // nothing was done since that a card could tell
	}
	defer func() { t.handed = handedTo{t.s, p, len(t.entry.Acts)} }()
	for _, m := range t.s.present(AsLead, AsCrew, AsCoordinator) {
		digest := t.cardDigest(p, m)
		was := t.s.Cards[m.ID]
		if was == digest {
			continue
		}
		if was == voidCard+digest { // it is what they have been given last
			t.act(Act{Do: DoCard, Path: m.ID, Value: digest, Was: was})
			t.inChat(m.Chat, func() { t.say(wording.NosignalCounts, nil) })
			continue
		}
		t.act(Act{Do: DoCard, Path: m.ID, Value: digest})
		t.inChat(m.Chat, func() {
			if was != "" && !isVoid(was) {
				t.sayApart(wording.NosignalAnew, wording.Args{"Number": t.s.Issued[m.ID]})
			}
			t.card(p, m)
		})
	}
}

// voidCard stands before a card that counts no more, with no other in its place.
const voidCard = "void"

// isVoid reports whether a card counts no more; logs of before don't say which it was.
func isVoid(card string) bool { return strings.HasPrefix(card, voidCard) }

// voidCards says to all who have a card that it counts no more, once the plan is no go.
func (t *turn) voidCards() {
	for _, m := range t.s.present(AsLead, AsCrew, AsCoordinator) {
		was := t.s.Cards[m.ID]
		if was == "" || isVoid(was) {
			continue
		}
		t.act(Act{Do: DoCard, Path: m.ID, Value: voidCard + was})
		t.inChat(m.Chat, func() { t.say(wording.NosignalVoid, nil) })
	}
}

// carded reports whether somebody in a chat was handed a card, or told that it counts no
// more, in this turn: what stands to be answered there is said again behind that.
func (t *turn) carded(chat string) bool {
	return slices.ContainsFunc(t.entry.Acts, func(a Act) bool {
		m := t.s.member(a.Path)
		return a.Do == DoCard && m != nil && m.Chat == chat
	})
}

// handedTo is a job as it stood after so many acts of a turn.
type handedTo struct {
	job  *Session
	plan *calc.Plan
	acts int
}

// cardDigest tells one card from another by its words.
func (t *turn) cardDigest(p *calc.Plan, m Member) string {
	was := t.mail
	t.mail = &mail{chat: m.Chat}
	t.card(p, m)
	sum := sha256.New()
	for _, r := range t.replies {
		sum.Write([]byte(t.sayingWith(r.key, r.args) + "\n"))
	}
	if now := arrangement(p); t.s.RigNo > 1 || len(t.s.Rig) > 0 && !slices.Equal(now, t.s.Rig) {
		sum.Write([]byte(strings.Join(now, "\n"))) // another anchor is another rig, though no word of the card names it
	}
	t.mail = was
	return hex.EncodeToString(sum.Sum(nil)[:6])
}

// showCard says the card again to who asks for it.
func (t *turn) showCard() {
	p := t.plan()
	m := t.me()
	if p == nil || p.Decision != calc.Go || m == nil {
		t.remark(wording.NosignalNone, nil)
		return
	}
	t.card(p, *m)
	t.ask()
}

// card is one person's card: what silence means and their own part, what stops
// the pull, then the rig with its figures, how far a bite goes, what is done at
// its end, and the hold points. Who has no part has none of the rest.
func (t *turn) card(p *calc.Plan, m Member) {
	seat := t.s.seatOf(m.ID)
	if seat == nil && m.As != AsCrew {
		t.sayApart(wording.NosignalHeadAll, nil)
	} else {
		t.sayApart(wording.NosignalHead, wording.Args{"Name": m.Name})
	}
	t.say(t.fitted(wording.NosignalSilence), nil)
	t.say(wording.NosignalNoGo, wording.Args{"Name": t.s.Lead.Name})
	switch {
	case seat != nil:
		t.say(wording.NosignalPart, wording.Args{"Role": t.role(*seat)})
		t.duties(*seat)
	case m.As == AsCrew:
		t.say(wording.NosignalNoPart, nil)
	}
	t.say(wording.SeatStop, nil)
	t.say(wording.NosignalStops, nil)
	if seat != nil {
		t.stopDrives(*seat)
	}
	if seat != nil || m.As != AsCrew {
		t.cardFigures(p, seat)
		t.cardWay(p, seat)
		t.cardHolds(m)
	} else if p.Energy != nil {
		t.cardClear(p.Energy)
	}
	if t.e.Pictures {
		t.replies[len(t.replies)-1].shows = []Show{
			{What: ShowRig, Job: t.s.Code, Entry: t.s.Last + 1}, {What: ShowCard, Job: t.s.Code, Entry: t.s.Last + 1},
		}
	}
}

// cardFigures says force, weakest piece and distances, to those who lay the rig
// how it lies, and to those who mind the holding line what it takes. Who leads,
// or watches all of it, has both.
func (t *turn) cardFigures(p *calc.Plan, seat *Seat) {
	if t.cardHas(seat, "rigger") {
		t.rigging(p)
	}
	if p.Force != nil {
		t.say(wording.NosignalNeed, wording.Args{"Force": wording.Load{Force: max(0, p.Force.High)}})
	}
	if p.Tackle != nil {
		t.say(wording.NosignalHaul, wording.Args{"Force": wording.Load{Force: max(0, p.Tackle.Haul.High)}})
	}
	t.weakest(p)
	if p.Energy != nil {
		t.cardClear(p.Energy)
	}
	if t.cardHas(seat, "holder", "chocks") {
		t.holding(p)
	}
}

// cardHas reports whether a card is for whoever has one of these duties: who
// leads, or watches all of it, has them all.
func (t *turn) cardHas(seat *Seat, duties ...string) bool {
	if seat == nil || seat.Post.Does == "leader" {
		return true
	}
	mine := t.dutiesOf(*seat)
	return slices.ContainsFunc(duties, func(d string) bool { return slices.Contains(mine, d) })
}

// cardClear says how far everybody stands off, and who is nearer: some parts are
// beside a tight line.
func (t *turn) cardClear(e *calc.Stored) {
	k := wording.NosignalClear
	if e.Least {
		k = wording.NosignalClearLeast
	}
	t.say(t.fitted(k), wording.Args{"Clear": e.Clear})
}

// cardWay says how far each bite goes, whoever drives in what comes in at the
// puller, and to all who have hands in it what is done where the rig or the
// ground comes to its end.
func (t *turn) cardWay(p *calc.Plan, seat *Seat) {
	parts := ropeParts(p)
	drives := seat != nil && seat.Post.Does == "driver" && parts > 1 // else it goes as far as the load
	if drives {
		t.say(wording.NosignalDrive, wording.Args{"Length": atMost(firstTravel), "Rope": atMost(firstTravel.Scale(float64(parts))), "Parts": parts})
	}
	switch b, ok := t.bite(p); {
	case !ok || b.Load == nil || *b.Load <= 0:
		t.say(wording.NosignalBiteUnknown, nil)
	case drives:
		t.say(wording.NosignalBiteDrive, wording.Args{"Length": atMost(*b.Load), "Rope": atMost(b.Load.Scale(float64(parts))), "Why": t.saying(wording.Key("bite." + b.By))})
	default:
		t.say(wording.NosignalBite, wording.Args{"Length": atMost(*b.Load), "Why": t.saying(wording.Key("bite." + b.By))})
	}
	if t.cardHas(seat, "driver", "signal", "rigger", "anchor_watch", "holder", "chocks") {
		t.say(t.fitted(wording.NosignalReRig), nil)
		t.say(t.fitted(wording.NosignalCrest), nil)
	}
}

func (t *turn) weakest(p *calc.Plan) {
	if what, ratio := t.nearest(p); what != "" && !math.IsInf(ratio, 0) {
		t.say(wording.NosignalWeakest, wording.Args{"What": what, "Percent": percent(ratio)})
	}
}

// nearest returns the piece or anchor that is nearest to what it may carry, and
// how near.
func (t *turn) nearest(p *calc.Plan) (what string, ratio float64) {
	w, ok := p.Weakest()
	if !ok {
		return "", 0
	}
	return t.memberName(w.Kind, w.Name, w.Use, w.Anchor), w.Ratio
}

// cardHolds lists the hold points in order with who confirms each, and what
// the others do.
func (t *turn) cardHolds(m Member) {
	if len(t.s.Seats) == 0 {
		return
	}
	t.sayApart(wording.NosignalHolds, wording.Args{"Name": t.s.Lead.Name})
	var lines wording.Lines
	for _, h := range []struct {
		key   wording.Key
		stage Stage
		first bool
	}{
		{wording.NosignalHoldPlaced, AllPlaced, false},
		{wording.NosignalHoldSlack, SlackIsOut, false},
		{wording.NosignalHoldLight, LightTension, false},
		{wording.NosignalHoldFirst, Held, true},
		{wording.NosignalHoldBite, Held, false},
		{wording.NosignalHoldSecured, Securing, false},
		{wording.NosignalHoldOff, SlackIsOff, false},
	} {
		names, mine := t.confirming(m, h.stage, h.first)
		line := t.sayingWith(h.key, wording.Args{"Names": names})
		if len(mine) > 0 {
			line = t.sayingWith(wording.NosignalYouSay, wording.Args{"What": line, "Text": strings.Join(mine, " ")})
		}
		lines = append(lines, line)
	}
	t.list(lines)
	var others wording.Names
	for _, s := range t.s.Seats {
		if s.Name != "" && s.Member != m.ID {
			others = append(others, t.sayingWith(wording.NosignalEach, wording.Args{"Name": s.Name, "Role": t.role(s)}))
		}
	}
	if len(others) > 0 {
		t.say(wording.NosignalOthers, wording.Args{"Names": others})
	}
}

// confirming lists who confirms at a hold point, and what somebody has to say
// there themselves. Only the first move is held against what was planned.
func (t *turn) confirming(m Member, stage Stage, first bool) (names wording.Names, mine []string) {
	for _, c := range claims {
		switch {
		case c.stage != stage || momentary(c):
			continue
		case c.name == "went_as_planned":
			if !first {
				continue
			}
		case c.apply != nil && !c.apply(t):
			continue
		}
		d, ok := t.doing(c.duty)
		if !ok {
			continue
		}
		if !slices.Contains(names, d.name) {
			names = append(names, d.name)
		}
		if d.member != nil && d.member.ID == m.ID {
			mine = append(mine, t.fits(wording.Key("sure."+c.name)))
		}
	}
	return names, mine
}
