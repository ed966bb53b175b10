package flow

import (
	"crypto/sha256"
	"encoding/hex"
	"math"
	"slices"

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
	if p == nil || p.Decision != calc.Go || len(t.emptyPosts()) > 0 {
		return
	}
	for _, m := range t.s.present(AsLead, AsCrew, AsCoordinator) {
		digest := t.cardDigest(p, m)
		was := t.s.Cards[m.ID]
		if was == digest {
			continue
		}
		t.act(Act{Do: DoCard, Path: m.ID, Value: digest})
		t.inChat(m.Chat, func() {
			if was != "" {
				t.sayApart(wording.NosignalAnew, wording.Args{"Number": t.s.Issued[m.ID]})
			}
			t.card(p, m)
		})
	}
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

// card is one person's card: what silence means and their own part, then the
// rig with its figures, then the hold points.
func (t *turn) card(p *calc.Plan, m Member) {
	seat := t.s.seatOf(m.ID)
	if seat == nil {
		t.sayApart(wording.NosignalHeadAll, nil)
	} else {
		t.sayApart(wording.NosignalHead, wording.Args{"Name": m.Name})
	}
	t.say(wording.NosignalSilence, nil)
	if seat != nil {
		t.say(wording.NosignalPart, wording.Args{"Role": t.role(*seat)})
		t.part(*seat)
	} else {
		t.say(wording.SeatStop, nil)
	}
	t.cardFigures(p, seat)
	if seat != nil && seat.Post.Does == "driver" {
		t.cardDrive(p)
	}
	t.cardHolds(m)
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
	has := func(duty string) bool {
		return seat == nil || seat.Post.Does == "leader" || slices.Contains(t.dutiesOf(*seat), duty)
	}
	if has("rigger") {
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
		t.clear(p.Energy)
	}
	if has("holder") || has("chocks") {
		t.holding(p)
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
	who := func(duties ...string) wording.Args {
		var out wording.Names
		for _, d := range duties {
			if d == "holder" && !t.holdNeeded() || d == "anchor" && len(t.s.Sheet.Anchors) == 0 {
				continue
			}
			if s := t.s.doer(d); s != nil && s.Name != "" && !slices.Contains(out, s.Name) {
				out = append(out, s.Name)
			}
		}
		return wording.Args{"Names": out}
	}
	t.list(wording.Lines{
		t.saying(wording.NosignalHoldPlaced),
		t.sayingWith(wording.NosignalHoldSlack, who("driver", "rigger")),
		t.sayingWith(wording.NosignalHoldLight, who("driver", "anchor", "rigger", "holder")),
		t.sayingWith(wording.NosignalHoldFirst, who("leader", "driver", "chocks", "holder", "anchor")),
		t.sayingWith(wording.NosignalHoldBite, who("driver", "chocks", "holder", "anchor")),
		t.sayingWith(wording.NosignalHoldSecured, who("leader", "chocks", "holder")),
		t.sayingWith(wording.NosignalHoldOff, who("driver", "leader")),
	})
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
