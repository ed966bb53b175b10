package flow

import (
	"slices"

	"linetender/calc"
	"linetender/flow/wording"
)

// A claim is what a duty has to confirm at a hold point. Its sentence is sure.
// and its name.
type claim struct {
	stage Stage
	duty  string
	name  string
	apply func(t *turn) bool // nil: always
}

// claims are what each hold point waits for.
//
// Source: common practice; that the one who pulls the pin is not the one who
// says that it is held, likewise.
var claims = []claim{
	{AllPlaced, easing, "eased", isTaut},
	{AllPlaced, "leader", "placed_leader", nil},
	{AllPlaced, "driver", "placed_driver", nil},
	{AllPlaced, "signal", "placed_signal", own("signal")},
	{AllPlaced, "rigger", "placed_rigger", own("rigger")},
	{AllPlaced, "anchor", "placed_anchor", anchored},
	{AllPlaced, "holder", "placed_holder", (*turn).holdNeeded},
	{AllPlaced, "chocks", "placed_chocks", nil},
	{AllPlaced, "lookout", "placed_lookout", own("lookout")},
	{AllPlaced, "recorder", "placed_recorder", own("recorder")},

	{SlackIsOut, "driver", "braked", nil},
	{SlackIsOut, "rigger", "line_straight", nil},

	{LightTension, "driver", "braked", nil},
	{LightTension, "anchor", "anchor_light", anchored},
	{LightTension, "rigger", "walked", blocked},
	{LightTension, "rigger", "walked_straight", straight},
	{LightTension, "holder", "fast", (*turn).holdNeeded},

	{Held, "leader", "went_as_planned", (*turn).movedFirst},
	{Held, "driver", "braked", nil},
	{Held, "chocks", "chocked", nil},
	{Held, "holder", "fast_hand", (*turn).holdNeeded},
	{Held, "anchor", "anchor_still", anchored},

	{HoldProved, proof, "proved", nil},
	{HoldProved, "driver", "braked", nil},

	{LineSlack, easing, "eased", isTaut},
	{LineSlack, proof, "kept", nil},
	{LineSlack, "holder", "fast", (*turn).holdNeeded},

	{RerigHeld, proof, "kept", nil},
	{RerigHeld, "driver", "braked", nil},
	{RerigHeld, "chocks", "chocked", nil},
	{RerigHeld, "holder", "fast", (*turn).holdNeeded},

	{Securing, "leader", "stands", nil},
	{Securing, "leader", "put_right", (*turn).stopOpen},
	{Securing, "chocks", "put_right", (*turn).stopOpen},
	{Securing, "chocks", "chocked_both", nil},
	{Securing, "holder", "fast", (*turn).holdNeeded},

	{SlackIsOff, "driver", "braked", nil},
	{SlackIsOff, "driver", "stood_minute", (*turn).heldAtEnd},
	{SlackIsOff, "rigger", "looked_slack", (*turn).stopWaits},
	{SlackIsOff, "anchor", "looked_anchor", (*turn).stopWaits},
	{SlackIsOff, "leader", "stood_still", nil},
	{SlackIsOff, "leader", "stood_minute", (*turn).heldAtEnd},
	{SlackIsOff, "leader", "keeps", (*turn).leftOnSlope},
	{SlackIsOff, "chocks", "chocked_both", (*turn).leftOnSlope},
	{SlackIsOff, "chocks", "keeps", (*turn).leftOnSlope},
	{SlackIsOff, "holder", "fast", (*turn).leftOnSlope},

	{UnrigHeld, "driver", "braked", nil},
	{UnrigHeld, "leader", "stands", nil},
	{UnrigHeld, "leader", "put_right", (*turn).stopOpen},
	{UnrigHeld, "chocks", "put_right", (*turn).stopOpen},
	{UnrigHeld, "chocks", "chocked_both", nil},
	{UnrigHeld, "holder", "fast", (*turn).leftOnSlope},
	{UnrigHeld, "holder", "fast_or_off", (*turn).heldAtEnd},

	{GearCheck, "rigger", "gear_counted", nil},
}

// proof is the duty of whoever says that it is held before a pin is pulled:
// the first that is somebody else than who pulls it.
const proof = "proof"

var provers = []string{"holder", "chocks", "anchor", "leader", "driver"}

// paysOut reports whether the holding line is paid out while the load moves: it stands
// behind the load then, and carries what draws it from the start.
func (t *turn) paysOut() bool { return t.holdNeeded() && t.s.Sheet.Load.Pull != "uphill" }

func own(does string) func(*turn) bool {
	return func(t *turn) bool { d, ok := t.doing(does); return ok && d.does == does }
}

// movedFirst reports whether the pull comes from the first move of a rig.
func (t *turn) movedFirst() bool {
	h := t.s.hold()
	return h != nil && h.After == FirstMove
}

// A doing is a person with a duty.
type doing struct {
	name   string
	does   string  // the post's own duty
	member *Member // nil: no phone of their own; the lead answers for them
	empty  bool    // nobody has the post: nobody answers for it
}

