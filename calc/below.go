package calc

import (
	"slices"

	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/unit"
)

// judgeBelow blocks a puller that stands within the way of a load that runs by
// itself down towards it: one line holds, and a cab is no shield against a
// vehicle. The way is as far as the load is to go and as far as it then runs
// before the line that holds it bites. Out of it stands what is beyond its end,
// or far enough to the side over a lead block.
//
// With the load at the start and the lead block at the reach ahead of it, the
// puller is at the lead from the block, where the rope comes off it: ahead of
// the block by the lead times the cosine of how far the rope was turned, and
// aside by its sine. A rope that hardly turns leaves the puller in the way, one
// that comes back does so too. Where several blocks turn it nobody tells which
// way, so none of them counts.
//
// Source: derived; how far aside is enough is that of everybody else's place.
func judgeBelow(fs *findings, c job.Case, n need, r rig, w *power, h holding) {
	if w == nil || !n.runs || c.Load.Pull != "downhill" || c.Reach == nil || c.Lead == nil || c.Distance == nil {
		return // what is missing of these is asked for where the way is judged
	}
	way := c.Distance.High + h.past()
	if r.leads == 0 {
		ahead := c.Reach.Low + c.Lead.Low
		fs.judge("T5/below", reaches(ahead, way), short(ahead), long(way))
		return
	}
	if r.leads == 1 && c.Tackle.LeadAngle == nil {
		fs.ask("T5/turned", []string{"tackle.lead_angle"})
		return
	}
	ahead, aside := c.Reach.Low-c.Lead.High, unit.Length(0)
	if r.leads == 1 {
		ahead, aside = turned(*c.Tackle.LeadAngle, c)
	}
	clear, _ := handbook.ClearLeast()
	ok := reaches(aside, clear) || reaches(ahead, way)
	fs.judge("T5/turned", ok, short(aside), long(clear), short(max(0, ahead)), long(way))
}

// turned is how far ahead of the load and aside of its way a puller stands at
// least, past a lead block with that angle between its two lines.
func turned(between job.Angle, c job.Case) (ahead, aside unit.Length) {
	var fore, side []unit.Length
	for _, lead := range []unit.Length{c.Lead.Low, c.Lead.High} {
		for _, a := range []unit.Angle{between.Low, between.High} {
			fore, side = append(fore, c.Reach.Low-lead.Scale(a.Cos())), append(side, lead.Scale(a.Sin()))
		}
	}
	return slices.Min(fore), max(0, slices.Min(side))
}

// past is how far a load that runs goes on beyond where it was held: the slack
// of its line and what that stretches when it catches it.
func (h holding) past() unit.Length {
	slack := h.slack
	if slack == 0 && !h.checked {
		slack, _ = handbook.SlackChecked()
	}
	if !h.checked || h.line.Stiffness.Low <= 0 {
		return slack
	}
	return slack + h.line.Length.High.Scale(float64(h.caught/h.line.Stiffness.Low))
}
