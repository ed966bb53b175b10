package calc

import (
	"fmt"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

// judgeCrew holds who is there against the roles. Who is on the rope has no other
// role: a gang of any size stands for the one who drives.
func judgeCrew(fs *findings, c job.Case, n need, w *power) {
	if c.Crew == nil {
		fs.ask("P3/alone", []string{"crew"})
		return
	}
	if *c.Crew == 0 {
		fs.add("P3/nobody", Fail)
		return
	}
	fs.add("P3/nobody", Pass)
	crew, gang := *c.Crew, 1
	if w != nil && w.p.Kind == "people" && w.p.People != nil {
		gang = *w.p.People
		fs.judge("P3/led", crew > gang, fmt.Sprint(gang), fmt.Sprint(crew))
	}
	crewFor := func(kind string) int { k, _, _ := handbook.CrewFor(kind); return k + gang - 1 }
	want := crewFor("any")
	if n.holds {
		want = crewFor("holding line")
	}
	least := crewFor("simple pull")
	if w != nil && w.p.Kind == "hand-winch" && !n.holds {
		least = crewFor("hand winch")
	}
	fs.judge("P3/alone", crew >= least || gang > 1 && crew > 1) // a gang with nobody to lead it is not alone
	if crew < least {
		return
	}
	fs.judge("P3/few", crew >= want, fmt.Sprint(crew), fmt.Sprint(want))
	if most, _ := handbook.SimplePullSlope(); crew == crewFor("simple pull") {
		fs.judge("P3/two", !n.holds && c.Load.Slope.High <= most, degrees(most))
	} else {
		fs.add("P3/two", Pass)
	}
	// By whom else they are seen, and whether the driver sees who leads, is for
	// people on the spot to say; with enough of them it is no matter.
	fs.site("P3/road", orNot(c.Site.Public, crew >= crewFor("road")), false, "site.public", fmt.Sprint(crewFor("road")), fmt.Sprint(crew))
	fs.site("P3/split", not(orNot(not(c.Site.LeaderSeen), crew >= crewFor("split signals"))), true, "site.leader_seen", fmt.Sprint(crewFor("split signals")), fmt.Sprint(crew))
}

// orNot is whether something is so and no case of enough; nobody's answer stays
// nobody's.
func orNot(so *bool, enough bool) *bool {
	if so != nil && *so && enough {
		no := false
		return &no
	}
	return so
}

// tellsPull says what tells how much a kind of puller gives, none where its kind
// is not known.
var tellsPull = map[string]string{
	"":        "Its kind, weight, driven wheels and ground tell.",
	"wheeled": "Its weight, driven wheels and ground tell.", "tracked": "Its weight and ground tell.",
	"winch": "Its rating tells, and how many layers are on the drum.", "hand-winch": "Its rating tells.",
	"people": "How many are on the rope tells, and the ground and the slope that they stand on.",
}

// heedsPeak is the rule that keeps a kind of puller from giving its most.
var heedsPeak = map[string]string{
	"wheeled": "for the throttle", "tracked": "for the throttle",
	"winch":  "for stopping the winch as soon as it labours",
	"people": "for stopping as soon as the line goes hard", "hand-winch": "for stopping as soon as the lever goes hard",
}

// judgePuller makes the findings on one puller against the haul.
func judgePuller(fs *findings, w *power, n need, s strain) {
	if w == nil {
		fs.ask("U1/worst", []string{"puller"}, tellsPull[""])
		fs.ask("U2/kind", []string{"puller.hitch"})
		return
	}
	if w.p.Kind == "winch" {
		switch stays, counted := w.stays(); {
		case len(w.loose) > 0:
			fs.ask("U9", w.loose)
		case counted:
			fs.judge("U9", within(s.haul.High, stays.Low), needed(s.haul.High), allowed(stays.Low))
		default:
			fs.add("U9", Pass)
		}
	}
	if w.p.Kind == "winch" || w.p.Kind == "hand-winch" {
		switch {
		case w.unmarked:
			fs.add("U6", Fail)
		case len(w.rating) > 0:
			fs.ask("U6", w.rating)
		case w.p.LayerUntold: // more than the table has may be on it
			fields := fs.of(w.path, ".winch_layer")
			if w.p.Kind == "hand-winch" { // or rope only runs through it
				fields = fs.of(w.path, ".capstan", ".winch_layer")
			}
			fs.ask("U6", fields)
		default:
			fs.add("U6", Pass)
		}
	}
	if w.available == nil {
		if a, ok := w.atMost(); ok && !w.unmarked && tooLittle(a, s.haul) {
			judgeMargin(fs, w, a, n, s)
		} else if !w.unmarked {
			fs.ask("U1/worst", w.missing, tellsPull[w.p.Kind])
		}
	} else {
		judgeMargin(fs, w, *w.available, n, s)
	}
	if w.hitched() {
		judgeHitch(fs, w, s)
	}
	if w.machine() || w.p.Kind == "winch" { // what else pulls can't roll over
		judgeLean(fs, w)
	}
	if w.p.Kind == "people" && w.p.Slope != nil {
		most, _ := handbook.PullerSlopeAlongBlocked()
		fs.judge("U5/feet", within(w.p.Slope.High, most), degrees(w.p.Slope.High), degrees(most))
	}
}

// tooLittle reports whether a puller that gives at most a fails the haul whatever
// else is found out.
func tooLittle(a, haul Force) bool {
	worst, _ := handbook.MarginWorst()
	return a.Low <= 0 || !within(haul.High.Scale(float64(worst)), a.Low)
}

func judgeMargin(fs *findings, w *power, a Force, n need, s strain) {
	worst, _ := handbook.MarginWorst()
	best, _ := handbook.MarginBest()
	h := s.haul
	atWorst, atBest := "", ""
	more := ""
	switch {
	case a.Low <= 0 && w.limit == "traction" && standsLevel(w.p):
		more = " No number of parts makes anything of that: ground that grips under it does."
	case a.Low <= 0 && w.limit == "traction":
		more = " No number of parts makes anything of that: ground that grips under it does, or level ground."
	case a.Low <= 0:
		more = " No number of parts makes anything of that."
	case !fs.brief:
		need := n.pull()
		atWorst = outOfReach(a.Low, need.High, worst, s.eta.Low)
		atBest = outOfReach(a.Best, need.Best, best, s.eta.Best)
	}
	// One that gives nothing starts nothing, not even a load that runs by itself.
	enough := a.Low > 0 && within(h.High.Scale(float64(worst)), a.Low)
	only := "only "
	if a.Low <= 0 {
		only = ""
	}
	stands := ""
	if !enough && w.machine() && w.p.Slope == nil && w.spanSlope > 0 {
		stands = " Nobody told what slope it stands on: on level ground it gives more."
	}
	fs.judge("U1/worst", enough, needed(h.High), allowed(a.Low), more+atWorst+stands, only)
	fs.judge("U1/best", within(h.Best.Scale(float64(best)), a.Best), needed(h.Best), allowed(a.Best), more+atBest)
}

// outOfReach says that endless parts of one tackle, hauled the better way, would
// not bring what a puller gives up to a force and the margin over it; "" where
// they would. What the gain may come to and what it would have to are told, since
// one tackle that hauls another may pass the first.
func outOfReach(a, need unit.Force, margin, eta bound.Ratio) string {
	most, err := tackle.Ceiling(tackle.Moving, eta)
	want := float64(margin) * float64(need) / float64(a)
	if err != nil || a <= 0 || want <= float64(most) {
		return ""
	}
	times := ""
	if margin != 1 {
		times = num(float64(margin)) + " times the "
	}
	return fmt.Sprintf(" More parts will not do it: however many one tackle has, friction keeps its gain under %s, and %s%s along the line would take %s.", num(float64(most)), times, needed(need), num(want))
}

func judgeHitch(fs *findings, w *power, s strain) {
	p := w.p
	kind := w.p.Hitch
	why := hitchRefused(kind, !w.machine())
	switch {
	case kind == "" && w.machine():
		fs.ask("U2/kind", []string{w.path + ".hitch"})
	case kind == "" && w.borne():
		fs.ask("U2/carries", []string{w.path + ".hitch"})
	case kind != "" && !w.machine():
		fs.judge("U2/carries", why == "", spokenHitch(kind), why)
	case kind != "":
		fs.judge("U2/kind", why == "", spokenHitch(kind), why)
	}
	key := "U2/height"
	if !w.machine() {
		key = "U2/high"
	}
	var ask []string
	if p.HitchHeight == nil {
		ask = append(ask, w.path+".hitch_height")
	}
	if p.AxleHeight == nil {
		ask = append(ask, w.path+".axle_height")
	}
	switch {
	case len(ask) == 0:
		fs.judge(key, within(p.HitchHeight.High, p.AxleHeight.Low), long(p.HitchHeight.High), short(p.AxleHeight.Low))
	case w.machine() || w.borne():
		fs.ask(key, ask)
	}
	if p.Kind == "wheeled" {
		if w.tip == nil {
			fs.ask("U7", w.tipNeeds)
		} else {
			stays := within(s.haul.High, w.tip.Low)
			fs.judge("U7", stays, needed(s.haul.High), allowed(w.tip.Low))
			// A line that catches lets it give its most: what it needs says
			// nothing of that. What its most is not known of is asked with U1.
			if w.most != nil && stays {
				fs.judge("U7/most", within(*w.most, w.tip.Low), needed(*w.most), allowed(w.tip.Low))
			}
		}
		if p.Rollover == nil {
			fs.ask("U3", []string{w.path + ".rollover_frame"})
		} else {
			fs.judge("U3", *p.Rollover)
		}
	}
}

func judgeLean(fs *findings, w *power) {
	p := w.p
	along, _ := handbook.PullerSlopeAlong()
	across, _ := handbook.PullerSlopeAcross()
	alongMost, _ := handbook.PullerSlopeAlongBlocked()
	acrossMost, _ := handbook.PullerSlopeAcrossBlocked()
	if w.machine() {
		switch {
		case p.Slope != nil:
			above(fs, p.Slope.High, along, alongMost, "U5", "U5/block", degrees)
		default: // it may stand steeper than the load's slope, which is in the force
			fs.ask("U5", []string{w.path + ".slope"})
		}
	}
	if p.SideSlope != nil {
		side := p.SideSlope.High
		fs.judge("U8/block", within(side, acrossMost), degrees(side), degrees(acrossMost))
		if within(side, acrossMost) {
			fs.judge("U8", within(side, across), degrees(side), degrees(across)).onSite = true
		}
	} else {
		fs.ask("U8", []string{w.path + ".side_slope"})
	}
}

// shortest is the rope that lacks most of what its tackle needs. A straight
// line may be several pieces end to end. What runs through sheaves is one whole
// rope, so of several set down for it the longest must do.
func (p path) shortest() (need, have unit.Length) {
	var sum, longest, most, second unit.Length
	whole := true
	for i, r := range p.ropes {
		l, n := r.g.Length.Low, p.lines[i].takes(r)
		sum += l.Scale(float64(r.g.Count))
		longest, most = max(longest, l), max(most, n)
		whole = whole && p.lines[i].whole
		if p.lines[i].compound && (second == 0 || l < second) {
			second = l
		}
	}
	switch {
	case whole:
		return most, sum
	case second > 0: // each tackle of a compound has a rope of its own
		return most, second
	}
	return most, longest
}

// toAnchor is how far the load may go before it is at what it is hauled
// towards, less the gap that two blocks keep: the tackle's standing block or
// its lead block at the reach, and with one straight line a puller that stays
// where it is, at reach and lead. A machine or people on a straight line go
// ahead of the load, so nothing stands in its way; ok is false then, and
// while it is not known.
func toAnchor(c job.Case, r rig, w *power) (most unit.Length, ok bool) {
	apart, _ := handbook.BlocksApart()
	switch {
	case c.Reach == nil:
		return 0, false
	case !r.straight():
		return max(0, c.Reach.Low-apart), true
	case w != nil && (w.p.Kind == "winch" || w.p.Kind == "hand-winch") && c.Lead != nil:
		return max(0, c.Reach.Low+c.Lead.Low-apart), true
	}
	return 0, false
}

// judgeWay makes the findings on rope length and room.
func judgeWay(fs *findings, c job.Case, r rig, w *power, s strain, p path) {
	if most, ok := toAnchor(c, r, w); ok && c.Distance != nil {
		fs.judge("T5", reaches(most, c.Distance.High), long(c.Distance.High), short(most))
	}
	if r.compound() && c.Distance != nil && c.Lead != nil { // T3 asks for what is not known
		need := closes(c, r)
		fs.judge("T5/second", reaches(c.Lead.Low, need), long(need), short(c.Lead.Low))
	}
	var ask []string
	for _, f := range []struct {
		name  string
		known bool
	}{{"distance", c.Distance != nil}, {"reach", c.Reach != nil}, {"lead", c.Lead != nil}} {
		if !f.known {
			ask = append(ask, f.name)
		}
	}
	unmeasured := len(p.ropes) == 0
	for _, r := range p.ropes {
		if r.g.Length == nil {
			unmeasured = true
			ask = append(ask, r.path+".length")
		}
	}
	if len(p.ropes) == 0 {
		ask = append(ask, "gear")
	}
	if s.rope == nil || unmeasured {
		fs.ask("T3", ask)
	} else {
		need, have := p.shortest()
		fs.judge("T3", reaches(have, need), long(need), short(have), p.ropes[0].label)
		if c.Distance == nil {
			fs.ask("T3", ask)
		}
	}
	if w == nil || w.p.Kind == "winch" || w.p.Kind == "hand-winch" {
		return
	}
	stop, _ := handbook.StopDistance()
	if w.p.Run == nil || c.Distance == nil {
		need := []string{}
		if w.p.Run == nil {
			need = append(need, w.path+".run")
		}
		if c.Distance == nil {
			need = append(need, "distance")
		}
		fs.ask("U4", need)
		return
	}
	least := leastRun(c, r)
	fs.judge("U4", reaches(w.p.Run.Low, least), short(w.p.Run.Low), long(stop), long(least))
}

// leastRun is the room that a puller needs at the least. A run that only just
// passes what it takes to stop moves nothing: the least that is worth a pull is
// the first move, over all parts.
func leastRun(c job.Case, r rig) unit.Length {
	stop, _ := handbook.StopDistance()
	first, _ := handbook.FirstMove()
	return stop + min(first, c.Distance.High).Scale(float64(r.parts()))
}
