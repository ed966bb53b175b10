package calc

import (
	"fmt"
	"slices"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

// judgeJob makes the findings that no choice of tackle changes.
func judgeJob(c job.Case, n need) findings {
	var fs findings
	judgeHazards(&fs, c)
	judgeLoad(&fs, c, n)
	judgeSite(&fs, c, n)
	for i := range c.Anchors {
		judgeAnchorKind(&fs, c, readAnchor(c, i))
	}
	return fs
}

func judgeHazards(fs *findings, c job.Case) {
	for _, h := range []struct{ check, kind string }{
		{"P1/inside", "people-inside"}, {"H1", "overhead-line"}, {"H2", "traffic"}, {"H3", "water"},
		{"H4/fuel", "fuel"}, {"H4/battery", "battery"}, {"H5", "hazmat"}, {"H6", "edge"}, {"L2", "overturned"},
	} {
		if !c.Asked {
			fs.ask(h.check, []string{"hazards"})
			continue
		}
		fs.judge(h.check, !slices.Contains(c.Hazards, h.kind))
	}
	s := c.Site
	if s.Lifting != nil {
		fs.judge("X1", !*s.Lifting)
	}
	if s.Tries != nil {
		fs.judge("X2", *s.Tries < 2, fmt.Sprint(*s.Tries))
	}
	if s.RunningStart != nil {
		fs.judge("X4", !*s.RunningStart)
	}
	fs.site("X3", s.Consent, true, "site.consent")
}

// above judges a limit with a sign-off below a harder one.
func above[Q ~float64](fs *findings, got, sign, hard Q, signKey, hardKey, field string, say func(Q) string) {
	if hardKey != "" {
		fs.judge(hardKey, got <= hard, say(got), say(hard))
		if got > hard {
			return
		}
	}
	fs.judge(signKey, got <= sign, say(got), say(sign))
}

func judgeLoad(fs *findings, c job.Case, n need) {
	l := c.Load
	signed, _ := handbook.MassSigned()
	refer, _ := handbook.MassReferred()
	above(fs, l.Mass.High, signed, refer, "L10/sign", "L10/refer", "load.mass", heavy)
	slopeSigned, _ := handbook.SlopeSigned()
	slopeRefer, _ := handbook.SlopeReferred()
	above(fs, l.Slope.High, slopeSigned, slopeRefer, "L4/sign", "L4/refer", "load.slope", degrees)
	forceSigned, _ := handbook.ForceSigned()
	forceRefer, _ := handbook.ForceReferred()
	above(fs, n.force.High, forceSigned, forceRefer, "L11/sign", "L11/refer", "load", needed)
	if l.SideSlope == nil {
		fs.ask("L3/block", []string{"load.side_slope"})
	} else {
		free, _ := handbook.SideSlopeFree()
		blocked, _ := handbook.SideSlopeBlocked()
		above(fs, l.SideSlope.High, free, blocked, "L3/sign", "L3/block", "load.side_slope", degrees)
	}
	offFree, _ := handbook.OffLineFree()
	offBlocked, _ := handbook.OffLineBlocked()
	above(fs, n.off.High, offFree, offBlocked, "L8/sign", "L8/block", "load.off_line", degrees)

	guessed := slices.ContainsFunc(c.Supplied, func(s job.Supplied) bool { return s.Field == "load.mass_from" })
	fs.judge("L1", !guessed)
	switch {
	case l.Locked == nil:
		fs.ask("L5", []string{"load.locked"})
	default:
		fs.judge("L5", l.Locked.High == 0)
	}
	switch {
	case l.Belly == nil || l.Sunk == "":
		var ask []string
		if l.Sunk == "" {
			ask = append(ask, "load.sunk")
		}
		if l.Belly == nil {
			ask = append(ask, "load.belly")
		}
		fs.ask("L6", ask)
	default:
		fs.judge("L6", !*l.Belly || l.Sunk != "none")
	}
	judgeLip(fs, l.Lip)
	judgeTowPoint(fs, l.TowPoint)
}

func judgeLip(fs *findings, lip *job.Lip) {
	switch {
	case lip == nil:
		fs.ask("L7", []string{"load.lip"})
	case lip.None:
		fs.add("L7", Pass)
	default:
		free, _ := handbook.LipFree()
		fs.judge("L7", lip.Height.High < lip.Radius.Low.Scale(float64(free)), long(lip.Height.High), short(lip.Radius.Low))
	}
}

func judgeTowPoint(fs *findings, t *job.TowPoint) {
	if t == nil || t.Kind == "" {
		fs.ask("L9/kind", []string{"load.tow_point.kind"})
	} else {
		why := towPointRefused(t.Kind)
		fs.judge("L9/kind", why == "", t.Kind, why)
	}
	if t != nil && t.Condition == "damaged" {
		fs.add("L9/damaged", Fail)
	}
}

func judgeSite(fs *findings, c job.Case, n need) {
	s := c.Site
	near := s.Under
	if s.Between != nil && (near == nil || *s.Between) {
		near = s.Between
	}
	fs.site("P1/under", near, false, "site.under")
	fs.site("P2", s.Aboard, false, "site.aboard")
	fs.site("P4", both(s.Sober, s.Briefed), true, "site.briefed")
	fs.site("P5", s.Clear, true, "site.clear")
	fs.site("P6", s.DriverShielded, true, "site.driver_shielded")
	fs.site("H7", s.Light, true, "site.light")
	fs.site("C1", both(s.Signals, s.HandsOff), true, "site.signals")
	fs.site("C2", s.Aid, true, "site.aid")
	fs.site("A6", s.Marked, true, "site.anchor_marked")
	fs.site("R13/led", s.LineFree, true, "site.line_free")
	fs.site("R13/padded", s.DampedOrPadded, true, "site.edges_padded")
	fs.site("T1/stays", s.HoldStays, true, "site.hold_stays")
	var chocked *bool
	count := ""
	if s.Chocks != nil {
		enough := *s.Chocks >= 2
		chocked, count = &enough, fmt.Sprint(*s.Chocks)
	}
	fs.site("T2", chocked, true, "site.chocks", count)
}

// both is true when a and b are, false when either is, and not known else.
func both(a, b *bool) *bool {
	for _, p := range []*bool{a, b} {
		if p != nil && !*p {
			return p
		}
	}
	if a == nil || b == nil {
		return nil
	}
	return a
}

func judgeAnchorKind(fs *findings, c job.Case, f fixed) {
	a := f.a
	if a.Kind == "person" || a.Kind == "post" {
		fs.add("A5", Fail, a.Kind)
		return
	}
	if a.Kind == "tree" || a.Kind == "stump" {
		if a.Alive != nil {
			fs.judge("A2/dead", *a.Alive)
		}
		if a.Lean != nil {
			fs.judge("A2/lean", !*a.Lean)
		}
		if a.Diameter != nil {
			least := handbook.TreeLeast()
			fs.judge("A2/thin", !f.thin, short(least))
		}
	}
	if a.Kind == "tree" {
		free := a.TiedBack
		if c.Site.Clear != nil && *c.Site.Clear {
			free = c.Site.Clear
		}
		fs.site("A2/free", free, true, f.path+".tied_back")
	}
	if a.StrapHeld != nil {
		fs.judge("A1/slip", *a.StrapHeld).onSite = true
	}
}

func judgeCrew(fs *findings, c job.Case, n need, w *power) {
	if c.Crew == nil {
		fs.ask("P3/alone", []string{"crew"})
		return
	}
	crew := *c.Crew
	any, _, _ := handbook.CrewFor("any")
	want := any
	if n.holds {
		want, _, _ = handbook.CrewFor("holding line")
	}
	alone, _, _ := handbook.CrewFor("hand winch")
	least, _, _ := handbook.CrewFor("simple pull")
	if w != nil && w.p.Kind == "hand-winch" && !n.holds {
		least = alone
	}
	fs.judge("P3/alone", crew >= least)
	if crew >= least {
		fs.judge("P3/few", crew >= want, fmt.Sprint(crew), fmt.Sprint(want))
	}
}

// judgePuller makes the findings on one puller against the haul.
func judgePuller(fs *findings, w *power, n need, s strain) {
	if w == nil {
		fs.ask("U1/worst", []string{"puller"})
		fs.ask("U2/kind", []string{"puller.hitch"})
		return
	}
	if w.p.Kind == "winch" || w.p.Kind == "hand-winch" {
		switch {
		case w.unmarked:
			fs.add("U6", Fail)
		case len(w.rating) > 0:
			fs.ask("U6", w.rating)
		default:
			fs.add("U6", Pass)
		}
	}
	if w.available == nil {
		if !w.unmarked {
			fs.ask("U1/worst", w.missing)
		}
	} else {
		judgeMargin(fs, w, n, s)
	}
	if w.machine() {
		judgeHitch(fs, w, s)
	}
	if w.p.SideSlope != nil || w.machine() {
		judgeLean(fs, w)
	}
}

func judgeMargin(fs *findings, w *power, n need, s strain) {
	worst, _ := handbook.MarginWorst()
	best, _ := handbook.MarginBest()
	a, h := *w.available, s.haul
	more := ""
	if !partsCanReach(a, n.pull(), s.eta) {
		more = " More parts will not do it: friction takes what they gain."
	}
	fs.judge("U1/worst", a.Low >= h.High.Scale(float64(worst)), needed(h.High), allowed(a.Low), more)
	fs.judge("U1/best", a.Best >= h.Best.Scale(float64(best)), needed(h.Best), allowed(a.Best), more)
}

// partsCanReach reports whether endless parts, hauled the better way, could
// make the puller's force reach the need at all.
func partsCanReach(a, need Force, eta Ratio) bool {
	reaches := func(a, f unit.Force, e bound.Ratio) bool {
		c, err := tackle.Ceiling(tackle.Moving, e)
		return err != nil || a.Scale(float64(c)) >= f
	}
	best, _ := handbook.MarginBest()
	return reaches(a.Low, need.High, eta.Low) && reaches(a.Best, need.Best.Scale(float64(best)), eta.Best)
}

func judgeHitch(fs *findings, w *power, s strain) {
	p := w.p
	why := hitchRefused(p.Hitch)
	switch {
	case p.Hitch == "":
		fs.ask("U2/kind", []string{w.path + ".hitch"})
	default:
		fs.judge("U2/kind", why == "", p.Hitch, why)
	}
	if p.Kind == "wheeled" {
		var ask []string
		if p.HitchHeight == nil {
			ask = append(ask, w.path+".hitch_height")
		}
		if p.AxleHeight == nil {
			ask = append(ask, w.path+".axle_height")
		}
		if len(ask) > 0 {
			fs.ask("U2/height", ask)
		} else {
			fs.judge("U2/height", p.HitchHeight.High <= p.AxleHeight.Low, long(p.HitchHeight.High), short(p.AxleHeight.Low))
		}
		if w.tip == nil {
			fs.ask("U7", w.tipNeeds)
		} else {
			fs.judge("U7", s.haul.High <= w.tip.Low, needed(s.haul.High), allowed(w.tip.Low))
		}
		fs.site("U3", p.Rollover, true, w.path+".rollover_frame")
	} else if p.HitchHeight != nil && p.AxleHeight != nil {
		fs.judge("U2/height", p.HitchHeight.High <= p.AxleHeight.Low, long(p.HitchHeight.High), short(p.AxleHeight.Low))
	}
}

func judgeLean(fs *findings, w *power) {
	p := w.p
	along, _ := handbook.PullerSlopeAlong()
	across, _ := handbook.PullerSlopeAcross()
	if w.machine() {
		steep := func(a unit.Angle) bool { return a <= along }
		switch {
		case p.Slope != nil:
			fs.judge("U5", steep(p.Slope.High), degrees(p.Slope.High), degrees(along))
		case w.spanSlope <= along:
			fs.add("U5", Pass, "", degrees(along))
		default:
			fs.ask("U5", []string{w.path + ".slope"})
		}
	}
	if p.SideSlope != nil {
		fs.judge("U8", p.SideSlope.High <= across, degrees(p.SideSlope.High), degrees(across)).onSite = true
	} else {
		fs.site("U8", nil, true, w.path+".side_slope")
	}
}

// judgeWay makes the findings on rope length and room.
func judgeWay(fs *findings, c job.Case, w *power, s strain, ropes []*piece) {
	var ask []string
	for _, f := range []struct {
		name  string
		known bool
	}{{"distance", c.Distance != nil}, {"reach", c.Reach != nil}, {"lead", c.Lead != nil}} {
		if !f.known {
			ask = append(ask, f.name)
		}
	}
	var have unit.Length
	for _, r := range ropes {
		if r.g.Length == nil {
			ask = append(ask, r.path+".length")
			continue
		}
		have += r.g.Length.Low.Scale(float64(r.g.Count))
	}
	if len(ropes) == 0 {
		ask = append(ask, "gear")
	}
	switch {
	case s.rope == nil || len(ropes) == 0 || slices.ContainsFunc(ropes, func(r *piece) bool { return r.g.Length == nil }):
		fs.ask("T3", ask)
	default:
		fs.judge("T3", have >= s.rope.High, long(s.rope.High), short(have))
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
	fs.judge("U4", w.p.Run.Low > stop, short(w.p.Run.Low), long(stop))
}
