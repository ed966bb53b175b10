package flow

import (
	"linetender/flow/wording"
)

// offerSeat asks somebody to take a part on: their own card, and nobody else's.
func (t *turn) offerSeat(s Seat) {
	m := t.s.phone(s)
	head := wording.SeatYours
	if m == nil {
		head = wording.SeatTheirs
	}
	t.say(head, wording.Args{"Name": s.Name, "Role": t.role(s)})
	t.part(s)
	if m == nil {
		t.stay(wording.SeatTheirsAsk, wording.Args{"Name": s.Name})
	} else {
		k := wording.SeatAsk
		if s.Post.Does == "leader" {
			k = wording.SeatAskLead
		}
		t.stay(k, wording.Args{"Name": s.Name})
	}
	t.offers = []offer{
		{choice: "take." + itoa(s.Number), label: t.saying(wording.SeatTake)},
		{choice: "swap." + itoa(s.Number), label: t.saying(wording.SeatSwap)},
	}
}

// part says a part: place, duty and what is confirmed, of the post itself and
// of what a small crew has nobody else for, and the stop signals.
func (t *turn) part(s Seat) {
	for _, does := range t.dutiesOf(s) {
		t.stay(wording.SeatDuty, wording.Args{"Place": t.saying(wording.Key("place." + does)), "Duty": t.saying(wording.Key("duty." + does))})
	}
	if s.Post.Does == "driver" {
		t.stay(wording.SeatStopDriver, nil)
	}
	t.stay(wording.SeatStop, nil)
}

// dutiesOf lists the duties of a seat, its own first, by the last parts of
// their keys.
func (t *turn) dutiesOf(s Seat) []string {
	out := []string{s.Post.Does}
	for _, d := range []string{"signal", "anchor", "chocks", "holder", "lookout"} {
		who := t.s.doer(d)
		switch {
		case d == s.Post.Does || who == nil || who.Post != s.Post:
		case d == "anchor":
			if len(t.s.Sheet.Anchors) > 0 {
				out = append(out, "anchor_watch")
			}
		case d == "holder":
			if t.holdNeeded() && s.Post.Does != "leader" {
				out = append(out, d)
			}
		default:
			out = append(out, d)
		}
	}
	return out
}

// stay adds a paragraph that stays with the one before it, however long the
// message gets.
func (t *turn) stay(k wording.Key, args wording.Args) {
	t.replies = append(t.replies, reply{key: k, args: args, stays: true})
}
