package flow

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/wording"
)

// A plan that asks for another rig than the one under load leaves one way on: the
// hold proved, the line slack, hands in. What would pull by the old rig, or tighten
// it again, is not offered beside that, though a release would refuse it.

// rerigDue reports whether the plan asks for another rig than the one that is
// under load, or was last.
func (t *turn) rerigDue() bool {
	if !slices.Contains([]Stage{SlackIsOut, LightTension, Held, HoldProved, LineSlack}, t.s.Stage) {
		return false
	}
	p := t.plan()
	return p != nil && p.Decision == calc.Go && p.Tackle != nil && t.otherRig(p)
}

// holdingAnchor is the line of an arrangement that says where the holding line goes;
// empty where there is none.
func holdingAnchor(rig []string) string {
	for _, line := range rig {
		if strings.HasPrefix(line, "anchor|") && strings.HasSuffix(line, "|holding") {
			return line
		}
	}
	return ""
}

// sayHoldingMoves says how the holding line comes to another anchor, where the plan has it
// there: it is what keeps the load while the haul line is slack, so that it is never let
// off for that.
func (t *turn) sayHoldingMoves() {
	now := holdingAnchor(t.s.Rig)
	if t.s.HeldAt == "" || now == "" || now == t.s.HeldAt || !t.s.Stage.Lies() {
		return
	}
	name := func(line string) string {
		f := strings.Split(line, "|")
		return t.memberName(f[1], f[2], "", true)
	}
	t.say(wording.PullHoldingMoves, wording.Args{"Name": name(now), "Was": name(t.s.HeldAt)})
}

// wantRerig asks the lead for the next step of a re-rig that the plan demands: the
// release that is one, or the way to where it begins.
func (t *turn) wantRerig(h *Hold) want {
	return want{id: t.holdID(h) + "-rerig", say: func() {
		t.say(t.holdKey(h), wording.Args{"Number": h.Number})
		t.say(wording.PullOtherParts, wording.Args{"Count": t.plan().Tackle.Parts})
		if h.Stage == LineSlack {
			t.sayHoldingMoves()
		}
		if sure := h.sureBy(); len(sure) > 0 {
			t.say(wording.PullSureAll, wording.Args{"Names": sure})
		}
		t.offers = t.waysOn(h, true)
		t.say(wording.PullRerigNext, wording.Args{"Text": t.offers[0].label})
		t.sayStopLeft()
	}}
}

// rerigWays are the lead's buttons at a hold point where a re-rig is demanded.
func (t *turn) rerigWays(h *Hold) []offer {
	n := "." + itoa(h.Number)
	switch h.Stage {
	case Held:
		return []offer{t.button("rerig", n)}
	case HoldProved, LineSlack:
		return []offer{t.button("release", n)}
	}
	return []offer{t.button("slacken", n)}
}

var (
	rerigSaid   = regexp.MustCompile(`^` + onTheWay + `(?:re[- ]?rig(?:ging)?|re[- ]?reeve)(?: it| the rope| anew| now)*(?: (?:hold |no\.? ?)?(\d+))?$`)
	tightenSaid = regexp.MustCompile(`^` + onTheWay + `tighten (?:it |the line |the rope )?again(?:,? nothing shifted)?(?: now)?(?: (?:hold |no\.? ?)?(\d+)(?:,? nothing shifted)?)?$`)
	slackenSaid = regexp.MustCompile(`^` + onTheWay + `(?:go )?back to slack(?: now)?(?: (?:hold |no\.? ?)?(\d+))?$`)
)

const onTheWay = `(?:(?:ok|okay|so|now|then|we|i|lets|let's|let us|please|must|should|will|have to|need to|want to|time to|going to)[ ,]+)*`

// rerigWords takes in words what the buttons of a re-rig say: with the number of
// the hold point, as every release, and back to slack without.
func (t *turn) rerigWords(low string) bool {
	h := t.s.hold()
	if h == nil || t.me() == nil {
		return false
	}
	name, as, number := "", "", ""
	if m := rerigSaid.FindStringSubmatch(low); m != nil {
		name, as, number = "re-rig", "rerig", m[1]
		if h.Stage == HoldProved || h.Stage == LineSlack { // the next step of it is the release
			as = "release"
		}
	} else if m := tightenSaid.FindStringSubmatch(low); m != nil {
		name, as, number = "tighten again", "walk", m[1]
	} else if m := slackenSaid.FindStringSubmatch(low); m != nil {
		name, as, number = "back to slack", "slacken", cmp.Or(m[1], itoa(t.s.Hold))
	}
	switch {
	case as == "", number == "" && !t.isLead(): // theirs are passed on
		return false
	case as == "walk" && number != "" && h.Stage != HoldProved && h.Stage != LineSlack, as == "rerig" && h.Stage != Held && number != "" && number == itoa(h.Number):
		t.remark(wording.PullRerigWhere, wording.Args{"Result": t.stageWords()})
	case number == "":
		t.remark(wording.PullWhichHold, wording.Args{"Text": name, "Number": t.s.Hold})
	default:
		t.numbered(as, number, "")
	}
	return true
}
