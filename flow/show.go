package flow

import (
	"linetender/calc"
	"linetender/flow/wording"
)

// showPlan sends the pictures of a plan after its words: how to lay the rig
// out only where the plan is a go, because people build what they are shown.
func (t *turn) showPlan(p *calc.Plan) {
	if !t.e.Pictures || p.Force == nil || p.Decision == calc.Refer {
		return
	}
	if p.Decision == calc.Go {
		t.show(ShowRig, wording.ShowRig)
	}
	t.show(ShowForce, wording.ShowForce)
}

// show sends a picture or a page of the job as it is after this turn.
func (t *turn) show(what string, caption wording.Key) {
	if !t.e.Pictures {
		return
	}
	t.shows = append(t.shows, Show{What: what, Job: t.s.Code, Entry: t.s.Last + 1, Caption: t.saying(caption)})
}

// showWords sends what somebody asks to see, and reports whether they did.
func (t *turn) showWords(low string) bool {
	switch low {
	case "picture", "pictures", "drawing", "drawings", "show picture", "show pictures":
		p := t.plan()
		if p == nil || p.Force == nil || p.Decision == calc.Refer || !t.s.Figured {
			t.remark(wording.ShowNone, nil)
			return true
		}
		t.showPlan(p)
		t.remark(wording.ShowHere, nil)
	case "report", "the report":
		t.show(ShowReport, wording.ShowReport)
		t.remark(wording.ShowHere, nil)
	case "plan card", "print card", "windscreen card":
		if p := t.plan(); p == nil || !t.s.Figured || p.Decision == calc.Refer {
			t.remark(wording.ShowNone, nil)
			return true
		}
		t.show(ShowCard, wording.ShowCard)
		t.remark(wording.ShowHere, nil)
	default:
		return false
	}
	return true
}
