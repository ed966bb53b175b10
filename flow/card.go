package flow

import (
	"slices"

	"linetender/flow/wording"
)

// offerSeat asks somebody to take a part on: their own card, and nobody else's.
func (t *turn) offerSeat(s Seat) {
	head := wording.SeatYours
	if t.s.phone(s) == nil {
		head = wording.SeatTheirs
	}
	t.sayApart(head, wording.Args{"Name": s.Name, "Role": t.role(s)})
	if t.s.tight() {
		t.say(wording.SeatWalk, nil)
	}
	t.part(s)
	t.askSeat(s)
}

// askSeat is the question of it alone.
func (t *turn) askSeat(s Seat) {
	k := wording.SeatAsk
	switch {
	case t.s.phone(s) == nil:
		k = wording.SeatTheirsAsk
	case s.Post.Does == "leader":
		k = wording.SeatAskLead
	}
	t.say(k, wording.Args{"Name": s.Name, "Role": t.role(s)})
	t.offers = []offer{
		{choice: "take." + itoa(s.Number), label: t.saying(wording.SeatTake)},
		{choice: "swap." + itoa(s.Number), label: t.saying(wording.SeatSwap)},
	}
}

// part says a part: place, duty and what is confirmed, of the post itself and
// of what a small crew has nobody else for, each by its name where there are
// several, and the stop signals.
func (t *turn) part(s Seat) {
	t.duties(s)
	t.say(wording.SeatStop, nil)
	t.stopDrives(s)
}

func (t *turn) duties(s Seat) {
	list := t.dutiesOf(s)
	for _, does := range list {
		k, args := wording.SeatDuty, wording.Args{"Place": t.saying(t.forPuller(wording.Key("place." + does))), "Duty": t.saying(t.fitted(wording.Key("duty." + does)))}
		if len(list) > 1 {
			k, args["Role"] = wording.SeatDutyNamed, t.saying(wording.Key("role."+does))
		}
		t.say(k, args)
	}
	if s.Post.Does == "leader" && slices.Contains(list, "chocks") {
		t.say(wording.SeatLeaderChocks, nil)
	}
}

// stopDrives says what a stop is to whoever drives.
func (t *turn) stopDrives(s Seat) {
	if s.Post.Does == "driver" {
		t.say(t.forPuller(wording.SeatStopDriver), nil)
	}
}

// dutiesOf lists the duties of a seat, its own first, by the last parts of
// their keys.
func (t *turn) dutiesOf(s Seat) []string {
	out := []string{s.Post.Does}
	for _, d := range []string{"signal", "rigger", "anchor", "chocks", "holder", "lookout"} {
		who := t.s.doer(d)
		switch {
		case d == s.Post.Does || who == nil || who.Post != s.Post:
		case d == "anchor":
			if anchored(t) {
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