// doing returns who has a duty. Before seats are given out it goes by the
// posts of a crew of that size.
func (t *turn) doing(duty string) (doing, bool) {
	if duty == proof {
		return t.prover()
	}
	if duty == "leader" {
		return doing{name: t.s.Lead.Name, does: duty, member: t.s.member(t.s.Lead.ID)}, true
	}
	if seat := t.s.doer(duty); seat != nil {
		if seat.Post.Does == "leader" {
			return t.doing("leader")
		}
		d := doing{name: seat.Name, does: seat.Post.Does}
		if m := t.s.member(seat.Member); m != nil && seat.Member != "" && !m.Gone {
			d.member, d.name = m, m.Name
		}
		d.empty = d.name == "" || seat.Member != "" && d.member == nil
		if d.name == "" {
			d.name = t.saying(wording.Key("role." + seat.Post.Role))
		}
		return d, true
	}
	list := t.posts()
	for _, does := range doers[duty] {
		for i, p := range list {
			switch {
			case p.Does != does:
			case does == "leader":
				return t.doing("leader")
			case i < len(t.s.Crew):
				return doing{name: t.s.Crew[i], does: does}, true
			default:
				return doing{name: t.saying(wording.Key("role." + p.Role)), does: does}, true
			}
		}
	}
	return t.doing("leader")
}

func (t *turn) prover() (doing, bool) {
	pin, _ := t.doing("rigger")
	for _, duty := range provers {
		if duty == "holder" && !t.holdNeeded() {
			continue
		}
		if d, ok := t.doing(duty); ok && !d.empty && d.name != pin.name {
			return d, true
		}
	}
	return t.doing("leader") // nobody else is there
}

// chatOf is where somebody is asked.
func (t *turn) chatOf(d doing) string {
	if d.member != nil {
		return d.member.Chat
	}
	return t.s.leadChat()
}

// waits lists the claims that a hold point still waits for.
func (t *turn) waits() []claim {
	h := t.s.hold()
	if h == nil {
		return nil
	}
	var out []claim
	for _, c := range claims {
		if c.stage == h.Stage && (c.apply == nil || c.apply(t)) && !h.sure(c.duty) {
			out = append(out, c)
		}
	}
	if len(out) > 0 && out[0].duty == easing {
		return out[:1] // before all else
	}
	return out
}

// waitedFor are the names of those.
func (t *turn) waitedFor() wording.Names {
	var out wording.Names
	for _, c := range t.waits() {
		if d, ok := t.doing(c.duty); ok && !slices.Contains(out, d.name) {
			out = append(out, d.name)
		}
	}
	return out
}

// emptyWaits are the posts that an open hold point waits for and nobody has.
func (t *turn) emptyWaits() []string {
	var out []string
	for _, c := range t.waits() {
		if d, ok := t.doing(c.duty); ok && d.empty && !slices.Contains(out, d.does) {
			out = append(out, d.does)
		}
	}
	return out
}

// untold returns the question of a check that only people on the spot can
// answer, that is no item of the list and that nobody could answer: a plan says
// go without, and no pull begins before it is told.
func untold(p *calc.Plan) (what string, is bool) {
	for _, c := range p.Checks {
		if bars(c) {
			return c.Text, true
		}
	}
	return "", false
}

// bars reports whether a check is one of those.
func bars(c calc.Check) bool {
	return c.Result == calc.Unknown && c.OnSite && c.Severity != calc.Advice && !slices.ContainsFunc(c.Fields, ofList)
}

// barred returns what keeps the puller from pulling: why, in words, and
// whether anything does.
func (t *turn) barred() (wording.Key, wording.Args, bool) {
	p := t.plan()
	switch {
	case t.s.stop() != nil:
		return wording.PullStopOn, wording.Args{"Name": t.s.stop().By.Name}, true
	case p == nil || p.Decision != calc.Go:
		return wording.PullNoGo, nil, true
	case p.Conditional:
		return wording.PullUnsigned, nil, true
	case len(t.s.Differs) > 0:
		return wording.PullDiffers, wording.Args{"What": t.whatOf(t.s.Differs[0].Path)}, true
	case len(t.s.againNow()) > 0:
		return wording.PullAgain, wording.Args{"Names": t.againNames()}, true
	case t.people() < 1 || t.people() > 1 && t.s.Settled["names"] == "":
		return wording.PullNobody, nil, true
	}
	if u, is := t.s.wrongOpen(); is {
		return wording.PullWrongOpen, wording.Args{"Name": t.s.nameOf(u.By), "Text": clipped(u.Text, unreadShown)}, true
	}
	if open := t.openItems(); len(open) > 0 {
		return wording.PullOpen, wording.Args{"Criterion": t.saying(open[0].check.claim())}, true
	}
	if what, is := untold(p); is {
		return wording.PullUntold, wording.Args{"What": what}, true
	}
	if empty := t.emptyPosts(); t.tooFew(empty) {
		return wording.PullTooFew, wording.Args{"Number": t.people()}, true
	} else if len(empty) > 0 {
		return wording.PullVacant, wording.Args{"Names": t.askedPosts(empty)}, true
	}
	return "", nil, false
}
