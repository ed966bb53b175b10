package flow

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/calc/bound"
	"linetender/calc/unit"
	"linetender/flow/wording"
)

// rigging says how the rope runs, so that a first-timer can rig from it.
func (t *turn) rigging(p *calc.Plan) {
	r := p.Tackle
	if r == nil {
		return
	}
	if r.Parts == 1 && r.HaulFrom == "moving" {
		t.sayApart(wording.PlanStraight, nil)
	} else {
		end, through := t.reeve(r.Parts, r.HaulFrom == "moving")
		t.sayApart(wording.PlanRig, wording.Args{"Count": r.Parts, "What": end, "Names": through})
	}
	if r.LeadBlocks > 0 {
		t.say(wording.PlanLeadBlocks, wording.Args{"Count": r.LeadBlocks})
	}
	if r.Compound != nil {
		t.say(wording.PlanCompound, wording.Args{"Parts": r.Compound.Parts})
	}
}

// reeve says where the rope's end is made fast and through which blocks it
// goes, in order, up to the one that the haul line leaves. Parts alternate
// between the two, so counting back from that one gives the others.
func (t *turn) reeve(parts int, fromMoving bool) (end string, through wording.Names) {
	sheaves, onVehicle := parts, false
	if fromMoving {
		sheaves, onVehicle = parts-1, true
	}
	for range sheaves {
		k := wording.SideAnchorBlock
		if onVehicle {
			k = wording.SideVehicleBlock
		}
		through = append(through, t.saying(k))
		onVehicle = !onVehicle
	}
	slices.Reverse(through)
	if onVehicle {
		return t.saying(wording.SideVehicle), through
	}
	return t.saying(wording.SideAnchor), through
}

// members says what each piece carries against what it may carry, the weakest
// first, anchors among them.
func (t *turn) members(p *calc.Plan, onlyFailing bool) {
	type line struct {
		ratio float64
		key   wording.Key
		args  wording.Args
	}
	var lines []line
	add := func(what string, tension unit.Force, working *unit.Force, ratio *float64, asked bool) {
		l := line{args: wording.Args{"What": what, "Force": wording.Load{Force: tension}}}
		switch {
		case working == nil:
			l.ratio, l.key = 1, wording.PlanMemberUnknown
		case *working <= 0 || ratio == nil:
			l.ratio, l.key = math.Inf(1), wording.PlanMemberNothing
		default:
			l.ratio, l.key = *ratio, wording.PlanMember
			l.args["Limit"] = wording.Limit{Force: *working}
			l.args["Percent"] = percent(*ratio)
			switch {
			case *ratio > 1 && asked:
				l.key = wording.PlanMemberAsked
			case *ratio > 1:
				l.key = wording.PlanMemberFails
			case *ratio <= 0:
				l.key = wording.PlanMemberIdle
			}
		}
		lines = append(lines, l)
	}
	for _, m := range p.Gear {
		add(t.memberName(m.Kind, m.Name, m.Use, false), m.Tension, m.Working, m.Ratio, m.Asked)
	}
	for _, a := range p.Anchors {
		add(t.memberName(a.Kind, a.Name, a.Use, true), a.Force, a.Capacity, a.Ratio, a.Asked)
	}
	if onlyFailing {
		lines = slices.DeleteFunc(lines, func(l line) bool {
			return l.key == wording.PlanMember || l.key == wording.PlanMemberIdle || l.key == wording.PlanMemberUnknown || l.key == wording.PlanMemberAsked
		})
	}
	if len(lines) == 0 {
		return
	}
	slices.SortStableFunc(lines, func(a, b line) int { return cmp.Compare(b.ratio, a.ratio) })
	t.sayApart(wording.PlanMembers, nil)
	for _, l := range lines {
		t.say(l.key, l.args)
	}
}

// memberName names a piece by what it is called, what it is and what it is for.
func (t *turn) memberName(kind, name, use string, anchor bool) string {
	text := strings.ReplaceAll(kind, "-", " ")
	if k := wording.Key("choice." + word(kind)); t.e.Words.Has(k) && anchor {
		text = t.saying(k)
	}
	if name != "" {
		text = name
	}
	if k := wording.Key("use." + strings.ReplaceAll(use, "-", "_")); t.e.Words.Has(k) && use != kind {
		return text + ", " + t.saying(k)
	}
	return text
}

func (t *turn) way(p *calc.Plan) {
	if p.Travel == nil {
		return
	}
	if p.Travel.Rope != nil || p.Travel.Haul != nil {
		t.sayApart(wording.PlanWayHead, nil)
	}
	if p.Travel.Rope != nil {
		t.say(wording.PlanRope, wording.Args{"Rope": highEnd(*p.Travel.Rope)})
	}
	if p.Travel.Haul != nil {
		t.say(t.travelKey(p), wording.Args{"Length": highEnd(*p.Travel.Haul)})
	}
	if p.Travel.Bites != nil {
		t.say(wording.PlanBites, wording.Args{"Count": *p.Travel.Bites})
	}
	if p.Energy != nil {
		t.clear(p.Energy)
		if p.Energy.Beside != "" {
			t.say(wording.PlanEnergy, wording.Args{"Text": p.Energy.Beside})
		}
	}
}

// travelKey says what the puller does while the rope comes in: a winch stands.
func (t *turn) travelKey(p *calc.Plan) wording.Key {
	c, err := t.s.Sheet.Case()
	if err != nil || p.Puller == nil || p.Puller.Place < 0 || p.Puller.Place >= len(c.Pullers) {
		return wording.PlanTravel
	}
	switch c.Pullers[p.Puller.Place].Kind {
	case "winch", "hand-winch":
		return wording.PlanTravelWinch
	case "people":
		return wording.PlanTravelPeople
	}
	return wording.PlanTravel
}

// highEnd keeps the end of a demand that counts.
func highEnd(l calc.Length) calc.Length { return bound.Exactly(l.High) }

func (t *turn) holding(p *calc.Plan) {
	if p.Holding == nil || !p.Holding.Needed {
		return
	}
	static := wording.Load{Force: p.Holding.Static.High}
	for _, a := range p.Holding.Arrest {
		if a.Slack > 0 {
			t.say(wording.PlanHolding, wording.Args{"Force": static, "Most": wording.Load{Force: a.Force.High}, "Slack": a.Slack})
			return
		}
	}
	t.say(wording.PlanHoldingStatic, wording.Args{"Force": static})
}

// clear says how far everybody stands off. While nobody said how long the line
// is that is a least figure, and is said to be one.
func (t *turn) clear(e *calc.Stored) {
	k := wording.PlanClear
	if e.Least {
		k = wording.PlanClearLeast
	}
	t.say(k, wording.Args{"Clear": e.Clear})
}
